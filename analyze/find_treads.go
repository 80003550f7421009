package analyze

import (
	"math"
	"slices"
)

// tread is a stretch of rows in which the reading kept within what noise and the
// converter's step make of one level.
type tread struct {
	first, last int // bins
	level       float64
	flat        bool // it rose by less than even running would have made of it
}

// shortestRest is the least that the longest of the rests must last, s: a motor that is held
// and gets under way again takes some hundredths of a second over it, and what a converter
// or a filter holds back for a moment is shorter.
const shortestRest = 0.05

// findTreads reports a way that the reading goes down like a staircase: rests of a few
// rows or more, each at a level of its own, and risers of a row or two between. Rows that
// come too seldom for rates to be taken within a rest, or passes too few for the scatter
// of steps to tell, hide it from the other searches for sticking. Each rest is taken as
// long as the reading stays within noise and one step of the converter; a shaft that runs
// evenly rises within such a stretch at its own pace, whatever its steps are, and one that
// sticks does not.
func (w *work) findTreads() {
	const (
		byTreads = 0.6 // least share of the way that goes from rest to rest
		crossed  = 0.2 // least way of a direction, of the span: it shows ten rests of a fiftieth
		least    = 5   // rests in a direction: fewer are places
	)
	span := w.span.Width()
	if w.has(StickSlip) || w.looseAtRest() || !(span > 0) || w.textured() || w.heldByClock() {
		return
	}
	var way, stepped [2]float64
	var dirs, passes [2]int
	f := Finding{Kind: StickSlip, Form: springsOn, Tie: TieUnknown, TieP: 1, Event: stairway, Time: w.drivenTime(), Volts: noInterval()}
	longest := 0.0
	for k := range w.moves {
		m := &w.moves[k]
		d := side(m.Direction)
		all := w.treads(k)
		if len(all) < 2 {
			continue
		}
		net := float64(m.Direction) * (all[len(all)-1].level - all[0].level)
		if m.Direction == None || net <= 0 {
			continue
		}
		way[d] += net
		went, n := 0.0, 0
		for i, s := range all {
			if i > 0 && s.flat && all[i-1].flat {
				went += w.riser(m, all[i-1], s)
			}
			if !s.flat {
				continue
			}
			n++
			o := Occurrence{Interval{w.t[s.first], w.t[s.last-1]}, Interval{s.level, s.level}, m.Direction}
			f.Places, f.Volts = append(f.Places, o), f.Volts.widen(s.level)
			longest = math.Max(longest, o.Time.Width())
		}
		stepped[d] += went
		dirs[d] += n
		if went > byTreads*net {
			passes[d]++
		}
	}
	// Each way that was gone far enough must show it, and one of them at least.
	shown := 0
	for d := range way {
		if way[d] < crossed*span {
			continue
		}
		if stepped[d] < byTreads*way[d] || dirs[d] < least {
			return
		}
		shown++
	}
	if shown == 0 || passes[0]+passes[1] < 2 || longest < shortestRest {
		return
	}
	f.Seen, f.Passes, f.Direction = len(f.Places), passes[0]+passes[1], oneDirection(dirs)
	f.Strength = 1 - math.Exp(-float64(f.Passes))
	f.Measures = []Measure{{MeasureLongestStand, longest, "s"}, {"stands", float64(len(f.Places)), ""}}
	w.found = slices.DeleteFunc(w.found, func(g Finding) bool { return g.Kind == Pauses && g.Form == "" })
	w.found = append(w.found, f)
}

// treads cuts the way of a move, its start and its stall left out, into stretches within
// which the reading keeps to one level, and tells those that are flat.
func (w *work) treads(k int) (out []tread) {
	m := &w.moves[k]
	from, to := m.first+w.rows(w.lim.Bridge), m.last-w.rows(m.Stalled)
	pace := w.pace(from, to)
	if m.Direction == None || to-from < 20 || w.madeUp(m) || w.generated(m) || float64(m.Direction)*pace <= 0 {
		return nil
	}
	sigma := w.rowNoise(from, to)
	for a := from; a < to; {
		b, lo, hi := a, w.raw[a], w.raw[a]
		for b < to {
			if v := w.raw[b]; v >= lo && v <= hi {
				b++ // and the more readings, the further apart two may stand
				continue
			}
			lo, hi = math.Min(lo, w.raw[b]), math.Max(hi, w.raw[b])
			// Of n readings the furthest two stand so far apart.
			n := float64(b-a) + 2
			if hi-lo > 1.05*math.Max(w.quantum, 2*sigma*math.Sqrt(2*math.Log(n))) {
				break
			}
			b++
		}
		if b-a >= 4 {
			out = append(out, w.treadOf(m, a, b, sigma, pace))
		}
		a = max(b, a+1)
	}
	return out
}

// rowNoise is the noise from one row to the next while the shaft is under way, V: leaps,
// which sticking leaves in what moves, are few among the rows.
func (w *work) rowNoise(from, to int) float64 {
	d := make([]float64, to-from-1)
	for i := range d {
		d[i] = w.raw[from+i+1] - w.raw[from+i]
	}
	usual := medianIn(d)
	for i := range d {
		d[i] = math.Abs(d[i] - usual)
	}
	return math.Max(1.4826/math.Sqrt2*medianIn(d), w.quantum/math.Sqrt(12))
}

// riser is the way from one rest to the next, V in the direction of the drive: nothing
// where it took longer than a shaft that springs on.
func (w *work) riser(m *Move, a, b tread) float64 {
	const springs = 3 // times the mean pace; even running with a wave on it that never turns back does not reach twice
	step := float64(m.Direction) * (b.level - a.level)
	took := w.t[b.first] - w.t[a.last-1] - w.tr.Step
	if step > 0 && took*springs > step/math.Abs(w.pace(a.first, b.last)) {
		return 0
	}
	return step
}

// pace is the mean rate of the reading over bins, V/s.
func (w *work) pace(from, to int) float64 {
	if to-from < 2 || to > len(w.t) {
		return 0
	}
	return (w.smooth[to-1] - w.smooth[from]) / (w.t[to-1] - w.t[from])
}

// treadOf measures one stretch: it is flat where its slope is known well enough, and is
// less than a third of the pace of the whole way.
func (w *work) treadOf(m *Move, a, b int, sigma, pace float64) tread {
	const known, rests = 0.25, 0.35 // of the mean pace
	tm, vm, n := 0.0, 0.0, float64(b-a)
	for i := a; i < b; i++ {
		tm, vm = tm+w.t[i]/n, vm+w.raw[i]/n
	}
	tt, tv := 0.0, 0.0
	for i := a; i < b; i++ {
		tt += (w.t[i] - tm) * (w.t[i] - tm)
		tv += (w.t[i] - tm) * (w.raw[i] - vm)
	}
	out := tread{first: a, last: b, level: vm}
	if tt > 0 && sigma/math.Sqrt(tt) < known*math.Abs(pace) && w.steadyBetween(m, a, b) {
		out.flat = tv/tt*float64(m.Direction) < rests*math.Abs(pace)
	}
	return out
}

// steadyBetween tells whether the drive holds still over bins of a move and no rows are
// missing there.
func (w *work) steadyBetween(m *Move, from, to int) bool {
	to = min(to, m.last)
	for i := from; i < to; i++ {
		if math.Abs(m.gain[i-m.first]) < 0.8 || i > from && w.t[i]-w.t[i-1] > 4*w.tr.Step {
			return false
		}
	}
	return true
}
