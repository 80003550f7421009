package analyze

import "testing"

// The power comes on and no drive follows, seen on the supply's own channel; or the
// polarity is wanted while the supply is off. A capture without either tells nothing.
func TestPowerWithoutDrive(t *testing.T) {
	t.Parallel()
	const on = 13.5
	supply := func(tr []float64, from float64) []float64 {
		out := make([]float64, len(tr))
		for i, at := range tr {
			if at >= from {
				out[i] = on
			}
		}
		return out
	}
	for _, c := range []struct {
		name string
		at   float64 // s, when the supply rises
		rest float64 // s in all
		want Fault
		form string
	}{
		{"half a minute after it", 3, 33, WiringControl, wokenUp},
		{"on from the start", 0, 33, CannotTell, ""},
		{"seconds only after it", 30, 33, CannotTell, ""},
	} {
		tr := newDraft(1).run(0, c.rest).trace()
		tr.Supply = beside("supply", "V", supply(tr.Time, c.at))
		got, v := lookAt(t, tr)
		f := finding(got, NoDrive)
		if f == nil || f.Form != c.form || v.Conclusion != c.want {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

func TestWantedWithoutSupply(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		volts float64
		form  string
		want  Fault
	}{
		{"no supply", 0.2, noSupply, WiringControl},
		{"a supply", 13, "", CannotTell},
	} {
		d := newDraft(2).run(0, 1)
		for range 4 {
			d.run(12, 3).run(0, 1).run(-12, 3).run(0, 1)
		}
		tr := d.trace()
		still, volts := 2.5, make([]float64, len(tr.Time))
		for i := range volts {
			volts[i] = c.volts
			tr.Feedback.Mean[i] = float32(still)
			switch p := tr.Drive.Mean[i]; {
			case p > 6:
				tr.Drive.Mean[i] = 1
			case p < -6:
				tr.Drive.Mean[i] = -1
			default:
				tr.Drive.Mean[i] = 0
			}
		}
		tr.DriveIsPolarity, tr.Drive.Unit = true, ""
		tr.Supply = beside("supply", "V", volts)
		got, v := lookAt(t, tr)
		if f := finding(got, NoMotion); f == nil || f.Form != c.form || v.Conclusion != c.want {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// A recording with the ignition off says nothing of a reading at nothing; with the
// supply there it is a rail.
func TestNothingAtAllWithoutSupply(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		volts float64
		want  Fault
	}{{0.1, CannotTell}, {13, WiringControl}} {
		tr := newDraft(3).run(0, 20).trace()
		volts := make([]float64, len(tr.Time))
		for i := range volts {
			tr.Feedback.Mean[i] = 0
			volts[i] = c.volts
		}
		tr.Supply = beside("supply", "V", volts)
		if got, v := lookAt(t, tr); v.Conclusion != c.want {
			t.Errorf("supply %.1f V: %s", c.volts, say(got, v))
		}
	}
}
