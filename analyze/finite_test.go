package analyze

import (
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"testing"

	"threewire/analyze/nominal"
)

// notFinite lists the numbers in the exported fields of x that are infinite or none, by
// the way to them. Within the package a NaN may say "not known" (see ripple).
func notFinite(path string, x reflect.Value) (bad []string) {
	switch x.Kind() {
	case reflect.Float32, reflect.Float64:
		if v := x.Float(); math.IsInf(v, 0) || math.IsNaN(v) {
			bad = append(bad, fmt.Sprintf("%s is %v", path, v))
		}
	case reflect.Struct:
		for i := range x.NumField() {
			if f := x.Type().Field(i); f.IsExported() {
				bad = append(bad, notFinite(path+"."+f.Name, x.Field(i))...)
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range x.Len() {
			bad = append(bad, notFinite(fmt.Sprintf("%s[%d]", path, i), x.Index(i))...)
		}
	case reflect.Pointer, reflect.Interface:
		if !x.IsNil() {
			bad = notFinite(path, x.Elem())
		}
	}
	return bad
}

// Intervals that nothing widened are infinite both ways, and shares of nothing are no
// number: neither may leave Examine, in no field.
func TestExamineIsFinite(t *testing.T) {
	t.Parallel()
	p := goodProfile(t)
	makers := map[string]func(uint64) *draft{
		"never driven":   func(seed uint64) *draft { return newDraft(seed).run(0, 20) },
		"never moves":    func(seed uint64) *draft { d := newDraft(seed); d.rate = 0; return d.sweeps(2) },
		"one way only":   func(seed uint64) *draft { return newDraft(seed).run(12, 20) },
		"at a rail":      func(seed uint64) *draft { d := newDraft(seed).sweeps(2); clear(d.feed); return d },
		"one long stall": func(seed uint64) *draft { return newDraft(seed).run(12, 1).run(0, 1).run(12, 60) },
	}
	for name, c := range cases() {
		makers[name] = c.make
	}
	for _, name := range slices.Sorted(maps.Keys(makers)) {
		for _, free := range []bool{false, true} {
			for _, prof := range []*nominal.Profile{nil, p} {
				c := examineWith(t, makers[name](7), prof, free)
				for _, b := range notFinite("capture", reflect.ValueOf(c)) {
					t.Errorf("%s, free %t, profile %t: %s", name, free, prof != nil, b)
				}
			}
		}
	}
}

func TestNotFinite(t *testing.T) {
	t.Parallel()
	c := &Capture{Findings: []Finding{{TieP: math.NaN(), Places: []Occurrence{{Volts: noInterval()}}}}}
	if got := notFinite("c", reflect.ValueOf(c)); len(got) != 3 {
		t.Errorf("%q, want 3", got)
	}
}
