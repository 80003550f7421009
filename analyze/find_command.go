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
	o := orders{work: w, heard: math.Inf(-1)}
	for _, x := range c.Mean {
		if f := math.Abs(float64(x)); f > o.top {
			o.top = f
		}
	}
	if o.top == 0 {
		return
	}
	o.follow()
	if o.unclipped > 0 {
		w.notes = append(w.notes, fmt.Sprintf("the shaft goes on as it is told %s while no drive is measured: the clip of a drive channel was off", timesText(o.unclipped)))
	}
	o.takeShort()
	if f := o.finding(); f != nil {
		w.found = append(w.found, *f)
	}
}

// orders are the commands of a capture and what became of them. Arrays go by the
// sign of the command.
type orders struct {
	*work
	top           float64    // largest command
	turned        int        // -1 where the drive answers with the other sign
	asked, missed [2]float64 // s of command, and s of it without a drive
	runs          [2][]Interval
	short         [2][]Interval // commands without a drive that are too short to count alone
	on, off       [2]int        // rows with and without drive, the first of each command left out
	heard         float64       // s, of the last command that was answered
	dumb          []ordered     // commands in a row of which none is answered
	unclipped     int           // stretches without a drive in which the shaft goes on
}

// ordered is a command, the index of its sign, and whether it counts among the runs.
type ordered struct {
	Interval
	sign    int
	counted bool
}

// wanted is the sign of the command in a row. Less than half of the largest
// command may be a duty that does not count as driven.
func (o *orders) wanted(i int) int {
	switch x := float64(o.tr.Command.Mean[i]); {
	case x > 0.5*o.top:
		return 1
	case x < -0.5*o.top:
		return -1
	}
	return 0
}

// driven tells whether a drive was measured in a row.
func (o *orders) driven(i int) bool { return o.d.pol != nil && o.d.pol[i] != 0 }

// follow goes through the commands, one after the other.
func (o *orders) follow() {
	o.turned = o.turnedCommand()
	for i := 0; i < len(o.t); {
		s := o.wanted(i)
		if s == 0 {
			i++
			continue
		}
		j := i
		for j < len(o.t) && o.wanted(j) == s {
			j++
		}
		o.take(commandRows{s, i, j})
		i = j
	}
	o.closeDumb()
}

// commandRows are the rows [from, to) of a command of one sign.
type commandRows struct{ sign, from, to int }

func (s commandRows) index() int { return (s.sign + 1) / 2 }

// take takes in one command.
func (o *orders) take(s commandRows) {
	k, first, last := s.index(), o.t[s.from], o.t[s.to-1]
	o.asked[k] += last - first + o.tr.Step
	runs := len(o.runs[k])
	for a := s.from; a < s.to; {
		if o.driven(a) {
			a++
			continue
		}
		b := a
		for b < s.to && !o.driven(b) {
			b++
		}
		o.without(s, a, b)
		a = b
	}
	if o.answered(s.from, s.to) {
		o.heard = last
		o.closeDumb()
	} else {
		o.dumb = append(o.dumb, ordered{Interval{first, last}, k, len(o.runs[k]) > runs})
	}
	for r := s.from + 1; r < s.to; r++ {
		if o.driven(r) {
			o.on[k]++
		} else {
			o.off[k]++
		}
	}
}

// without takes in the rows [a, b) of a command that have no drive.
func (o *orders) without(s commandRows, a, b int) {
	k, run := s.index(), Interval{o.t[a], o.t[b-1]}
	// A run of rows at the zeros of a pulsed drive is not that long by chance.
	wait := max(answerTime, 6*o.tr.Step)
	// A drive that is raised slowly comes a little later than its command.
	raised := a == s.from && b < s.to && lapse(o.t[b], o.t[a]) < softStart
	switch d := lapse(run.To, run.From); {
	case d >= wait && o.goesWithout(o.turned*s.sign, a, b):
		o.unclipped++
	case d >= wait && !raised:
		o.runs[k] = append(o.runs[k], run)
		o.missed[k] += d + o.tr.Step
	case a == s.from && b == s.to:
		o.short[k] = append(o.short[k], run)
	}
}

