package analyze

import "testing"

// takes drafts an actuator that needs so many seconds from stop to stop at 12 V.
func takes(seed uint64, seconds float64) *draft {
	d := newDraft(seed)
	d.rate = (d.hi - d.lo) / seconds
	return d.sweeps(2)
}

// Trade fact (common practice, no source): a door actuator crosses its travel in
// 3 to 15 s; there are slow makes.
func TestWeakWithoutProfile(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		for seconds, want := range map[float64]Fault{5: NoFault, 15: NoFault, 20: NoFault, 30: CannotTell, 50: Motor} {
			d := newDraft(seed)
			d.rate, d.speed = (d.hi-d.lo)/seconds, uneven
			if v := Judge(examined(t, d.sweeps(2), false)).Verdict; v.Conclusion != want {
				t.Errorf("seed %d, %.0f s for the travel: %s %.2f, want %s", seed, seconds, v.Conclusion, v.Probability, want)
			}
		}
	}
	for last, x := 1e9, 3.0; x < 60; x++ {
		if few := goodAsSlow(x, 0); few > last {
			t.Errorf("more good actuators take %.0f s than take less", x)
		} else {
			last = few
		}
	}
}

// A weak motor is slow off its door as well; off a door that drags, a good one
// is as quick as any.
func TestWeakFree(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		coupled := examined(t, takes(seed, 45), false)
		weak := Judge(coupled, examined(t, takes(seed+100, 25), true))
		if weak.Verdict.Conclusion != Motor || weak.Compared == nil || len(weak.Compared.Stays) != 1 {
			t.Errorf("seed %d: slow off its door as well: %s %.2f, %+v", seed, weak.Verdict.Conclusion, weak.Verdict.Probability, weak.Compared)
		}
		drags := Judge(coupled, examined(t, takes(seed+200, 6), true))
		if drags.Verdict.Conclusion == Motor || drags.Compared == nil || len(drags.Compared.Gone) != 1 {
			t.Errorf("seed %d: quick off its door: %s %.2f, %+v", seed, drags.Verdict.Conclusion, drags.Verdict.Probability, drags.Compared)
		}
	}
}

// An uncoupled capture that hardly moves says nothing of the speed.
func TestWeakFreeUnknown(t *testing.T) {
	t.Parallel()
	coupled := examined(t, takes(1, 45), false)
	free := newDraft(2)
	free.run(0, 1).run(12, 0.2).run(0, 5)
	if r := Judge(coupled, examined(t, free, true)); r.Compared != nil {
		t.Errorf("compared with a capture that hardly moves: %+v", r.Compared)
	}
	wide := takes(3, 6)
	c := examined(t, wide, true)
	c.travel = travelTime{}
	if r := Judge(coupled, c); r.Compared != nil && len(r.Compared.Gone) > 0 {
		t.Errorf("slowness is called gone where the speed is not known: %+v", r.Compared)
	}
}
