package analyze

import (
	"strings"
	"testing"
)

// An actuator that runs slower than it did by far, what its current says of it, and one
// that is only cold. (Drawn, with the currents set.)
func TestSeriesPaceChange(t *testing.T) {
	t.Parallel()
	at := func(rate float64) func(d *draft) { return func(d *draft) { d.rate = rate } }
	for _, c := range []struct {
		name      string
		rates     []float64
		run, held [2]float64 // A, first and last; 0: not logged
		likelier  Fault
		than      Fault
		says      string
	}{
		{"brushes", []float64{0.8, 0.66, 0.48}, [2]float64{0.2, 0.2}, [2]float64{1, 0.55}, Motor, DoorMechanism, "Each of 3 captures"},
		{"load", []float64{0.8, 0.66, 0.48}, [2]float64{0.2, 0.52}, [2]float64{1, 1}, DoorMechanism, Motor, "60 % of the speed"},
		{"no current", []float64{0.8, 0.44}, [2]float64{}, [2]float64{}, Motor, NoFault, "55 % of the speed"},
		{"cold", []float64{0.8, 0.66}, [2]float64{}, [2]float64{}, NoFault, Motor, ""},
		{"was cold", []float64{0.66, 0.8}, [2]float64{}, [2]float64{}, NoFault, Motor, ""},
		{"over five, one a hair faster", []float64{0.8, 0.76, 0.72, 0.725, 0.64, 0.6, 0.56}, [2]float64{}, [2]float64{}, Motor, NoFault, "slower and slower"},
		{"over five, up and down", []float64{0.8, 0.6, 0.78, 0.59, 0.7, 0.6}, [2]float64{}, [2]float64{}, NoFault, Motor, ""},
		{"slow once", []float64{0.8, 0.48, 0.8}, [2]float64{}, [2]float64{}, NoFault, Motor, ""},
	} {
		var change []func(d *draft)
		for _, r := range c.rates {
			change = append(change, at(r))
		}
		list := over(t, change...)
		if c.run[0] > 0 {
			for i, x := range []*Capture{list[0], list[len(list)-1]} {
				x.runAmps, x.heldAmps = c.run[i], c.held[i]
			}
		}
		r := Judge(list...)
		if !(chanceOf(r, c.likelier) > chanceOf(r, c.than)) {
			t.Errorf("%s: %s %.2f, %s %.2f: %s", c.name, c.likelier, chanceOf(r, c.likelier), c.than, chanceOf(r, c.than), r.Series.Text)
		}
		if said := strings.Contains(r.Series.Text, "of the speed that it had"); said != (c.says != "") || !strings.Contains(r.Series.Text, c.says) {
			t.Errorf("%s: %s", c.name, r.Series.Text)
		}
	}
}

// What the last uncoupled run says of one that became slower on its door. (Drawn.)
func TestSeriesPaceUncoupled(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		free     float64 // V/s
		likelier Fault
		than     Fault
		says     string
	}{
		{"as fast as ever", 0.86, DoorMechanism, Motor, "the door drags"},
		{"slow as well", 0.58, Motor, DoorMechanism, "its gears have become slow"},
	} {
		var change []func(d *draft)
		for _, r := range []float64{0.8, 0.73, 0.67, 0.61, 0.54} {
			change = append(change, func(d *draft) { d.rate = r })
		}
		d := newDraft(77)
		d.rate = c.free
		r := Judge(append(over(t, change...), examineWith(t, d.sweeps(2), nil, true))...)
		if !(chanceOf(r, c.likelier) > 2*chanceOf(r, c.than)) {
			t.Errorf("%s: %s %.2f, %s %.2f", c.name, c.likelier, chanceOf(r, c.likelier), c.than, chanceOf(r, c.than))
		}
		said := ""
		for _, a := range r.Series.asides {
			said += a.because
		}
		if !strings.Contains(said, c.says) {
			t.Errorf("%s: %s", c.name, said)
		}
	}
}

// What pulses drive is compared with what pulses drove, and not with a steady drive. (Drawn:
// one row of three without a drive.)
func TestSeriesPacePulsed(t *testing.T) {
	t.Parallel()
	chopped := func(seed uint64, rate float64) *Capture {
		d := newDraft(seed)
		d.dt, d.rate = 0.002, rate
		way := func(volts float64) {
			for range int(1200 / rate) {
				d.run(volts, 0.004).run(0, 0.002)
			}
			d.run(0, 0.5)
		}
		d.run(0, 1)
		for range 2 {
			way(12)
			way(-12)
		}
		return examineWith(t, d, nil, false)
	}
	steadily := func(seed uint64) *Capture { return examineWith(t, newDraft(seed).sweeps(2), nil, false) }
	slow := chopped(3, 0.7)
	if !slow.Pulsed {
		t.Fatal("not told as pulsed")
	}
	for _, c := range []struct {
		name string
		list []*Capture
		told bool
	}{
		{"slower", []*Capture{chopped(1, 1.3), chopped(2, 1), slow}, true},
		{"as ever", []*Capture{chopped(1, 0.72), chopped(2, 0.7), slow}, false},
		{"steady before", []*Capture{steadily(1), steadily(2), slow}, false},
	} {
		r := Judge(c.list...)
		if told := strings.Contains(r.Series.Text, "of the speed that it had"); told != c.told || told != (r.Verdict.Chances[0].Fault != NoFault) {
			t.Errorf("%s: %s %.2f: %s", c.name, r.Verdict.Conclusion, r.Verdict.Probability, r.Series.Text)
		}
	}
}
