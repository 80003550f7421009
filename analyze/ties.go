package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// TieTest is one test of what an anomaly belongs to.
type TieTest struct {
	Tie Tie `json:"tie"`
	// P is the chance of as much without such a tie: for the position, of
	// events strewn over the travel as it was made; for the direction and the
	// time driven, of any other order of the passes.
	P    float64 `json:"p"`
	Text string  `json:"text"` // what it would mean, in plain words
}

// tieFindings states for each finding what it belongs to. What a finding's own
// search has tested stays; the rest is tested here on passes and events. It
// changes no weight.
func (w *work) tieFindings() {
	driven := make([]float64, len(w.moves)) // s driven before each move
	for k := 1; k < len(w.moves); k++ {
		driven[k] = driven[k-1] + w.moves[k-1].Duration()
	}
	for i := range w.found {
		f := &w.found[i]
		w.wholeTies(f)
		if len(f.Places) > 0 {
			w.passTies(f, driven)
		}
		if f.Kind == Heating && f.Tie == TiedToTime {
			// At equal drive, each sweep against those of its own direction.
			f.Tie = TiedToWarming
		}
		f.choose(w.lim.Significance)
		f.Told = f.tieWords()
	}
}

// choose takes the clearest of the tests where no tie is known yet. Three
// questions were asked, so each p counts threefold (Bonferroni).
func (f *Finding) choose(significance float64) {
	known := f.Tie != "" && f.Tie != TieUnknown
	if f.Tie == "" {
		f.Tie, f.TieP = TieUnknown, 1
	}
	for _, x := range f.Tests {
		switch {
		case f.ownTie:
		case known && x.Tie == f.Tie && f.TieP == 1:
			f.TieP, f.tieWord = x.P, x.Text
		case !known && 3*x.P < significance && (f.Tie == TieUnknown || 3*x.P < f.TieP):
			f.Tie, f.TieP, f.tieWord = x.Tie, 3*x.P, x.Text
		}
	}
	if f.Tie == TieUnknown && f.TieP == 1 {
		for _, x := range f.Tests {
			f.TieP = math.Min(f.TieP, math.Min(1, 3*x.P))
		}
	}
	// No test of a few passes says less; 0 would read as "not tested".
	f.TieP = math.Max(f.TieP, 1e-12)
}

// wholeTies tests what is counted over the capture and not by single events.
func (w *work) wholeTies(f *Finding) {
	dir := side(f.Direction)
	switch f.Kind {
	case OneWay, HalfDrive:
		var stood, ran [2]int
		for k := range w.moves {
			m := &w.moves[k]
			d := side(m.Direction)
			if m.Direction == None {
				d = side(Direction(m.Polarity))
			}
			if w.moved(m) {
				ran[d]++
			} else {
				stood[d]++
			}
		}
		p := stats.FisherExact(stood[dir], ran[dir], stood[1-dir], ran[1-dir])
		if f.Kind == HalfDrive {
			// Either polarity could have been the one.
			n := len(w.moves)
			if f.Form == oneWaySince {
				n = f.Seen
			}
			p = math.Min(1, 2*math.Pow(0.5, float64(n)))
			f.Tie = TiedToDirection
		}
		f.Tests = append(f.Tests, TieTest{TiedToDirection, p, "goes with one direction of drive"})
	case EndLoss:
		arrived := 0
		for k := range w.moves {
			if w.arrives(k) == -f.Direction {
				arrived++
			}
		}
		f.Tests = append(f.Tests, TieTest{TiedToPosition, stats.FisherExact(f.Seen, max(0, f.Passes-f.Seen), 0, arrived), "comes at this end and not at the other"})
	case Hunting:
		w.huntTie(f)
	case SlowZone:
		w.slowTie(f)
	}
}

