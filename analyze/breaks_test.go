package analyze

import (
	"math"
	"strings"
	"testing"

	"threewire/signal"
)

// circuit is a draft whose motor current is logged too, and whose circuit may
// be open while the drive stands at the leads.
type circuit struct {
	*draft
	open    func(t float64) bool
	current []float64
}

func newCircuit(seed uint64, open func(t float64) bool) *circuit {
	c := &circuit{draft: newDraft(seed), open: open}
	c.block = func(d *draft, dir float64) bool { return c.open(d.t) }
	c.read = func(d *draft) float64 {
		i := 0.0
		switch {
		case d.volts == 0 || c.open(d.t):
		case d.x == d.lo || d.x == d.hi:
			i = 0.6
		default:
			i = 0.15
		}
		c.current = append(c.current, i+0.003*d.rng.NormFloat64())
		return d.x
	}
	return c
}

func (c *circuit) trace() *signal.Trace {
	t := c.draft.trace()
	s := signal.Series{Name: "current", Unit: "A"}
	for _, x := range c.current {
		s.Mean = append(s.Mean, float32(x))
	}
	s.Min, s.Max = s.Mean, s.Mean
	t.Current = &s
	return t
}

// duringAny tells whether a moment lies in one of the stretches, from and length.
func duringAny(s ...[2]float64) func(float64) bool {
	return func(t float64) bool {
		for _, x := range s {
			if t >= x[0] && t < x[0]+x[1] {
				return true
			}
		}
		return false
	}
}

func brokenForm(t *testing.T, tr *signal.Trace) (string, *Report) {
	t.Helper()
	c, err := Examine(tr, Defaults())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range c.Findings {
		if f.Kind == Broken {
			return f.Form, Judge(c)
		}
	}
	return "", Judge(c)
}

// betweenMotorAndWiring tells whether a verdict leaves open which of the two it is, and
// that it is one of them.
func betweenMotorAndWiring(v Verdict) bool {
	p := v.ByFault()
	motor, wiring := p[Motor], p[WiringControl]
	return v.Conclusion == CannotTell && motor > 0.25 && wiring > 0.25 && motor+wiring > 0.9
}

// A circuit that opens though the volts of the drive stay at the leads opens behind the
// clips: in the motor, or, for nobody knows where the clips were, in a lead.
func TestOpenCircuit(t *testing.T) {
	t.Parallel()
	never := func(float64) bool { return false }
	midway := duringAny([2]float64{3, 0.4}, [2]float64{4.5, 0.9}, [2]float64{11, 0.3}, [2]float64{17.2, 0.7})
	starts := duringAny([2]float64{1, 0.5}, [2]float64{13.5, 0.4})
	for seed := range uint64(4) {
		form, r := brokenForm(t, traced(newCircuit(seed, midway)))
		if form != brokenNoCurrent || !betweenMotorAndWiring(r.Verdict) {
			t.Errorf("seed %d: opened midway: form %q, verdict %s %.2f", seed, form, r.Verdict.Conclusion, r.Verdict.Probability)
		}
		if form, r := brokenForm(t, traced(newCircuit(seed, never))); form != "" || r.Verdict.Conclusion != NoFault {
			t.Errorf("seed %d: healthy: form %q, verdict %s", seed, form, r.Verdict.Conclusion)
		}
		if form, _ := brokenForm(t, traced(newCircuit(seed, starts))); form != "" && form != brokenNoStart {
			t.Errorf("seed %d: from standstill only: form %q", seed, form)
		}
		// A clip that slips off: no current is seen, and the shaft goes on.
		c := newCircuit(seed, never)
		tr := traced(c)
		for i, x := range tr.Time {
			if duringAny([2]float64{3, 1.5}, [2]float64{11, 2})(x) {
				tr.Current.Mean[i] = 0
			}
		}
		if form, _ := brokenForm(t, tr); form != "" {
			t.Errorf("seed %d: clip off: form %q", seed, form)
		}
	}
}

func traced(c *circuit) *signal.Trace {
	c.sweeps(3)
	return c.trace()
}

// generates lets the drive go and shows what an open motor gives back.
func (d *draft) generates() *draft {
	n := int(0.04 / d.dt)
	at := len(d.drive)
	sign := math.Copysign(1, d.drive[at-1])
	d.run(0, 0.04)
	for i := range n {
		d.drive[at+i] += sign * 2.6 * math.Exp(-float64(i)*d.dt/0.015)
	}
	return d
}

