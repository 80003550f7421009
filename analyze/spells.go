package analyze

import (
	"math"
	"slices"
)

// spell is a time in which the reading was away from where the shaft can be: it left
// or came back by a leap faster than any shaft, and it came back to where the shaft was,
// or to where its drive can have taken it meanwhile.
type spell struct {
	first, last int     // bins [first, last) that are away
	from, to    float64 // V, on the track just before and just after
	out         float64 // V, furthest off the stretch between the two
	rests       bool    // it set in or ended while the shaft stood
}

// volts is the stretch of track that the shaft can have gone over meanwhile.
func (s *spell) volts() Interval {
	return Interval{math.Min(s.from, s.to), math.Max(s.from, s.to)}
}

const (
	longestSpell = 5.0  // s: a shaft may be anywhere after a usual way (chosen, not derived)
	backFor      = 0.02 // s that the reading is back at least, in three rows at least
)

// spells lists them, those less than [lossesApart] apart as one. An open wire may sink
// slowly and come back at once: then only read backwards it begins with a leap.
func (w *work) spells() []spell {
	least := w.leastSpell()
	n := len(w.v)
	list := w.spellsOneWay(func(i int) int { return i }, least)
	for _, s := range w.spellsOneWay(func(i int) int { return n - 1 - i }, least) {
		list = append(list, spell{first: n - s.last, last: n - s.first, from: s.to, to: s.from, out: s.out})
	}
	slices.SortStableFunc(list, func(a, b spell) int { return a.first - b.first })
	var out []spell
	for _, s := range list {
		if k := len(out); k > 0 && (s.first < out[k-1].last || lapse(w.t[s.first], w.t[out[k-1].last-1]) < lossesApart) {
			o := &out[k-1]
			if s.last > o.last {
				o.last, o.to = s.last, s.to
			}
			o.out = math.Max(o.out, s.out)
			continue
		}
		out = append(out, s)
	}
	out = slices.DeleteFunc(out, func(s spell) bool {
		return lapse(w.t[s.last], w.t[s.first]) > longestSpell || !w.leapsBack(&s, least) || w.inScatter(&s)
	})
	out = w.withoutCurrents(out)
	_, one := w.oneLevel(out)
	for i := range out {
		s := &out[i]
		// A wiper that is about to move may let go with the first of the motor's shaking,
		// to levels of any height; a wire's loss may be what made the control drive.
		s.rests = w.standsThrough(s) || one && !w.mayMove(max(0, indexAt(w.t, w.t[s.first]-turnsOver)))
	}
	return out
}

// inScatter tells whether a spell goes no further than what the readings scatter by just
// before or after it, what was left out as interference with it: a rough track does so, and
// so does noise.
func (w *work) inScatter(s *spell) bool {
	aside := max(12, w.rows(lossesApart))
	about := 0.0
	for _, r := range [][2]int{{max(0, s.first-aside), s.first}, {s.last, min(len(w.raw), s.last+aside)}} {
		about = math.Max(about, secondScatter(w.raw[r[0]:r[1]]))
	}
	return s.out < 1.5*w.lim.NoiseSigmas*about
}

// leapsBack tells whether the reading comes back by a leap: a contact that closes holds
// the wire at once, what comes back slowly is a shaft.
func (w *work) leapsBack(s *spell, least float64) bool {
	const window = 0.03 // s, as in spellsOneWay; some of the way back may be the shaft's
	a := indexAt(w.t, w.t[s.last]-2*window)
	for i := max(a, s.first-1); i < s.last; i++ {
		for j := i + 1; j <= min(s.last+1, len(w.v)-1) && (j == i+1 || lapse(w.t[j], w.t[i]) <= window); j++ {
			if math.Abs(w.v[j]-w.v[i]) > 0.6*least {
				return true
			}
		}
	}
	return false
}

// withoutCurrents leaves out the spells that come and go with a drive, as what the motor's
// current does: unless most drives come without one, since a motor draws its current in each.
// A control that sees its reading fall drives at once, and stops once it is back; then they
// go to one level, as an open wire's do.
func (w *work) withoutCurrents(all []spell) []spell {
	with := func(s spell) bool { return w.switched(s.first) && w.switched(s.last) }
	var switched []spell
	for _, s := range all {
		if with(s) {
			switched = append(switched, s)
		}
	}
	if _, one := w.oneLevel(switched); one && 2*len(switched) < len(w.moves) {
		return all
	}
	return slices.DeleteFunc(all, with)
}

// oneLevel gives the level that the spells go to, and whether all go to one.
func (w *work) oneLevel(all []spell) (level float64, one bool) {
	if len(all) == 0 {
		return 0, false
	}
	var levels []float64
	for i := range all {
		levels = append(levels, medianOf(w.v[all[i].first:all[i].last]))
	}
	lo, hi := extremes(levels)
	return medianOf(levels), hi-lo < w.leastSpell()
}

