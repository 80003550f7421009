package signal

import (
	"fmt"
	"math"
	"slices"
)

// driven tells whether the drive is settled, in whatever form.
func (a *assignment) driven() bool {
	return a.has(Drive) || a.has(Polarity) || a.has(LeadA) && a.has(LeadB)
}

// leastDrive is the lowest drive in V worth the name in a 12 V system, and
// far above the current in A of a small gear motor, stalled or not.
const leastDrive = 6.0

// values gives a channel as float64.
func (a *assignment) values(j int) []float64 {
	c := a.channel(j)
	v := make([]float64, len(c.mean))
	for i, x := range c.mean {
		v[i] = float64(x)
	}
	return v
}

// size is the largest value of a column in base units.
func (a *assignment) size(j int) float64 { return a.feat[j].size() * columnScale(&a.p.cols[j]) }

func (f *features) size() float64 { return max(math.Abs(f.min), math.Abs(f.max)) }

// driveAndCurrent settles two columns that switch together when one is of the
// size of a supply and the other behaves like its current.
func (a *assignment) driveAndCurrent(i, j int) bool {
	if a.size(i) < a.size(j) {
		i, j = j, i
	}
	if a.size(i) < leastDrive || a.size(j) > a.size(i)/2 || !currentLike(a.values(i), a.channel(j).mean) {
		return false
	}
	a.giveDrive(i, fmt.Sprintf("switches between levels; column %d follows it like a current", j+1))
	return true
}

// signAndCurrent settles two such columns when i holds nothing but -1, 0 and
// 1 and j, too small for a drive, behaves like the current that comes of it.
func (a *assignment) signAndCurrent(i, j int) bool {
	if !a.signOnly(i) || a.signOnly(j) || a.size(j) >= leastDrive || !currentLike(a.values(i), a.channel(j).mean) {
		return false
	}
	a.giveDrive(i, fmt.Sprintf("holds only -1, 0 and 1; column %d follows it like a current", j+1))
	return true
}

// driveByRelation looks for a column of both signs with which another column
// moves: an eased or pulsed drive has no clear levels, but its sign is the
// direction of the wiper.
func (a *assignment) driveByRelation() {
	js := a.candidates(func(j int, f *features) bool {
		return a.p.cols[j].kind == numberCol && !f.flat && f.min < -0.2*f.size() && f.max > 0.2*f.size()
	})
	best, second, at, moved := 0.0, 0.0, -1, -1
	for _, i := range js {
		d := a.values(i)
		for _, c := range a.chans {
			j := c.col
			if j == i || !a.free(j) || a.feat[j].flat || currentLike(d, c.mean) {
				continue
			}
			s := follow(d, c.mean)
			switch {
			case at >= 0 && i != at && s > best && a.smaller(at, i), at >= 0 && i != at && s <= best && a.smaller(i, at):
				// The current of the better candidate, or the drive of it.
				if a.smaller(at, i) {
					best, at, moved = s, i, j
				}
			case s > best:
				if i != at {
					second = best
				}
				best, at, moved = s, i, j
			case s > second && i != at:
				second = s
			}
		}
	}
	if at < 0 || best < 0.6 || second > 0.6*best {
		return
	}
	a.giveDrive(at, fmt.Sprintf("column %d moves the way of its sign (agreement %.2f)", moved+1, best))
}

// wiperMost is more than a wiper on a track fed with 5 V shows, with room for
// the error of an instrument.
const wiperMost = 5.8

// driveByReach takes the one column that reaches the supply of a 12 V system
// and comes back to ground while all others stay within a wiper's range: a
// drive of one direction that eases in has no clear levels and no sign.
func (a *assignment) driveByReach() {
	at := -1
	for _, j := range a.candidates(func(j int, f *features) bool { return a.p.cols[j].kind == numberCol && f.valid > 0 }) {
		f := a.feat[j]
		if q := a.p.cols[j].unit.q; q != volts && q != noQuantity {
			continue
		}
		switch s := columnScale(&a.p.cols[j]); {
		case f.size()*s <= wiperMost:
		case at >= 0 || f.max*s < 9 || f.max*s > rawCountsMax || f.median*s > 9 && f.near(9, rawCountsMax, 0.5, s) || a.share(j, 0, 0.05) < 0.02 || a.share(j, 0.9, 2) < 0.02:
			return
		default:
			at = j
		}
	}
	if at >= 0 && (a.has(Feedback) || len(a.candidates(func(j int, f *features) bool { return a.p.cols[j].kind == numberCol })) > 1) {
		a.giveDrive(at, "the only column between ground and the supply; no other leaves a wiper's range")
	}
}

