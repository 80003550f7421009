package analyze

import "math"

// flicker is a signal that leaps away and comes back to where it was.
type flicker struct {
	from, to float64 // s
	level    float64 // V, before and after
	standing bool    // the shaft stood meanwhile, driven against a stop
	move     int
}

// flickers pairs the leaps under drive that lead away from a level with those
// that lead back to it, or to where the shaft has got to meanwhile.
func (w *work) flickers() []flicker {
	var out []flicker
	all := w.allLeaps()
	// Next to a leap the reading still settles.
	const aside = 0.15 // s
	for i := 0; i+1 < len(all); i++ {
		l := all[i]
		if !l.moving || l.coasting || l.direction == None {
			continue
		}
		back := all[i+1]
		if (back.after-back.before)*(l.after-l.before) >= 0 {
			continue
		}
		r := w.rate[side(l.direction)]
		before, ok1 := w.levelAt(l.at-aside, l.at-aside/3)
		after, ok2 := w.levelAt(back.at+aside/3, back.at+aside)
		took := back.at - l.at + aside
		if !ok1 || !ok2 || math.Abs(after-before) > 2*w.tol+1.5*r*took {
			continue
		}
		f := flicker{from: l.at, to: back.at, level: before, move: l.move}
		// Under one drive a shaft that moves would have got visibly further.
		f.standing = math.Abs(after-before) < w.visible() && r*took > 3*w.visible() && w.moves[l.move].Time.From < l.at-aside && w.moves[l.move].Time.To > back.at+aside
		out = append(out, f)
		i++
	}
	return out
}

// levelAt is the median reading of a stretch of time; ok is false where it has
// no rows or the reading does not hold still there.
func (w *work) levelAt(from, to float64) (level float64, ok bool) {
	a, b := indexAt(w.t, from)+1, indexAt(w.t, to)+1
	if a < 0 || b > len(w.v) || b-a < 1 {
		return 0, false
	}
	lo, hi := extremes(w.v[a:b])
	level = medianOf(w.v[a:b])
	return level, hi-lo < math.Max(2*w.tol, leastLoss*w.ref)
}

// standLosses lists the losses of signal while the driven shaft stood against a
// stop, where others came elsewhere on the way, or at the other stop. At one
// stop alone the end of the track may be at fault.
func (w *work) standLosses() []Occurrence {
	all := w.flickers()
	apart := 0.1 * w.span.Width()
	var out []Occurrence
	elsewhere := 0
	var first float64
	for _, f := range all {
		if !f.standing {
			continue
		}
		if len(out) == 0 {
			first = f.level
		}
		if math.Abs(f.level-first) > apart {
			elsewhere++
		}
		out = append(out, Occurrence{Interval{f.from, f.to}, Interval{f.level, f.level}, w.moves[f.move].Direction})
	}
	for _, f := range all {
		if !f.standing && len(out) > 0 && math.Abs(f.level-first) > apart {
			elsewhere++
		}
	}
	if len(out) < 2 || elsewhere < 2 {
		return nil
	}
	return out
}
