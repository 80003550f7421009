package signal

import (
	"fmt"
	"strings"
	"testing"
)

// A column that says the direction in words of which one is unknown is named with them,
// under a name that says nothing and when it is given for the drive. The words of a language
// that is known are read, and a column of remarks is none.
func TestUnknownWordsOfDirection(t *testing.T) {
	file := func(head, stop, up, down string) string {
		var b strings.Builder
		b.WriteString(head + "\n")
		v := 1.0
		for i := range 400 {
			word := stop
			switch k := i % 200; {
			case k >= 20 && k < 90:
				word, v = up, v+0.05
			case k >= 120 && k < 190:
				word, v = down, v-0.05
			}
			fmt.Fprintf(&b, "%.2f;%s;%.3f\n", float64(i)/20, word, v)
		}
		return b.String()
	}
	tr := mustRead(t, file("zaman;yön;geri besleme", "dur", "aç", "kapa"), Options{})
	if c := tr.Columns[1]; c.Role != Polarity || tr.Feedback.Name != "geri besleme" {
		t.Errorf("column 2 is %v, feedback %q", c.Role, tr.Feedback.Name)
	}
	for _, c := range []struct {
		name, head, up string
		roles          map[Role]string
		want           string
	}{
		{"without a name", "time;x2;wiper", "plum", nil, `column 2 "x2" holds the words "stop", "plum", "close", of which "plum" is no known direction`},
		{"given as the drive", "time;x2;wiper", "plum", map[Role]string{Drive: "2"}, `--drive 2: column 2 "x2" holds the words`},
		{"a note in each row", "time;x2;wiper", "\x00", nil, "no motor drive in this file"},
	} {
		text := file(c.head, "stop", c.up, "close")
		for i := 0; strings.Contains(text, "\x00"); i++ {
			text = strings.Replace(text, "\x00", fmt.Sprintf("note%d", i), 1)
		}
		_, err := Read(strings.NewReader(text), Options{Roles: c.roles})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// A scope's XY picture has no time: its X goes to and fro. A file whose x is a time is read,
// and one that a clock begun anew takes back, too.
func TestXYPicture(t *testing.T) {
	file := func(head string, x func(i int, v, d float64) float64) string {
		var b strings.Builder
		b.WriteString(head + "\n")
		v := 1.0
		for i := range 400 {
			d := 0.0
			switch k := i % 200; {
			case k >= 20 && k < 90:
				d, v = 12, v+0.05
			case k >= 120 && k < 190:
				d, v = -12, v-0.05
			}
			if head == "X,Y" {
				fmt.Fprintf(&b, "%.4f,%.4f\n", x(i, v, d), v)
			} else {
				fmt.Fprintf(&b, "%.4f,%.4f,%.4f\n", x(i, v, d), d, v+0.001*float64(i*7%13)) // no half is a copy of the other
			}
		}
		return b.String()
	}
	noise := func(i int, _, d float64) float64 { return d + 0.01*float64(i*7%5) }
	_, err := Read(strings.NewReader(file("X,Y", noise)), Options{})
	if err == nil || !strings.Contains(err.Error(), "XY picture") || strings.Contains(err.Error(), "backwards") {
		t.Errorf("XY picture: %v", err)
	}
	for _, half := range []int{400, 200} {
		tr := mustRead(t, file("x,drive (V),feedback (V)", func(i int, _, _ float64) float64 { return float64(i%half) / 20 }), Options{})
		if tr.Rows != 400 || len(tr.Anew) != 400/half-1 {
			t.Errorf("x as a time, begun anew after %d rows: %d rows, %v", half, tr.Rows, tr.Anew)
		}
	}
	falls := func(i int, _, _ float64) float64 { // and rises
		if i < 300 {
			return 20 - float64(i)/20
		}
		return float64(i) / 20
	}
	if _, err = Read(strings.NewReader(file("time,drive (V),feedback (V)", falls)), Options{}); err == nil || !strings.Contains(err.Error(), "rises here") {
		t.Errorf("time that falls and rises: %v", err)
	}
}