// share is how much of a column lies between two parts of its size.
func (a *assignment) share(j int, lo, hi float64) float64 {
	n, in, size := 0, 0, a.feat[j].size()
	for _, x := range a.channel(j).mean {
		if x != x {
			continue
		}
		n++
		if s := math.Abs(float64(x)) / size; s >= lo && s <= hi {
			in++
		}
	}
	return float64(in) / float64(max(1, n))
}

// smaller tells whether column i behaves like the current of column j.
func (a *assignment) smaller(i, j int) bool {
	return a.size(j) >= leastDrive && a.size(i) < a.size(j)/2 && !a.signOnly(i) && currentLike(a.values(j), a.channel(i).mean)
}

// signOnly tells whether a column holds nothing but -1, 0 and 1, which no
// current does, and no drive in volts either.
func (a *assignment) signOnly(j int) bool {
	c, f, ch := &a.p.cols[j], a.feat[j], a.channel(j)
	if c.kind != numberCol || ch == nil || !a.inVolts(j) || columnScale(c) != 1 || !unitLevels(f) {
		return false
	}
	lo, hi := ch.min, ch.max // of rows; means of bins lie between
	if lo == nil {
		lo, hi = ch.mean, ch.mean
	}
	for i := range lo {
		for _, x := range [2]float32{lo[i], hi[i]} {
			if x == x && x != 0 && x != 1 && x != -1 {
				return false
			}
		}
	}
	return true
}

// larger finds the column whose current column j seems to be, or -1.
func (a *assignment) larger(j int) int {
	for _, k := range a.candidates(func(k int, f *features) bool { return k != j && a.p.cols[k].kind == numberCol && !f.flat }) {
		if a.smaller(j, k) {
			return k
		}
	}
	return -1
}

// currentByRelation takes what flows only while the motor is driven as its
// current.
func (a *assignment) currentByRelation() {
	d := a.driveValues()
	if d == nil {
		return
	}
	js := a.candidates(func(j int, f *features) bool {
		q := a.p.cols[j].unit.q
		return a.p.cols[j].kind == numberCol && !f.flat && (q == noQuantity || q == volts) && !a.signOnly(j) && currentLike(d, a.channel(j).mean)
	})
	if !a.has(Feedback) && len(js) == len(a.candidates(func(j int, f *features) bool { return a.p.cols[j].kind == numberCol })) {
		return // a wiper that rests at an end of its track may look the same
	}
	for _, j := range js {
		if a.mayBeLead(j, d) {
			a.reason[j] = "may be the other lead, lifted a little while driven, or a current; name it with --lead-b or --current"
			continue
		}
		if len(js) == 1 && !a.has(Current) && a.p.cols[j].unit.q == noQuantity {
			a.give(Current, j, "near zero at rest, and with the sign of the drive")
			return
		}
		a.reason[j] = "follows the drive like a current; name it with --current if it is one"
	}
}

// mayBeLead tells whether an unnamed column can be the second lead of a drive
// that was read from the first alone: one that is driven one way only, with
// the second held at ground, which the motor's current lifts by a percent.
func (a *assignment) mayBeLead(j int, d []float64) bool {
	i, ok := a.col[Drive]
	if !ok || a.byFlag[Drive] || a.p.cols[i].name != "" && !isChannelName(a.p.cols[i].name) {
		return false
	}
	lo, hi := 0.0, 0.0
	for _, x := range d {
		lo, hi = min(lo, x), max(hi, x)
	}
	s := columnScale(&a.p.cols[i])
	return hi*s >= leastDrive && lo > -0.15*hi && a.inVolts(j) && a.size(j) < 0.03*hi*s
}

