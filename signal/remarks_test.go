package signal

import (
	"fmt"
	"strings"
	"testing"
)

// remarked writes strokes, 20 rows a second, with what note says of each row.
func remarked(head string, row func(i int, d, v float64) string) string {
	var b strings.Builder
	b.WriteString(head)
	strokes(func(i int, d, v float64) { b.WriteString(row(i, d, v) + "\n") })
	return b.String()
}

func TestRemarksInAColumn(t *testing.T) {
	at := func(i int) string {
		switch {
		case i == 30:
			return "motor switched by hand"
		case i >= 420 && i < 430:
			return "arm pulled off  door\x07 here"
		case i == 431, i == 700:
			return "let go"
		}
		return ""
	}
	want := "1.50 motor switched by hand|21.00 arm pulled off door here|21.55 let go|35.00 let go"
	for name, text := range map[string]string{
		"last column": remarked("Time (s),Motor (V),Feedback (V),Comment\n", func(i int, d, v float64) string {
			return fmt.Sprintf("%.2f,%.1f,%.3f,%s", 0.05*float64(i), 12*d, v, at(i))
		}),
		"first column, quoted": remarked("Bemerkung;Zeit (s);Motor (V);Feedback (V)\n", func(i int, d, v float64) string {
			return comma(fmt.Sprintf(`"%s";%.2f;%.1f;%.3f`, at(i), 0.05*float64(i), 12*d, v))
		}),
		"rows end before it": remarked("Time (s),Motor (V),Feedback (V),Remarks\n", func(i int, d, v float64) string {
			return strings.TrimSuffix(fmt.Sprintf("%.2f,%.1f,%.3f,%s", 0.05*float64(i), 12*d, v, at(i)), ",")
		}),
		"events": remarked("Time (s);Event;Motor (V);Feedback (V)\n", func(i int, d, v float64) string {
			return fmt.Sprintf("%.2f;%s;%.1f;%.3f", 0.05*float64(i), at(i), 12*d, v)
		}),
		"backwards in time": func() string {
			head, rows, _ := strings.Cut(remarked("Time (s),Motor (V),Feedback (V),Comment\n", func(i int, d, v float64) string {
				return fmt.Sprintf("%.2f,%.1f,%.3f,%s", 0.05*float64(i), 12*d, v, at(i))
			}), "\n")
			lines := strings.Split(strings.TrimSpace(rows), "\n")
			for i, j := 0, len(lines)-1; i < j; i, j = i+1, j-1 {
				lines[i], lines[j] = lines[j], lines[i]
			}
			return head + "\n" + strings.Join(lines, "\n") + "\n"
		}(),
	} {
		for _, o := range []Options{{Workers: 1}, {Workers: 2, block: 700}} {
			want := want
			if name == "backwards in time" {
				want = strings.Replace(want, "21.00", "21.45", 1) // the first row of it in the file
			}
			if got := remarksText(mustRead(t, text, o)); got != want {
				t.Errorf("%s, %d workers: %s", name, o.Workers, got)
			}
		}
	}
}

func remarksText(tr *Trace) string {
	var all []string
	for _, m := range tr.Remarks {
		all = append(all, fmt.Sprintf("%.2f %s", m.Time, m.Text))
	}
	return strings.Join(all, "|")
}

// A remark that somebody typed holds the delimiter, or is longer than a line; the line told is
// that of the file.
func TestRemarksAsTyped(t *testing.T) {
	text := remarked("# bench 2\nTime (s),Motor (V),Feedback (V),Comment\n", func(i int, d, v float64) string {
		note := map[int]string{100: "arm off, held by hand, slowly", 200: strings.Repeat("very ", 40) + "slow", 300: "x", 310: "17"}[i]
		return fmt.Sprintf("%.2f,%.1f,%.3f,%s", 0.05*float64(i), 12*d, v, note)
	})
	tr := mustRead(t, text, Options{})
	if len(tr.Remarks) != 2 || tr.Rows != 800 {
		t.Fatalf("%d rows, remarks %v", tr.Rows, tr.Remarks)
	}
	a, b := tr.Remarks[0], tr.Remarks[1]
	if a.Text != "arm off, held by hand, slowly" || a.Line != 103 || len([]rune(b.Text)) != longestRemark || !strings.HasSuffix(b.Text, "very…") {
		t.Errorf("%+v, %+v", a, b)
	}
	if !strings.Contains(fmt.Sprint(tr.Columns), "remarks") {
		t.Errorf("columns %v", tr.Columns)
	}
}

