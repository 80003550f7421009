package main

import (
	"fmt"

	"github.com/spf13/pflag"

	"threewire/analyze"
)

// judgeFlags are the flags that say how captures are judged, shared by all
// commands that judge one.
type judgeFlags struct {
	volts, rail float64
	profile     string
	whole       bool
	fs          *pflag.FlagSet
}

// addJudgeFlags defines the flags on fs.
func addJudgeFlags(fs *pflag.FlagSet) *judgeFlags {
	f := &judgeFlags{fs: fs}
	fs.Float64Var(&f.volts, "reference-volts", 5, "sensor supply in `V`, when no reference was logged")
	fs.Float64Var(&f.rail, "rail-band", 0.04, "`FRACTION` of the reference next to a rail that counts as open or shorted")
	fs.BoolVar(&f.whole, "whole", false, "take each file as one capture, also where a remark in it says that the actuator was uncoupled in between")
	return f
}

// addProfileFlag defines --profile too.
func (f *judgeFlags) addProfileFlag() {
	f.fs.StringVar(&f.profile, "profile", "", "`FILE` with what a known good actuator of this kind does (threewire profile makes one)")
}

// options checks the flags, reads the profile and turns them into options of
// judging.
func (f *judgeFlags) options() (o analyze.Options, err error) {
	o = analyze.Defaults()
	o.ReferenceVolts, o.RailBand, o.ReferenceTold = f.volts, f.rail, f.fs.Changed("reference-volts")
	o.Whole = f.whole
	switch {
	case !supplyVolts(f.volts):
		return o, fmt.Errorf("--reference-volts %g: expected a positive voltage up to %d", f.volts, mostVolts)
	case !(f.rail >= 0 && f.rail < 0.5):
		return o, fmt.Errorf("--rail-band %g: expected a fraction from 0 to 0.5", f.rail)
	case f.fs.Changed("profile"):
		o.Profile, err = readProfile(f.profile)
	}
	return o, err
}

// mostVolts is the most that can feed a sensor in a 12 V system, whose battery stands at
// 15 V while it is charged (common practice, no source): more is a slip of the finger.
const mostVolts = 16

// supplyVolts tells whether v can be a sensor's supply; NaN is none.
func supplyVolts(v float64) bool { return v > 0 && v <= mostVolts }
