package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"threewire/fixtures"
)

// mostSeeds is as many seeds as are tried for a capture that can be decided: where none
// of so many can, another seed is hardly the remedy.
const mostSeeds = 50

// nextDecidable makes the capture of the next seed whose capture alone can be decided;
// first is the truth of one that cannot.
func nextDecidable(ctx context.Context, spec fixtures.Spec, first *fixtures.Truth) (*fixtures.Capture, error) {
	for range mostSeeds {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		spec.Seed++
		c, err := fixtures.Make(spec)
		if err != nil || c.Truth.Decidable {
			return c, err
		}
	}
	return nil, fmt.Errorf("no capture of the seeds %d to %d can be decided alone, the first for this: %s; another --severity, --controller or --instrument may help",
		first.Seed, spec.Seed, first.Why)
}

// sheetName is the answer sheet that belongs to a capture.
func sheetName(path string) string { return trimCaptureExt(path) + ".answer.txt" }

// writeSheet writes for a trainer what is wrong in a simulated capture.
func writeSheet(w io.Writer, t *fixtures.Truth, path string) error {
	var b strings.Builder
	line := func(name, text string) {
		if text != "" {
			wrap(&b, fmt.Sprintf("%-14s", name), strings.Repeat(" ", 14), text)
		}
	}
	fmt.Fprintf(&b, "Answer to %s\n\n", filepath.Base(path))
	line("Fault", fmt.Sprintf("%s, severity %g", t.Fault, t.Severity))
	line("", t.About)
	line("Here", t.Variant)
	line("Component", t.Component)
	line("Part", t.Part)
	line("Where", strings.Join(wherein(t), "; "))
	line("Right answers", strings.Join(rightAnswers(t), ", "))
	line("Because", t.Why)
	if !t.Decidable && t.Paired.Decidable {
		line("", "With the "+otherRun(t)+" it can be decided: "+t.Paired.Why+".")
	}
	line("Taken", fmt.Sprintf("by %s with %s, %.4g s, seed %d", t.Controller, t.Instrument, t.Duration, t.Seed))
	_, err := io.WriteString(w, b.String())
	return err
}

// otherRun is the capture that makes a pair with that of the truth.
func otherRun(t *fixtures.Truth) string {
	if t.Free {
		return "coupled run beside it (the same flags without --free)"
	}
	return "uncoupled run beside it (the same flags with --free)"
}

// rightAnswers are what a careful reader of the capture may say.
func rightAnswers(t *fixtures.Truth) []string {
	var out []string
	for _, a := range t.Acceptable {
		if a == "none" {
			a = "no fault"
		}
		out = append(out, a)
	}
	if !t.Decidable {
		out = append(out, "cannot tell from this capture")
	}
	return out
}

// wherein says at which levels and times a fault shows.
func wherein(t *fixtures.Truth) []string {
	var out []string
	for _, s := range t.DeadSpots {
		out = append(out, fmt.Sprintf("%s from %.2f to %.2f V, shown in %d of %d passes", s.Kind, s.FromVolts, s.ToVolts, s.Shown, s.Passes))
	}
	if j := t.Jam; j != nil {
		out = append(out, fmt.Sprintf("object at %.2f V, blocks the %s from %.1f s on, touched %s", j.Volts, j.Blocks, j.From, plural(j.Touched, "time")))
	}
	if z := t.Binding; z != nil {
		out = append(out, fmt.Sprintf("drags from %.0f to %.0f %% of the travel, feedback %s: %.0f %% of the speed lost", z.FromPercent, z.ToPercent, z.Direction, 100*z.Slowdown))
	}
	if h := t.Hunting; h != nil {
		out = append(out, fmt.Sprintf("hunts at the %s end from %.1f to %.1f s, %.2g Hz", h.End, h.From, h.To, h.Hz))
	}
	if d := t.Drift; d != nil {
		out = append(out, fmt.Sprintf("reading at the low stop %+.3f V, at the high stop %+.3f V from first visit to last", d.Low.Change, d.High.Change))
	}
	if d := t.DropOuts; d != nil {
		out = append(out, fmt.Sprintf("%s of the %s line from %.1f s on, %.2g s in all", plural(d.Count, "opening"), d.Line, d.First, d.Total))
	}
	if h := t.Heat; h != nil && h.End-h.Start > 20 { // less slows no motor visibly
		out = append(out, fmt.Sprintf("winding from %.0f to %.0f degrees C", h.Start, h.End))
	}
	if t.Slips > 0 {
		out = append(out, plural(t.Slips, "slip"))
	}
	return out
}
