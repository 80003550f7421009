package main

import (
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"threewire/fixtures"
)

const simulateUsage = `Usage: threewire simulate [flags] --out FILE

Makes a capture whose fault is known, for teaching and for trying the other
commands. Everything in it is invented: a simulated motor, gear train, door,
controller and instrument. Beside the capture goes its truth, NAME.truth.json.
"--out -" writes the capture to standard output, without truth file; a FILE
that ends in .gz is compressed. Not every capture can be decided: --decidable
takes the next seed whose capture can, and says the command for the run of the
same actuator off its door (--free with the first --seed would be another one).
--sheet writes the truth in words too, NAME.answer.txt.

  threewire simulate --list
  threewire simulate --fault jam --out left-temperature-door.csv
  threewire simulate --fault jam --decidable --sheet --out exercise-3.csv
  threewire simulate --fault jam --free --out left-temperature-door-free.csv

The same flags and seed give the same bytes. The same seed with another fault,
or with --free, is the same actuator before, after, or uncoupled.

Exit codes: 0 written, 2 wrong use or a file that cannot be written.

Flags:
`

// simulation is what the flags of simulate ask for.
type simulation struct {
	spec      fixtures.Spec
	out       string // "-" for standard output
	force     bool   // overwrite
	decidable bool   // take the next seed whose capture can be decided
	sheet     bool   // write the answer sheet too
	list      bool   // print the choices instead
	given     []*pflag.Flag
}

