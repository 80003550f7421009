package analyze

import (
	"fmt"
	"math"
	"slices"
)

// startLevel is the reading before a move, V.
func (w *work) startLevel(m *Move) float64 {
	return medianOf(w.v[max(0, m.first-max(1, w.window/2)) : m.first+1])
}

// lostMotion is what the drives of one direction from move k on should have moved
// the reading by, and did not, before they had moved it by reach: V, negative
// where they never did. next is the first move after those that it took: pulses
// may be several.
func (w *work) lostMotion(k int, reach float64) (lost float64, next int) {
	first := &w.moves[k]
	r := w.rate[side(first.Direction)]
	start := w.startLevel(first)
	should := 0.0
	for next = k; next < len(w.moves) && w.moves[next].Direction == first.Direction; next++ {
		m := &w.moves[next]
		for i := m.first + 1; i < m.last; i++ {
			should += r * math.Min(1, math.Abs(w.d.mean[i])/w.d.amp) * (w.t[i] - w.t[i-1])
			if float64(m.Direction)*(w.smooth[i]-start) >= reach {
				return math.Max(0, should-reach), next + 1
			}
		}
	}
	return -1, next
}

// shortOf is what a drive should have moved the reading by, coasting left out,
// and did not: V, 0 or more.
func (w *work) shortOf(m *Move) float64 {
	should := w.rate[side(m.Direction)] * math.Min(1, math.Abs(m.DriveMean)/w.d.amp) * m.Duration()
	after := w.smooth[min(m.last, len(w.smooth)-1)]
	return math.Max(0, should-float64(m.Direction)*(after-w.startLevel(m)))
}

// deadTime is longer, in s, than a relay, a driver and a good motor take to start
// (common practice, no source).
const deadTime = 0.25

// goesAtOnce tells whether the shaft, once it goes, goes at its usual speed: slack
// is taken up in no time, while a start that is slow by cold grease or by a drive
// that is raised shows in the speed.
func (w *work) goesAtOnce(m *Move) bool {
	start, r := w.startLevel(m), w.rate[side(m.Direction)]
	from, to := math.Max(2*w.visible(), 0.01*w.span.Width()), math.Max(4*w.visible(), 0.05*w.span.Width())
	begin := math.NaN()
	for i := m.first + 1; i < m.last; i++ {
		went := float64(m.Direction) * (w.smooth[i] - start)
		if math.IsNaN(begin) && went >= from {
			begin = w.t[i]
		}
		if went >= to+from {
			return to > 0.7*r*(w.t[i]-begin)
		}
	}
	return false
}

// alikeAndLate tells whether three reversals or more are enough: they lose the same to a
// tenth, which no stiction does, and a start of which it is not known how the gears lay
// lost less by as much as gears in order may have, or the motor's current says that it
// ran under no more than its usual load while the reading waited. What it lost includes
// all that any start takes.
func (w *work) alikeAndLate(places []Occurrence, lost []float64, first float64) bool {
	const fewest, alike = 3, 1.1
	lo, hi := slices.Min(lost), slices.Max(lost)
	if len(lost) < fewest || hi > alike*lo {
		return false
	}
	return lo-first >= mostPlay*math.Max(w.span.Width(), w.leastTravel()) || w.runsInSlack(places)
}

// runsInSlack tells whether the motor drew no more than a running one does in the second
// half of each stretch in which the reading waited: one that does not start draws what
// a held motor does.
func (w *work) runsInSlack(places []Occurrence) bool {
	run, start := w.runningCurrent(), w.startCurrent()
	if !(run < letsGoBelow*start) {
		return false // not known, or hardly less than that of a held motor
	}
	for _, p := range places {
		amps := w.currentWithin(p.Time.Mid(), p.Time.To)
		// Below half of the running current it may be broken off.
		if !(amps > run/2 && amps < (run+letsGoBelow*start)/2) {
			return false
		}
	}
	return true
}

