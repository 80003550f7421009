package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"

	"threewire/analyze"
	"threewire/fixtures"
)

// judgeAll judges n cases on all cores. Each worker holds the captures of one
// case at a time; the outcomes come back in the order of the cases. It ends
// early when the context does.
func judgeAll(ctx context.Context, n int, judge func(i int) outcome) ([]outcome, error) {
	out := make([]outcome, n)
	next := make(chan int)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				out[i] = judge(i)
			}
		})
	}
	for i := range n {
		select {
		case next <- i:
			continue
		case <-ctx.Done():
		}
		break
	}
	close(next)
	wg.Wait()
	return out, ctx.Err()
}

// judge makes the captures of a case, examines each and judges them together.
// The analysis is told what a technician would tell it: whether the actuator
// was uncoupled, and nothing else.
func judge(t *task, findings bool) outcome {
	last := t.specs[len(t.specs)-1]
	o := outcome{Range: last.Range.String(), Kind: t.kind, Fault: string(last.Fault), Severity: last.Severity, Seed: last.Seed, Captures: len(t.specs)}
	var truths []fixtures.Truth
	var captures []*analyze.Capture
	for _, s := range t.specs {
		made, err := fixtures.Make(s)
		if err != nil {
			o.Error = err.Error()
			return o
		}
		opt := analyze.Defaults()
		opt.Free = s.Free
		c, err := analyze.Examine(made.Trace(), opt)
		if err != nil {
			o.Error = err.Error()
			return o
		}
		truths = append(truths, made.Truth)
		captures = append(captures, c)
	}
	o.askTruth(t.kind, truths)
	o.take(&analyze.Judge(captures...).Verdict)
	if t.kind == single || t.kind == extra {
		o.measure(&truths[0], captures[0])
	}
	if findings {
		o.keepFindings(captures)
	}
	return o
}

// take takes over what was said.
func (o *outcome) take(v *analyze.Verdict) {
	o.Said, o.Probability = component(v.Conclusion), v.Probability
	o.Likeliest = component(v.Chances[0].Fault)
	o.Chances = map[string]float64{}
	for _, c := range v.Chances {
		o.Chances[component(c.Fault)] = c.Probability
	}
	o.Part = v.Part
	for _, c := range v.PartChances {
		if c.Part == v.Part {
			o.PartProbability = c.Probability
		}
	}
}

// keepFindings keeps what was found, to list it.
func (o *outcome) keepFindings(captures []*analyze.Capture) {
	for _, c := range captures {
		for _, f := range c.Findings {
			f.Places = nil
			o.findings = append(o.findings, f)
		}
	}
}

// askTruth takes over what is true of the case as a whole.
func (o *outcome) askTruth(kind string, truths []fixtures.Truth) {
	t := &truths[len(truths)-1]
	if kind == pair {
		t = &truths[0]
	}
	o.Component, o.Variant, o.Controller, o.Instrument = t.Component, t.Variant, t.Controller, t.Instrument
	o.Duration, o.RateHz, o.Bits = t.Duration, t.RateHz, t.Front.Bits
	o.Noise = t.Front.Resolution / (t.Shown.High - t.Shown.Low)
	o.Decidable, o.Acceptable, o.Why = t.Decidable, t.Acceptable, t.Why
	switch {
	case kind == pair:
		o.Decidable, o.Acceptable, o.Why = t.Paired.Decidable, t.Paired.Acceptable, t.Paired.Why
	case kind == later && t.Component == fixtures.None && !truths[0].Decidable:
		// A healthy actuator is cleared only if nothing in either hesitates.
		o.Decidable, o.Why = false, truths[0].Why
	}
}

// keep writes the captures of a case and their truths into a directory.
func (t *task) keep(dir string) error {
	for i, s := range t.specs {
		c, err := fixtures.Make(s)
		if err != nil {
			return err
		}
		name := filepath.Join(dir, fmt.Sprintf("%s-%s-%d-%d", s.Range, s.Fault, s.Seed, i+1))
		if err := writeFile(name+".csv", func(w io.Writer) error { return c.WriteCSV(w, "plain") }); err != nil {
			return err
		}
		if err := writeFile(name+".truth.json", c.Truth.WriteJSON); err != nil {
			return err
		}
	}
	return nil
}

// writeFile makes a file and lets write fill it.
func writeFile(name string, write func(io.Writer) error) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	err = write(f)
	if e := f.Close(); err == nil {
		err = e
	}
	return err
}