// slowTie counts the slow passes of a zone by direction, cell by cell as they
// were found.
func (w *work) slowTie(f *Finding) {
	if f.Form != "" {
		return
	}
	var seen, made [2]int
	for d, p := range w.prof {
		if p == nil {
			continue
		}
		limit := w.lim.Slow * w.typicalRate(p)
		for _, q := range p.Points {
			if f.Volts.Has(q.Position) {
				seen[d], made[d] = max(seen[d], slowPasses(q, limit)), max(made[d], q.Passes)
			}
		}
	}
	f.Measures = append(f.Measures, waysOf(seen, made)...)
	f.wayTest(seen, made)
}

// wayTest tests the direction of travel on passes seen over passes made.
func (f *Finding) wayTest(seen, made [2]int) {
	if made[0] > 0 && made[1] > 0 {
		f.Tests = append(f.Tests, TieTest{TiedToDirection, stats.FisherTwoSided(seen[1], made[1]-seen[1], seen[0], made[0]-seen[0]), "goes with one direction of travel"})
	}
}

// arrives is the end at which a move arrives from afar, None if it does not.
func (w *work) arrives(k int) Direction {
	m, s := &w.moves[k], w.span
	lo, hi := w.tracked(m)
	if s.Width() <= 0 || hi-lo < 0.3*s.Width() {
		return None
	}
	switch at := (m.End - s.From) / s.Width(); {
	case m.Direction == Up && at > 0.75:
		return Up
	case m.Direction == Down && at < 0.25:
		return Down
	}
	return None
}

// huntTie compares the arrivals at the end where the control hunts with those
// at the other, by hunting that follows or not.
func (w *work) huntTie(f *Finding) {
	end := Up
	switch f.Form {
	case huntLowEnd:
		end = Down
	case huntHighEnd:
	default:
		return
	}
	var hunts, rests [2]int
	for k := range w.moves {
		at := w.arrives(k)
		if at == None {
			continue
		}
		follows := false
		for i := range w.found {
			h := &w.found[i]
			// The arrival is the first of the hunting's moves, or the one before it.
			follows = follows || h.Kind == Hunting && w.moves[k].Time.To > h.Time.From-4 && w.moves[k].Time.From < h.Time.To
		}
		if follows {
			hunts[side(at)]++
		} else {
			rests[side(at)]++
		}
	}
	e := side(end)
	// Too few arrivals could not show it.
	if stats.FisherExact(hunts[e]+rests[e], 0, 0, hunts[1-e]+rests[1-e]) > 0.05 {
		return
	}
	f.Tests = append(f.Tests, TieTest{TiedToPosition, stats.FisherExact(hunts[e], rests[e], hunts[1-e], rests[1-e]), "comes at this end and not at the other"})
}

// pass is one move that could have shown a finding.
type pass struct {
	move int
	hit  bool
}

// passTies tests direction, time driven and position on the passes that could
// have shown the finding.
func (w *work) passTies(f *Finding, driven []float64) {
	band, ok := w.bandOf(f)
	if !ok {
		return
	}
	list := w.passList(f, band)
	var seen, made [2]int
	var with, without, mids []float64
	for _, p := range list {
		d := side(w.moves[p.move].Direction)
		made[d]++
		if p.hit {
			seen[d]++
			with = append(with, driven[p.move])
		} else {
			without = append(without, driven[p.move])
		}
	}
	if len(with) == 0 {
		return
	}
	if !f.has(MeasureSeenUp) {
		f.Measures = append(f.Measures, waysOf(seen, made)...)
	}
	f.wayTest(seen, made)
	position := 1.0
	if f.Tie == TieUnknown || f.Tie == TiedToPosition && f.TieP == 1 {
		mids = w.middles(f)
		// A drive that moves nothing does so where drives begin.
		if lo, hi := extremes(mids); len(mids) >= 2 && f.Form != doesNotStart {
			position = stats.RangePValue(w.travelShare(Interval{lo, hi}), len(mids))
			words := "falls into one stretch of the travel"
			if f.placed() {
				words = "belongs to the place"
			}
			f.Tests = append(f.Tests, TieTest{TiedToPosition, position, words})
		}
	}
	if len(without) == 0 {
		return
	}
	p, late := stats.RankSum(with, without)
	first, _ := extremes(with)
	_, last := extremes(without)
	x := TieTest{TiedToTime, p, "comes early, and less the longer it has been driven"}
	if late {
		x = TieTest{TiedToWarming, p, "comes more the longer it has been driven"}
		if first > last {
			x.Text = fmt.Sprintf("comes only after %.0f s of driving", first)
		}
		if 3*position < w.lim.Significance {
			x.Tie = TiedToTime // a place explains it: no warmth is needed
		}
	}
	f.Tests = append(f.Tests, x)
}

