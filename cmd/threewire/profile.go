package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"threewire/analyze"
	"threewire/analyze/nominal"
)

const profileUsage = `Usage: threewire profile [flags] GOOD.csv... --out FILE

Makes the profile of a known good actuator: its stops, its travel times both
ways, at which drive, and how far others may differ. Give it one capture or,
better, three or more of actuators of one kind, each driven from stop to stop
several times. Then let it speak for the next one:

  threewire profile good-1.csv good-2.csv good-3.csv --out left-door.profile
  threewire check --profile left-door.profile capture.csv

The file is plain text; change a number in it if you know better:

  threewire actuator profile 1
  # anything after # is a comment
  low stop: 0.50 V               V, mV, % or counts
  high stop: 4.50 V
  stop tolerance: 0.16 V         if left out, 4 % of the span
  travel time up: 5.0 s          stop to stop, s or ms
  travel time down: 5.1 s
  travel time tolerance: 10 %    if left out, 10 %
  drive: 12.0 V                  while it ran, or unknown
  reference: 5.00 V              the sensor's supply; if left out, 5 V
  sense of drive: positive raises      or positive lowers, or unknown
  door: coupled                  or uncoupled

A capture that shows a fault or cannot be judged, and captures that disagree,
make no profile; --despite-doubts makes one all the same and writes the doubts
into it. What it needs and does not find (both stops, two full sweeps each
way), no flag can replace.

Exit codes: 0 written, 1 a capture shows a fault or captures disagree, 2 wrong
use, unreadable input or a file that cannot be written, 3 the captures do not
tell enough.

Flags:
`

// profile makes an actuator profile of known good captures.
func profile(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	fs := pflag.NewFlagSet("profile", pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	out := fs.StringP("out", "o", "", "`FILE` to write, - for standard output")
	uncoupled := fs.Bool("uncoupled", false, "the captures were taken off the door")
	force := fs.Bool("force", false, "overwrite an existing FILE")
	despite := fs.Bool("despite-doubts", false, "make a profile although a capture shows a fault or captures disagree")
	jf := addJudgeFlags(fs)
	rf := addReadFlags(fs)
	fail := func(err error) int {
		fmt.Fprintf(stderr, "threewire profile: %v\n", err)
		return exitUsage
	}
	if err := fs.Parse(args); err != nil {
		if errors.Is(err, pflag.ErrHelp) {
			fmt.Fprint(stdout, profileUsage+flagHelp(fs))
			return 0
		}
		return fail(flagError(fs, err))
	}
	switch {
	case fs.NArg() == 0:
		return fail(errors.New("no capture given: expected threewire profile GOOD.csv... --out FILE (see threewire profile --help)"))
	case *out == "":
		return fail(errors.New("--out is missing: expected a file name, or - for standard output"))
	}
	opt, err := jf.options()
	if err != nil {
		return fail(err)
	}
	opt.Free = *uncoupled
	if err := onlyOnce(fs.Args()); err != nil {
		return fail(err)
	}
	if *out != "-" {
		if err := checkTarget(*out, *force, fs.Args()); err != nil {
			return fail(fmt.Errorf("--out %w", err))
		}
	}
	seen := accountOf(fs.NArg())
	var captures []*analyze.Capture
	for _, p := range fs.Args() {
		parts, err := examineFile(ctx, p, stdin, rf, seen, opt)
		if err != nil {
			return fail(err)
		}
		for _, x := range parts.List {
			if x.Capture.Free == opt.Free { // what was taken off the door in between is no part of it
				captures = append(captures, x.Capture)
			}
		}
	}
	p, doubts := analyze.BuildNominal(captures...)
	if len(doubts) > 0 && (p == nil || !*despite) {
		return refuse(stderr, p, doubts)
	}
	text := p.Text()
	if *out == "-" {
		if _, err := stdout.Write(text); err != nil {
			return fail(err)
		}
		return 0
	}
	err = writeAtomic(*out, *force, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
	if err != nil {
		return fail(err)
	}
	fmt.Fprintf(stdout, "wrote %s: %s\n", *out, p)
	for _, d := range doubts {
		fmt.Fprintf(stdout, "in spite of: %s\n", d)
	}
	return 0
}

// refuse says why there is no profile, and gives the exit code.
func refuse(stderr io.Writer, p *nominal.Profile, doubts []analyze.Doubt) int {
	fmt.Fprintln(stderr, "threewire profile: no profile was written:")
	code := exitCannotTell
	for _, d := range doubts {
		fmt.Fprintf(stderr, "  %s\n", strings.TrimSpace(d.String()))
		if d.Kind == analyze.ShowsFault || d.Kind == analyze.Disagree {
			code = exitFault
		}
	}
	if p != nil {
		fmt.Fprintln(stderr, "Leave out what is not good, or add --despite-doubts if you know better.")
	}
	return code
}

// readProfile reads an actuator profile.
func readProfile(path string) (*nominal.Profile, error) {
	text, err := profileFile.open(path)
	if err != nil {
		return nil, err
	}
	return nominal.Parse(path, text)
}
