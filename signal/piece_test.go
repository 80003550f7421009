package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// A piece is what the same rows are as a file of their own.
func TestPiece(t *testing.T) {
	text := remarked("t (s),Motor (V),Feedback (V),Supply (V),Comment\n", func(i int, d, v float64) string {
		note := map[int]string{100: "first of all", 500: "in between"}[i]
		s := fmt.Sprintf("%.2f,%.1f,%.3f,%.2f,%s", 0.05*float64(i), 12*d, v, 13+0.01*float64(i%7), note)
		if i == 600 {
			return strings.Replace(s, fmt.Sprintf("%.3f", v), "", 1)
		}
		return s
	})
	whole := mustRead(t, text, Options{})
	before := whole.Feedback.Stats
	head, rows, _ := strings.Cut(text, "\n")
	lines := strings.Split(strings.TrimSpace(rows), "\n")
	own := mustRead(t, head+"\n"+strings.Join(lines[400:700], "\n")+"\n", Options{})
	p := whole.Piece(400, 700)
	if p.Rows != own.Rows || p.Len() != own.Len() || p.Time[0] != own.Time[0] || math.Abs(p.Step-own.Step) > 1e-9 {
		t.Errorf("%d rows, %d bins from %g s, step %g", p.Rows, p.Len(), p.Time[0], p.Step)
	}
	for name, pair := range map[string][2]Stats{"drive": {p.Drive.Stats, own.Drive.Stats}, "feedback": {p.Feedback.Stats, own.Feedback.Stats}, "supply": {p.Supply.Stats, own.Supply.Stats}} {
		got, want := pair[0], pair[1]
		got.Quantum = want.Quantum
		const fine = 1e-6
		if math.Abs(got.Min-want.Min) > fine || math.Abs(got.Max-want.Max) > fine {
			t.Errorf("%s: %g to %g, by itself %g to %g", name, got.Min, got.Max, want.Min, want.Max)
		}
		got.Min, got.Max = want.Min, want.Max
		if got != want {
			t.Errorf("%s: %+v, by itself %+v", name, got, want)
		}
	}
	if len(p.Remarks) != 1 || p.Remarks[0].Text != "in between" {
		t.Errorf("remarks %v", p.Remarks)
	}
	if whole.Feedback.Stats != before || len(whole.Remarks) != 2 || whole.Supply.Stats == p.Supply.Stats {
		t.Error("the whole was changed")
	}
	if whole.Piece(5, 5) != nil || whole.Piece(-1, 3) != nil || whole.Piece(0, 801) != nil {
		t.Error("a piece of nothing")
	}
	// Where the clock starts anew, and rows are missing.
	odd := *whole
	odd.Anew, odd.Gaps = []Restart{{Time: 10, Line: 3}, {Time: 30, Line: 4}}, []Span{{9, 10}, {29, 30}}
	if p := odd.Piece(0, 300); len(p.Anew) != 1 || len(p.Gaps) != 1 || p.Gaps[0].To != 10 {
		t.Errorf("restarts %v, gaps %v", p.Anew, p.Gaps)
	}
}
