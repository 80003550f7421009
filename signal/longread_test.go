package signal

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
)

// Channels that come at instants of their own: each row has what was read then, and an
// empty cell is no reading. The drive holds, as it does between the rows of any file; the
// feedback is told only where it was read.
func TestLongApart(t *testing.T) {
	r := newRec(2000, 0.02)
	tr := mustRead(t, "time,channel,value\n"+r.rows(func(i int, t, d, v float64) string {
		s := fmt.Sprintf("%.3f,drive,%.2f", t, d)
		if i%3 == 0 {
			s += fmt.Sprintf("\n%.3f,feedback,%.3f", t+0.007, v)
		}
		return s
	}), Options{})
	if msg := broken(tr); msg != "" {
		t.Fatal(msg)
	}
	if want := int64(2000 + 667); tr.Rows != want || tr.Feedback.Stats.Valid != 667 || tr.Drive.Stats.Valid != 2000 {
		t.Fatalf("%d rows, %d and %d readings; want %d", tr.Rows, tr.Drive.Stats.Valid, tr.Feedback.Stats.Valid, want)
	}
	told := tr.Told()
	if told.Len() != 667 {
		t.Fatalf("%d bins are told", told.Len())
	}
	for k, at := range told.Time {
		i := 3 * k
		if math.Abs(at-told.Time[0]-(r.t[i]-r.t[0])) > 1e-6 || float64(told.Drive.Mean[k]) != r.d[i] || math.Abs(float64(told.Feedback.Mean[k])-r.v[i]) > 1e-4 {
			t.Fatalf("row %d: %v, %v, %v; want %v, %v, %v", k, at, told.Drive.Mean[k], told.Feedback.Mean[k], r.t[i], r.d[i], r.v[i])
		}
	}
}

// Where a coarse clock gives several readings of a channel one stamp, the first of each
// channel belong together, then the second.
func TestLongCoarseClock(t *testing.T) {
	r := newRec(4000, 0.02)
	tr := mustRead(t, "time,channel,value\n"+pairOf(r, func(i int, n string, t, x float64) string {
		return fmt.Sprintf("%s,%s,%.3f", stampOf(t).Format("15:04:05.0"), n, x)
	}), Options{})
	if tr.Rows != 4000 {
		t.Fatalf("%d rows", tr.Rows)
	}
	for i := range r.t {
		if float64(tr.Drive.Mean[i]) != r.d[i] || math.Abs(float64(tr.Feedback.Mean[i])-r.v[i]) > 1e-4 {
			t.Fatalf("row %d: %v and %v", i, tr.Drive.Mean[i], tr.Feedback.Mean[i])
		}
	}
	if math.Abs(tr.Duration()-r.t[3999]) > 0.2 {
		t.Errorf("%v s", tr.Duration())
	}
}

// A line that is no reading ends the reading with its own line and column, however far
// down it stands; what is no more than a footer or a cut line is left out and said.
func TestLongErrors(t *testing.T) {
	r := newRec(4000, 0.02)
	row := func(_ int, n string, t, x float64) string { return fmt.Sprintf("%.3f,%s,%.3f,V", t, n, x) }
	good := strings.Split("time,channel,value,unit\n"+pairOf(r, row), "\n")
	blocks := strings.Split("time,channel,value,unit\n"+melted(r, "", "", func(n string, t, x float64) string { return row(0, n, t, x) }), "\n")
	for _, c := range []struct{ name, line, want, unsorted string }{
		{"too few cells", "1.0,drive", ":%d:3: found 2 cells, expected 4", ""},
		{"too many", "1.0,drive,1,V,2", ":%d:5: found 5 cells, expected 4", ""},
		{"no number", "1.0,drive,1.2.3,V", `:%d:3: found "1.2.3", expected a number`, ""},
		{"no time", "x,drive,1.2,V", `:%d:1: found "x", expected a time`, ""},
		{"no name", "1.0,,1.2,V", ":%d:2: found no name", ""},
		{"another unit", "1.0,drive,1.2,A", `:%d:4: found the unit "A", expected "V"`, ""},
		{"time goes back", "1.5,drive,0,V", ":%d:1: time runs backwards, from", ":%d:1: time runs backwards within"},
	} {
		for _, n := range []int{41, 6000} {
			for k, lines := range [][]string{good, blocks} {
				text := append(append(append([]string{}, lines[:n-1]...), c.line), lines[n:]...)
				if k == 1 && c.line[:3] == "1.5" {
					text[n-1] = "0.01," + strings.Split(lines[n-1], ",")[1] + ",0,V"
				}
				want := fmt.Sprintf(c.want, n)
				if k == 1 && c.unsorted != "" {
					want = fmt.Sprintf(c.unsorted, n)
				}
				if k == 0 && n == 41 && c.unsorted != "" {
					continue // 1.5 s is later than line 41
				}
				_, err := Read(strings.NewReader(strings.Join(text, "\n")), Options{Source: "f"})
				var se *SyntaxError
				if !errors.As(err, &se) || !strings.Contains(err.Error(), want) {
					t.Errorf("%s, unsorted %v: got %v, want %s", c.name, k == 1, err, want)
				}
			}
		}
	}
	text := strings.Join(good, "\n")
	for _, c := range []struct{ name, tail, code, says string }{
		{"footer", "end of the recording\n", "cut-line", "(8002)"},
		{"longer footer", "end of the recording\n3 alarms, 2 of them off\n", "footer", "2 lines from line 8002"},
		{"cut in the value", "80.000,feedback,1", "cut-line", "(8002)"},
	} {
		tr := mustRead(t, text+c.tail, Options{})
		said := false
		for _, n := range tr.Notes {
			said = said || n.Code == c.code && strings.Contains(n.Text, c.says)
		}
		if !said || tr.Rows != 4000 {
			t.Errorf("%s: %d rows, notes %v", c.name, tr.Rows, tr.Notes)
		}
	}
}

