package main

import (
	"bytes"
	"context"
	"io"
	"strings"
	"testing"
)

// A figure fails only when even its Wilson bound is worse than the record.
func TestBelow(t *testing.T) {
	rec := floors()["wide"]
	n := 200
	at := func(share float64) int { return int(share * float64(n)) }
	good := figures{right: at(rec.right), decidable: n, alarms: at(rec.alarm), healthy: n, sureWrong: at(rec.sureWrong), sure: n}
	if below(io.Discard, "wide", good) {
		t.Error("the recorded figures fail their own floor")
	}
	for name, spoil := range map[string]func(*figures){
		"right":      func(f *figures) { f.right = at(rec.right - 0.2) },
		"alarms":     func(f *figures) { f.alarms = at(rec.alarm + 0.15) },
		"sure wrong": func(f *figures) { f.sureWrong = at(rec.sureWrong + 0.15) },
	} {
		f := good
		spoil(&f)
		var out bytes.Buffer
		if !below(&out, "wide", f) || !strings.Contains(out.String(), "worse than the recorded") {
			t.Errorf("%s: a clear fall went unnoticed: %q", name, out.String())
		}
	}
}

func TestRunRefusesUnknownRange(t *testing.T) {
	var errs bytes.Buffer
	if code := run(context.Background(), []string{"--range", "broad"}, io.Discard, &errs); code != 2 || !strings.Contains(errs.String(), "broad") {
		t.Fatalf("ended with %d, said %q", code, errs.String())
	}
}

// A few captures go through the whole bench.
func TestRunReports(t *testing.T) {
	var out bytes.Buffer
	if code := run(context.Background(), []string{"--seeds", "1", "--range", "narrow", "--fault", "healthy"}, &out, io.Discard); code != 0 {
		t.Fatalf("ended with %d: %s", code, out.String())
	}
	if !strings.Contains(out.String(), "right on decidable captures") {
		t.Errorf("no figures in %q", out.String())
	}
}