// takeShort takes short commands for ones without a drive where as many rows of
// several, none of them driven, cannot all lie at the zeros of a pulsed one.
func (o *orders) takeShort() {
	for k := range o.short {
		rows := o.off[k]
		if o.on[1-k] == 0 {
			rows += o.off[1-k]
		}
		if o.on[k] == 0 && rows >= 6 {
			counted := map[Interval]bool{}
			for _, r := range o.runs[k] {
				counted[r] = true
			}
			for _, r := range o.short[k] {
				if counted[r] {
					continue // one of several in a row, see closeDumb
				}
				o.runs[k] = append(o.runs[k], r)
				o.missed[k] += r.Width() + o.tr.Step
			}
			slices.SortFunc(o.runs[k], func(a, b Interval) int { return cmp.Compare(a.From, b.From) })
		}
	}
}

// finding is nil where every command has its drive.
func (o *orders) finding() *Finding {
	f := Finding{Kind: Ignored, Form: nowAndThen, Tie: TiedToTime, TieP: 1, Event: "command", Time: noInterval(), Volts: o.span}
	longest := 0.0
	for k := range o.runs {
		for _, r := range o.runs[k] {
			f.Time = f.Time.widen(r.From).widen(r.To)
			lo, hi := extremes(o.v[indexAt(o.t, r.From) : indexAt(o.t, r.To)+1])
			f.Places = append(f.Places, Occurrence{r, Interval{lo, hi}, None})
			longest = math.Max(longest, r.Width())
		}
	}
	n := len(f.Places)
	if n == 0 {
		return nil
	}
	f.Seen, f.Passes = n, n
	f.Strength = 1 - math.Exp(-math.Max(float64(n), (o.missed[0]+o.missed[1])/0.5))
	switch dead := o.deadWay(); {
	case dead >= 0:
		f.Form, f.Tie = "one way", TiedToDirection
		f.Seen, f.Passes = len(o.runs[dead]), len(o.runs[dead])
	case o.missed[0] > 0.8*o.asked[0] && o.missed[1] > 0.8*o.asked[1]:
		f.Form = "always"
	}
	if f.Form == nowAndThen && n >= 3 && o.heard < f.Time.From && !math.IsInf(o.heard, 0) {
		f.Form = sinceThen
	}
	f.Measures = []Measure{{"commands without drive", float64(f.Seen), ""}, {MeasureLongest, longest, "s"}, {"without drive in all", o.missed[0] + o.missed[1], "s"}}
	return &f
}

// deadWay is the sign of the commands, as an index, that hardly ever have a
// drive while those of the other have; -1 for none.
func (o *orders) deadWay() int {
	dead := -1
	for k := range o.runs {
		if other := 1 - k; o.asked[k] > 0.5 && o.missed[k] > 0.8*o.asked[k] && o.missed[other] < 0.2*o.asked[other] {
			dead = k
		}
	}
	return dead
}

// turnedCommand is -1 where the command has the other sign than the drive that answers
// it, else 1.
func (o *orders) turnedCommand() int {
	same := 0
	for i, p := range o.d.pol {
		same += int(p) * o.wanted(i)
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

// answered tells whether any row of a command, or the one before or after it, is driven.
func (o *orders) answered(first, last int) bool {
	for i := max(0, first-1); i < min(len(o.t), last+1); i++ {
		if o.driven(i) {
			return true
		}
	}
	return false
}

// closeDumb ends a row of commands that were answered by no drive. Where there are
// six of them it takes them as such, however short each of them is: pulses of a row
// each may fall between the rows of the drive, but not one after the other.
func (o *orders) closeDumb() {
	if len(o.dumb) >= 6 {
		for _, d := range o.dumb {
			if !d.counted {
				o.runs[d.sign] = append(o.runs[d.sign], d.Interval)
				o.missed[d.sign] += d.Width() + o.tr.Step
			}
		}
	}
	o.dumb = o.dumb[:0]
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
	case bothFall:
		return fmt.Sprintf("Both motor leads go down together %s, each as long as a drive lasts, up to %.1f s: no volts between them, and nothing moves.", timesText(f.Seen), longest)
	case bothMidway:
		return fmt.Sprintf("Amid drives both motor leads go up together %s, for up to %.2f s: no volts between them, and the shaft stands.", timesText(f.Seen), longest)
	case sinceThen:
		return fmt.Sprintf("From %.1f s on no command gives a drive: %s without; before, they did.", f.Time.From, counted(f.Seen, "command"))
	case "one way":
		return fmt.Sprintf("The command of one direction gives no drive: %s without, up to %.1f s; the other direction is driven.", counted(f.Seen, "command"), longest)
	case "always":
		return fmt.Sprintf("No command gives a drive: %s without, up to %.1f s.", counted(f.Seen, "command"), longest)
	}
	return fmt.Sprintf("The drive fails under a standing command %s, up to %.1f s.", timesText(f.Seen), longest)
}
