package main

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"threewire/plots"
)

// A chart bears a mark by which the next run knows it for its own, and stays a picture.
func TestChartsAreMarked(t *testing.T) {
	b := plots.Batch{Title: "One", Faults: []plots.Tally{{Name: "no fault", Count: 1}}}
	for _, format := range plots.Formats() {
		var out bytes.Buffer
		if err := plots.DrawBatch(&out, format, b, plots.Options{}); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), "x."+format)
		for _, c := range []struct {
			name string
			data []byte
			ours bool
		}{{"a chart", marked(format, out.Bytes()), true}, {"another picture", out.Bytes(), false}} {
			if err := os.WriteFile(path, c.data, 0o600); err != nil {
				t.Fatal(err)
			}
			if err := onlyChart(path); (err == nil) != c.ours {
				t.Errorf("%s, %s: %v", format, c.name, err)
			}
		}
	}
	var out bytes.Buffer
	if err := plots.DrawBatch(&out, "png", b, plots.Options{}); err != nil {
		t.Fatal(err)
	}
	if _, err := png.Decode(bytes.NewReader(marked("png", out.Bytes()))); err != nil {
		t.Errorf("a marked PNG cannot be read: %v", err)
	}
	if err := onlyChart(filepath.Join(t.TempDir(), "none.png")); err != nil {
		t.Error(err)
	}
}

// Doors of one name are told apart by as much of their path as it takes.
func TestShortNames(t *testing.T) {
	got := shortNames([]string{"shelf/Rig 5/intake-door", "shelf/Rig 11/intake-door", "shelf/Rig 5/mode-door", "door", "a/door"})
	if want := []string{"Rig 5/intake-door", "Rig 11/intake-door", "mode-door", "door", "a/door"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
