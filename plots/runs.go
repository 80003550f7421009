package plots

import (
	"fmt"
	"math"

	"threewire/analyze"
)

// run is a stretch of drives that belong together, with words for it, the
// longest first.
type run struct {
	analyze.Interval
	words []string
}

// maxRuns is as many as keep apart below a panel.
const maxRuns = 12

// runs are the controller's position check where it repeated that, the drives it repeated
// in vain and the rest after it gave up; else the first run to both stops.
func (d *drawing) runs() []run {
	var out []run
	checked := false
	for _, c := range d.fig.Capture.Checks {
		if len(out) >= maxRuns {
			break
		}
		r := run{Interval: c.Time}
		again := fmt.Sprintf("%d tries", d.tries(&c))
		switch {
		case c.Kind == analyze.CheckTries:
			r.words = []string{"driven in vain, " + again, again}
		case c.Outcome == analyze.CheckCompleted && c.Kind == analyze.CheckNudge: // it goes to no stop
			checked = true
			r.words = []string{"position check by nudge", "nudge"}
		case c.Outcome == analyze.CheckCompleted:
			checked = true
			// A hand at the switch does the same: only what is repeated is a control's.
			r.words = []string{"first run to both stops", "first run"}
		default:
			checked = true
			r.words = []string{"position check, " + again, "position check", "check"}
		}
		out = append(out, r)
		if c.LockOut > 0 {
			out = append(out, run{analyze.Interval{From: c.Time.To, To: c.Time.To + c.LockOut}, []string{"gave up for " + lasting(c.LockOut), "gave up"}})
		}
	}
	if first, ok := d.firstRun(); ok && !checked {
		out = append([]run{{first, []string{"first run to both stops", "first run"}}}, out...)
	}
	return out
}

// tries is how often it was tried: where the reading answered no drive at all, all of
// them are tries.
func (d *drawing) tries(c *analyze.PositionCheck) int {
	if d.fig.Capture.Span.Width() > 0 {
		return c.Retries + 1
	}
	n := 0
	for i := range d.fig.Capture.Moves {
		if at := d.fig.Capture.Moves[i].Time.From; at >= c.Time.From && at <= c.Time.To {
			n++
		}
	}
	return max(n, c.Retries+1)
}

// firstRun names the first run to both stops, as a position check at power-up
// makes it: the first moves, without a rest of two seconds, reaching the one
// stop and then the other.
func (d *drawing) firstRun() (analyze.Interval, bool) {
	moves := d.fig.Capture.Moves
	if len(d.extremes()) < 2 || len(moves) < 2 {
		return analyze.Interval{}, false
	}
	reached := map[analyze.Direction]bool{}
	for i := range moves {
		m := &moves[i]
		if i > 5 || i > 0 && m.Time.From-moves[i-1].Time.To > 2 {
			break
		}
		if m.Stalled > 0 {
			reached[m.Direction] = true
		}
		if reached[analyze.Up] && reached[analyze.Down] {
			return analyze.Interval{From: moves[0].Time.From, To: m.Time.To}, true
		}
	}
	return analyze.Interval{}, false
}

// nameRuns draws a bracket for each run at the height y, with its words inside
// or beside it where there is room.
func (s *sheet) nameRuns(f *frame, runs []run, y float64) {
	st := s.small()
	free := f.area.x0 // what lies left of it is taken
	for i, r := range runs {
		if !f.hasX(r.From, r.To) {
			continue
		}
		a, b := f.clampX(r.From)+1, f.clampX(r.To)-1
		if a < free {
			continue
		}
		b = math.Max(b, a+2)
		next := f.area.x1
		for _, later := range runs[i+1:] {
			if f.hasX(later.From, later.To) {
				next = math.Min(next, f.clampX(later.From)-0.5*s.size)
				break
			}
		}
		s.line(a, y-3, a, y+3, s.th.ink, 0.8)
		s.line(b, y-3, b, y+3, s.th.ink, 0.8)
		words, at := "", pt{}
		for _, t := range r.words {
			w := s.width(t, st)
			if w+s.size < b-a {
				words, at = t, pt{(a + b) / 2, 0.5}
				break
			}
			if b+0.5*s.size+w < next {
				words, at = t, pt{b + 0.5*s.size, 0}
				break
			}
			if a-0.5*s.size-w > free {
				words, at = t, pt{a - 0.5*s.size - w, 0}
				break
			}
		}
		if words == "" || at.y == 0 {
			s.line(a, y, b, y, s.th.ink, 0.8)
		}
		if words == "" {
			free = b
			continue
		}
		e := s.text(words, st, at.x, y, align{at.y, 0.5})
		if at.y > 0 {
			s.line(a, y, e.x0-2, y, s.th.ink, 0.8)
			s.line(e.x1+2, y, b, y, s.th.ink, 0.8)
		}
		free = math.Max(b, e.x1+0.5*s.size)
	}
}
