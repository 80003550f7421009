package analyze

import "math"

// heldToOneSide is the chance that a door holds worn gears to one side at every reversal
// and yet costs the shaft no twentieth of its speed either way (chosen, not derived).
const heldToOneSide = 0.1

const endsUncoupled = "Uncoupled, the reading waits at the actuator's own stops; on the door, which turns it round before them, it follows each reversal at once: the track ends there, rather than that gears have play."

// takeBackPlay weakens play that an uncoupled capture shows at its stops alone, beyond
// where the coupled one turns round, while there it follows each drive at once: gears
// that have play have it on the door as well, unless the door's weight or spring holds
// them to one side, which slows one way and speeds up the other. A track that ends before
// the actuator's own stops, and that the door never lets it come to the end of, waits like
// play at those stops, and in no reversal on the door.
func (u *uncoupling) takeBackPlay() {
	if u.coupled[Play] {
		return
	}
	for _, free := range u.captures {
		for i := range free.Findings {
			f := &free.Findings[i]
			if !free.Free || f.Kind != Play || len(f.Places) == 0 {
				continue
			}
			lost := f.value(MeasureLostTravel)
			for _, c := range u.captures {
				if !c.Free && c.Unit == free.Unit && f.beyond(c.Span) && c.followsAtOnce(lost/2) && c.evenWays() {
					u.own[Motor] += math.Log(heldToOneSide)
					u.own[DoorMechanism] += math.Log(heldToOneSide)
					u.deadEnds = true
					return
				}
			}
		}
	}
}

// beyond tells whether all of a finding's places lie outside of a travel.
func (f *Finding) beyond(travel Interval) bool {
	for _, p := range f.Places {
		if travel.Has(p.Volts.Mid()) {
			return false
		}
	}
	return true
}

// followsAtOnce tells whether the reading follows after each reversal, of which there are
// two each way at least, before the shaft can have gone so far at its own speed.
func (c *Capture) followsAtOnce(far float64) bool {
	var seen [2]int
	for k := 1; k < len(c.Moves); k++ {
		m := &c.Moves[k]
		if m.Direction == None || c.Moves[k-1].Direction != -m.Direction || m.Moving == 0 {
			continue
		}
		if m.Delay*math.Abs(m.End-m.Start)/m.Moving >= far {
			return false
		}
		seen[side(m.Direction)]++
	}
	return min(seen[0], seen[1]) >= 2
}

// evenWays tells whether it goes as fast the one way as the other, to a twentieth.
func (c *Capture) evenWays() bool {
	var rates [2][]float64
	for _, s := range c.Sweeps {
		rates[side(s.Direction)] = append(rates[side(s.Direction)], s.Rate)
	}
	down, up := medianOf(rates[0]), medianOf(rates[1])
	return math.Abs(up-down) < 0.05*math.Max(up, down)
}
