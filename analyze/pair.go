package analyze

import (
	"fmt"
	"math"
)

// FreeRun is the kind of the evidence that comparing a coupled with an
// uncoupled capture of one actuator gives.
const FreeRun Kind = "free run"

// Comparison is what the uncoupled capture says about the coupled one's
// findings.
type Comparison struct {
	Gone    []Kind    `json:"gone"`  // found coupled, not found free
	Stays   []Kind    `json:"stays"` // found coupled and free
	Text    string    `json:"text"`
	Weights []float64 `json:"log_likelihood"` // in the order of Faults
}

// compareFree compares the findings of coupled and free captures. It returns
// nil when there are not both, when the coupled ones show nothing, or when the
// free one shows too little of the travel to miss anything.
//
// A symptom that leaves with the door belongs to the door (common practice,
// no source); but an unloaded weak motor runs well too, so a clean free run
// speaks for the motor as well, only less.
func compareFree(captures []*Capture) *Comparison {
	coupled, free := map[Kind]bool{}, map[Kind]bool{}
	var order []Kind
	n, seen := 0, 0.0
	for _, c := range captures {
		for i := range c.Findings {
			f := &c.Findings[i]
			switch {
			case c.Free && f.force() > math.Log(2):
				free[f.Kind] = true
			case !c.Free && f.force() > math.Log(3) && !coupled[f.Kind]:
				coupled[f.Kind] = true
				order = append(order, f.Kind)
			}
		}
		if c.Free {
			n++
			seen = math.Max(seen, c.seen)
		}
	}
	if n == 0 || len(order) == 0 || seen < 0.5 {
		return nil
	}
	r := &Comparison{Weights: make([]float64, faultCount)}
	for _, k := range order {
		if free[k] {
			r.Stays = append(r.Stays, k)
		} else {
			r.Gone = append(r.Gone, k)
		}
	}
	outcomes := catalogue()[0].outcomes // the free run: clean, or the same
	o := outcomes[0]
	r.Text = fmt.Sprintf("Uncoupled from the door, it is gone: %s.", joinKinds(r.Gone))
	if len(r.Stays) > 0 {
		o = outcomes[1]
		r.Text = fmt.Sprintf("Uncoupled from the door, it stays: %s.", joinKinds(r.Stays))
	}
	for i, p := range o.p {
		r.Weights[i] = math.Log(p)
	}
	return r
}

func joinKinds(k []Kind) string {
	s := ""
	for i, x := range k {
		if i > 0 {
			s += ", "
		}
		s += string(x)
	}
	return s
}

// evidence says the comparison as evidence on a fault, against the other
// faults in proportion to their probabilities p.
func (r *Comparison) evidence(best Fault, p []float64) Evidence {
	sum, rest := 0.0, 1e-300
	for k, x := range r.Weights {
		if Fault(k) != best {
			sum += p[k] * math.Exp(x)
			rest += p[k]
		}
	}
	because := "what leaves with the door belongs to the door, or to a motor that only tires under its load"
	if len(r.Stays) > 0 {
		because = "what stays without the door is in the actuator or its wiring"
	}
	return Evidence{Finding: FreeRun, Text: r.Text, Because: because, Ratio: math.Exp(r.Weights[best]) / math.Max(sum/rest, 1e-9)}
}
