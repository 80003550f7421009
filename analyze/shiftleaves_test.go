package analyze

import "testing"

// A reading that steps with the drive makes losses and leaps of a reading, and no breaks of
// the drive, which the leads and the current tell.
func TestShiftLeavesBreaksOfTheDrive(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind   Kind
		joined bool
	}{{Broken, false}, {RefLoss, false}, {Dropouts, true}, {GearSlip, true}} {
		w := &work{found: []Finding{
			{Kind: DriveShift, Form: withDirection, Event: "shift", Strength: 1},
			{Kind: c.kind, Event: "its own", Strength: 1},
		}}
		w.joinShift()
		if got := w.found[1].Event == w.found[0].Event; got != c.joined {
			t.Errorf("%s: joined %t", c.kind, got)
		}
	}
}