// broken drives up and down n times, each drive with breaks of the given
// lengths on its way, but every so many of them at the stop (0 none); open lets
// the motor run open in them.
func broken(seed uint64, dt float64, lengths []float64, atStop int, open bool) *draft {
	d := newDraft(seed)
	d.dt = dt
	d.run(0, 1)
	full := (d.hi - d.lo) / d.rate
	k := 0
	for range 4 {
		for _, v := range []float64{12, -12} {
			before := 0.4 * full
			if atStop > 0 && k%atStop == 0 {
				before = full + 0.5
			}
			d.run(v, before)
			if open {
				d.generates()
			}
			d.run(0, lengths[k%len(lengths)])
			k++
			d.run(v, full-0.4*full+0.2).run(0, 0.6)
			// Ends on its way, braked.
			d.run(-v, 0.2*full).run(0, 2)
			d.run(v, 0.2*full+0.3).run(0, 1.8)
		}
	}
	return d
}

func TestDriveBreaksOff(t *testing.T) {
	t.Parallel()
	odd := []float64{0.13, 0.4, 0.21, 0.7, 0.09, 0.33, 1.1, 0.17}
	even := []float64{0.3, 0.302, 0.298}
	for seed := range uint64(4) {
		for _, c := range []struct {
			name    string
			dt      float64
			lengths []float64
			atStop  int
			open    bool
			form    string
			want    Fault
		}{
			{"opens on its way, braked elsewhere", 0.002, odd, 0, true, brokenCoasts, WiringControl},
			{"at the stops too, of any length, logged too slowly to see it fall", 0.02, odd, 2, false, brokenIrregular, WiringControl},
			{"a control that tries its stops, for any time", 0.002, odd, 1, false, "", NoFault},
			{"a control's clock", 0.002, even, 1, false, "", NoFault},
			{"a person's pauses", 0.002, odd, 0, false, "", NoFault},
		} {
			form, r := brokenForm(t, broken(seed, c.dt, c.lengths, c.atStop, c.open).trace())
			if form != c.form || r.Verdict.Conclusion != c.want {
				t.Errorf("seed %d, %s: form %q, verdict %s %.2f", seed, c.name, form, r.Verdict.Conclusion, r.Verdict.Probability)
			}
		}
	}
}

// A drive that is let go and taken up again on its way, for moments of any
// length, may be somebody's hand: that is said, and blames nothing.
func TestBreaksOnTheWay(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.dt = 0.02 // too slow to see how the drive falls
		d.run(0, 1)
		for i, off := range []float64{0.5, 1.3, 0.7, 1.1, 0.4, 0.9} {
			v := 12.0
			if i%2 == 1 {
				v = -12
			}
			d.run(v, 2.1).run(0, off).run(v, 4).run(0, 2)
		}
		c, v := look(t, d)
		if v.Conclusion != NoFault || v.Probability > 0.94 || !showsKind(c, Broken) {
			t.Errorf("seed %d: want no fault, less surely than without, got %s", seed, say(c, v))
		}
	}
}

// That the shaft stands in a break is said only where its motion would have shown.
func TestBreaksSayWhatTheShaftDid(t *testing.T) {
	t.Parallel()
	long := []float64{0.5, 1.3, 0.7, 1.1, 0.4, 0.9}
	for _, c := range []struct {
		name   string
		noise  float64
		coasts float64 // of its speed
		want   string
	}{
		{"stands", 0.004, 0, ", and the shaft stands meanwhile."},
		{"runs on at almost half its speed", 0.004, 0.42, " s."},
		{"lost in noise", 0.15, 0, " s."},
		{"the shorter ones lost in noise", 0.03, 0, " of them the shaft stands, in the others it does not show."},
	} {
		d := newDraft(2)
		d.dt, d.rate, d.noise = 0.01, 0.3, c.noise
		d.run(0, 1)
		for i, off := range long {
			v := 12.0
			if i%2 == 1 {
				v = -12
			}
			d.run(v, 6)
			at := len(d.drive)
			d.run(v*c.coasts, off)
			for k := range d.drive[at:] {
				d.drive[at+k] = 0 // the motor is not driven, whatever it does
			}
			d.run(v, 9).run(0, 2)
		}
		got, v := look(t, d)
		f := finding(got, Broken)
		if f == nil || !strings.HasSuffix(f.Title, c.want) || c.want == " s." && strings.Contains(f.Title, "stands") {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
