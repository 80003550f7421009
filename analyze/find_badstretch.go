package analyze

import (
	"fmt"
	"math"
	"slices"
)

// noisyStretch is the form of a noisy track whose bad part is told by the time that the
// wiper spent in it and elsewhere.
const noisyStretch = "one stretch"

// sojourns are the times that the wiper spent in a stretch of the travel and clear of it,
// those at rest and those in which the shaft may have moved; and the losses.
type sojourns struct {
	away  [2]float64 // s clear of the stretch, from the first loss of the signal to the last
	in    [2]float64 // s in it, as long as the reading tells
	clean [2]float64 // s of that until the first loss of each visit, but the visit of the first, and a row to each
	after [2]float64 // s from the last loss of a visit until it was left
	bad   [2]float64 // s from the first loss of these to their last
	lost  [2]int     // losses after the first
	begun [2]int     // visits with a loss after the first's, by what the shaft did as it came
	left  int        // visits with a loss that ended: moving, as none ends otherwise

	visits []Interval // s, from the first loss of a visit to the last
}

// findBadStretch looks for one stretch of the travel in which all losses of signal come,
// moving or at rest. A wiper that hunts in a worn part of its track, or comes to rest
// there, loses the signal at rest as well: that alone does not tell it from a contact in
// the cable. Where the wiper was in all the other time does (see [sojourns.chance]).
func (w *work) findBadStretch() {
	if !slices.ContainsFunc(w.found, func(f Finding) bool {
		return f.Kind == Dropouts && f.Strength > 0.5 && (f.Form != whileItMoves || f.has(singleRows))
	}) || w.covered(DriveShift, None) || w.covered(RefLoss, None) {
		return
	}
	lost := w.lostSteps()
	if len(lost) < 3 {
		return
	}
	band := noInterval()
	var sizes []float64
	for _, i := range lost {
		sizes = append(sizes, math.Abs(w.v[i]-w.v[i-1]))
		a, b := w.slopeOf(i)
		for _, v := range w.v[a : b+1] {
			if !w.nowhere(v) {
				band = band.widen(v)
			}
		}
	}
	s := w.staysIn(band, lost, medianOf(sizes))
	p := s.chance()
	// One in a hundred, as for losses that keep to the motion (onlyMoving).
	if p > 0.01 {
		return
	}
	f := Finding{Kind: NoisyTrack, Form: noisyStretch, Tie: TiedToPosition, TieP: p, Event: "bad stretch", Strength: 1 - p,
		Volts: band, Time: noInterval(), Seen: len(s.visits), Passes: len(s.visits),
		Measures: []Measure{{MeasureLeaps, float64(len(lost)), ""}, {awayFromStretch, s.away[0] + s.away[1], "s"}}}
	for _, v := range s.visits {
		f.Places = append(f.Places, Occurrence{v, band, None})
		f.Time = f.Time.widen(v.From).widen(v.To)
	}
	w.overrule(f.Event, Dropouts, DeadSpot, NoisyTrack, EndLoss, Pauses, StickSlip, Jam, Hunting, GearSlip, SlowZone, OneWay, WeakDrive, AtRail, SelfMotion, LastingLeap)
	w.found = append(w.found, f)
}

// slopeOf gives the bins from which to which the reading goes on the way that it steps to a
// bin: an input's capacitor makes a slope of a loss, and the shaft was where it set out or
// where it comes to.
func (w *work) slopeOf(bin int) (from, to int) {
	way := math.Copysign(1, w.v[bin]-w.v[bin-1])
	goes := func(i int) bool { return way*(w.v[i]-w.v[i-1]) > w.tol }
	from, to = bin-1, bin
	for from > 0 && goes(from) {
		from--
	}
	for to+1 < len(w.v) && goes(to+1) {
		to++
	}
	return from, to
}

// awayFromStretch is the measure of the time spent clear of a bad stretch without a loss.
const awayFromStretch = "read well elsewhere for"

// leastAtRest is what a reading at rest steps by, in V, that is none of noise: nothing
// moves it there, so it need not be as far as a loss under way; a fiftieth of the supply,
// as for [work.storms].
func (w *work) leastAtRest() float64 { return math.Max(0.02*w.ref, 2*w.tol) }

// lostSteps lists the bins to which the reading steps from the one before as no shaft
// does.
func (w *work) lostSteps() (out []int) {
	for i := 1; i < len(w.v); i++ {
		least := w.leastAtRest()
		if w.mayMove(i) || w.mayMove(i-1) || w.mayMove(min(i+1, len(w.v)-1)) {
			least = w.wildStep(i)
		}
		if math.Abs(w.v[i]-w.v[i-1]) > least && lapse(w.t[i], w.t[i-1]) <= missingRows*w.tr.Step {
			out = append(out, i)
		}
	}
	return out
}

