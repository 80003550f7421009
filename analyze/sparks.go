package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// spike is a short departure of the reading from what its neighbours say.
type spike struct {
	first, last int     // bins [first, last)
	base, off   float64 // V: the neighbours' median, and the departure from it
	double      bool    // longer by one row than one alone
}

// longestSpike is how long interference lasts at most, in s: sparks of the
// brushes and switching take well under a millisecond, and an instrument's
// input filter stretches them (common practice, no source).
const longestSpike = 0.003

// findSpikes lists departures beyond tol that are over within [longestSpike]
// or one row.
func (w *work) findSpikes() []spike {
	long := max(1, min(12, w.rows(longestSpike)))
	half := max(2, 2*long)
	var win sortedWindow
	var out []spike
	n := len(w.v)
	local := w.localTolerance()
	for i := 0; i < n; {
		mid := win.median(w.v, max(0, i-half), min(n, i+half+1))
		off := w.v[i] - mid
		if math.Abs(off) <= w.tol || math.Abs(off) <= local(i) {
			i++
			continue
		}
		j := i + 1
		for j < n && j-i <= long+1 && math.Abs(w.v[j]-mid) > w.tol && (w.v[j]-mid)*off > 0 {
			if math.Abs(w.v[j]-mid) > math.Abs(off) {
				off = w.v[j] - mid
			}
			j++
		}
		// Two that fall together are looked at again where there are many.
		if j-i <= long+1 {
			out = append(out, spike{i, j, mid, off, j-i > long})
		}
		i = j
	}
	return out
}

// localTolerance gives, at a bin, the tolerance of the noise about it where that is
// twice what it usually is, driven or at rest: where the reading is noisy for a while,
// what stays within that noise is no spike.
func (w *work) localTolerance() func(i int) float64 {
	block := max(32, w.rows(0.25))
	scatter := make([]float64, len(w.v)/block+1)
	driven := make([]bool, len(scatter))
	var usual [2][]float64
	for b := range scatter {
		// Blocks overlap by half to either side.
		from, to := max(0, b*block-block/2), min(len(w.v), b*block+3*block/2)
		scatter[b] = w.scatterIn(from, to)
		n := 0
		for _, p := range w.d.pol[from:to] {
			n += int(p * p)
		}
		k := 0
		if driven[b] = 2*n > to-from; driven[b] {
			k = 1
		}
		usual[k] = append(usual[k], scatter[b])
	}
	mid := [2]float64{medianOf(usual[0]), medianOf(usual[1])}
	return func(i int) float64 {
		k := 0
		if driven[i/block] {
			k = 1
		}
		if s := scatter[i/block]; s > 2*mid[k] {
			return w.lim.NoiseSigmas * s
		}
		return 0
	}
}

// dropSparks takes interference out of the reading: what comes in the same row
// as a disturbance of the drive (see dropShared), single rows at both ends of the
// channel (see dropEnds), and spikes to both sides
// alike, of like size, all over the travel. A contact or a track that fails
// goes to one level, so the spikes of the rarer sign show how far interference
// reaches; what goes further stays.
func (w *work) dropSparks() {
	w.dropEnds()
	all := w.findSpikes()
	w.dropStrays(w.dropShared(all, w.dropBothSides(all)))
}

// sparksNote says what of the spikes to both sides, which reach so far, was left out: where
// one driven reading in twenty is one, they are no single ones but a noise, and scatter is
// that of the driven readings.
func (w *work) sparksNote(all []spike, n int, reach, scatter float64) string {
	const noise = 0.05
	driven, hit, rest := 0, 0, 0
	for _, p := range w.d.pol {
		driven += int(p * p)
	}
	for _, s := range all {
		if w.d.pol[s.first] == 0 {
			rest++
		} else {
			hit++
		}
	}
	if float64(hit) < noise*float64(driven) || rest > hit/20 {
		return fmt.Sprintf("%d single spikes to both sides, of up to %s or so, all over the travel, were taken for interference and left out", n, amount(reach, w.unit()))
	}
	return fmt.Sprintf("while it is driven the reading scatters to both sides, by about %s (root mean square) and up to %s or so, all over the travel, and hardly at rest: taken for interference and left out",
		amount(scatter, w.unit()), amount(reach, w.unit()))
}

// drivenScatter is how far the driven readings lie off the line through their neighbours,
// root mean square, by second differences.
func (w *work) drivenScatter() float64 {
	sum, n := 0.0, 0
	for i := 1; i+1 < len(w.v); i++ {
		if w.d.pol[i-1] != 0 && w.d.pol[i] != 0 && w.d.pol[i+1] != 0 {
			d := w.v[i-1] - 2*w.v[i] + w.v[i+1]
			sum, n = sum+d*d/6, n+1
		}
	}
	return math.Sqrt(sum / math.Max(1, float64(n)))
}