// States, codes, numbers and directions are no remarks, and a row that is out of shape is
// refused as ever.
func TestNoRemarks(t *testing.T) {
	for name, row := range map[string]struct {
		head string
		note func(i int) string
	}{
		"a state in every row":       {"Note", func(i int) string { return []string{"mode one", "mode two"}[i/400] }},
		"the same in later rows":     {"Comment", func(i int) string { return []string{"", "run fast now"}[min(1, i/30)] }},
		"codes of events":            {"Event", func(i int) string { return map[int]string{50: "START", 300: "TRIG", 500: "STOP"}[i] }},
		"numbers":                    {"Marker", func(i int) string { return fmt.Sprint(i % 7) }},
		"empty":                      {"Comments", func(int) string { return "" }},
		"no name that says remarks":  {"Operator", func(i int) string { return map[int]string{50: "somebody was here"}[i] }},
		"single letters and numbers": {"Remark", func(i int) string { return map[int]string{50: "x", 90: "12", 300: "5 V"}[i] }},
	} {
		text := remarked("Time (s),Motor (V),Feedback (V),"+row.head+"\n", func(i int, d, v float64) string {
			return fmt.Sprintf("%.2f,%.1f,%.3f,%s", 0.05*float64(i), 12*d, v, row.note(i))
		})
		if tr := mustRead(t, text, Options{}); len(tr.Remarks) > 0 || tr.Rows != 800 {
			t.Errorf("%s: %d rows, remarks %v", name, tr.Rows, tr.Remarks)
		}
	}
	text := remarked("Time (s),Motor (V),Feedback (V),Comment\n", func(i int, d, v float64) string {
		return fmt.Sprintf("%.2f,%.1f,%.3f,%s", 0.05*float64(i), 12*d, v, map[int]string{70: "3,arm off"}[i])
	})
	if _, err := Read(strings.NewReader(text), Options{}); err == nil {
		t.Error("a row with a number too many is read")
	}
}

// What a chatty file holds is bounded, and counted.
func TestManyRemarks(t *testing.T) {
	for _, o := range []Options{{Workers: 1}, {Workers: 2, block: 900}} {
		tr := mustRead(t, remarked("Time (s),Motor (V),Feedback (V),Comment\n", func(i int, d, v float64) string {
			note := ""
			if i%2 == 1 {
				note = fmt.Sprintf("turn of screw %d", i)
			}
			return fmt.Sprintf("%.2f,%.1f,%.3f,%s", 0.05*float64(i), 12*d, v, note)
		}), o)
		n := 0
		for _, note := range tr.Notes {
			if note.Code == "more-remarks" && strings.Contains(note.Text, "200 more") {
				n++
			}
		}
		if len(tr.Remarks) != mostRemarks || n != 1 {
			t.Errorf("%d remarks, %d notes", len(tr.Remarks), n)
		}
	}
}

// A line of text between the rows is a remark at the row that follows; what a program wrote
// there is none.
func TestRemarksBetweenRows(t *testing.T) {
	lines := func(line func(i int) string) string {
		return remarked("# rate: fast enough\n# Segment 1\nTime (s),Motor (V),Feedback (V)\n", func(i int, d, v float64) string {
			s := fmt.Sprintf("%.2f,%.1f,%.3f", 0.05*float64(i), 12*d, v)
			if l := line(i); l != "" {
				s = l + "\n" + s
			}
			return s
		})
	}
	tr := mustRead(t, lines(func(i int) string {
		return map[int]string{100: "# arm off here", 200: "; let go of door", 300: "# Segment 2", 400: "# pause", 500: "// rate: 20 Hz", 600: "# rate: fast enough"}[i]
	})+"# the end of it\n", Options{})
	if got := remarksText(tr); got != "5.00 arm off here|10.00 let go of door" || tr.Rows != 800 || tr.Remarks[0].Line != 104 {
		t.Errorf("%d rows, remarks %v", tr.Rows, tr.Remarks)
	}
	tr = mustRead(t, lines(func(i int) string {
		if i%100 == 99 {
			return fmt.Sprintf("# buffer %d was written", i)
		}
		return ""
	}), Options{})
	if len(tr.Remarks) > 0 {
		t.Errorf("a program's lines are remarks: %v", tr.Remarks)
	}
}
