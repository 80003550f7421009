package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"threewire/analyze"
	"threewire/signal"
)

// earlier judges the earlier captures that a plan is given, uncoupled ones by their
// names; nil without any.
func earlier(ctx context.Context, paths []string, stdin io.Reader) (*judged, error) {
	var f caseFiles
	for _, p := range paths {
		if _, err := os.Stat(p); p != "-" && filepath.Ext(p) == "" && errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("%q is no earlier capture: no such file; put a --symptom of several words in quotes", p)
		}
		if p != "-" && nameKey(p).free {
			f.free = append(f.free, p)
		} else {
			f.now = append(f.now, p)
		}
	}
	if len(paths) == 0 {
		return nil, nil
	}
	if err := onlyOnce(paths); err != nil {
		return nil, err
	}
	seen := accountOf(len(paths))
	return f.judge(analyze.Defaults(), nil, func(path string, o analyze.Options) (*analyze.Parts, error) {
		return seen.examine(ctx, path, stdin, signal.Options{Source: path}, o)
	})
}

// clamped is what is known of a current clamp.
type clamped int

// The clamp of a plan: not spoken of, there, or said not to be.
const (
	clampUnsaid clamped = iota
	clampThere
	clampNone
)

// clampOf is what a flag, or what earlier captures logged, says of a clamp.
func clampOf(there, told bool) clamped {
	switch {
	case there:
		return clampThere
	case told:
		return clampNone
	}
	return clampUnsaid
}

// channelsUsed is how many channels of an instrument the widest of earlier captures took.
func channelsUsed(traces []*signal.Trace) int {
	most := 0
	for _, t := range traces {
		n := 0
		for _, c := range t.Columns {
			switch c.Role {
			case signal.Unused, signal.TimeRole, signal.Polarity:
			default:
				n++
			}
		}
		most = max(most, n)
	}
	return most
}

// takenAs says which captures were taken as uncoupled, by their names, or remarked by what is
// written in them; of a single coupled one nothing.
func takenAs(captures []*analyze.Capture, remarked bool) string {
	var free []string
	for _, c := range captures {
		if c.Free {
			free = append(free, filepath.Base(c.Source))
		}
	}
	switch {
	case len(free) > 0 && remarked:
		return "Taken as uncoupled by the name or a remark in it: " + strings.Join(free, ", ") + "."
	case len(free) > 0:
		return "Taken as uncoupled by the name: " + strings.Join(free, ", ") + "."
	case len(captures) > 1:
		return "All were taken as coupled to the door: one that was not needs a name that ends in free or uncoupled."
	}
	return ""
}

// openTopics is what earlier captures say, what was taken from them, what they leave open,
// and what settles it.
func openTopics(j *judged, clamp clamped, taken string) *topics {
	var s topics
	v := &j.report.Verdict
	s.section("The earlier captures")
	s.item(headline(v))
	if taken != "" {
		s.item(taken)
	}
	if x := takenAs(j.report.Captures, len(j.told) > 0); x != "" {
		s.item(x)
	}
	if !v.WorthTesting() || len(v.Next) == 0 {
		s.item("They leave nothing open that another capture is worth taking for. What follows is for when the complaint stays.")
		return &s
	}
	s.section("What is still open")
	if j.report.NothingSeen() {
		s.item("Everything: nothing was tested.")
	} else {
		a, b := v.Chances[0], v.Chances[1]
		s.item(fmt.Sprintf("Whether it is: %s (%s) or %s (%s).", a.Fault, sure(a.Probability), b.Fault, sure(b.Probability)))
	}
	for _, x := range v.Unknown {
		s.item(sentence(x))
	}
	s.section("What settles it")
	for i := range v.Next {
		t := &v.Next[i]
		how, cannot := "to be recorded, as below", false
		switch {
		case !t.Records():
			how = "no recording: by hand or with a meter"
		case t.NeedsClamp() && clamp == clampNone:
			how, cannot = "left out: it needs a current clamp, and there is none", true
		case t.NeedsClamp() && clamp == clampUnsaid:
			how, cannot = "only with a current clamp: say --clamp where there is one", true
		}
		s.item(fmt.Sprintf("%s (about %.0f min; %s)", t.Name, t.Minutes, how))
		if cannot {
			continue // how to do it is nothing to who has no clamp
		}
		for _, p := range t.Procedure {
			s.note(p)
		}
		for _, o := range t.Outcomes {
			s.note(sentence(o))
		}
	}
	return &s
}