// dropBothSides takes out the spikes that reach no further to one side than
// to the other, and returns the others.
func (w *work) dropBothSides(all []spike) (left []spike) {
	reach := w.interference(all)
	if reach == 0 {
		return all
	}
	// Where there are many, their tail reaches further now and then; what then
	// still counts is a level that is gone to more than once.
	few, doubles := 0, 0
	var beyond []float64
	for _, s := range all {
		if s.double {
			doubles++
		}
		if s.off > 0 {
			few++
		}
		if math.Abs(s.off) > reach {
			beyond = append(beyond, s.base+s.off)
		}
	}
	few = min(few, len(all)-few)
	many := len(all) >= 10 && 10*few >= 3*len(all)
	// One in a while falls on the edge between two rows.
	split := 4*doubles <= len(all)
	alone := func(s spike) bool {
		n := 0
		for _, v := range beyond {
			if math.Abs(v-s.base-s.off) < math.Max(w.tol, 0.02*w.ref) {
				n++
			}
		}
		return n < 2
	}
	scatter := w.drivenScatter()
	w.v = slices.Clone(w.v)
	n := 0
	for _, s := range all {
		if math.Abs(s.off) > reach && !(many && alone(s)) || s.double && (!many && !split || math.Abs(s.off) > reach) {
			left = append(left, s)
			continue
		}
		n++
		for i := s.first; i < s.last; i++ {
			w.v[i] = s.base
		}
	}
	w.notes = append(w.notes, w.sparksNote(all, n, reach, scatter))
	return left
}

// dropShared takes out of those left the spikes that come in the very row in
// which the drive is disturbed as well: a spark of the brushes reaches both
// wires at once, the track cannot reach the motor's. Spikes to a rail stay: a
// common ground that lets go disturbs both wires too.
func (w *work) dropShared(all, left []spike) []spike {
	if w.tr.DriveIsPolarity || w.d.pulsed || len(left) == 0 {
		return left
	}
	// The chance that the rows of a spike are disturbed by themselves.
	hit, rows := 0, 0
	for i := 0; i < len(w.v); i += 1 + len(w.v)/4000 {
		if off, ok := w.driveOff(i); ok {
			rows++
			if off {
				hit++
			}
		}
	}
	long := 0
	for _, s := range all {
		long += s.last - s.first
	}
	chance := math.Min(1, float64(long)/float64(len(all))*float64(hit+1)/float64(rows+2))
	rail := w.opt.RailBand * w.ref
	shared := func(s spike) bool {
		v := s.base + s.off
		for i := s.first; i < s.last && v > rail && v < w.ref-rail; i++ {
			if off, _ := w.driveOff(i); off {
				return true
			}
		}
		return false
	}
	n := 0
	for _, s := range all {
		if shared(s) {
			n++
		}
	}
	if n == 0 || stats.BinomialTail(n, len(all), chance) > w.lim.Significance {
		return left
	}
	w.v = slices.Clone(w.v)
	n = 0
	var rest []spike
	for _, s := range left {
		if !shared(s) {
			rest = append(rest, s)
			continue
		}
		n++
		for i := s.first; i < s.last; i++ {
			w.v[i] = s.base
		}
	}
	if n > 0 {
		w.notes = append(w.notes, fmt.Sprintf("%d short spikes of the reading came in the same row as a disturbance of the drive, and were left out as interference", n))
	}
	return rest
}

// mostStrays is the largest number of spikes that are looked at one by one.
const mostStrays = 30

// dropStrays takes out the few short spikes that go to no level. An open wire
// has one, a rail or its input's own, wherever the shaft is; a worn place has a
// place. What goes here to this height and there to that, up and down, or as
// far from the reading wherever that is, is interference on the instrument's
// wires.
func (w *work) dropStrays(left []spike) {
	var far []spike
	for _, s := range left {
		if math.Abs(s.off) > leastLoss*w.ref {
			far = append(far, s)
		}
	}
	n := len(far)
	if n == 0 || n > mostStrays {
		return
	}
	near := math.Max(3*w.noise+w.quantum/2, 0.01*w.ref)
	rail := max(near, 0.015*w.ref) // an open wire is pulled all the way
	up, level := 0, 0
	for _, s := range left {
		if s.off > 0 && !s.double {
			up++
		}
	}
	both := min(up, len(left)-up)
	var base, moving, size []float64
	for i, s := range far {
		if s.double {
			return // lasts longer than interference does
		}
		v := s.base + s.off
		base, size = append(base, s.base), append(size, math.Abs(s.off))
		if w.d.pol[s.first] != 0 {
			moving = append(moving, s.base)
		}
		same := v > -rail && v < rail && s.base > 2*rail || v > w.ref-rail && v < w.ref+rail && s.base < w.ref-2*rail
		for j, o := range far {
			same = same || i != j && math.Abs(o.base+o.off-v) < near && math.Abs(o.base-s.base) > 2*near
		}
		if same {
			level++
		}
	}
	small, large := extremes(size)
	lo, hi := extremes(base)
	from, to := extremes(w.v)
	// As far from the reading wherever that is, and up and down: no level.
	equal := n >= 3 && both > 0 && large < 1.1*small && hi-lo > 4*near
	if !equal {
		switch mlo, mhi := extremes(moving); {
		case 2*level > n || level > 0 && n == 1:
			return // to a level
		case len(moving) >= 3 && mhi-mlo < 0.15*(to-from), w.keepToPlace(far, base):
			return // at a place
		case n >= 3 && both == 0 && large > 1.3*small:
			return // to one side, as a contact goes
		case n >= 10 && 5*both < len(left):
			return
		}
	}
	w.v = slices.Clone(w.v)
	for _, s := range far {
		for i := s.first; i < s.last; i++ {
			w.v[i] = s.base
		}
	}
	w.notes = append(w.notes, fmt.Sprintf("short spikes that go to no level and come at no place (%d, up to %s) were taken for interference and left out", n, amount(large, w.unit())))
}

