package analyze

import (
	"math"
	"testing"

	"threewire/signal"
)

// seek drives to a place as a proportional control does: with full drive far
// from it, with less and less over the last stretch, never less than a quarter.
func (d *draft) seek(at, stretch float64) *draft {
	for math.Abs(at-d.x) > 0.02 {
		k := math.Max(0.25, math.Min(1, math.Abs(at-d.x)/stretch))
		d.run(math.Copysign(12*k, at-d.x), d.dt)
	}
	return d.run(0, 0.8)
}

// requests is what somebody asks of a climate control in a minute or two.
func requests() []float64 { return []float64{3.4, 1.6, 4.1, 2.5, 0.9, 4.1, 2, 3.3, 0.9, 4.1} }

// A control that slows down before its targets must not look like a door that
// binds there, and a door that binds must still be seen beside it.
func TestApproachDrawn(t *testing.T) {
	t.Parallel()
	seeking := func(d *draft) *draft {
		d.signOnly = true
		d.run(0, 0.5).run(12, 6).run(0, 0.5).run(-12, 6).run(0, 0.5)
		for _, at := range requests() {
			d.seek(at, 0.7)
		}
		return d
	}
	checkDrawn(t, []drawnCase{
		{"slow before each target", func(s uint64) *draft { return seeking(newDraft(s)) }, NoFault, ""},
		// Pulses that fall between the rows leave the volts as they are; the control
		// creeps on until it is there, and holds on a little.
		{"slow before each target, the volts say nothing", func(s uint64) *draft {
			d := newDraft(s)
			d.run(0, 0.5).run(12, 6).run(0, 0.5).run(-12, 6).run(0, 0.5)
			for _, at := range requests() {
				from := len(d.drive)
				d.seek(at, 1)
				sign := math.Copysign(12, d.drive[from])
				d.speed = func(d *draft, dir float64) float64 { return 0 }
				d.run(sign, 1).run(0, 0.5)
				d.speed = nil
				for i := from; i < len(d.drive) && math.Abs(d.drive[i]) > 1; i++ {
					d.drive[i] = sign
				}
				for i := len(d.drive) - int(1.5/d.dt) - int(0.8/d.dt); i < len(d.drive)-int(1.5/d.dt); i++ {
					d.drive[i] = sign
				}
			}
			return d
		}, NoFault, ""},
		{"slow before each target, and a band that binds", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, _ float64) float64 {
				if d.x > 2.6 && d.x < 3 {
					return 0.35
				}
				return 1
			}
			return seeking(d)
		}, DoorMechanism, SlowZone},
	}, "")
}

// The way over which a control slows down is found to a tenth of the span, and
// none is found where the volts are logged or targets are run into at full drive.
func TestApproachLength(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name          string
		stretch       float64
		volts         bool
		least, utmost float64
	}{
		{"over 0.7 V", 0.7, false, 0.4, 0.9},
		{"over 1.2 V", 1.2, false, 0.7, 1.5},
		{"at full drive", 0.02, false, 0, 0},
		{"with its volts", 0.7, true, 0, 0},
	} {
		d := newDraft(3)
		d.signOnly = !c.volts
		d.run(0, 0.5).run(12, 6).run(0, 0.5).run(-12, 6).run(0, 0.5)
		for _, at := range requests() {
			d.seek(at, c.stretch)
		}
		w := workOf(t, d.trace())
		if got := w.slows; got < c.least || got > c.utmost {
			t.Errorf("%s: slows down over %.2f V, want %.1f to %.1f", c.name, got, c.least, c.utmost)
		}
	}
}

// workOf measures a trace and keeps what a capture does not show.
func workOf(t *testing.T, tr *signal.Trace) *work {
	t.Helper()
	opt := Defaults()
	w := &work{tr: tr, opt: opt, lim: opt.Limits, t: tr.Time, d: readDrive(tr, opt.Limits)}
	w.condition()
	w.run()
	return w
}
