package main

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"slices"
	"sync"

	"threewire/analyze"
	"threewire/fixtures"

	"github.com/spf13/pflag"
)

// result is one capture judged.
type result struct {
	spec    fixtures.Spec
	truth   fixtures.Truth
	verdict analyze.Verdict
	capture *analyze.Capture
	err     error
}

// run returns the exit code: 0 when all floors hold, 1 when one does not, 2
// for wrong use.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	fs := pflag.NewFlagSet("accuracy", pflag.ContinueOnError)
	fs.SetOutput(stderr)
	seeds := fs.Int("seeds", 4, "captures for each fault, severity and range")
	first := fs.Uint64("first-seed", 1000, "first seed")
	ranges := fs.StringSlice("range", []string{"narrow", "wide"}, "parameter ranges")
	only := fs.StringSlice("fault", nil, "only these faults")
	hold := fs.Bool("floors", false, "fail when a figure is worse than recorded by more than its Wilson interval")
	list := fs.Bool("list", false, "list every wrong verdict with its findings")
	if err := fs.Parse(args); err != nil {
		return 2
	}
	severities := []float64{0.1, 0.3, 0.5, 0.7, 0.9}
	code := 0
	for _, name := range *ranges {
		rg := fixtures.Narrow
		switch name {
		case "wide":
			rg = fixtures.Wide
		case "narrow":
		default:
			fmt.Fprintf(stderr, "accuracy: --range %q is unknown, expected narrow or wide\n", name)
			return 2
		}
		var specs []fixtures.Spec
		for fi, f := range fixtures.Faults() {
			if len(*only) > 0 && !slices.Contains(*only, f.Name) {
				continue
			}
			for si, sev := range severities {
				for k := range *seeds {
					specs = append(specs, fixtures.Spec{Fault: fixtures.Fault(f.Name), Severity: sev, Range: rg,
						Seed: *first + uint64(100000*fi+1000*si+k)})
				}
			}
		}
		res := judgeAll(ctx, specs)
		fig := report(stdout, name, res)
		if *hold && below(stderr, name, fig) {
			code = 1
		}
		if *list {
			listWrong(stdout, res)
		}
	}
	return code
}

// judgeAll makes and judges the captures on all cores; order is kept.
func judgeAll(ctx context.Context, specs []fixtures.Spec) []result {
	out := make([]result, len(specs))
	next := make(chan int)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				out[i] = judge(specs[i])
			}
		})
	}
	for i := range specs {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	wg.Wait()
	return out
}

func judge(s fixtures.Spec) result {
	r := result{spec: s}
	c, err := fixtures.Make(s)
	if err != nil {
		r.err = err
		return r
	}
	r.truth = c.Truth
	o := analyze.Defaults()
	o.Free = s.Free
	r.capture, r.err = analyze.Examine(c.Trace(), o)
	if r.err != nil {
		return r
	}
	r.verdict = analyze.Judge(r.capture).Verdict
	return r
}

// said is the verdict's component in the words of the truth file.
func (r *result) said() string {
	if r.verdict.Conclusion == analyze.NoFault {
		return "none"
	}
	return r.verdict.Conclusion.String()
}

// right tells whether the verdict is one a careful reader may give.
func (r *result) right() bool {
	if r.said() == "cannot tell" {
		return !r.truth.Decidable
	}
	return slices.Contains(r.truth.Acceptable, r.said())
}

func listWrong(w io.Writer, res []result) {
	for i := range res {
		r := &res[i]
		if r.err != nil {
			fmt.Fprintf(w, "ERROR %s seed %d: %v\n", r.spec.Fault, r.spec.Seed, r.err)
			continue
		}
		if r.right() {
			continue
		}
		c := r.capture
		fmt.Fprintf(w, "WRONG %s sev %.1f seed %d range %s (%s, %s, %.0f Hz) decidable %v acceptable %v: said %s %.2f (best %s)\n", r.spec.Fault, r.spec.Severity, r.spec.Seed, r.spec.Range,
			r.truth.Controller, r.truth.Instrument, r.truth.RateHz, r.truth.Decidable, r.truth.Acceptable, r.said(), r.verdict.Probability, r.verdict.Chances[0].Fault)
		fmt.Fprintf(w, "    moves %d sweeps %d span %.2f..%.2f of %.2f..%.2f noise %.4f seen %.2f; why %s\n", len(c.Moves), len(c.Sweeps), c.Span.From, c.Span.To, r.truth.LowVolts, r.truth.HighVolts, c.Noise, 0.0, r.truth.Why)
		for _, f := range c.Findings {
			fmt.Fprintf(w, "    %-18s %.2f %s\n", f.Kind, f.Strength, f.Title)
		}
	}
}