// bandOf is the stretch a pass must cross to show the finding; the whole of
// its own way where the finding belongs to no stretch. Findings whose places
// are not single signs of it have none.
func (w *work) bandOf(f *Finding) (Interval, bool) {
	switch f.Kind {
	case DeadSpot:
		return f.Volts, f.Form != openBeyond && f.Form != railToRail
	case SlowZone:
		return f.Volts, f.Form == standsAndGoes
	case Jam, EndLoss:
		return f.Volts, true
	case Pauses, StickSlip, GearSlip, Dropouts:
		return Interval{}, true
	}
	return Interval{}, false
}

// passList lists the moves that crossed the band, or that travelled at all, and
// those that show the finding.
func (w *work) passList(f *Finding, band Interval) []pass {
	var out []pass
	margin := w.resolution()
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction == None {
			continue
		}
		p := pass{move: k}
		for _, o := range f.Places {
			if o.Direction != -m.Direction && o.Time.Overlaps(m.Time) {
				p.hit = true
				break
			}
		}
		lo, hi := w.tracked(m)
		crossed := lo < band.From-margin/2 && hi > band.To+margin/2
		if band == (Interval{}) {
			crossed = hi-lo > 0.1*w.span.Width()
		}
		if crossed && f.Kind == GearSlip && w.atBothEnds(f) {
			crossed = w.comesToEnd(f, m.Direction, Interval{lo, hi})
		}
		if p.hit || crossed {
			out = append(out, p)
		}
	}
	return out
}

// comesToEnd tells whether a move that travelled over a stretch came as far as the end at
// which the places of that direction lie: one that stops before it could not show them.
func (w *work) comesToEnd(f *Finding, dir Direction, way Interval) bool {
	middle := w.span.Mid()
	return slices.ContainsFunc(f.Places, func(o Occurrence) bool {
		if dir == Up {
			return o.Volts.From > middle && way.To >= o.Volts.From
		}
		return o.Volts.To < middle && way.From <= o.Volts.To
	})
}

// middles are the places of the events, one for each move: teeth that slip one
// after another in one push are one event.
func (w *work) middles(f *Finding) []float64 {
	var out []float64
	for k := range w.moves {
		var at []float64
		for _, o := range f.Places {
			if o.Time.Overlaps(w.moves[k].Time) && o.Direction != -w.moves[k].Direction {
				at = append(at, o.Volts.Mid())
			}
		}
		if len(at) > 0 {
			out = append(out, medianOf(at))
		}
	}
	return out
}

// travelShare is the share of all travel made that lies in a stretch, the
// resolution of the capture added: where the shaft mostly went, events fall
// mostly.
func (w *work) travelShare(r Interval) float64 {
	in, all := 0.0, 0.0
	r = Interval{r.From - w.resolution()/2, r.To + w.resolution()/2}
	for k := range w.moves {
		if lo, hi := w.tracked(&w.moves[k]); hi > lo {
			all += hi - lo
			in += r.inCommon(Interval{lo, hi})
		}
	}
	if all <= 0 {
		return 1
	}
	return math.Min(1, in/all)
}
