package analyze

import "testing"

// Losses at no place none of which comes at rest: the more of them, the less they are a
// cable's, without a leap where chance is ruled out; where one comes at rest they are, however
// many.
func TestLossesThatSpareTheRests(t *testing.T) {
	t.Parallel()
	sensor := func(chance float64, form string) float64 {
		f := Finding{Kind: Dropouts, Form: form}
		if form == lossNoPlace && chance < 1 {
			f.Measures = []Measure{{sparesRests, chance, ""}}
		}
		l, _ := dropoutsLikelihood(&f)
		return l[FeedbackSensor] / l[WiringControl]
	}
	last := sensor(1, lossNoPlace)
	for _, p := range []float64{0.5, 0.1, 0.03, 0.011} {
		if x := sensor(p, lossNoPlace); x <= last {
			t.Errorf("chance %g: sensor to wiring %.3g, not above %.3g", p, x, last)
		} else {
			last = x
		}
	}
	if sure := sensor(0, whileItMoves); last > sure || last < 0.8*sure {
		t.Errorf("at the border %.3g, beyond it %.3g", last, sure)
	}
	if x := sensor(1, lossAtRestToo); x > 0.1 {
		t.Errorf("one at rest: %.3g", x)
	}
}

// Drives of eight seconds in ten, with losses strewn over them: five of them may all fall
// under way by chance, and leave it open.
func TestFewLossesUnderWay(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.read = func(d *draft) float64 {
			for _, at := range []float64{3.1, 8.4, 15.9, 22.2, 29.3} {
				if d.t > at && d.t < at+0.12 {
					return 4.95
				}
			}
			return d.x
		}
		got, v := look(t, d.sweeps(3))
		f := finding(got, Dropouts)
		if f == nil || f.Form != lossNoPlace || v.Conclusion == WiringControl && v.Probability > 0.9 {
			t.Errorf("seed %d: %s", seed, say(got, v))
		} else if _, ok := f.Measure(sparesRests); !ok {
			t.Errorf("seed %d: no chance to spare the rests: %+v", seed, f.Measures)
		}
	}
}
