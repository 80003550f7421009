package analyze

import "testing"

// Losses close together count as one where they are told apart; the number that the
// picture shows is said too, and only where it is another one.
func TestLossesInAll(t *testing.T) {
	t.Parallel()
	w := &work{ref: 5, tol: 0.02, span: Interval{1, 4}}
	w.v = []float64{2, 2, 0, 0, 2, 0.9, 2, 0, 2, 5, 2, 4.1, 2}                   // away at 0, 0 and 5 V, spikes taken out
	w.raw = []float64{2, 2, 0, 0, 2, 0.9, 2, 0, 2, 5, 2, 4.1, 2, 0.1, 2, 0.6, 2} // one more row at 0 V, and a spike elsewhere
	w.v = append(w.v, 2, 2, 2, 2)
	for seen, want := range map[int]float64{2: 4, 3: 4, 4: 0} {
		w.found = []Finding{{Kind: Dropouts, Seen: seen}}
		w.countLosses()
		if got, _ := w.found[0].Measure(lossesInAll); got != want {
			t.Errorf("%d told apart: %g losses in all, expected %g (0 is not said)", seen, got, want)
		}
	}
}

// Losses while the shaft stands lie in no pass, so no passes are counted beside them.
func TestNoPassesBesideLossesAtRest(t *testing.T) {
	t.Parallel()
	f := Finding{Kind: Dropouts, Form: lossAtRestToo, Tie: TiedToTime, TieP: 1, ownTie: true, tieWord: "goes with time, not with a place", Measures: waysOf([2]int{0, 4}, [2]int{5, 11})}
	if got := f.tieWords(); got != "it goes with time, not with a place" {
		t.Error(got)
	}
	f.Form = lossNoPlace
	if got := f.tieWords(); !contains(got, "4 of 11 passes up") {
		t.Error(got)
	}
}

// One loss of signal that lasts is no interference: it leaves open what one row off does not.
func TestLoneLossThatLasts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		long float64 // s
		none bool
	}{{"one row", 0.005, true}, {"a third of a second", 0.3, false}} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.read = func(d *draft) float64 {
				if d.t > 9.2 && d.t < 9.2+c.long {
					return 0.15
				}
				return d.x
			}
			got, v := look(t, d.sweeps(4))
			if (v.Conclusion == NoFault) != c.none || v.Conclusion != NoFault && v.Conclusion != CannotTell {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
