package analyze

import (
	"math"

	"threewire/analyze/stats"
)

// A contact that opens and closes by chance keeps no count of the time: whatever has
// passed, the next moment may end it. So its breaks, and its spells between them, follow
// the exponential law, with short ones the most frequent. A hand, or a control that works
// in pulses, takes its time over each: none are short beside the others.

// byChance is the probability that the shortest of some lengths, of which those below
// least are not seen, is as long beside their mean as it is, if they follow the
// exponential law: (1 - shortest/mean)^(n-1), exact, as the n spacings of a divided line.
// What goes on from least has the same law.
func byChance(lengths []float64, least float64) float64 {
	n, sum, shortest := float64(len(lengths)), 0.0, math.Inf(1)
	for _, s := range lengths {
		sum += s - least
		shortest = math.Min(shortest, s-least)
	}
	if n < 2 || sum <= 0 || shortest <= 0 {
		return 1
	}
	return math.Pow(math.Max(0, 1-n*shortest/sum), n-1)
}

// byChanceUpTo is byChance where those above most are not counted: the law that is left
// lies between the exponential one and an even one, of which n lengths keep to so small a
// range with n r^(n-1) - (n-1) r^n.
func byChanceUpTo(lengths []float64, least, most float64) float64 {
	p := byChance(lengths, least)
	if len(lengths) < 2 || most <= least {
		return p
	}
	lo, hi := extremes(lengths)
	n, r := float64(len(lengths)), math.Min(1, (hi-lo)/(most-least))
	return math.Max(p, n*math.Pow(r, n-1)-(n-1)*math.Pow(r, n))
}

// contactsChance is the probability that breaks of the drive, and the drives between two of
// them, have as few short ones among them as they have if a contact makes them.
func (w *work) contactsChance(open []opening) float64 {
	const few = 4 // two or three that are alike may be one thing that happened twice
	bridge := math.Max(w.lim.Bridge, 1.5*w.tr.Step)
	var pauses, drives []float64
	for k, o := range open {
		pauses = append(pauses, lapse(w.t[o.last], w.t[o.first]))
		if k > 0 && w.drivenThrough(open[k-1].last, o.first) {
			drives = append(drives, lapse(w.t[o.first], w.t[open[k-1].last]))
		}
	}
	var p []float64
	if len(pauses) >= few {
		p = append(p, byChanceUpTo(pauses, bridge, longestBreak))
	}
	if len(drives) >= few {
		p = append(p, byChanceUpTo(drives, breakOnItsWay, w.longestAsked()))
	}
	return stats.FisherCombined(p...) // a contact that closes knows nothing of how long it was open
}

// restsLikeBreaks tells whether the drive rests as briefly, and for moments of any length,
// where it turns over as where it goes on the same way. No contact turns a drive over, and
// a control turns it at once or by its clock: who rests so there lets go so elsewhere.
func (w *work) restsLikeBreaks() bool {
	const few = 5
	bridge := math.Max(w.lim.Bridge, 1.5*w.tr.Step)
	var rests []float64
	for k := 1; k < len(w.moves); k++ {
		m, n := &w.moves[k-1], &w.moves[k]
		gap := lapse(w.t[n.first], w.t[m.last])
		if m.Polarity != n.Polarity && gap > bridge && gap <= longestBreak && m.Duration() >= breakOnItsWay && n.Duration() >= breakOnItsWay {
			rests = append(rests, gap)
		}
	}
	if len(rests) < few {
		return false
	}
	// Of a few rests a clock would keep all but one or two: what it keeps is their inner half.
	middle := quantileOf(rests, 0.75) - quantileOf(rests, 0.25)
	return middle/quartiles > math.Max(0.25*medianOf(rests), 2*w.tr.Step)
}

// quartiles is how far apart those of a normal scatter lie, in its deviations.
const quartiles = 1.349

// longestAsked is how long, in s, one direction was asked for at most, breaks and all: no
// drive between two breaks is longer.
func (w *work) longestAsked() float64 {
	longest, from := 0.0, 0
	for k := range w.moves {
		if k > 0 && (w.moves[k].Polarity != w.moves[k-1].Polarity || w.moves[k].Time.From-w.moves[k-1].Time.To > longestBreak) {
			from = k
		}
		longest = math.Max(longest, w.moves[k].Time.To-w.moves[from].Time.From)
	}
	return longest
}

// drivenThrough tells whether the drive holds from bin a to bin b.
func (w *work) drivenThrough(a, b int) bool {
	for i := a; i < b; i++ {
		if w.d.pol[i] != w.d.pol[a] {
			return false
		}
	}
	return a < b
}
