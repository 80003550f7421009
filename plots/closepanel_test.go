package plots

import (
	"bytes"
	"strings"
	"testing"

	"threewire/analyze"
)

// dropped adds losses at the times to a drawn capture.
func dropped(at ...float64) Figure {
	fig := drawn(false)
	f := analyze.Finding{Kind: analyze.Dropouts, Tie: analyze.TiedToTime, Seen: len(at), Title: "Signal drop-outs.", Strength: 1}
	for _, t := range at {
		f.Places = append(f.Places, analyze.Occurrence{Time: analyze.Interval{From: t, To: t + 0.02}, Volts: analyze.Interval{From: 2, To: 2}})
	}
	fig.Capture.Findings = []analyze.Finding{f}
	return fig
}

// A close-up is drawn where places lie so close that they run into each other in the
// whole, of the closest four, and nowhere else.
func TestCloseUpOfTheClosestPlaces(t *testing.T) {
	fig := dropped(1, 4, 6, 6.3, 6.7, 7, 9)
	d, err := compose([]Figure{fig}, Options{Panels: []Panel{Time, Close}})
	if err != nil {
		t.Fatal(err)
	}
	c := d.closest()
	if c == nil || c.shown != 4 || c.of != 7 || c.from > 6 || c.from < 5.5 || c.to < 7.02 || c.to > 7.6 {
		t.Errorf("the close-up is %+v, want that of the four from 6 to 7.02 s", c)
	}
	var b bytes.Buffer
	if err := Draw(&b, "svg", []Figure{fig}, Options{Panels: []Panel{Close}}); err != nil || !strings.Contains(b.String(), "4 of 7 places") {
		t.Errorf("the picture does not tell how many places it shows (%v)", err)
	}
	for name, at := range map[string][]float64{"two": {6, 6.3}, "far apart": {1, 5, 9, 13}} {
		if _, err := compose([]Figure{dropped(at...)}, Options{Panels: []Panel{Close}}); err == nil || !strings.Contains(err.Error(), "no places of a finding lie so close") {
			t.Errorf("%s: %v", name, err)
		}
	}
	tied := dropped(6, 6.3, 6.6)
	tied.Capture.Findings[0].Tie = analyze.TiedToPosition
	if d, err := compose([]Figure{tied}, Options{Panels: []Panel{Time}}); err != nil || d.closest() != nil {
		t.Errorf("what belongs to a place of the track is drawn close up in time (%v)", err)
	}
}

// Neighbours stay boxes of their own, as many as are told, as long as they can be seen.
func TestNeighboursKeepTheirBoxes(t *testing.T) {
	s := &sheet{size: 10}
	for _, c := range []struct {
		gap  float64 // points, between boxes of 3
		want int
	}{{20, 5}, {4, 5}, {2, 1}, {1, 1}} {
		f := &frame{s: s, x0: 0, x1: 100, y0: 0, y1: 5, area: box{0, 0, 100, 100}}
		x := &analyze.Finding{Kind: analyze.Dropouts}
		for k := range 5 {
			from := 3 + float64(k)*(3+c.gap)
			if from > 95 {
				break
			}
			x.Places = append(x.Places, analyze.Occurrence{Time: analyze.Interval{From: from, To: from + 3}, Volts: analyze.Interval{From: 2, To: 2}})
		}
		want := min(c.want, len(x.Places))
		if got := len(spots(s, f, x)); got != want {
			t.Errorf("%g points apart: %d boxes for %d places, want %d", c.gap, got, len(x.Places), want)
		}
	}
}