// nowhere tells whether no wiper reads a level: it lies at a rail.
func (w *work) nowhere(v float64) bool { return v < bareRail*w.ref || v > (1-bareRail)*w.ref }

// staysIn measures the stays in a stretch and clear of it, by the bins of the losses and
// their usual size, V.
func (w *work) staysIn(band Interval, lost []int, size float64) (s sojourns) {
	margin := math.Max(w.leastAtRest(), w.resolution())
	in, lossy, next := false, false, 0
	last := math.Inf(-1) // s, of the losses so far
	// s of a visit until its first loss, from that to its last, and since.
	var wait, bad, after [2]float64
	for i := 1; i < len(w.v); i++ {
		class := 0
		// A loss at rest may be what made the control drive.
		if w.mayMove(max(0, indexAt(w.t, w.t[i]-turnsOver))) {
			class = 1
		}
		for next < len(lost) && lost[next] < i {
			next++
		}
		dt := w.t[i] - w.t[i-1]
		switch v := w.v[i]; {
		case w.nowhere(v) || dt > missingRows*w.tr.Step:
			dt = 0
		case v < band.From-margin || v > band.To+margin:
			if lossy {
				s.left++
				s.after, s.bad = plus(s.after, after), plus(s.bad, bad)
			} else {
				s.clean = plus(s.clean, wait)
			}
			in, lossy, wait = false, false, [2]float64{}
			// What is well before may have gone bad since then.
			if i > lost[0] && next < len(lost) && w.wouldShow(v, band, size) {
				s.away[class] += dt
			}
			continue
		default:
			in = in || v >= band.From && v <= band.To
		}
		if !in {
			continue
		}
		s.in[class] += dt
		if next < len(lost) && lost[next] == i {
			first := len(s.visits) == 0
			if !first && lapse(w.t[i], last) > lossesApart {
				s.lost[class]++
			}
			last = w.t[i]
			if !lossy {
				if !first {
					s.begun[class]++
					s.clean = plus(s.clean, wait)
					s.clean[class] += dt
				}
				lossy, bad, after = true, [2]float64{}, [2]float64{}
				s.visits = append(s.visits, Interval{w.t[i], w.t[i]})
			}
			bad, after = plus(bad, after), [2]float64{}
			s.visits[len(s.visits)-1].To = w.t[i]
		}
		if lossy {
			after[class] += dt
		} else {
			wait[class] += dt
		}
	}
	return s
}

// plus adds up times at rest and moving.
func plus(a, b [2]float64) [2]float64 { return [2]float64{a[0] + b[0], a[1] + b[1]} }

// wouldShow tells whether a loss of a size, V, in a stretch would show at a level: by a
// contact in the feed or the ground the reading falls in proportion to what it has.
func (w *work) wouldShow(v float64, band Interval, size float64) bool {
	at := band.Mid()
	return size*math.Min(1, math.Min(v/at, (w.ref-v)/(w.ref-at))) > w.leastAtRest()
}

// chance is that of all losses in the stretch for a contact that knows no place, whichever
// of two stories suits it better. Either it lets go by chance, each loss for itself: then
// each comes in the stretch with the share of the time that was spent there. Or it is bad
// for a while and good for a while: then a bad while begins where the good time is spent,
// so that it waits for a visit with the share that the times until the first losses are of
// all good time; and it ends within what is left of a visit after its last loss with the
// share that this is of the bad time. Rest and motion are asked apart, as what shakes a
// contact is the motor. The first loss showed the stretch, and tells nothing.
func (s *sojourns) chance() float64 {
	single, whiles := 1.0, 1.0
	for c := range s.lost {
		single *= shareOf(s.in[c], s.away[c], s.lost[c])
		whiles *= shareOf(s.clean[c], s.away[c], s.begun[c])
	}
	return math.Max(single, whiles*shareOf(s.after[1], s.bad[1], s.left))
}

// shareOf is the chance that n moments come in one time rather than in another, s.
func shareOf(in, other float64, n int) float64 {
	if n == 0 || !(other > 0) {
		return 1
	}
	return math.Pow(in/(in+other), float64(n))
}

func (f *Finding) stretchTitle(band string) string {
	return fmt.Sprintf("Bad contact in one stretch, read %s: there the reading leaps in each of %d visits, %.0f times in all, and never in %.1f s elsewhere.", band, f.Seen, f.value(MeasureLeaps), f.value(awayFromStretch))
}
