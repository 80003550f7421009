package analyze

import (
	"fmt"
	"math"

	"threewire/analyze/stats"
)

// The forms of a [Broken] drive.
const (
	brokenNoCurrent = "driven without current"
	brokenNoStart   = "driven without current, from standstill only"
	brokenCoasts    = "falls away otherwise than where it is switched off"
	brokenIrregular = "at irregular lengths"
	brokenMidway    = "at irregular lengths, on the way"
)

// stoodMeanwhile is the name of a measure: in how many breaks of the drive the shaft is
// seen to stand, since its motion would have shown.
const stoodMeanwhile = "breaks in which the shaft stands"

// An opening is a stretch in which the drive breaks off.
type opening struct {
	first, last int // bins [first, last)
	midst       bool
	dir         Direction
	coasts      tail
	stood       bool // the shaft, by the reading
}

// findOpenCircuit reports a drive that stands at the leads while no current
// flows and the shaft stands: a motor that turns draws what its friction takes,
// one that is blocked more, so the circuit is open. The shaft has to stand,
// as a load that pulls the motor along may take its current to nothing, and so
// does an instrument's clip that comes off; at the end of the travel it stands
// anyway, there the current alone says nothing sure.
func (w *work) findOpenCircuit() {
	open := w.stoodMidway(w.withoutCurrent())
	if len(open) == 0 {
		return
	}
	midst := 0
	for _, o := range open {
		if o.midst {
			midst++
		}
	}
	f := w.brokenFinding(brokenNoCurrent, open)
	if midst == 0 {
		f.Form = brokenNoStart
	}
	f.Strength = 1 - math.Exp(-float64(len(open)))
	if len(open) == 1 {
		f.Strength *= 0.4 // once may be the moment in which the current turns round
	}
	w.found = append(w.found, f)
}

// withoutCurrent lists the stretches of at least 50 ms and three rows, longer
// than a commutator or a reversal of the current takes, with all of the drive
// and no more current than at rest.
func (w *work) withoutCurrent() []opening {
	none, ok := w.noCurrentLevel()
	if !ok {
		return nil
	}
	c := w.tr.Current.Mean
	const full = 0.7 // of the drive: a motor that coasts gives back less
	gone := func(i int) bool {
		return math.Abs(w.d.mean[i]) > full*w.d.amp && math.Abs(float64(c[i])) < none
	}
	var out []opening
	for k := range w.moves {
		m := &w.moves[k]
		for i := m.first; i < m.last; {
			if !gone(i) {
				i++
				continue
			}
			j := i
			for j < m.last && gone(j) {
				j++
			}
			if j-i >= 3 && w.t[min(j, len(w.t)-1)]-w.t[i] >= 0.05 {
				out = append(out, opening{first: i, last: j, midst: w.t[i]-m.Time.From > w.lim.StallSeconds, dir: m.Direction})
			}
			i = j
		}
	}
	return out
}

// noCurrentLevel is the current, without its sign, below which none flows: what
// is seen at rest and five sigma more. It is known only where the motor's own
// current, while it runs, stands clear of it.
func (w *work) noCurrentLevel() (level float64, ok bool) {
	none := w.noAmps.of(w.measureNoCurrent)
	return none.level, none.ok
}

type currentFloor struct {
	level float64
	ok    bool
}

func (w *work) measureNoCurrent() currentFloor {
	if w.tr.Current == nil || w.d.pulsed {
		return currentFloor{}
	}
	run := w.runningCurrent()
	var rest []float64
	for i, p := range w.d.pol {
		if f := math.Abs(float64(w.tr.Current.Mean[i])); p == 0 && !math.IsNaN(f) {
			rest = append(rest, f)
		}
	}
	if math.IsNaN(run) || len(rest) < 10 {
		return currentFloor{}
	}
	idle := medianOf(rest)
	level := idle + 5*stats.MAD(rest) + w.tr.Current.Stats.Quantum
	return currentFloor{level, run-idle > 2*(level-idle)}
}