// switched tells whether the drive changes at bin i, or just before it.
func (w *work) switched(i int) bool {
	const near = 0.04 // s, of an input capacitor
	for j := min(i, len(w.t)-1); j > 0 && lapse(w.t[i], w.t[j]) <= near; j-- {
		if w.d.pol[j] != w.d.pol[j-1] {
			return true
		}
	}
	return false
}

// standsThrough tells whether the shaft stood before and after a spell: nothing drove it,
// or it got nowhere though it was driven for long enough.
func (w *work) standsThrough(s *spell) bool {
	if b := min(s.last+1, len(w.t)-1); !w.mayMove(b) || !w.mayMove(s.first) || w.pressedBefore(s) {
		return true
	}
	r := math.Max(w.rate[0], w.rate[1])
	if math.Abs(s.to-s.from) > w.resolution() {
		return false
	}
	// The levels beside it.
	a := indexAt(w.t, w.t[max(0, s.first-1)]-0.15)
	e := min(len(w.v)-1, indexAt(w.t, w.t[s.last]+0.15))
	if a >= s.first-1 || e <= s.last {
		return false
	}
	d := math.Abs(w.v[e] - w.v[a])
	for j := a; j <= e; j++ {
		if w.d.pol[j] == 0 {
			return false
		}
	}
	return d < w.resolution() && r*(w.t[e]-w.t[a]) > 3*w.resolution()
}

// turnsOver is a time, in s, in which no motor gets its shaft going: one or two of its
// mechanical time constants (common practice, no source).
const turnsOver = 0.04

// leastSpell is the least leap that counts, in V: a twentieth of the supply, and clear of
// the noise of a running motor at both its ends.
func (w *work) leastSpell() float64 {
	return math.Max(leastLoss*w.ref, math.Max(3*w.tol, 1.5*w.lim.NoiseSigmas*w.moving()))
}

// spellsOneWay lists the spells that begin with a leap, read in the order that at
// gives.
func (w *work) spellsOneWay(at func(int) int, least float64) []spell {
	const window = 0.03 // s: an input capacitor stretches a leap to about that
	// Speeds differ from place to place by that.
	fast := 1.6 * math.Max(w.rate[0], w.rate[1])
	if fast == 0 {
		fast = w.ref / fastestTransit
	}
	n := len(w.v)
	v := func(i int) float64 { return w.v[at(i)] }
	gap := func(i, j int) float64 { return math.Abs(w.t[at(j)] - w.t[at(i)]) }
	var out []spell
	k := 0
	for i := 1; i < n; i++ {
		k = max(k, max(0, i-8))
		for k < i-1 && gap(k, i) > window {
			k++
		}
		if gap(0, k) < window || math.Abs(v(i)-v(k)) < least+fast*gap(k, i) {
			continue
		}
		var before []float64
		for j := max(0, k-4); j <= k; j++ {
			before = append(before, v(j))
		}
		b := medianSmall(before)
		first := k + 1
		for first < i && math.Abs(v(first)-b) < 0.5*least {
			first++
		}
		if w.span.Width() > 0 && (b < w.span.From-0.4*least || b > w.span.To+0.4*least) {
			continue // it was away before
		}
		// Back where the drive can have taken the shaft.
		lo, hi, since, rows := b, b, -1, 0
		s := spell{first: first, from: b}
		j := first
		for ; j < n && gap(first, j) < longestSpell; j++ {
			d := gap(j-1, j)
			down, up := w.headed(at(j))
			if at(1) < at(0) {
				down, up = up, down // backwards in time
			}
			if down {
				lo -= fast * d
			}
			if up {
				hi += fast * d
			}
			if w.span.Width() > 0 {
				lo, hi = math.Max(lo, math.Min(b, w.span.From)), math.Min(hi, math.Max(b, w.span.To))
			}
			if x := v(j); x < lo-0.4*least || x > hi+0.4*least {
				since, rows = -1, 0
				s.out = math.Max(s.out, math.Max(lo-x, x-hi))
				continue
			}
			if since < 0 {
				since = j
			}
			if rows++; rows >= 3 && gap(since, j) >= backFor {
				break
			}
		}
		if rows < 3 || j >= n || gap(first, j) >= longestSpell {
			continue
		}
		s.last = since
		s.to = medianSmall([]float64{v(since), v(since + 1), v(since + 2)})
		if s.last > s.first && s.out > 0.6*least {
			out = append(out, s)
		}
		i, k = j, j
	}
	return out
}

// mayMove tells whether a drive can move the shaft at bin i, or what is left of its motion.
func (w *work) mayMove(i int) bool {
	for j := i; j >= 0 && lapse(w.t[i], w.t[j]) <= restAfter; j-- {
		if w.d.pol[j] != 0 {
			return true
		}
	}
	return false
}

// headed tells which ways the shaft can be moving at bin i.
func (w *work) headed(i int) (down, up bool) {
	for j := i; j >= 0 && lapse(w.t[i], w.t[j]) <= restAfter; j-- {
		switch int(w.d.pol[j]) * w.sense {
		case 1:
			up = true
		case -1:
			down = true
		case 0:
			if w.d.pol[j] != 0 {
				return true, true
			}
		}
	}
	return down, up
}
