package analyze

import (
	"regexp"
	"testing"

	"threewire/signal"
)

// A travel that a single row covers, or that noise hides, is not told as a share of itself
// above the whole; of one that shows, the share is told.
func TestNoShareAboveTheWhole(t *testing.T) {
	t.Parallel()
	share := regexp.MustCompile(`([0-9.]+) % of the (span|travel)`)
	told := func(width, rate float64) (text string) {
		a := (&work{tr: &signal.Trace{Step: 0.005}, ref: 5, window: 2, tol: 0.02, span: Interval{From: 1, To: 1 + width}}).openAccount()
		a.deadSpots(rate)
		a.coarseRows(rate)
		for _, list := range [][]Absence{a.absent, a.blind} {
			for _, x := range list {
				text += x.Text + "\n"
			}
		}
		return text
	}
	if text := told(4, 20); len(share.FindAllString(text, -1)) != 2 {
		t.Errorf("a travel of 4 V: %s", text)
	}
	if text := told(0.04, 10); text == "" || share.MatchString(text) {
		t.Errorf("a travel of 0.04 V: %s", text)
	}
}
