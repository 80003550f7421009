package analyze

import (
	"math"
	"slices"
	"strings"
	"testing"

	"threewire/signal"
)

// offs are the stretches, in s, in which a key is turned to off: of the drives of
// keyed none falls into them.
func offs() []signal.Span { return []signal.Span{{From: 14.2, To: 16}, {From: 30.8, To: 33}} }

// keyed drives up and down three times, with four seconds of rest after each pair, and
// logs the supply. What off says of a time decides whether the supply is there and
// whether the reading is; both fall and rise within tenths of a second, as capacitors do.
func keyed(seed uint64, off func(t float64) (supply, reading bool)) *signal.Trace {
	d := newDraft(seed)
	d.dt = 0.01
	var supply []float64
	volts, fed := 12.6, 1.0
	d.read = func(d *draft) float64 {
		noSupply, noReading := off(d.t)
		volts += (boolOf(!noSupply)*12.6 - volts) * d.dt / 0.05
		fed += (boolOf(!noReading) - fed) * d.dt / 0.05
		supply = append(supply, volts+0.01*d.rng.NormFloat64())
		return fed * d.x
	}
	d.run(0, 1)
	for range 3 {
		d.run(12, 6).run(0, 0.5).run(-12, 6).run(0, 4)
	}
	tr := d.trace()
	tr.Supply = beside("supply", "V", supply)
	return tr
}

func boolOf(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// A key that is turned takes the sensor's supply with it: these rows are left out and
// told. A reading that is lost by itself, or in a drive, is a finding as ever. (Drawn.)
func TestSwitchedOff(t *testing.T) {
	t.Parallel()
	inOffs := func(x float64) bool {
		return slices.ContainsFunc(offs(), func(o signal.Span) bool { return x >= o.From && x < o.To })
	}
	// In the midst of drives, while the shaft is far from the ends.
	inDrives := duringAny([2]float64{4, 0.8}, [2]float64{20, 0.8})
	for _, c := range []struct {
		name  string
		off   func(t float64) (supply, reading bool)
		told  bool
		sound bool
	}{
		{"a key that is turned twice", func(x float64) (bool, bool) { return inOffs(x), inOffs(x) }, true, true},
		{"a sensor with a supply of its own", func(x float64) (bool, bool) { return inOffs(x), false }, false, true},
		{"a supply that is off while driven", func(x float64) (bool, bool) { return inDrives(x), inDrives(x) }, false, false},
		{"a reading lost under a standing supply", func(x float64) (bool, bool) { return false, inOffs(x) }, false, false},
	} {
		for seed := range uint64(2) {
			got, v := lookAt(t, keyed(seed, c.off))
			told := slices.ContainsFunc(got.Notes, func(s string) bool { return strings.Contains(s, "the supply was switched off twice") })
			if told != c.told || c.sound != (v.Conclusion == NoFault) || c.sound != (len(got.Findings) == 0) {
				t.Errorf("seed %d, %s: told %v, %s", seed, c.name, told, say(got, v))
			}
		}
	}
}

// What is left out reaches from where the reading falls to where the supply is back,
// and no further; times stay those of the file.
func TestSwitchedOffRows(t *testing.T) {
	t.Parallel()
	at := func(x float64) bool {
		return slices.ContainsFunc(offs(), func(o signal.Span) bool { return x >= o.From && x < o.To })
	}
	tr := keyed(5, func(x float64) (bool, bool) { return at(x), at(x) })
	w := &work{tr: tr, opt: Defaults(), lim: Defaults().Limits, t: tr.Time}
	w.d = readDrive(tr, w.lim)
	got := w.switchedOff()
	if len(got) != len(offs()) {
		t.Fatalf("%d stretches were left out, want %d", len(got), len(offs()))
	}
	for i, o := range offs() {
		if math.Abs(got[i].From-o.From) > 0.3 || got[i].To < o.To || got[i].To > o.To+0.5 {
			t.Errorf("left out %v, the key was off in %v", got[i], o)
		}
	}
	for i, x := range w.t {
		if w.tr.Supply.Mean[i] < 6 || at(x) && x > got[0].From+0.3 && x < got[0].To || len(w.d.pol) != len(w.t) {
			t.Fatalf("the row at %.2f s is still there, with a supply of %.1f V", x, w.tr.Supply.Mean[i])
		}
	}
	if w.t[w.tr.Len()-1] != tr.Time[tr.Len()-1] {
		t.Error("times have moved")
	}
}

// For most of the time the key is off, and the logged reference is off with it: what is
// left has one, which the rows that were left out say nothing of. (Drawn.)
func TestSwitchedOffMostly(t *testing.T) {
	t.Parallel()
	d := newDraft(6)
	var supply, ref []float64
	on := 1.0
	d.read = func(d *draft) float64 {
		on += (boolOf(d.t < 14.5 || d.t > 80) - on) * d.dt / 0.05
		supply = append(supply, 12.6*on+0.01*d.rng.NormFloat64())
		fed := math.Max(0, math.Min(5, 12.6*on-1)) // a regulator holds as long as it can
		ref = append(ref, fed+0.001*d.rng.NormFloat64())
		return fed / 5 * d.x
	}
	d.run(0, 1).run(12, 6).run(0, 0.5).run(-12, 6).run(0, 70)
	for range 2 {
		d.run(12, 6).run(0, 0.5).run(-12, 6).run(0, 1)
	}
	tr := d.trace()
	tr.Supply, tr.Reference = beside("supply", "V", supply), beside("reference", "V", ref)
	if got, v := lookAt(t, tr); v.Conclusion != NoFault || !got.refLogged || len(got.Sweeps) < 4 {
		t.Errorf("reference logged: %v, %d sweeps, %s", got.refLogged, len(got.Sweeps), say(got, v))
	}
}

// A starter takes the supply to 6.6 V, the control gives up in the midst of a drive and begins
// anew some seconds later: no fault. Where it drives on the moment the supply is back, a plug
// was loose. (Drawn.)
func TestEngineStarted(t *testing.T) {
	t.Parallel()
	for _, later := range []float64{3, 0} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.dt = 0.01
			var supply, ref []float64
			d.read = func(d *draft) float64 {
				down := slices.ContainsFunc([]float64{4, 30, 45}[:1+2*int(boolOf(later == 0))], func(at float64) bool { return d.t >= at && d.t < at+0.9 })
				fed := boolOf(!down)
				supply = append(supply, 12.6-6*(1-fed)+0.02*d.rng.NormFloat64())
				ref = append(ref, 5*fed+0.002*d.rng.NormFloat64())
				return fed * d.x
			}
			d.run(0, 1).run(12, 3).run(0, 0.9+later).run(12, 3).run(0, 1).run(-12, 6).run(0, 1)
			for d.t < 30 {
				d.run(12, min(6, 30-d.t))
				if d.t < 30 {
					d.run(-12, min(6, 30-d.t))
				}
			}
			d.run(0, 0.9+later).run(-12, 6).run(12, max(0, 45-d.t)).run(0, 0.9+later).run(12, 6).run(-12, 6).run(12, 6).run(0, 1)
			tr := d.trace()
			tr.Supply, tr.Reference = beside("supply", "V", supply), beside("reference", "V", ref)
			got, v := lookAt(t, tr)
			if sound := v.Conclusion == NoFault; sound != (later > 0) {
				t.Errorf("seed %d, drives on %g s later: %s", seed, later, say(got, v))
			}
		}
	}
}
