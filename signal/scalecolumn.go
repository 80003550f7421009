package signal

import (
	"fmt"
	"maps"
	"slices"
)

// scaleByColumn turns the factors that were given by a column's name or number into those of
// the roles that the columns have got.
func (a *assignment) scaleByColumn(o *Options) error {
	if len(o.ScaleColumns) == 0 {
		return nil
	}
	scale := maps.Clone(o.Scale)
	if scale == nil {
		scale = map[Role]float64{}
	}
	for _, name := range slices.Sorted(maps.Keys(o.ScaleColumns)) {
		f := o.ScaleColumns[name]
		j, err := a.p.findColumn("scale", name)
		if unknown, ok := err.(*RoleError); ok {
			unknown.Hint = "roles are time, drive, lead-a, lead-b, feedback, reference, supply, current, command; " + unknown.Hint
			return unknown
		}
		role := a.role[j]
		if a.p.time.mode != timeCount && j == a.p.time.col {
			return &OptionError{"scale", fmt.Sprintf("%s=%g: this column is the time; give the factor as time=%g", name, f, f)}
		}
		if role == Polarity {
			role = Drive // the factor of a drive holds for what is its direction too
		}
		if role == Feedback && f < 0 {
			return &OptionError{"scale", fmt.Sprintf("%s=%g: a sensor that reads the other way round needs no factor; leave the minus out", name, f)}
		}
		if role == Unused {
			a.p.note("scale-unused", "--scale %s=%g is not used: the column has no role", name, f)
			continue
		}
		if old, told := scale[role]; told && old != f {
			return &OptionError{"scale", fmt.Sprintf("%s=%g: the %s has the factor %g already", name, f, role, old)}
		}
		scale[role] = f
	}
	o.Scale = scale
	return o.check()
}