// findPlay reports play: after each reversal, wherever it happens and whichever
// way, the shaft follows only when the motor has turned through the same lost
// travel. A worn end of the track loses travel at its end, slack in a stop at
// the stops, a slow start at every start; play at reversals only, and
// everywhere alike.
func (w *work) findPlay() {
	span := w.span.Width()
	if span <= 0 || w.rate[0] <= 0 || w.rate[1] <= 0 {
		return
	}
	reach := math.Max(4*w.visible(), 0.03*span)
	if reach > 0.2*span {
		return
	}
	var lost, again []float64 // after reversals, and after pauses
	var ways, middles [2]int
	f := Finding{Kind: Play, Tie: TiedToDirection, TieP: 1, Event: "play", Volts: w.span, Time: noInterval()}
	was := None // direction in which the gears lie on, None where it is not known
	pressed, abrupt := 0, 0
	first := math.Inf(1) // lost at a start of which it is not known how the gears lay
	for k := 0; k < len(w.moves); {
		m := &w.moves[k]
		if m.Direction == None {
			k++
			continue
		}
		if was == m.Direction {
			if x, _ := w.lostMotion(k, reach); x >= 0 {
				again = append(again, x)
			} else if m.Stalled == 0 {
				again = append(again, w.shortOf(m))
			}
			k++
			continue
		}
		x, next := w.lostMotion(k, reach)
		known := was != None
		was = m.Direction
		if x < 0 {
			was = None // too short to tell
		}
		if k = next; x >= 0 && !known {
			first = math.Min(first, x)
		}
		if x < 0 || !known {
			continue
		}
		at := (m.Start - w.span.From) / span
		if middle := at > 0.1 && at < 0.9; middle {
			middles[side(m.Direction)]++
		} else if x < 0.6*medianOf(append([]float64{x}, lost...)) {
			// A stop that was pressed pushes the shaft off, play and all.
			pressed++
			continue
		}
		if w.goesAtOnce(m) {
			abrupt++
		}
		lost = append(lost, x)
		ways[side(m.Direction)]++
		f.Time = f.Time.widen(m.Time.From)
		f.Places = append(f.Places, Occurrence{Interval{m.Time.From, m.Time.From + x/w.rate[side(m.Direction)]}, Interval{m.Start, m.Start}, m.Direction})
	}
	if pressed > len(lost)/3 {
		return
	}
	slices.Sort(lost)
	kept := lost
	if len(lost) > 4 {
		kept = lost[1:] // one of them may have been pressed out
	}
	if len(kept) == 0 {
		return
	}
	middle, lo, hi := medianOf(kept), kept[0], kept[len(kept)-1]
	// Starts the same way that lose nothing show what a start takes: then two
	// reversals, one each way, stand out.
	contrast := 0
	for _, x := range again {
		if x < lo/2 {
			contrast++
		}
	}
	told := contrast >= 2 && 5*contrast >= 4*len(again)
	told = told || abrupt == len(lost) && w.alikeAndLate(f.Places, lost, first)
	if !(told && min(ways[0], ways[1]) >= 1) && (len(lost) < 4 || min(ways[0], ways[1]) < 2) {
		return
	}
	if w.slows > 0 && !(told && 5*abrupt >= 4*len(lost)) {
		return // a control that goes slowly near its target starts slowly there as well
	}
	// Everywhere alike; and a slow start is no play.
	// More travel may lie beyond what was driven.
	span = math.Max(span, w.leastTravel())
	if !w.bothEnds() {
		span = math.Max(span, 0.5*w.usualTravel())
	}
	if middle < mostPlay*span+2*w.quantum || lo < 0.6*middle || hi > 1.6*middle || len(again) > 0 && medianOf(again) > 0.5*middle {
		return
	}
	f.Seen, f.Passes = len(lost), len(lost)
	f.Strength = 1 - math.Exp(-float64(len(lost))/2)
	// Without a start in the same direction a slow start remains possible, and
	// without a reversal in mid travel so does slack at both stops.
	if len(again) == 0 && !(5*abrupt >= 4*len(lost) && middle > deadTime*math.Max(w.rate[0], w.rate[1])) {
		enough := 2 * mostPlay * span
		if !w.driveKnown() { // nor would a drive that is raised slowly show
			enough *= 2
		}
		f.Strength *= math.Min(1, middle/enough)
		// A motor that is reversed on the run first has to stop, and any takes its time
		// to start.
		f.Strength *= math.Min(1, middle/(deadTime*math.Max(w.rate[0], w.rate[1])))
	}
	if middles[0]+middles[1] == 0 {
		f.Strength *= 0.8
	}
	f.Measures = []Measure{{MeasureLostTravel, middle, w.unit()}, {MeasureOfSpan, 100 * middle / span, "%"}, {"starts without reversal", float64(len(again)), ""}}
	w.found = append(w.found, f)
}

// bothEnds tells whether the travel was driven into a stop on either side, for
// half a second in all: pulses that move nothing look like stops for a moment.
func (w *work) bothEnds() bool { return bothEnds(w.stops) }

func bothEnds(stops []Stop) bool {
	var ends [2]bool
	for _, s := range stops {
		if s.Extreme && s.Seconds >= 0.5 {
			ends[side(s.Direction)] = true
		}
	}
	return ends[0] && ends[1]
}

func (f *Finding) playTitle(lost string) string {
	share, _ := f.Measure(MeasureOfSpan)
	return fmt.Sprintf("Play: after each of %s the shaft follows only %s (%.0f %% of the span) later.", counted(f.Seen, "reversal"), lost, share)
}
