package analyze

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// answerTime is how long a driver may take to follow its command, s: switching
// times, dead times and a row of skew are far shorter, and a loss shorter than
// this hardly moves an output shaft.
const answerTime = 0.15

// softStart is how long a controller may take to raise the drive, s (common
// practice, no source).
const softStart = 0.5

// findIgnored reports commands without a drive, where the controller's command
// was logged beside the measured drive: then whatever lies between the two has
// failed, the driver or the wires behind it.
func (w *work) findIgnored() {
	c := w.tr.Command
	if c == nil || len(c.Mean) != len(w.t) || w.tr.DriveIsPolarity {
		return
	}
	top := 0.0
	for _, x := range c.Mean {
		if f := math.Abs(float64(x)); f > top {
			top = f
		}
	}
	if top == 0 {
		return
	}
	// Less than half of the largest command may be a duty that does not count
	// as driven.
	wanted := func(i int) int {
		switch x := float64(c.Mean[i]); {
		case x > 0.5*top:
			return 1
		case x < -0.5*top:
			return -1
		}
		return 0
	}
	// A run of rows at the zeros of a pulsed drive is not that long by chance.
	wait := max(answerTime, 6*w.tr.Step)
	var asked, missed [2]float64 // s, by the sign of the command
	var runs, short [2][]Interval
	var on, off [2]int    // rows with and without drive, the first of each command left out
	heard := math.Inf(-1) // s, of the last command that was answered
	var dumb []ordered    // commands in a row of which none is answered
	unclipped := 0        // stretches without a drive in which the shaft goes on
	turned := w.turnedCommand(wanted)
	for i := 0; i < len(w.t); {
		s := wanted(i)
		if s == 0 {
			i++
			continue
		}
		j := i
		for j < len(w.t) && wanted(j) == s {
			j++
		}
		k := (s + 1) / 2
		asked[k] += w.t[j-1] - w.t[i] + w.tr.Step
		for a := i; a < j; {
			if w.d.pol != nil && w.d.pol[a] != 0 {
				a++
				continue
			}
			b := a
			for b < j && (w.d.pol == nil || w.d.pol[b] == 0) {
				b++
			}
			// A drive that is raised slowly comes a little later than its command.
			raised := a == i && b < j && lapse(w.t[b], w.t[a]) < softStart
			if d := lapse(w.t[b-1], w.t[a]); d >= wait && w.goesWithout(turned*s, a, b) {
				unclipped++
			} else if d >= wait && !raised {
				runs[k] = append(runs[k], Interval{w.t[a], w.t[b-1]})
				missed[k] += d + w.tr.Step
			} else if a == i && b == j {
				short[k] = append(short[k], Interval{w.t[a], w.t[b-1]})
			}
			a = b
		}
		if w.answered(i, j) {
			heard = w.t[j-1]
			dumb = w.closeDumb(dumb, &runs, &missed)
		} else {
			dumb = append(dumb, ordered{Interval{w.t[i], w.t[j-1]}, k})
		}
		for r := i + 1; r < j; r++ {
			if w.d.pol != nil && w.d.pol[r] != 0 {
				on[k]++
			} else {
				off[k]++
			}
		}
		i = j
	}
	w.closeDumb(dumb, &runs, &missed)
	if unclipped > 0 {
		w.notes = append(w.notes, fmt.Sprintf("the shaft goes on as it is told %s while no drive is measured: the clip of a drive channel was off", timesText(unclipped)))
	}
	// Nor are as many rows of several short commands, where none of them is driven.
	for k := range short {
		rows := off[k]
		if on[1-k] == 0 {
			rows += off[1-k]
		}
		if on[k] == 0 && rows >= 6 {
			for _, r := range short[k] {
				if slices.Contains(runs[k], r) {
					continue // one of several in a row, see closeDumb
				}
				runs[k] = append(runs[k], r)
				missed[k] += r.Width() + w.tr.Step
			}
			slices.SortFunc(runs[k], func(a, b Interval) int { return cmp.Compare(a.From, b.From) })
		}
	}
	n, dead := 0, -1
	f := Finding{Kind: Ignored, Form: nowAndThen, Tie: TiedToTime, TieP: 1, Event: "command", Time: noInterval(), Volts: w.span}
	longest := 0.0
	for k := range runs {
		n += len(runs[k])
		if o := 1 - k; asked[k] > 0.5 && missed[k] > 0.8*asked[k] && missed[o] < 0.2*asked[o] {
			dead = k
		}
		for _, r := range runs[k] {
			f.Time = f.Time.widen(r.From).widen(r.To)
			lo, hi := extremes(w.v[indexAt(w.t, r.From) : indexAt(w.t, r.To)+1])
			f.Places = append(f.Places, Occurrence{r, Interval{lo, hi}, None})
			longest = math.Max(longest, r.Width())
		}
	}
	if n == 0 {
		return
	}
	f.Seen, f.Passes = n, n
	f.Strength = 1 - math.Exp(-math.Max(float64(n), (missed[0]+missed[1])/0.5))
	switch {
	case dead >= 0:
		f.Form, f.Tie = "one way", TiedToDirection
		f.Seen, f.Passes = len(runs[dead]), len(runs[dead])
	case missed[0] > 0.8*asked[0] && missed[1] > 0.8*asked[1]:
		f.Form = "always"
	}
	if f.Form == nowAndThen && n >= 3 && heard < f.Time.From && !math.IsInf(heard, 0) {
		f.Form = sinceThen
	}
	f.Measures = []Measure{{"commands without drive", float64(f.Seen), ""}, {MeasureLongest, longest, "s"}, {"without drive in all", missed[0] + missed[1], "s"}}
	w.found = append(w.found, f)
}