// simulate writes a capture with a known fault.
func simulate(ctx context.Context, args []string, _ io.Reader, stdout, stderr io.Writer) int {
	fs := pflag.NewFlagSet("simulate", pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	s, err := simulateFlags(fs, args)
	switch {
	case errors.Is(err, pflag.ErrHelp):
		fmt.Fprint(stdout, simulateUsage+flagHelp(fs))
		return 0
	case err != nil:
	case s.list:
		err = writeChoices(stdout)
	default:
		err = s.run(ctx, stdout)
	}
	if err != nil {
		fmt.Fprintf(stderr, "threewire simulate: %v\n", err)
		return exitUsage
	}
	return 0
}

// simulateFlags reads the flags and refuses what does not go together.
func simulateFlags(fs *pflag.FlagSet, args []string) (*simulation, error) {
	s := &simulation{}
	fault := fs.String("fault", string(fixtures.Healthy), "`NAME` of the fault (see --list)")
	fs.Float64Var(&s.spec.Severity, "severity", 0.6, "`SHARE` from 0 (barely visible at best) to 1 (gross)")
	fs.StringVar(&s.spec.Controller, "controller", "", "`NAME` of the controller (default: drawn from the seed)")
	fs.StringVar(&s.spec.Instrument, "instrument", "", "`NAME` of the instrument (default: drawn from the seed)")
	fs.StringVar(&s.spec.Shape, "shape", "", "`NAME` of the text shape (default: drawn from the seed)")
	fs.StringVar(&s.spec.Channels, "channels", "", "extra columns: reference, supply, current joined by commas, or none (default: the instrument's)")
	fs.Uint64Var(&s.spec.Seed, "seed", 1, "`NUMBER` that fixes every part and every noise")
	fs.Uint64Var(&s.spec.Take, "take", 0, "`NUMBER` of the recording: same parts, other timing and noise")
	fs.Float64Var(&s.spec.Duration, "duration", 0, "length in `SECONDS`, 1 to 3600 (default: drawn)")
	fs.BoolVar(&s.spec.Free, "free", false, "uncouple the actuator from its door")
	wide := fs.Bool("wide", false, "draw unusual motors, controllers and instruments too")
	other := fs.Bool("other", false, "draw another kind of bench: other supplies, rates, noises, tracks and loads")
	fs.StringVarP(&s.out, "out", "o", "", "`FILE` to write, - for standard output")
	fs.BoolVar(&s.force, "force", false, "overwrite an existing FILE and its truth")
	fs.BoolVar(&s.decidable, "decidable", false, "take the next seed from --seed on whose capture alone can be decided, and say which")
	fs.BoolVar(&s.sheet, "sheet", false, "write NAME.answer.txt too: what is wrong, in words, for the trainer")
	fs.BoolVar(&s.list, "list", false, "print the faults, controllers, instruments and shapes, and stop")
	if err := fs.Parse(args); err != nil {
		return nil, flagError(fs, err)
	}
	if fs.NArg() > 0 {
		return nil, fmt.Errorf("unexpected argument %q: name the file with --out", fs.Arg(0))
	}
	s.spec.Fault = fixtures.Fault(*fault)
	fs.Visit(func(f *pflag.Flag) { s.given = append(s.given, f) })
	switch {
	case s.list: // nothing else counts
	case s.out == "":
		return nil, errors.New("--out is missing: expected a file name, or - for standard output")
	case *wide && *other:
		return nil, errors.New("--wide and --other: expected one of them")
	case fs.Changed("duration") && s.spec.Duration == 0:
		return nil, errors.New("--duration 0: expected 1 to 3600 seconds")
	case s.sheet && s.out == "-":
		return nil, errors.New("--sheet needs a file: expected --out FILE")
	}
	switch {
	case *wide:
		s.spec.Range = fixtures.Wide
	case *other:
		s.spec.Range = fixtures.Other
	}
	return s, nil
}

// run makes the capture and writes it with what belongs to it.
func (s *simulation) run(ctx context.Context, stdout io.Writer) error {
	if err := s.checkTargets(); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if what, never := s.spec.NeedsMore(); never && s.decidable {
		return fmt.Errorf("--decidable: no capture of %s alone can be decided, whatever the seed: it takes %s; leave --decidable out", s.spec.Fault, what)
	}
	c, err := fixtures.Make(s.spec)
	if err == nil && s.decidable && !c.Truth.Decidable {
		c, err = nextDecidable(ctx, s.spec, &c.Truth)
	}
	if err != nil {
		return err
	}
	if s.out == "-" {
		return c.WriteCSV(stdout, "")
	}
	if err := writePair(ctx, c, s.out, truthName(s.out), s.force); err != nil {
		return err
	}
	also := ""
	if s.sheet {
		path := sheetName(s.out)
		if err := writeAtomic(path, s.force, func(w io.Writer) error { return writeSheet(w, &c.Truth, s.out) }); err != nil {
			return err
		}
		also = ", " + path
	}
	fmt.Fprintf(stdout, "wrote %s (%s, %d rows)%s and %s\n", s.out, c.Truth.Fault, len(c.Time), also, truthName(s.out))
	if s.decidable {
		fmt.Fprintf(stdout, "Seed %d. %s:\n  %s\n", c.Truth.Seed, s.otherRunName(), s.otherRunCommand(c.Truth.Seed))
	}
	if tr := &c.Truth; !tr.Decidable {
		wrap(stdout, "", "", undecided(tr))
	}
	return nil
}

// otherRunName is what [simulation.otherRunCommand] makes.
func (s *simulation) otherRunName() string {
	if s.spec.Free {
		return "The same actuator on its door"
	}
	return "The same actuator off its door"
}

// checkTargets refuses files that are there already, or cannot be written.
func (s *simulation) checkTargets() error {
	if s.out == "-" {
		return nil
	}
	targets := []string{s.out, truthName(s.out)}
	if s.sheet {
		targets = append(targets, sheetName(s.out))
	}
	for _, p := range targets {
		if err := checkTarget(p, s.force, nil); err != nil {
			return fmt.Errorf("--out %w", err)
		}
	}
	return nil
}

// undecided says of an exercise that its capture alone does not decide it, and what would.
func undecided(t *fixtures.Truth) string {
	s := "This capture alone cannot decide it"
	if t.Why != "" {
		s += ": " + strings.TrimSuffix(t.Why, ".")
	}
	s += ". What may:"
	if t.Paired.Decidable {
		s += " the " + otherRun(t) + ","
	}
	s += " another --seed"
	if t.Severity < 1 {
		s += " or a higher --severity"
	}
	return s + "."
}

// writeChoices prints every name that a flag accepts.
func writeChoices(w io.Writer) error {
	for _, group := range []struct {
		flag string
		list []fixtures.Named
	}{
		{"--fault", fixtures.Faults()},
		{"--controller", fixtures.Controllers()},
		{"--instrument", fixtures.Instruments()},
		{"--shape", fixtures.Shapes()},
	} {
		if _, err := fmt.Fprintf(w, "%s\n", group.flag); err != nil {
			return err
		}
		for _, n := range group.list {
			if _, err := fmt.Fprintf(w, "  %-18s %s\n", n.Name, n.About); err != nil {
				return err
			}
		}
	}
	return nil
}

// truthName is the truth file that belongs to a capture.
func truthName(path string) string { return trimCaptureExt(path) + ".truth.json" }

// writePair writes capture and truth: both are whole on the disk before
// either takes its place, the capture first.
func writePair(ctx context.Context, c *fixtures.Capture, path, truthPath string, force bool) error {
	truth, err := stage(truthPath, force, c.Truth.WriteJSON)
	if err != nil {
		return err
	}
	defer truth.discard()
	capture, err := stage(path, force, func(w io.Writer) error {
		if !strings.HasSuffix(path, ".gz") {
			return c.WriteCSV(w, "")
		}
		z := gzip.NewWriter(w)
		return errors.Join(c.WriteCSV(z, ""), z.Close())
	})
	if err != nil {
		return err
	}
	defer capture.discard()
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := capture.place(); err != nil {
		return err
	}
	return truth.place()
}