// driveOff tells whether the drive in a row departs from its neighbours by more
// than four deviations of its own scatter nearby; ok is false where it is not
// driven steadily.
func (w *work) driveOff(i int) (off, ok bool) {
	const half = 8
	d := &w.d
	if i < half || i+half >= len(d.mean) || d.pol[i] == 0 || d.pol[i-half] != d.pol[i] || d.pol[i+half] != d.pol[i] {
		return false, false
	}
	near := slices.Concat(d.mean[i-half:i], d.mean[i+1:i+half+1])
	mid := medianOf(near)
	// A disturbance that reaches the motor's own volts shows in percents.
	if math.Abs(d.mean[i]-mid) < 0.02*d.amp {
		return false, true
	}
	return math.Abs(d.mean[i]-mid) > 4*stats.MADScale*medianOf(fromMedian(near)), true
}

// interference is how far spikes reach that are interference, 0 if they are
// not: to both sides alike, and spread as the readings are.
func (w *work) interference(all []spike) float64 {
	var sign [2][]float64
	single := 0
	for _, s := range all {
		if s.double {
			continue
		}
		single++
		k := 0
		if s.off > 0 {
			k = 1
		}
		sign[k] = append(sign[k], math.Abs(s.off))
	}
	few := sign[0]
	if len(sign[1]) < len(few) {
		few = sign[1]
	}
	if len(few) < 3 || 5*len(few) < single {
		return 0
	}
	slices.Sort(few)
	// The largest but one: a single real departure to that side must not
	// vouch for others.
	reach := 1.5 * few[len(few)-2]
	var base, value []float64
	for _, s := range all {
		if math.Abs(s.off) <= reach {
			base, value = append(base, s.base), append(value, s.base+s.off)
		}
	}
	// A floating level in mid range is left to both sides as well, but it is
	// one level wherever the shaft is.
	if reach > 0.05*w.ref && squares(value) < 0.5*squares(base) {
		return 0
	}
	// A worn place sputters to both sides, but at its place: interference is
	// spread as the readings are, to half their middle range.
	// Or it comes at rest as well, where no track is worn; but a shaft that creeps in pulses
	// rests at the worn place too.
	middle := func(x []float64) float64 { return quantileOf(x, 0.85) - quantileOf(x, 0.15) }
	if middle(base) < 0.5*middle(w.v) && (!w.sparksAtRest(all, reach) || w.keepToPlace(all, base)) {
		return 0
	}
	return reach
}

// sparksAtRest tells whether spikes come at rest a third as often as under
// drive, and three times at least.
func (w *work) sparksAtRest(all []spike, reach float64) bool {
	var n, rows [2]float64
	state := func(i int) int {
		if w.d.pol[i] != 0 {
			return 1
		}
		return 0
	}
	for i := range w.v {
		rows[state(i)]++
	}
	for _, s := range all {
		if math.Abs(s.off) <= reach {
			n[state(s.first)]++
		}
	}
	return n[0] >= 3 && n[0]*rows[1] > n[1]*rows[0]/3
}

// sparkReach is the reach of interference in bins of many rows, where a spike
// shows in the extremes and hardly in the mean.
func (w *work) sparkReach(least float64) float64 {
	f := &w.tr.Feedback
	if w.tr.RowsPerBin <= 1 || len(f.Min) != len(w.v) {
		return 0
	}
	var all []spike
	for i, v := range w.v {
		if up := float64(f.Max[i]) - v; up > least {
			all = append(all, spike{first: i, last: i + 1, base: v, off: up})
		}
		if down := v - float64(f.Min[i]); down > least {
			all = append(all, spike{first: i, last: i + 1, base: v, off: -down})
		}
	}
	return w.interference(all)
}
