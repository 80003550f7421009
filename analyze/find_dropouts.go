package analyze

import (
	"fmt"
	"math"
	"threewire/analyze/stats"
)

// findDropouts reports signal losses that come at times and not at places:
// those strewn over the travel, and those at rest, where no track moves.
func (w *work) findDropouts(strewn []*event, rest []Occurrence) {
	if len(rest) == 0 && len(strewn) == 0 {
		return
	}
	f := Finding{Kind: Dropouts, Tie: TieUnknown, TieP: 1, Event: "drop-outs", Strength: 1}
	f.Time = noInterval()
	f.Volts = noInterval()
	add := func(o Occurrence) {
		f.Places = append(f.Places, o)
		f.Time = f.Time.widen(o.Time.From).widen(o.Time.To)
		f.Volts = f.Volts.widen(o.Volts.From).widen(o.Volts.To)
	}
	for _, o := range rest {
		add(o)
	}
	miss := 1.0
	var mids []float64
	for _, e := range strewn {
		add(Occurrence{e.time(w.t), Interval{e.low, e.high}, w.moves[e.move].Direction})
		mids = append(mids, e.volts().Mid())
		pe := 1 / (1 + math.Exp(-e.shift))
		if e.out() > w.tol {
			pe = math.Max(pe, 1-math.Exp(-2*e.out()/w.tol))
		}
		miss *= 1 - 0.9*pe
	}
	for range rest {
		miss *= 0.1
	}
	f.Strength = 1 - miss
	f.Seen = len(f.Places)
	f.Measures = []Measure{{MeasureAtRest, float64(len(rest)), ""}, {MeasureWhileMoving, float64(len(strewn)), ""}}
	if len(rest) == 0 && w.oneRowEach(strewn) {
		f.Measures = append(f.Measures, Measure{singleRows, float64(len(strewn)), ""})
	}
	tied, chance := w.onlyMoving(strewn, len(rest))
	// One stray row in all is anybody's, whenever it comes.
	stray := len(f.Places) == 1 && len(rest) == 1 && rest[0].Time.Width() < 2.5*w.tr.Step
	if tied {
		f.Form, f.Tie, f.TieP = whileItMoves, TiedToTime, chance
		f.ownTie, f.tieWord = true, "keeps to the motion of the shaft"
	} else if len(rest) > 0 && !stray {
		// A worn place changes nothing while the shaft rests on it: that is seen,
		// and has no chance to be told.
		f.Form, f.Tie = lossAtRestToo, TiedToTime
		f.ownTie, f.tieWord = true, "goes with time, not with a place"
	} else if len(mids) >= 3 {
		lo, hi := extremes(mids)
		share := math.Min(1, (hi-lo)/math.Max(w.span.Width(), 1e-9))
		f.Form, f.Tie = lossNoPlace, TiedToTime
		if len(rest) == 0 && chance < 1 {
			f.Measures = append(f.Measures, Measure{sparesRests, chance, ""})
		}
		f.ownTie, f.tieWord = true, fmt.Sprintf("goes with time: the places lie over %.0f %% of the span", 100*share)
	} else {
		f.Form = "few"
		if lo, hi := extremes(mids); len(mids) == 2 && hi-lo > 0.1*w.span.Width() {
			f.Form = lossFewApart
		}
		if stray || !w.staysAway(strewn) {
			f.Strength *= 0.6
		} else if len(strewn) == 1 {
			f.Measures = append(f.Measures, Measure{MeasureLongest, float64(w.rowsAway(strewn[0])) * w.tr.Step, "s"})
		}
	}
	w.found = append(w.found, f)
}

// whileItMoves is the form of losses that keep to the motion of the shaft.
const whileItMoves = "while it moves"

// sparesRests is the chance that a contact which comes and goes at any time let go as seldom
// while the shaft rests as was seen, where that is no proof yet.
const sparesRests = "chance to spare the rests so"

