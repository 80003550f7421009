package analyze

import (
	"math"
	"testing"

	"threewire/analyze/nominal"
	"threewire/signal"
)

// logged gives a drafted capture in a unit of 5 V over full, with the sensor's
// supply beside it when volts are given.
func logged(t *testing.T, d *draft, unit string, full, volts float64, o Options) *Capture {
	t.Helper()
	tr := d.trace()
	m := make([]float32, len(d.feed))
	for i, x := range d.feed {
		m[i] = float32(x / 5 * full)
	}
	lo, hi := extremes(d.feed)
	tr.Feedback = signal.Series{Name: "feedback", Unit: unit, Mean: m, Min: m, Max: m, Stats: signal.Stats{Valid: int64(len(m)), Min: lo / 5 * full, Max: hi / 5 * full}}
	if volts > 0 {
		r := make([]float32, len(m))
		for i := range r {
			r[i] = float32(volts + 0.002*float64(i%3-1))
		}
		tr.Reference = &signal.Series{Name: "reference", Unit: "V", Mean: r, Min: r, Max: r, Stats: signal.Stats{Valid: int64(len(r)), Min: volts - 0.002, Max: volts + 0.002}}
	}
	c, err := Examine(tr, o)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// A reference in volts is the full scale of volts only, never of percent or
// counts; and these may be shares of it already, so nothing is taken out.
func TestReferenceInAnotherUnit(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		unit              string
		full, volts, want float64
	}{{"V", 5, 5, 5}, {"V", 3.3, 3.3, 3.3}, {"%", 100, 5, 100}, {"%", 100, 3.3, 100}, {"%", 100, 0, 100}, {"counts", 1023, 4.8, 1023}, {"counts", 4095, 3.3, 4095}} {
		x := logged(t, newDraft(5).sweeps(3), c.unit, c.full, c.volts, Defaults())
		if math.Abs(x.Reference/c.want-1) > 0.001 {
			t.Errorf("%s beside a reference of %g V: full scale %g, want %g", c.unit, c.volts, x.Reference, c.want)
		}
		if v := Judge(x).Verdict; v.Conclusion != NoFault {
			t.Errorf("%s beside a reference of %g V: %s, %s", c.unit, c.volts, v.Conclusion, v.Summary)
		}
	}
}

// Coupled and free captures in different units are compared as shares of the
// supply where both are known, and else not by level at all.
func TestFreeRunInAnotherUnit(t *testing.T) {
	t.Parallel()
	free := Defaults()
	free.Free = true
	told := Defaults()
	told.ReferenceVolts, told.ReferenceTold = 4.9, true
	usual := Defaults() // five volts are as well told as any
	usual.ReferenceTold = true
	for _, c := range []struct {
		name        string
		unit, other string
		full, scale float64
		volts       float64 // logged beside the coupled capture
		opt         Options
		short       float64 // of the free travel
		want        bool    // that the coupled one is told to stall short
	}{
		{"percent, like", "V", "%", 5, 100, 5, Defaults(), 0.02, false},
		{"percent, short", "V", "%", 5, 100, 5, Defaults(), 0.35, true},
		{"percent, short, supply unknown", "V", "%", 5, 100, 0, Defaults(), 0.35, false},
		{"percent, short, supply told", "V", "%", 5, 100, 0, told, 0.35, true},
		{"percent, short, five volts told", "V", "%", 5, 100, 0, usual, 0.35, true},
		{"counts, like", "V", "counts", 5, 1023, 5, Defaults(), 0.02, false},
		{"counts, short", "V", "counts", 3.3, 4095, 3.3, Defaults(), 0.35, true},
		{"percent against counts, like", "%", "counts", 100, 1023, 0, Defaults(), 0.02, false},
		{"percent against counts, short", "%", "counts", 100, 1023, 3.3, Defaults(), 0.35, true},
		{"percent of the travel", "V", "%", 5, 124, 5, Defaults(), 0.35, false},
	} {
		d, f := newDraft(8), newDraft(9).sweeps(3)
		d.hi -= 4 * c.short
		if c.scale == 124 { // 0.5 to 4.5 V are 0 to 100 %
			for i := range f.feed {
				f.feed[i] = (f.feed[i] - 0.5) * 5 / 4
			}
			c.scale = 100
		}
		r := Judge(logged(t, d.sweeps(3), c.unit, c.full, c.volts, c.opt), logged(t, f, c.other, c.scale, 0, free))
		if got := r.Compared != nil && r.Compared.Short > 0.2; got != c.want {
			t.Errorf("%s: told to stall short: %v (%+v)", c.name, got, r.Compared)
		}
	}
}