// turnedCommand is -1 where the command has the other sign than the drive that answers
// it, else 1.
func (w *work) turnedCommand(wanted func(i int) int) int {
	same := 0
	for i, p := range w.d.pol {
		same += int(p) * wanted(i)
	}
	if same < 0 {
		return -1
	}
	return 1
}

// goesWithout tells whether the shaft goes the way of the drive s over the bins
// [a, b), at half of its usual speed or more, although no drive is measured there: then
// the motor has its drive, and the measurement has not.
func (w *work) goesWithout(s, a, b int) bool {
	dir := Direction(s * w.sense)
	if dir == None || b-a < 3 {
		return false
	}
	went := float64(dir) * (w.v[b-1] - w.v[a])
	return went > math.Max(3*w.tol, 0.5*w.rate[side(dir)]*(w.t[b-1]-w.t[a]))
}

// sinceThen is the form of commands that are answered up to a moment and not after.
const sinceThen = "from one moment on"

// ordered is a command, and the index of its sign.
type ordered struct {
	Interval
	sign int
}

// answered tells whether any row of a command, or the one before or after it, is driven.
func (w *work) answered(first, last int) bool {
	for i := max(0, first-1); i < min(len(w.t), last+1); i++ {
		if w.d.pol != nil && w.d.pol[i] != 0 {
			return true
		}
	}
	return false
}

// closeDumb takes commands in a row that were answered by no drive as such, however
// short each of them is, where there are six of them: pulses of a row each may fall
// between the rows of the drive, but not one after the other.
func (w *work) closeDumb(dumb []ordered, runs *[2][]Interval, missed *[2]float64) []ordered {
	if len(dumb) < 6 {
		return dumb[:0]
	}
	for _, d := range dumb {
		if !slices.Contains(runs[d.sign], d.Interval) {
			runs[d.sign] = append(runs[d.sign], d.Interval)
			missed[d.sign] += d.Width() + w.tr.Step
		}
	}
	return dumb[:0]
}

// joinIgnored joins to commands without a drive what follows from a drive that
// does not come.
func (w *work) joinIgnored() {
	for i := range w.found {
		if w.found[i].Kind != Ignored {
			continue
		}
		for k := range w.found {
			switch f := &w.found[k]; f.Kind {
			case NoDrive, HalfDrive, OneWay, NoMotion, Pauses, Hunting, SupplySag:
				f.Event = w.found[i].Event
			}
		}
		return
	}
}

func (f *Finding) ignoredTitle(longest float64) string {
	switch f.Form {
	case bothRise:
		return fmt.Sprintf("Both motor leads go up together %s, for up to %.1f s: no volts between them, and nothing moves.", timesText(f.Seen), longest)
	case sinceThen:
		return fmt.Sprintf("From %.1f s on no command gives a drive: %s without; before, they did.", f.Time.From, counted(f.Seen, "command"))
	case "one way":
		return fmt.Sprintf("The command of one direction gives no drive: %s without, up to %.1f s; the other direction is driven.", counted(f.Seen, "command"), longest)
	case "always":
		return fmt.Sprintf("No command gives a drive: %s without, up to %.1f s.", counted(f.Seen, "command"), longest)
	}
	return fmt.Sprintf("The drive fails under a standing command %s, up to %.1f s.", timesText(f.Seen), longest)
}
