package plots

import (
	"strings"
	"testing"

	"gonum.org/v1/plot/vg/recorder"

	"threewire/fixtures"
)

// A logged motor current has a strip of its own, for it settles what a flat
// reading cannot: stalled, turning unseen or without a motor. One spike must
// not flatten it, and a picture without current has no empty strip.
func TestCurrentStrip(t *testing.T) {
	with := figure(t, fixtures.Spec{Fault: fixtures.Jam, Severity: 1, Seed: 2, Controller: "bench-hand", Instrument: "two-channel-logger", Channels: "current"})
	without := with
	bare := *with.Trace
	bare.Current = nil
	without.Trace = &bare
	named := func(f Figure) bool {
		d, err := compose([]Figure{f}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		s := newSheet(new(recorder.Canvas), d.f, &d.o)
		d.draw(s)
		for _, l := range s.labels {
			if strings.HasPrefix(l.text, "current, A") {
				return true
			}
		}
		return false
	}
	if !named(with) {
		t.Error("a logged current is not drawn")
	}
	if named(without) {
		t.Error("a strip is drawn for a current that was not logged")
	}

	d, err := compose([]Figure{with}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	s := newSheet(new(recorder.Canvas), d.f, &d.o)
	from, to := wholeTime(d.fig)
	before := d.currentFrame(s, box{0, 300, 400, 350}, 350, from, to)
	c := with.Trace.Current
	c.Mean[len(c.Mean)/2], c.Max[len(c.Max)/2] = 500, 500
	after := d.currentFrame(s, box{0, 300, 400, 350}, 350, from, to)
	if after.y1 > 4*before.y1 {
		t.Errorf("a spike of one row stretches the axis from %.2f to %.2f A", before.y1, after.y1)
	}
}
