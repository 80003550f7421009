package analyze

import "testing"

// pulse is a short command, for so many rows, and what drives: nothing, the rows of the
// command, or one row late.
type pulse int

const (
	unanswered pulse = iota
	inTime
	aRowLate
)

// pulsed gives pulses of one command, before or after full drives of which those that
// this command asks for are answered or not.
func pulsed(seed uint64, rows float64, pulses []pulse, last, dead bool) (*draft, []float64) {
	d, want := newDraft(seed), []float64(nil)
	d.dt = 0.01
	up := 12.0
	if dead {
		up = 0
	}
	wanting(d, &want, 0, 0, 1)
	drives := func() {
		for range 3 {
			wanting(d, &want, 0, 0, 0.6)
			wanting(d, &want, up, 1, 6*up/12)
			wanting(d, &want, 0, 0, 0.6)
			wanting(d, &want, -12, -1, 6)
		}
		wanting(d, &want, 0, 0, 0.6)
	}
	if last {
		drives()
	}
	for _, p := range pulses {
		wanting(d, &want, 0, 0, 0.5)
		switch p {
		case unanswered:
			wanting(d, &want, 0, 1, rows*d.dt)
		case inTime:
			wanting(d, &want, 12, 1, rows*d.dt)
		case aRowLate:
			wanting(d, &want, 0, 1, rows*d.dt)
			wanting(d, &want, 12, 0, d.dt)
		}
	}
	if !last {
		drives()
	}
	return d, want
}

// Pulses that nothing answers are lost, each of them shorter than a driver may take; one
// of a single row may fall between the rows of the drive, but not six in a row. (Drawn.)
func TestPulsesThatNothingAnswers(t *testing.T) {
	t.Parallel()
	times := func(n int, p pulse) []pulse {
		out := make([]pulse, n)
		for i := range out {
			out[i] = p
		}
		return out
	}
	broken := append(append(times(5, unanswered), inTime), times(5, unanswered)...)
	for _, c := range []struct {
		name   string
		rows   float64
		pulses []pulse
		last   bool // they come after the drives
		dead   bool // no other command of this direction is answered
		form   string
		lost   int
	}{
		{"eight of a tenth of a second", 10, times(8, unanswered), false, false, "now and then", 8},
		{"the same, at the end", 10, times(8, unanswered), true, false, sinceThen, 8},
		{"eight of a fifth of a second", 20, times(8, unanswered), false, false, "now and then", 8},
		{"six of a row each", 1, times(6, unanswered), false, false, "now and then", 6},
		{"eight of a dead direction", 10, times(8, unanswered), false, true, "one way", 8},
		{"five only", 1, times(5, unanswered), false, false, "", 0},
		{"five, one that is answered, and five", 1, broken, false, false, "", 0},
		{"answered a row late", 1, times(8, aRowLate), false, false, "", 0},
		{"answered", 10, times(8, inTime), false, false, "", 0},
	} {
		for seed := range uint64(2) {
			d, want := pulsed(seed, c.rows, c.pulses, c.last, c.dead)
			tr := d.trace()
			tr.Command = beside("command", "", want)
			got, v := lookAt(t, tr)
			f := formed(got, Ignored, c.form)
			if finding(got, Ignored) != f || (f != nil) != (c.lost > 0) || f != nil && (f.Seen != c.lost || v.Conclusion != WiringControl) || f == nil && v.Conclusion != NoFault {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
		}
	}
}
