package signal

import "math"

// fullShare is how far from 1 the level of a drive may be that is a share of the full one: a
// channel's gain error, and what averaging takes (chosen, not derived). A motor does not turn on
// one volt.
const fullShare = 0.05

// unknownVolts tells why a drive or a lead is no volts as it was read, "" where it is: a
// converter's counts, a share of the full drive, or numbers that no 12 V system reaches. Leads in volts ten times too
// high are a probe's (probeScales), beyond that they are no volts either.
func (r *reducer) unknownVolts(s *Series, j int, most float64, o *Options) string {
	c := &r.p.cols[j]
	for _, role := range []Role{LeadA, LeadB, Drive} {
		if _, told := o.Scale[role]; told {
			return ""
		}
	}
	switch top := drivenLevel(sizes(s.Mean)); {
	case c.unit.q == counts:
		return "in counts"
	case c.unit.q == noQuantity && most == rawCountsMax && math.Abs(top-1) < fullShare:
		return "without a unit, and 1 where it is full: a share of the full drive"
	case c.unit.q == noQuantity && top > rawCountsMax, s.Unit == "V" && top > most:
		return "too high for the volts of a 12 V system"
	}
	return ""
}

// sizes are the readings of a channel without their signs.
func sizes(x []float32) []float32 {
	v := make([]float32, len(x))
	for i := range x {
		v[i] = float32(math.Abs(float64(x[i])))
	}
	return v
}

// toldVolts makes volts of counts to which the user gave a factor.
func toldVolts(s *Series, o *Options, roles ...Role) {
	for _, role := range roles {
		if _, told := o.Scale[role]; told && s.Unit == "counts" {
			s.Unit = "V"
		}
	}
}

// relativeDrive keeps of a drive that is no volts its direction and how hard it is driven
// beside its own level, as of a duty cycle.
func (r *reducer) relativeDrive(d Series, what, why string) Series {
	top := drivenLevel(sizes(d.Mean))
	if top > 0 {
		d = scaleSeries(d, 1/top)
	}
	d.Unit = ""
	r.p.note("drive-relative", "%s %s, so how strong the drive is in volts is not known, only its direction: give --scale drive=F with the volts of a 1 in the file", what, why)
	return d
}
