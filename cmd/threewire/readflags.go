package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"threewire/signal"
)

// readFlags are the flags that say how a capture is read, shared by all
// commands that read one.
type readFlags struct {
	roles map[signal.Role]*string
	rate  float64
	scale []string
	fs    *pflag.FlagSet
}

// roleNames are the roles a user can name, by flag and by label of a form.
var roleNames = []struct {
	flag, label, usage string
	role               signal.Role
}{
	{"time", "Time", "column of the times", signal.TimeRole},
	{"drive", "Motor drive", "column of the signed motor drive, or of its polarity", signal.Drive},
	{"lead-a", "Motor lead A", "column of motor lead A against ground", signal.LeadA},
	{"lead-b", "Motor lead B", "column of motor lead B against ground", signal.LeadB},
	{"feedback", "Feedback", "column of the wiper feedback", signal.Feedback},
	{"reference", "Sensor reference", "column of the sensor reference", signal.Reference},
	{"supply", "Battery or supply", "column of the battery or supply voltage", signal.Supply},
	{"current", "Motor current", "column of the motor current", signal.Current},
	{"command", "Command", "column of what the controller wants of the drive, beside the drive itself", signal.Command},
}

// addReadFlags defines the flags on fs.
func addReadFlags(fs *pflag.FlagSet) *readFlags {
	f := &readFlags{roles: map[signal.Role]*string{}, fs: fs}
	for _, r := range roleNames {
		f.roles[r.role] = fs.String(r.flag, "", r.usage+" (header name or number from 1)")
	}
	fs.Float64Var(&f.rate, "rate", 0, "sample rate in `HZ`, when the file has no times")
	fs.StringArrayVar(&f.scale, "scale", nil, "extra factor `ROLE=FACTOR` or COLUMN=FACTOR, e.g. drive=10 for a x10 probe, current=10 for 10 A/V, drive=-1 for leads changed over, time=0.01 for numbers without a unit that count 10 ms")
	return f
}

// options checks the flags and turns them into reading options.
func (f *readFlags) options(source string) (signal.Options, error) {
	o := signal.Options{Source: source, Roles: map[signal.Role]string{}, Scale: map[signal.Role]float64{}, ScaleColumns: map[string]float64{}}
	for _, r := range roleNames {
		if f.fs.Changed(r.flag) {
			o.Roles[r.role] = *f.roles[r.role]
		}
	}
	if f.fs.Changed("rate") {
		// Written so that a NaN is refused too.
		if !(f.rate > 0) {
			return o, &signal.OptionError{Flag: "rate", Msg: fmt.Sprintf("%g Hz: expected a positive sample rate", f.rate)}
		}
		o.Rate = f.rate
	}
	for _, s := range f.scale {
		at := strings.LastIndexByte(s, '=') // the name of a column may hold one
		name := strings.TrimSpace(s[:max(0, at)])
		v, err := strconv.ParseFloat(strings.TrimSpace(s[at+1:]), 64)
		if name == "" || err != nil {
			return o, &signal.OptionError{Flag: "scale", Msg: fmt.Sprintf("%q: expected ROLE=FACTOR, e.g. drive=10, or COLUMN=FACTOR with the name or number of a column; roles are time, drive, lead-a, lead-b, feedback, reference, supply, current, command", s)}
		}
		role, ok := roleByFlag(name)
		if !ok {
			o.ScaleColumns[name] = v
			continue
		}
		if role == signal.Feedback && v < 0 {
			return o, &signal.OptionError{Flag: "scale", Msg: fmt.Sprintf("%q: a sensor that reads the other way round needs no factor, and volts below zero throughout are turned without one; leave the minus out", s)}
		}
		o.Scale[role] = v
	}
	return o, nil
}

func roleByFlag(s string) (signal.Role, bool) {
	for _, r := range roleNames {
		if strings.EqualFold(r.flag, s) || strings.EqualFold(strings.ReplaceAll(r.flag, "-", " "), s) {
			return r.role, true
		}
	}
	return signal.Unused, false
}
