package main

import (
	"testing"

	"github.com/spf13/pflag"
)

// A supply is told where the flag is given, also one of as many volts as are usual.
func TestReferenceVoltsTold(t *testing.T) {
	for _, c := range []struct {
		args  []string
		volts float64
		told  bool
	}{
		{nil, 5, false},
		{[]string{"--reference-volts", "5"}, 5, true},
		{[]string{"--reference-volts=3.3"}, 3.3, true},
	} {
		fs := pflag.NewFlagSet("", pflag.ContinueOnError)
		f := addJudgeFlags(fs)
		if err := fs.Parse(c.args); err != nil {
			t.Fatal(err)
		}
		if o, err := f.options(); err != nil || o.ReferenceVolts != c.volts || o.ReferenceTold != c.told {
			t.Errorf("%v: %g V, told %t, %v", c.args, o.ReferenceVolts, o.ReferenceTold, err)
		}
	}
}
