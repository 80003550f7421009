package analyze

import (
	"strings"
	"testing"

	"threewire/signal"
)

// A command that stands beside the measured drive tells a dead leg and a loose
// contact from a controller that wants nothing.
func TestCommandWithoutDrive(t *testing.T) {
	t.Parallel()
	commanded := func(d *draft, want []float64) *signal.Trace {
		tr := d.trace()
		m := make([]float32, len(want))
		for i, x := range want {
			m[i] = float32(x)
		}
		tr.Command = &signal.Series{Name: "command", Mean: m, Min: m, Max: m}
		return tr
	}
	for _, c := range []struct {
		name string
		make func(d *draft, want *[]float64)
		form string // "" for none
	}{
		{"follows", func(d *draft, want *[]float64) {
			wanting(d, want, 0, 0, 1)
			for range 3 {
				wanting(d, want, 12, 1, 6)
				wanting(d, want, 0, 0, 1)
				wanting(d, want, -12, -1, 6)
				wanting(d, want, 0, 0, 1)
			}
		}, ""},
		{"follows the other way round", func(d *draft, want *[]float64) {
			wanting(d, want, 0, 0, 1)
			for range 3 {
				wanting(d, want, 12, -1, 6)
				wanting(d, want, 0, -1, 0.05) // off a little before the command
				wanting(d, want, 0, 0, 1)
				wanting(d, want, -12, 1, 6)
				wanting(d, want, 0, 0, 1)
			}
		}, ""},
		{"one leg dead", func(d *draft, want *[]float64) {
			wanting(d, want, 12, 1, 6)
			for range 3 {
				wanting(d, want, 0, 0, 1)
				wanting(d, want, 0, -1, 3)
				wanting(d, want, 0, 0, 1)
				wanting(d, want, 12, 1, 2)
			}
		}, "one way"},
		{"one leg dead, short commands", func(d *draft, want *[]float64) {
			wanting(d, want, 12, 1, 6)
			for range 8 {
				wanting(d, want, 0, 0, 1)
				wanting(d, want, 0, -1, 0.1)
				wanting(d, want, 0, 0, 1)
				wanting(d, want, 12, 1, 2)
			}
		}, "one way"},
		{"a loose lead", func(d *draft, want *[]float64) {
			wanting(d, want, 0, 0, 1)
			for range 3 {
				wanting(d, want, 12, 1, 2)
				wanting(d, want, 0, 1, 0.6)
				wanting(d, want, 12, 1, 4)
				wanting(d, want, 0, 0, 1)
				wanting(d, want, -12, -1, 6)
			}
		}, "now and then"},
		{"nothing comes", func(d *draft, want *[]float64) {
			for range 4 {
				wanting(d, want, 0, 1, 2)
				wanting(d, want, 0, 0, 1)
				wanting(d, want, 0, -1, 2)
			}
		}, "always"},
	} {
		d, want := newDraft(3), []float64(nil)
		c.make(d, &want)
		got, err := Examine(commanded(d, want), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		form := ""
		for _, f := range got.Findings {
			if f.Kind == Ignored {
				form = f.Form
				for _, o := range f.Places {
					if o.Volts.From < 0.4 || o.Volts.To > 4.6 {
						t.Errorf("%s: a place at %v V, where the reading never is", c.name, o.Volts)
					}
				}
			}
		}
		v := Judge(got).Verdict
		if form != c.form || (c.form == "") != (v.Conclusion == NoFault) || c.form != "" && v.Conclusion != WiringControl {
			t.Errorf("%s: form %q, %s", c.name, form, say(got, v))
		}
	}
}

// A shaft that goes on under a standing command has its drive: the clip was off. One
// that stands has not.
func TestClipOffUnderACommand(t *testing.T) {
	t.Parallel()
	for _, sign := range []float64{1, -1} {
		for _, stands := range []bool{false, true} {
			d, want := newDraft(5), []float64(nil)
			wanting(d, &want, 0, 0, 1)
			for i := range 3 {
				wanting(d, &want, 12, sign, 2)
				from := len(d.drive)
				if i == 1 && stands {
					wanting(d, &want, 0, sign, 0.8)
				} else {
					wanting(d, &want, 12, sign, 0.8)
				}
				for k := from; i == 1 && k < len(d.drive); k++ {
					d.drive[k] = 0
				}
				wanting(d, &want, 12, sign, 3)
				wanting(d, &want, 0, 0, 1)
				wanting(d, &want, -12, -sign, 6)
				wanting(d, &want, 0, 0, 1)
			}
			tr := d.trace()
			tr.Command = beside("command", "", want)
			c, v := lookAt(t, tr)
			if c.shows(Ignored) != stands || !stands && (v.Conclusion != NoFault || !strings.Contains(strings.Join(c.Notes, " "), "the clip of a drive channel was off")) {
				t.Errorf("sign %g, stands %v: %s; notes %q", sign, stands, say(c, v), c.Notes)
			}
		}
	}
}

// wanting drives for some seconds while the controller wants something.
func wanting(d *draft, want *[]float64, volts, wants, s float64) {
	n := len(d.time)
	d.run(volts, s)
	for range len(d.time) - n {
		*want = append(*want, wants)
	}
}