// A place is carried to a capture in another unit by its share of the travel
// or of the supply, or not at all.
func TestSamePlaceInAnotherUnit(t *testing.T) {
	t.Parallel()
	stops := []Stop{{Direction: Down, Extreme: true}, {Direction: Up, Extreme: true}}
	volts := &Capture{Unit: "V", Reference: 5, Span: Interval{0.5, 4.5}}
	share := &Capture{Unit: "%", Reference: 100, Span: Interval{30, 90}}
	at := Interval{2, 2.5}
	if got := sameShare(volts, share, at); !math.IsNaN(got.From) {
		t.Errorf("without stops or supply: %+v", got)
	}
	volts.shareKnown, share.shareKnown = true, true
	if got := sameShare(volts, share, at); got != (Interval{40, 50}) {
		t.Errorf("by the supply: %+v", got)
	}
	volts.Stops, share.Stops = stops, stops
	volts.Stops[0].Level, volts.Stops[1].Level = 0.5, 4.5
	if got := sameShare(volts, share, at); volts.bothStops() && share.bothStops() && got != (Interval{52.5, 60}) {
		t.Errorf("by the travel: %+v", got)
	}
}

// A profile in volts says nothing of the levels of a capture in percent, and
// its travel times hold all the same.
func TestProfileInAnotherUnit(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ rate, low, high float64 }{{0.8, 0.85, 1.15}, {0.5, 0.5, 0.75}} {
		o := Defaults()
		o.Profile = &nominal.Profile{File: "p", Unit: "V", Reference: 5, Low: 0.5, High: 4.5, TransitUp: 5, TransitDown: 5, DriveVolts: 12, Tolerance: 0.1}
		d := newDraft(4)
		d.rate = c.rate
		for range 3 {
			d.run(12, 10).run(0, 0.5).run(-12, 10).run(0, 0.5)
		}
		a := logged(t, d, "%", 100, 0, o).Against
		if a == nil || !a.Used || a.LowShift != nil || a.Up == nil || *a.Up < c.low || *a.Up > c.high {
			t.Errorf("rate %g: %+v", c.rate, a)
		}
	}
}

// One bad row, or two, sets no full scale, whatever the unit; a level that is held does.
func TestFullScaleIsNoSpikes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		unit  string
		full  float64 // of 5 V
		spike float64
		rows  int
		want  float64
	}{
		{"counts", 1023, 4000, 1, 1023},
		{"counts", 1023, 4000, 2, 1023},
		{"counts", 255, 65535, 1, 255},
		{"counts", 1023, 4000, 40, 4095},
		{"V", 5, 27, 1, 5},
		{"V", 12, 60, 1, 12},
		{"", 1, 3, 1, 1},
		{"mV", 5000, 30000, 2, 5000},
	} {
		tr := newDraft(5).sweeps(3).trace()
		m := tr.Feedback.Mean
		for i := range m {
			m[i] *= float32(c.full / 5)
		}
		for i := range c.rows {
			m[333+i] = float32(c.spike)
		}
		tr.Feedback = signal.Series{Name: "feedback", Unit: c.unit, Mean: m, Min: m, Max: m, Stats: signal.Stats{Valid: int64(len(m)), Min: 0, Max: c.spike}}
		if got, _ := lookAt(t, tr); got.Reference != c.want {
			t.Errorf("%g %s of %g over %d rows: full scale %g, expected %g", c.spike, c.unit, c.full, c.rows, got.Reference, c.want)
		}
	}
}
