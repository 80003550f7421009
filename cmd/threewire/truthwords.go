package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"strings"

	"threewire/analyze"
	"threewire/fixtures"
	"threewire/plots"
)

// readTruth reads the truth that simulate wrote beside a capture; nil where none stands
// there.
func readTruth(capture string) (*fixtures.Truth, error) {
	name := truthName(capture)
	b, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	t := &fixtures.Truth{}
	if err := json.Unmarshal(b, t); err != nil {
		return nil, fmt.Errorf("%s, which stands beside the capture, is no truth file: %w", name, err)
	}
	if t.Schema != fixtures.TruthSchema {
		return nil, fmt.Errorf("%s, which stands beside the capture, is no truth file: schema %q, expected %q", name, t.Schema, fixtures.TruthSchema)
	}
	return t, nil
}

// toldTruth is a truth as the answer to an exercise shows it.
func toldTruth(t *fixtures.Truth) *plots.Truth {
	what := t.Variant
	if what == "" {
		what = strings.TrimSuffix(t.About, ".")
	}
	text := strings.Join(append([]string{what}, wherein(t)...), "; ") + "."
	if !t.Decidable && t.Why != "" {
		text += " This capture alone does not decide it: " + strings.TrimSuffix(t.Why, ".") + "."
	}
	return &plots.Truth{Fault: componentOf(t.Component), Name: t.Fault, Text: text}
}

// componentOf is the component that a truth file names.
func componentOf(name string) analyze.Fault {
	for _, f := range analyze.Faults() {
		if f.String() == name {
			return f
		}
	}
	return analyze.NoFault // it calls it none
}

// wherein says at which levels and times a fault shows, in shares of the travel and as
// the capture reads there.
func wherein(t *fixtures.Truth) []string {
	var out []string
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for _, s := range t.DeadSpots {
		add("%s from %s, shown in %d of %d passes", s.Kind, stretch(t, s.FromPercent, s.ToPercent), s.Shown, s.Passes)
	}
	if j := t.Jam; j != nil {
		add("object at %s, blocks the %s from %.1f s on, touched %s", place(t, j.Percent), j.Blocks, j.From, plural(j.Touched, "time"))
	}
	if z := t.Binding; z != nil {
		ways := "in both directions"
		if z.Direction != "both" {
			ways = "while the reading is " + z.Direction
		}
		add("drags from %s, and takes %.0f %% of the speed there, %s", stretch(t, z.FromPercent, z.ToPercent), 100*z.Slowdown, ways)
	}
	if h := t.Hunting; h != nil {
		end := "near the " + h.End + " end"
		if h.End == "middle" {
			end = "in mid travel"
		}
		add("hunts %s from %.1f to %.1f s, %.2g times a second", end, h.From, h.To, h.Hz)
	}
	if d := t.Drift; d != nil {
		add("reading at the low stop %s, at the high stop %s from first visit to last", change(t, d.Low.Change), change(t, d.High.Change))
	}
	if d := t.DropOuts; d != nil {
		add("the %s opens %s from %.1f s on, for %.2g s in all", d.Line, plural(d.Count, "time"), d.First, d.Total)
	}
	if h := t.Heat; h != nil && h.End-h.Start > 20 { // less slows no motor visibly
		add("winding from %.0f to %.0f degrees C", h.Start, h.End)
	}
	if t.Slips > 0 {
		add("slips %s", plural(t.Slips, "time"))
	}
	if t.Component == fixtures.Motor {
		out = append(out, inVain(t)...)
	}
	return out
}

// inVain says where a motor stood under drive with nothing in its way.
func inVain(t *fixtures.Truth) []string {
	n := 0
	var first fixtures.TrueStall
	for _, s := range t.Stalls {
		if s.Against != "nothing" {
			continue
		}
		if n == 0 {
			first = s
		}
		n++
	}
	if n == 0 {
		return nil
	}
	at := fmt.Sprintf("stands under drive with nothing in its way %s, first", plural(n, "time"))
	if n == 1 {
		at = "stands under drive with nothing in its way once,"
	}
	return []string{fmt.Sprintf("%s from %.1f to %.1f s at %s", at, first.From, first.To, place(t, first.Percent))}
}

// place is a place of the travel as a share of it and as the capture reads there.
func place(t *fixtures.Truth, percent float64) string {
	return fmt.Sprintf("%d %% of the travel (%s)", int(math.Round(percent)), asRead(t, at(t, percent), false))
}

// stretch is a stretch of the travel in the same way.
func stretch(t *fixtures.Truth, from, to float64) string {
	return fmt.Sprintf("%d to %d %% of the travel (%s to %s)", int(math.Round(from)), int(math.Round(to)),
		strings.Fields(asRead(t, at(t, from), false))[0], asRead(t, at(t, to), false))
}

// change is a change of the reading with its sign.
func change(t *fixtures.Truth, volts float64) string { return asRead(t, volts, true) }

// at is what a sound sensor shows on the instrument at a share of the travel, V. It runs
// straight between the ends: what the input's load bends is less than a picture shows.
func at(t *fixtures.Truth, percent float64) float64 {
	return t.Shown.Low + percent/100*(t.Shown.High-t.Shown.Low)
}

// asRead is a level, or with sign a change of it, in the unit of the capture's column.
func asRead(t *fixtures.Truth, volts float64, sign bool) string {
	level, counts := "%.2f V", "%.0f counts"
	if sign {
		level, counts = "%+.3f V", "%+.0f counts"
	}
	if per := t.Front.PerVolt; per > 0 && per != 1 {
		return fmt.Sprintf(counts, per*volts)
	}
	return fmt.Sprintf(level, volts)
}
