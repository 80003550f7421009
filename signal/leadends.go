package signal

import "slices"

// What tells leads whose channels both end below the motor's volts.
const (
	// emptyBattery is what a 12 V battery still has, in V, when it counts as empty:
	// 1.75 V a cell, the usual end of its discharge. A channel that ends higher hides
	// nothing that matters.
	emptyBattery = 10.5
	// clipScatter is the least number of readings that a lead has while it is low and the
	// motor runs: the motor's current comes through both switches of a bridge, so what
	// scatters at one of them scatters at the other, unless its channel ends there.
	clipScatter = 5
)

// endAtOne marks as over the range a lead that stands at its highest value exactly
// whenever it is high, and goes up and down by the converter's steps where it is low and
// the other lead drives. endLeads needs one lead that goes higher; channels that are set
// alike end alike.
func endAtOne(lead, other *Series) {
	if lead.Unit != "V" || other.Unit != "V" {
		return
	}
	top := lead.Stats.Max
	if !(top >= leastDrive/2) || top >= emptyBattery {
		return
	}
	on, at := 0, 0
	var low []float32
	for i, x := range lead.Mean {
		switch y := float64(other.Mean[i]); {
		case float64(x) > 0.8*top:
			on++
			if float64(x) == float64(float32(top)) {
				at++
			}
		case float64(x) < 0.2*top && y > 0.8*other.Stats.Max:
			low = append(low, x)
		}
	}
	if at < clipRows || float64(at) < clipExact*float64(on) || len(low) < clipRows {
		return
	}
	// Edges fall into a row now and then: of the readings, the inner four fifths.
	slices.Sort(low)
	low = slices.Compact(low[len(low)/10 : len(low)-len(low)/10])
	if len(low) >= clipScatter {
		lead.Stats.Over = max(lead.Stats.Over, int64(at))
	}
}
