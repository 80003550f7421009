package main

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"
)

func TestBarShowsCountRateAndTimeLeft(t *testing.T) {
	t.Setenv("TERM", "xterm")
	var b bytes.Buffer
	p := newProgress(&b, 40, true)
	p.bar = newBar(&b, 40)
	time.Sleep(barPace + 10*time.Millisecond) // before that nothing is drawn
	p.add(10)
	shown := b.String()
	for _, want := range []string{` 25% `, `\(10/40, \d+ captures/(s|min)\)`, `\[\d+s:\d+s\]`} {
		if !regexp.MustCompile(want).MatchString(shown) {
			t.Errorf("the bar %q does not show %s", shown, want)
		}
	}
	if strings.Contains(shown, "\n") {
		t.Errorf("the bar %q leaves its line", shown)
	}
	b.Reset()
	p.clear()
	if got := b.String(); got != "\x1b[2K\r" {
		t.Errorf("clearing writes %q", got)
	}
}

func TestProgressLinesOffATerminal(t *testing.T) {
	null, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer null.Close()
	if p := newProgress(null, 40, false); p.bar != nil {
		t.Errorf("%s got a bar: it is no terminal", os.DevNull)
	}
	var b bytes.Buffer
	p := newProgress(&b, 40, false)
	p.add(1)
	if b.Len() > 0 {
		t.Errorf("a line at once: %q", b.String())
	}
	p.start, p.shown = p.start.Add(-2*logPace), p.shown.Add(-2*logPace)
	p.add(9)
	if got := b.String(); !regexp.MustCompile(`^10 of 40 captures \(25 %\), 0\.5/s, (1m0s|59s) left\n$`).MatchString(got) {
		t.Errorf("says %q", got)
	}
}

func TestProgressIsSilentWhenQuiet(t *testing.T) {
	dir, _ := shelf(t)
	var b bytes.Buffer
	p := newProgress(&b, 40, true)
	p.start, p.shown = p.start.Add(-2*logPace), p.shown.Add(-2*logPace)
	p.add(10)
	p.clear()
	if b.Len() > 0 {
		t.Errorf("says %q", b.String())
	}
	if out, errs := mustBatch(t, dir, "--quiet", "--out", dir+".jsonl"); out != "" || errs != "" {
		t.Errorf("stdout %q, stderr %q: want nothing", out, errs)
	}
}

// A dumb terminal gets no escapes, and a locale without UTF-8 no signs beyond ASCII; of its
// variables the first that is set holds.
func TestBarKeepsToTheTerminal(t *testing.T) {
	for _, c := range []struct {
		term, all, ctype, lang string
		escapes, ascii         bool
	}{
		{"xterm", "", "", "de_DE.UTF-8", true, false},
		{"xterm", "", "", "C", true, true},
		{"xterm", "C", "", "de_DE.UTF-8", true, true},
		{"xterm", "", "C.utf8", "C", true, false},
		{"dumb", "", "", "de_DE.UTF-8", false, true},
	} {
		t.Setenv("TERM", c.term)
		t.Setenv("LC_ALL", c.all)
		t.Setenv("LC_CTYPE", c.ctype)
		t.Setenv("LANG", c.lang)
		var b bytes.Buffer
		bar := newBar(&b, 40)
		time.Sleep(barPace + 10*time.Millisecond)
		bar.Add(20)
		bar.Clear()
		plain := !strings.ContainsFunc(b.String(), func(r rune) bool { return r > 126 })
		if strings.Contains(b.String(), "\x1b") != c.escapes || plain != c.ascii {
			t.Errorf("%+v: %q", c, b.String())
		}
	}
}
