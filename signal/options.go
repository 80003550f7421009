package signal

import (
	"fmt"
	"math"
	"slices"
)

// Options say how a capture is read. The zero value lets the file decide.
type Options struct {
	// Source names the file in messages; "-" is standard input.
	Source string
	// Roles gives columns to roles by header name or 1-based number.
	Roles map[Role]string
	// Scale is an extra factor by role: 10 for a probe's x10, the V/A of a
	// current clamp, -1 for an inverted channel. For TimeRole it comes on top
	// of the unit that the file tells; where it tells none it is in s per
	// written number.
	Scale map[Role]float64
	// ScaleColumns are such factors by header name or 1-based number of a column; they hold
	// for the role that the column has. The time's is in Scale only.
	ScaleColumns map[string]float64
	// Rate is the sample rate in Hz of a file without times; 0 when none was
	// given.
	Rate float64
	// MaxBins bounds the memory: bins over all channels. 0 means 2 million.
	MaxBins int
	// Workers is the number of goroutines that parse. 0 means GOMAXPROCS.
	Workers int

	block int // size of a block in bytes; tests make it small
}

// defaultMaxBins keeps the reduced channels near 30 MB: a bin of one channel
// takes 12 bytes, and its share of the time axis less than that.
const defaultMaxBins = 2_000_000

func (o *Options) check() error {
	if o.Rate < 0 || math.IsNaN(o.Rate) || math.IsInf(o.Rate, 0) {
		return &OptionError{"rate", fmt.Sprintf("%g Hz: expected a positive sample rate", o.Rate)}
	}
	for r, f := range o.Scale {
		// The prefixes of the SI brochure from pico to tera: no column of a capture is further
		// off its unit, and times within them stay far from the ends of a float.
		if a := math.Abs(f); !(a >= 1e-12 && a <= 1e12) {
			return &OptionError{"scale", fmt.Sprintf("%s=%g: expected a factor such as 10 or 0.001, from 1e-12 to 1e12; where none is needed leave it out", r, f)}
		}
		if r == TimeRole && f < 0 {
			return &OptionError{"scale", fmt.Sprintf("time=%g: expected a positive factor", f)}
		}
	}
	// In role order, so that the message does not depend on map order.
	var roles []Role
	for r := range o.Roles {
		roles = append(roles, r)
	}
	slices.Sort(roles)
	for _, r := range roles {
		if o.Roles[r] == "" {
			return &OptionError{roleFlags[r], "expected a column name or number"}
		}
	}
	_, d := o.Roles[Drive]
	_, a := o.Roles[LeadA]
	_, b := o.Roles[LeadB]
	switch {
	case d && (a || b):
		return &OptionError{"drive", "the drive is one signed column or two leads: give --drive, or --lead-a and --lead-b"}
	case a != b:
		return &OptionError{"lead-a", "give --lead-a and --lead-b together: the drive is their difference"}
	}
	return nil
}
