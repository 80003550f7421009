package analyze

import (
	"strings"
	"testing"
)

// over are captures of a drawn actuator in order, each with its change.
func over(t *testing.T, change ...func(d *draft)) []*Capture {
	t.Helper()
	var out []*Capture
	for i, f := range change {
		d := newDraft(uint64(31 + i))
		if f != nil {
			f(d)
		}
		c := examineWith(t, d.sweeps(2), nil, false)
		c.Source = string(rune('a'+i)) + ".csv"
		out = append(out, c)
	}
	return out
}

// A scale that is another one in the last of few captures, a stop that comes early with
// the time that it saves, and what instruments differ by or what comes back. (Drawn.)
func TestSeriesScaleChange(t *testing.T) {
	t.Parallel()
	reads := func(gain, offset float64) func(d *draft) {
		return func(d *draft) { d.read = func(d *draft) float64 { return offset + gain*d.x } }
	}
	about := func(gain float64) func(d *draft) { return reads(gain, 0.5*(1-gain)) } // the low stop
	stopAt := func(v float64) func(d *draft) { return func(d *draft) { d.hi = v } }
	cold := func(d *draft) { d.rate = 0.68 }
	for _, c := range []struct {
		name  string
		list  []func(d *draft)
		want  Fault
		sure  float64 // at least
		first string  // in the series' text
	}{
		{"one end, by and by", []func(d *draft){nil, about(0.92), about(0.85)}, FeedbackSensor, 0.75, "85 % of the span"},
		{"one end, at once", []func(d *draft){nil, about(0.8)}, FeedbackSensor, 0.6, "80 % of the span"},
		{"about zero", []func(d *draft){nil, reads(0.92, 0), reads(0.84, 0)}, FeedbackSensor, 0.6, "84 % of the span"},
		{"a stop in the way", []func(d *draft){nil, nil, stopAt(3.5)}, DoorMechanism, 0.6, "75 % of the time"},
		{"both ends at once, and repeating", []func(d *draft){nil, nil, reads(0.88, 0.3), reads(0.88, 0.3)}, NoFault, 0.5, "was the actuator renewed"},
		{"sound", []func(d *draft){nil, nil, nil}, NoFault, 0.85, ""},
		{"other instruments", []func(d *draft){nil, reads(1.02, 0.03), reads(0.985, -0.03), reads(1.01, 0)}, NoFault, 0.85, ""},
		{"and back", []func(d *draft){nil, reads(0.85, 0), nil}, NoFault, 0.85, ""},
		{"cold", []func(d *draft){nil, cold, nil, cold}, NoFault, 0.85, ""},
	} {
		r := Judge(over(t, c.list...)...)
		if got := chanceOf(r, c.want); r.Verdict.Conclusion != c.want || got < c.sure {
			t.Errorf("%s: %s, %s %.2f: %s", c.name, r.Verdict.Conclusion, c.want, got, r.Series.Text)
		}
		if said := strings.HasPrefix(r.Series.Text, "From "); said != (c.first != "") || !strings.Contains(r.Series.Text, c.first) {
			t.Errorf("%s: %s", c.name, r.Series.Text)
		}
	}
}

// A sensor's supply that falls in the channel it was logged in takes the levels with it:
// as shares of it they stay.
func TestSeriesScaleByReference(t *testing.T) {
	t.Parallel()
	list := over(t, nil, func(d *draft) { d.read = func(d *draft) float64 { return 0.9 * d.x } })
	list[0].refLogged, list[1].refLogged = true, true
	list[0].Reference, list[1].Reference = 5, 4.5
	if r := Judge(list...); strings.HasPrefix(r.Series.Text, "From ") {
		t.Error(r.Series.Text)
	}
}
