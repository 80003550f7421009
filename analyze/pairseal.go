package analyze

import (
	"fmt"
	"math"
	"slices"
)

// The last of the way into a stop, as shares of the span from it: nearer, a stop that
// gives bends the line; the outer half of it tells a seal, which is pressed over some
// way, from the last of a stop.
const (
	pressNear  = 0.01
	pressMid   = 0.03
	pressFar   = 0.05
	steadyNear = 0.2 // where no seal reaches, and the speed is the usual
	steadyFar  = 0.4
)

// A sound seal costs up to a quarter of the speed over the last of the way, see
// findTightStop, or more where it is soft, but then alike at both stops: the two are of
// one foam, pressed by one motor. Chosen, not derived: what is called pressed keeps less
// than two thirds of the speed next to the stop and less than four fifths further out,
// where the other stop leaves seven eighths; or less than two thirds where no sound seal
// reaches, see sealDepth.
const (
	pressedNear = 2. / 3
	pressedFar  = 0.8
	otherFar    = 7. / 8
	otherEasier = 1.5
)

// asSoundCounts is what an arrival still says that foam at one stop only would look like
// (chosen, not derived).
const asSoundCounts = 0.35

// arrival is how a door that is pressed into a stop slows its actuator: speeds over the
// last of the way over the usual, over the same uncoupled; NaN where not known.
type arrival struct {
	dir             Direction
	near, far, deep float64
	seen            int     // arrivals
	uneven          float64 // the fastest of them over the slowest
	short           float64 // share of the uncoupled travel that it stands short of it
}

// slows tells whether the shaft creeps up to the stop.
func (a *arrival) slows() bool {
	// What slows the shaft once may be a supply that dips; twice at one place, or
	// short of where it went uncoupled, is the place. A seal is as stiff each time.
	return a.near < pressedNear && a.far < pressedFar && (a.seen >= 2 || a.short > 2*pressNear) && a.uneven < 1.6
}

// besides tells whether it does so beyond what a sound seal does, by the other stop.
func (a *arrival) besides(other *arrival) bool {
	if other == nil {
		return a.deep < pressedNear
	}
	return other.near > otherEasier*a.near && other.far > otherFar || a.deep < pressedNear && other.deep > otherFar
}

// asSound tells whether a door that has foam at one of its stops only, as some have, could
// be as slow: within the depth that such foam is pressed to the shaft gets to where it
// runs to uncoupled, but for the thickness to which foam is pressed flat.
func (a *arrival) asSound() bool {
	const flat = 0.02 // of the travel, as what is said (chosen, not derived)
	return a.deep > otherFar && a.short < flat
}

// pressedAtStop compares the last of the way into each stop with what the uncoupled
// actuator does at the same readings. A seal that swelled, or a lip that folded over,
// takes the more of the motor's strength the further it is pressed, so the shaft creeps
// up to where it stands; a door's own stop ends a way that is even up to it, and the
// end of a track, or a reading that bends there, is in the uncoupled run as well.
func pressedAtStop(captures []*Capture) *aside {
	var worst *arrival
	for _, c := range captures {
		for _, x := range captures {
			if c.Free || !x.Free {
				continue
			}
			both := [2]*arrival{arriving(c, x, Down), arriving(c, x, Up)}
			for i, a := range both {
				if a != nil && a.slows() && a.besides(both[1-i]) && (worst == nil || a.near < worst.near) {
					worst = a
				}
			}
		}
	}
	if worst == nil {
		return nil
	}
	text := fmt.Sprintf("Over the last of the way %s it keeps %.0f %% of its speed with the door, which it has in full there uncoupled", worst.dir, 100*worst.near)
	if worst.short > 0.02 {
		text += fmt.Sprintf(", and stands %.0f %% of the travel short of where it runs to then", 100*worst.short)
	}
	sure, but := math.Min(0.95, (pressedFar-worst.near)/0.3), ""
	if worst.asSound() {
		sure *= asSoundCounts
		but = "; but a door with foam at one of its stops only would be as slow over so short a way, and it gets there"
	}
	a := newAside(FreeRun, shown{.008, .01, .05, .3, .015}, sure, text+".",
		"what takes the more strength the further it is pressed is a seal that swelled or folded over, or something soft at the end of the door's way; a weak motor would be slow before it"+but)
	return &a
}

// arriving measures it at one stop; nil where nobody knows.
func arriving(c, x *Capture, dir Direction) *arrival {
	k, ok := levelScale(x, c)
	i := slices.IndexFunc(c.Stops, func(s Stop) bool { return s.Extreme && s.Direction == dir })
	if !ok || i < 0 || !(c.Span.Width() > 0) || c.finest > pressNear*c.Span.Width() {
		return nil
	}
	stop, sign := c.Stops[i].Level, float64(dir)
	place := func(share float64) float64 { return stop - sign*share*c.Span.Width() }
	a := &arrival{dir: dir}
	over := func(from, to float64) float64 {
		return medianOf(c.relativeSpeeds(dir, place, from, to, 1)) / medianOf(x.relativeSpeeds(dir, place, from, to, k))
	}
	a.near, a.far, a.deep = over(pressMid, pressNear), over(pressFar, pressMid), over(sealDepth, pressFar)
	near := c.relativeSpeeds(dir, place, pressMid, pressNear, 1)
	if math.IsNaN(a.near) || math.IsNaN(a.far) || len(near) == 0 {
		return nil
	}
	a.seen, a.uneven = len(near), slices.Max(near)/slices.Min(near)
	end := x.Span.To
	if dir == Down {
		end = x.Span.From
	}
	a.short = sign * (k*end - stop) / (k * x.Span.Width())
	return a
}

// relativeSpeeds gives, of each move of one direction that came past, the speed between
// two shares of the way from a stop over the usual one of all of them. k is how many of
// the unit of the places make one of the capture's.
func (c *Capture) relativeSpeeds(dir Direction, place func(float64) float64, from, to, k float64) (out []float64) {
	var usual, here []float64
	for i := range c.paths {
		p := &c.paths[i]
		if p.dir != dir {
			continue
		}
		if s := p.over(place(steadyFar)/k, place(steadyNear)/k); s > 0 {
			usual = append(usual, (steadyFar-steadyNear)/s)
		}
		if s := p.over(place(from)/k, place(to)/k); s > 0 {
			here = append(here, (from-to)/s)
		}
	}
	if len(usual) == 0 {
		return nil
	}
	for _, v := range here {
		out = append(out, v/medianOf(usual))
	}
	return out
}