// onlyMoving tells whether losses keep to the time that the shaft moves, more than
// chance lets those of a contact in the cable, and how small that chance is. Only
// losses that leave the track far are counted: a reading that is held shows nothing
// at rest.
func (w *work) onlyMoving(strewn []*event, rest int) (bool, float64) {
	moving, still := 0.0, 0.0
	for k := range w.moves {
		// Also while the reading is lost.
		m := &w.moves[k]
		moving += math.Max(m.Moving, m.Duration()-m.Stalled-m.Delay)
	}
	for i := 1; i < len(w.t); i++ {
		if w.d.pol[i] == 0 {
			still += w.t[i] - w.t[i-1]
		}
	}
	n := 0
	for _, e := range strewn {
		if e.out() > leastLoss*w.ref {
			n++
		}
	}
	if n < 4 || !(moving > 0) {
		return false, 1
	}
	p := stats.BinomialTail(n, n+rest, moving/(moving+still))
	return p < sparesForSure, p
}

// sparesForSure is the chance below which losses that spare the rests keep to the motion.
const sparesForSure = 0.01

// staysAway tells whether each of the losses leaves the track for longer than
// interference lasts, over three rows at least.
func (w *work) staysAway(lost []*event) bool {
	for _, e := range lost {
		if n := w.rowsAway(e); n < 3 || float64(n)*w.tr.Step < 2*longestSpike {
			return false
		}
	}
	return true
}

// rowsAway counts the rows in which a loss is off its track by what counts as one.
func (w *work) rowsAway(e *event) (n int) {
	on, far := e.volts(), math.Max(leastLoss*w.ref, w.tol)
	for _, v := range w.v[e.first:e.last] {
		if v < on.From-far || v > on.To+far {
			n++
		}
	}
	return n
}

// restJumps lists steps and departures of the feedback while the drive is off
// and the shaft has come to rest.
func (w *work) restJumps() []Occurrence {
	var out []Occurrence
	last := math.Inf(-1)
	step := w.lim.NoiseSigmas*math.Sqrt2*w.noise + 1.5*w.quantum
	for i := 1; i < len(w.v); i++ {
		if w.d.pol[i] != 0 || w.d.pol[i-1] != 0 {
			last = w.t[i]
			continue
		}
		// At the begin of a record an input filter has yet to settle. Where rows are
		// missing the shaft may have been driven.
		if w.t[i]-last < restAfter || w.t[i]-w.t[0] < 0.03 || w.t[i]-w.t[i-1] > missingRows*w.tr.Step {
			continue
		}
		// The next drive must not be at hand either: edges of two columns may
		// be a bin apart.
		if i+2 < len(w.v) && (w.d.pol[i+1] != 0 || w.d.pol[i+2] != 0) {
			continue
		}
		jump := math.Abs(w.v[i] - w.v[i-1])
		peak := 0.0
		if w.tr.RowsPerBin > 1 {
			peak = math.Max(w.v[i]-float64(w.tr.Feedback.Min[i]), float64(w.tr.Feedback.Max[i])-w.v[i])
			peak -= w.rawPeak()
		}
		if jump > math.Max(2*step, leastLoss*w.ref) || peak > leastLoss*w.ref {
			o := Occurrence{Interval{w.t[i-1], w.t[i]}, Interval{math.Min(w.v[i-1], w.v[i]), math.Max(w.v[i-1], w.v[i])}, None}
			if n := len(out); n > 0 && o.Time.From-out[n-1].Time.To < lossesApart {
				out[n-1].Time.To = o.Time.To
				out[n-1].Volts = out[n-1].Volts.widen(o.Volts.From).widen(o.Volts.To)
			} else {
				out = append(out, o)
			}
		}
	}
	return out
}

// rawPeak is the usual excursion of single rows from their bin's mean.
func (w *work) rawPeak() float64 {
	return w.peak.of(func() float64 {
		var x []float64
		for i := 0; i < len(w.v); i += max(1, len(w.v)/5000) {
			x = append(x, math.Max(float64(w.tr.Feedback.Max[i])-w.v[i], w.v[i]-float64(w.tr.Feedback.Min[i])))
		}
		peak := math.Max(1.5*quantileOf(x, 0.9), 1e-9)
		return math.Max(peak, w.sparkReach(4*peak))
	})
}

// loose tells whether losses of signal were found that belong to no place.
func (w *work) loose() bool {
	for _, f := range w.found {
		if f.Kind == Dropouts && f.Seen >= 3 {
			return true
		}
	}
	return false
}

// looseAtRest tells whether the signal was lost while the shaft rested: such a
// contact also chatters while it moves.
func (w *work) looseAtRest() bool {
	for _, f := range w.found {
		if n, _ := f.Measure(MeasureAtRest); f.Kind == Dropouts && f.Form != whileItMoves && n > 0 {
			return true
		}
	}
	return false
}
