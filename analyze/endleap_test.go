package analyze

import (
	"math"
	"testing"
)

// Beyond 4.4 V the track is open: an input capacitor lets the reading go slowly to
// the rail, and takes it back at once when the wiper is on the track again. Only the
// way back shows what the shaft cannot have done. (Drawn.)
func TestTrackOpenAtOneEndBySlowLeap(t *testing.T) {
	t.Parallel()
	open := func(at float64) *draft {
		d := newDraft(5)
		d.noise, d.quantum = 0.02, 0.02 // an instrument of eight bits
		held := 0.5
		d.read = func(d *draft) float64 {
			if d.x < at {
				held = d.x
			} else {
				held += (at + 0.45 - held) * d.dt / 0.25
			}
			return held
		}
		return d
	}
	for _, c := range []struct {
		name string
		d    *draft
		want bool
	}{
		{"open beyond 4.4 V", open(4.4), true},
		{"sound", open(9), false},
		// A seal that pushes the shaft off the stop by a fiftieth of the travel.
		{"springs back", func() *draft {
			d := newDraft(6)
			d.speed = func(d *draft, dir float64) float64 {
				if d.x > d.hi-0.08 && dir < 0 {
					return 3
				}
				return 1
			}
			return d
		}(), false},
		// Slow hum that the sampling has folded strays as far at rest.
		{"folded hum", func() *draft {
			d := newDraft(7)
			d.noise = 0.002
			d.read = func(d *draft) float64 { return d.x + 0.15*math.Sin(2*math.Pi*0.7*d.t) }
			return d
		}(), false},
	} {
		got, err := Examine(c.d.sweeps(4).trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(got).Verdict
		var f *Finding
		for i := range got.Findings {
			if k := &got.Findings[i]; k.Kind == DeadSpot && k.Form == openBeyond {
				f = k
			}
		}
		if (f != nil) != c.want || c.want && (v.Conclusion != FeedbackSensor || f.Direction != Up || math.Abs(f.Volts.Mid()-4.4) > 0.1) || !c.want && v.Conclusion == FeedbackSensor {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// The wiper that loses the end of its track now rests beside it, now finds it again
// while it is driven on: one leap as it arrives and one as it leaves are both of that
// end. One that arrives with a leap alone may be the sparks of a motor that stops. (Drawn.)
func TestTrackOpenAtOneEndByArrivalAndLeaving(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		leaves bool
		want   bool
	}{
		{"arrives and leaves by a leap", true, true},
		{"arrives by a leap only", false, false},
	} {
		d := newDraft(12)
		d.noise = 0.003
		d.read = func(d *draft) float64 {
			switch {
			case d.t < 10 && d.x > 4.35 && d.x < 4.5: // the first arrival
				return d.x + 0.15
			case c.leaves && d.t > 12 && d.x >= 4.499: // as it rests there the second time
				return 4.9
			}
			return d.x
		}
		got, err := Examine(d.sweeps(2).trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, f := range got.Findings {
			found = found || f.Kind == DeadSpot && f.Form == openBeyond
		}
		if found != c.want {
			t.Errorf("%s: %s", c.name, say(got, Judge(got).Verdict))
		}
	}
}

// A drift that comes to rest lies on no straight line; one end that jumps once is none.
func TestDriftThatComesToRest(t *testing.T) {
	t.Parallel()
	end := func(shift func(visit int) float64) *draft {
		d := newDraft(8)
		d.noise = 0.003
		top := 0.0
		d.read = func(d *draft) float64 { return d.x - top*(d.x-d.lo)/(d.hi-d.lo) }
		d.run(0, 1)
		for k := range 9 {
			top = shift(k)
			d.run(12, 6).run(0, 0.5).run(-12, 6).run(0, 0.5)
		}
		return d
	}
	for _, c := range []struct {
		name  string
		shift func(int) float64
		want  bool
	}{
		{"comes to rest", func(k int) float64 { return 0.2 * (1 - math.Exp(-float64(k)/2)) }, true},
		{"sets in late", func(k int) float64 {
			return []float64{0, 0.006, 0.024, 0.022, 0.03, 0.07, 0.125, 0.157, 0.177}[k]
		}, true},
		{"none", func(int) float64 { return 0 }, false},
	} {
		got, err := Examine(end(c.shift).trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(got).Verdict
		drift := false
		for _, f := range got.Findings {
			drift = drift || f.Kind == SpanDrift && f.Form == "high end"
		}
		if drift != c.want || c.want != (v.Conclusion == FeedbackSensor) {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
