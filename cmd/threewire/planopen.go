package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

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
	return f.judge(analyze.Defaults(), nil, func(path string, o analyze.Options) (*signal.Trace, *analyze.Capture, error) {
		return seen.examine(ctx, path, stdin, signal.Options{Source: path}, o)
	})
}

// openTopics is what earlier captures say, what they leave open, and what settles it.
func openTopics(j *judged, clamp bool) *topics {
	var s topics
	v := &j.report.Verdict
	s.section("The earlier captures")
	s.item(headline(v))
	if !v.WorthTesting() || len(v.Next) == 0 {
		s.item("They leave nothing open that another capture is worth taking for. What follows is for when the complaint stays.")
		return &s
	}
	s.section("What is still open")
	a, b := v.Chances[0], v.Chances[1]
	s.item(fmt.Sprintf("Whether it is: %s (%s) or %s (%s).", a.Fault, sure(a.Probability), b.Fault, sure(b.Probability)))
	for _, x := range v.Unknown {
		s.item(sentence(x))
	}
	s.section("What settles it")
	for i := range v.Next {
		t := &v.Next[i]
		how := "to be recorded, as below"
		if !t.Records() {
			how = "no recording: by hand or with a meter"
		} else if t.NeedsClamp() && !clamp {
			how = "needs a current clamp, which --clamp did not say you have"
		}
		s.item(fmt.Sprintf("%s (about %.0f min; %s)", t.Name, t.Minutes, how))
		for _, p := range t.Procedure {
			s.note(p)
		}
		for _, o := range t.Outcomes {
			s.note(sentence(o))
		}
	}
	return &s
}
