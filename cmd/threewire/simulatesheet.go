package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"threewire/analyze"
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
	help := "another --severity, --controller or --instrument may help"
	if what, _ := spec.NeedsMore(); what != "" {
		help = "it takes " + what
	}
	return nil, fmt.Errorf("no capture of the seeds %d to %d can be decided alone, the first for this: %s; %s",
		first.Seed, spec.Seed, first.Why, help)
}

// otherRunCommand is the command for the capture that makes a pair with the one written:
// the same actuator off its door, or on it. Of a name to write it makes one by its side.
func (s *simulation) otherRunCommand(seed uint64) string {
	words := []string{"threewire", "simulate"}
	for _, f := range s.given {
		switch f.Name {
		case "seed", "out", "free", "decidable", "force", "sheet":
		default:
			words = append(words, "--"+f.Name, shellWord(f.Value.String()))
		}
	}
	words = append(words, "--seed", fmt.Sprint(seed))
	stem, end := trimCaptureExt(s.out), "-coupled"
	if !s.spec.Free {
		words, end = append(words, "--free"), "-free"
	}
	return strings.Join(append(words, "--out", shellWord(stem+end+s.out[len(stem):])), " ")
}

// shellWord is a word of a command line as a shell takes it whole.
func shellWord(s string) string {
	if s != "" && !strings.ContainsFunc(s, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("_-./,:+", r))
	}) {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}

// sheetHead is what every answer sheet begins with.
const sheetHead = "Answer to "

// sheetName is the answer sheet that belongs to a capture.
func sheetName(path string) string { return trimCaptureExt(path) + ".answer.txt" }

// writeSheet writes for a trainer what is wrong in a simulated capture.
func writeSheet(w io.Writer, t *fixtures.Truth, path string) error {
	var b strings.Builder
	line := func(name, text string) {
		if text != "" {
			wrapTo(&b, usualWidth, fmt.Sprintf("%-14s", name), strings.Repeat(" ", 14), text)
		}
	}
	fmt.Fprintf(&b, sheetHead+"%s\n\n", filepath.Base(path))
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
		if a == fixtures.None {
			a = analyze.NoFault.String()
		}
		out = append(out, a)
	}
	if !t.Decidable {
		out = append(out, analyze.CannotTell.String())
	}
	return out
}