// currentLike tells whether v is near zero whenever d is, and has its sign,
// or always the same sign, whenever d drives. A copy of the drive, in a fixed
// proportion to it, is not a current: that depends on the load.
func currentLike(d []float64, v []float32) bool {
	top := 0.0
	for _, x := range d {
		if x == x {
			top = max(top, math.Abs(x))
		}
	}
	var rest, on, ratio []float64
	along, against := 0, 0
	stride := max(1, len(d)/5000)
	for i := 0; i < len(d); i += stride {
		x := float64(v[i])
		if x != x || d[i] != d[i] {
			continue
		}
		switch {
		case math.Abs(d[i]) < 0.1*top:
			rest = append(rest, math.Abs(x))
		case math.Abs(d[i]) > 0.5*top:
			on = append(on, math.Abs(x))
			ratio = append(ratio, x/d[i])
		}
	}
	if top == 0 || len(rest) < 5 || len(on) < 5 {
		return false
	}
	slices.Sort(rest)
	slices.Sort(on)
	largest := on[len(on)*98/100]
	positive := 0
	driven := 0
	for i := 0; i < len(d); i += stride {
		x := float64(v[i])
		if math.Abs(d[i]) <= 0.5*top || !(math.Abs(x) > 0.1*largest) {
			continue
		}
		driven++
		if x > 0 {
			positive++
		}
		if x > 0 == (d[i] > 0) {
			along++
		} else {
			against++
		}
	}
	// The brush noise and the offset of a clamp leave a little at rest.
	if rest[len(rest)/2] > 0.08*largest || on[len(on)/2] < 0.05*largest || driven < 5 {
		return false
	}
	oneWay := max(along, against)*10 >= driven*9 || positive*10 >= driven*9
	slices.Sort(ratio)
	lo, mid, hi := ratio[len(ratio)/10], ratio[len(ratio)/2], ratio[len(ratio)*9/10]
	copied := math.Abs(hi-lo) < 0.01*math.Abs(mid)
	return oneWay && !copied
}

// stallsLast tells whether a column without a name or unit that says what it is, too small
// for a drive in volts, behaves like the current of a motor that runs into its stops: run
// after run of one sign, low at first and several times as high at the end. A drive that
// is turned down goes down towards its target; a share of the full drive ends at 1.
func (a *assignment) stallsLast(j int) bool {
	const (
		none    = 0.04 // of the largest: nothing flows
		running = 0.5  // of it at most; a motor with its door draws up to half of what it draws held
		held    = 0.7  // and more; brushes and heat take a tenth or two
		least   = 8    // rows of a run that show both
	)
	f, c := a.feat[j], &a.p.cols[j]
	if c.kind != numberCol || c.unit.q != noQuantity || f.size() >= leastDrive || f.size() == 1 {
		return false
	}
	ending, other := 0, 0
	x := a.values(j)
	for i := 0; i < len(x); {
		k := i
		for k < len(x) && math.Abs(x[k]) > none*f.size() && x[k]*x[i] > 0 {
			k++
		}
		if n := k - i; n >= least {
			early, late := math.Abs(middle(x[i+n/8:i+n/2])), math.Abs(middle(x[k-max(2, n/10):k]))
			switch {
			case late > held*f.size() && early < running*late:
				ending++
			case early > running*f.size():
				other++
			}
		}
		i = max(k, i+1)
	}
	return ending >= 2 && ending > other
}

// currentOrDrive asks for what a column is that may be either.
func (a *assignment) currentOrDrive(j int) error {
	return &RoleError{File: a.p.file, Role: Drive,
		Msg:  fmt.Sprintf("%s could be the drive or the motor's current: in most runs it is low first and several times as high at the end, as the current of a motor that runs into a stop is, and nothing names it", a.p.columnName(j)),
		Hint: fmt.Sprintf("name the column, or settle it with --%s %d (the drive) or --%s %d (the current, beside a logged drive)", roleFlags[Drive], j+1, roleFlags[Current], j+1)}
}

// middle is the median of a few values.
func middle(x []float64) float64 {
	s := slices.Sorted(slices.Values(x))
	return s[len(s)/2]
}