// stoodMidway gives the openings clear of the ends of the travel in which the
// shaft stood for so long that its motion would have shown; where none is long
// enough by itself, all of them where it shows over all.
func (w *work) stoodMidway(open []opening) []opening {
	var sure, mid []opening
	dues, wents := 0.0, 0.0
	near := w.lim.EndZone * w.span.Width()
	for _, o := range open {
		from, to, due := w.duringOpening(o)
		if to < w.span.From+near || to > w.span.To-near {
			continue
		}
		went := float64(o.dir) * (to - from)
		mid, dues, wents = append(mid, o), dues+due, wents+went
		if due > 2*w.visible() && math.Abs(went) < due/3 {
			sure = append(sure, o)
		}
	}
	if len(sure) == 0 && dues > 2*w.visible()*math.Sqrt(float64(len(mid))) && math.Abs(wents) < dues/3 {
		return mid
	}
	return sure
}

// duringOpening is the reading at the beginning and the end of an opening, and
// how far the shaft would have gone meanwhile. An open motor runs on for a
// moment: the first third is left out.
func (w *work) duringOpening(o opening) (from, to, due float64) {
	a := o.first + (o.last-o.first)/3
	k := max(1, min(w.window/2, (o.last-a)/2))
	due = w.rate[side(o.dir)] * (w.t[o.last-1] - w.t[a])
	return medianOf(w.v[a : a+k]), medianOf(w.v[o.last-k : o.last]), due
}

func (w *work) brokenFinding(form string, open []opening) Finding {
	f := Finding{Kind: Broken, Form: form, Tie: TiedToTime, TieP: 1, Event: "motor circuit", Time: noInterval(), Volts: noInterval()}
	shortest, longest, all, stood := math.Inf(1), 0.0, 0.0, 0
	for _, o := range open {
		if o.stood {
			stood++
		}
		t := Interval{w.t[o.first], w.t[min(o.last, len(w.t)-1)]}
		lo, hi := extremes(w.v[o.first:o.last])
		f.Time = f.Time.widen(t.From).widen(t.To)
		f.Volts = f.Volts.widen(lo).widen(hi)
		f.Places = append(f.Places, Occurrence{t, Interval{lo, hi}, o.dir})
		shortest, longest, all = math.Min(shortest, t.Width()), math.Max(longest, t.Width()), all+t.Width()
	}
	f.Seen, f.Passes = len(open), len(open)
	f.Measures = []Measure{{"breaks", float64(len(open)), ""}, {"shortest", shortest, "s"}, {"longest", longest, "s"}, {"in all", all, "s"}}
	if form != brokenNoCurrent { // that one takes it for granted, see stoodMidway
		f.Measures = append(f.Measures, Measure{stoodMeanwhile, float64(stood), ""})
	}
	return f
}

// joinBroken joins to a drive that breaks off the stands and the stalls that it
// makes, and a control or a person that tries again.
func (w *work) joinBroken() {
	for i := range w.found {
		b := &w.found[i]
		if b.Kind != Broken || b.Form == brokenMidway {
			continue
		}
		for k := range w.found {
			f := &w.found[k]
			switch f.Kind {
			case Hunting, NoMotion, OneWay:
				f.Event = b.Event
			case Pauses, GearSlip, Jam, SlowZone, StickSlip, EndLoss, DeadSpot, Play:
				if f.during(b) {
					f.Event = b.Event
					f.Strength *= 0.2
				}
			}
		}
		return
	}
}

// during tells whether at least half of the places of a finding, or its whole
// time where it has none, fall into those of another.
func (f *Finding) during(o *Finding) bool {
	const by = 0.2 // s: motors take as long to come up again
	hit := func(t Interval) bool {
		for _, p := range o.Places {
			if (Interval{p.Time.From - by, p.Time.To + by}).Overlaps(t) {
				return true
			}
		}
		return false
	}
	if len(f.Places) == 0 {
		return hit(f.Time)
	}
	n := 0
	for _, p := range f.Places {
		if hit(p.Time) {
			n++
		}
	}
	return 2*n >= len(f.Places)
}

func (f *Finding) brokenTitle(longest float64) string {
	switch f.Form {
	case brokenNoCurrent, brokenNoStart:
		return fmt.Sprintf("Driven, no current flows and the shaft stands, %s, up to %.2f s.", timesText(f.Seen), longest)
	}
	s := fmt.Sprintf("The drive breaks off and comes back in the same direction %s, up to %.2f s", timesText(f.Seen), longest)
	switch stood, _ := f.Measure(stoodMeanwhile); {
	case int(stood) == f.Seen:
		s += ", and the shaft stands meanwhile"
	case stood > 0:
		s += fmt.Sprintf("; in %.0f of them the shaft stands, in the others it does not show", stood)
	}
	return s + "."
}