// Where the value is the last cell of its line, a line that the end of the file cuts lacks
// digits of it.
func TestLongCutValue(t *testing.T) {
	r := newRec(400, 0.02)
	text := "time,channel,value\n" + pairOf(r, func(_ int, n string, t, x float64) string { return fmt.Sprintf("%.3f,%s,%.3f", t, n, x) })
	tr := mustRead(t, text[:len(text)-3], Options{})
	if !hasNote(tr, "cut-line") || tr.Feedback.Stats.Valid != 399 {
		t.Errorf("%d readings, notes %v", tr.Feedback.Stats.Valid, tr.Notes)
	}
	tr = mustRead(t, text[:len(text)-1], Options{})
	if hasNote(tr, "cut-line") || tr.Feedback.Stats.Valid != 400 {
		t.Errorf("only the line end is missing: %d readings, notes %v", tr.Feedback.Stats.Valid, tr.Notes)
	}
}

// Words among the readings are missing readings, said with the line where the first
// stands, also where the rows come from all over the file.
func TestLongMissing(t *testing.T) {
	r := newRec(9000, 0.02)
	row := func(n string, t, x float64) string {
		if n == "feedback" && t == 100 {
			return fmt.Sprintf("%.3f,%s,asleep", t, n)
		}
		return fmt.Sprintf("%.3f,%s,%.3f", t, n, x)
	}
	for _, c := range []struct {
		text string
		line int
	}{
		{"time,channel,value\n" + pairOf(r, func(_ int, n string, t, x float64) string { return row(n, t, x) }), 1 + 2*5001},
		{melted(r, "time,channel,value\n", "", row), 1 + 9000 + 5001},
	} {
		tr := mustRead(t, c.text, Options{})
		if tr.Feedback.Stats.Missing != 1 || tr.Rows != 9000 {
			t.Errorf("%d missing of %d", tr.Feedback.Stats.Missing, tr.Rows)
		}
		said := false
		for _, n := range tr.Notes {
			said = said || strings.Contains(n.Text, fmt.Sprintf("line %d", c.line)) && strings.Contains(n.Text, "asleep")
		}
		if !said {
			t.Errorf("want line %d: %v", c.line, tr.Notes)
		}
	}
}

// A channel that begins far behind the head is left out and counted; flags name channels.
func TestLongLateChannel(t *testing.T) {
	r := newRec(160_000, 0.02)
	tr := mustRead(t, "time,channel,value\n"+r.rows(func(i int, t, d, v float64) string {
		s := fmt.Sprintf("%.3f,Qa,%.2f\n%.3f,Qb,%.3f", t, d, t, v)
		if i >= 159_990 {
			s += fmt.Sprintf("\n%.3f,lamp,1", t)
		}
		return s
	}), Options{Roles: map[Role]string{Drive: "Qa", Feedback: "3"}})
	said := false
	for _, n := range tr.Notes {
		said = said || n.Code == "late-channel" && strings.Contains(n.Text, `10 readings are left out, the first of "lamp" in line 319984`)
	}
	if !said || tr.Rows != 160_000 || tr.Drive.Name != "Qa" || tr.Feedback.Name != "Qb" {
		t.Errorf("%d rows of %q and %q, notes %v", tr.Rows, tr.Drive.Name, tr.Feedback.Name, tr.Notes)
	}
}
