package signal

import (
	"fmt"
	"strings"
	"testing"
)

// said writes a capture with its direction in words and gives the reading.
func said(t *testing.T, head string, r rec, row func(i int, t, d, v float64) string) *Trace {
	t.Helper()
	tr := mustRead(t, head+r.rows(row), Options{})
	if msg := broken(tr); msg != "" {
		t.Fatal(msg)
	}
	return tr
}

// wantSigns checks the polarity of every row but for a sign common to all.
func wantSigns(t *testing.T, tr *Trace, r rec) {
	t.Helper()
	if !tr.DriveIsPolarity {
		t.Fatal("the drive was not read as a polarity")
	}
	sign := 0.0
	for i, d := range r.d {
		got := float64(tr.Drive.Mean[i])
		if sign == 0 && d != 0 {
			sign = got * 12 / d
		}
		if got != sign*d/12 || sign != 1 && sign != -1 && d != 0 {
			t.Fatalf("row %d: drive %v, want %v", i, got, sign*d/12)
		}
	}
}

// Whatever pair of words says the direction, and whatever word the rest.
func TestDirectionWords(t *testing.T) {
	r := newRec(400, 0.02)
	for _, w := range [][3]string{
		{"OPEN", "SHUT", "REST"}, {"open", "closed", "resting"}, {"Opening", "Closing", "Hold"}, {"CW", "CCW", "0"}, {"cw", "acw", "idle"},
		{"up", "down", "neutral"}, {"+", "-", "0"}, {"A+", "B+", "none"}, {"A>B", "B>A", "off"}, {"A->B", "B->A", "off"}, {"a->b", "b->a", "--"}, {"left", "right", "none"}, {"extend", "retract", "coast"}, {"HOT", "COLD", "BRAKE"},
		{"warmer", "cooler", "pause"}, {"raise", "lower", "steady"}, {"fresh", "recirc", "off"}, {">>", "<<", "--"}, {"1", "-1", "0"},
		{"L", "R", "0"}, {"F", "R", "S"}, {"H", "L", "0"}, {"H", "C", "N"}, {"O", "C", "S"}, {"U", "D", "X"}, {"f", "r", "n"},
		{"F", "R", "O"}, {"F", "R", "B"}, {"L", "R", "H"}, {"H", "L", "Z"}, {"P", "N", "Z"}, {"u", "d", "o"}, {"A", "B", "0"}, {"F", "B", "S"}, {"UP", "DN", "--"}, {"on+", "on-", "off"},
		{"motor open", "motor shut", "motor off"}, {"DRIVE_UP", "DRIVE_DOWN", "IDLE"}, {"moving left", "moving right", "stopped"},
		{"auf", "zu", "Ruhe"}, {"öffnen", "schließen", "Halt"}, {"vor", "zurück", "Stillstand"}, {"hoch", "runter", "aus"}, {"heiß", "kalt", "Bremse"},
		{"ouvrir", "fermer", "repos"}, {"droite", "gauche", "arrêt"}, {"montée", "descente", "frein"}, {"chaud", "froid", "stop"},
		{"abrir", "cerrar", "parado"}, {"arriba", "abajo", "reposo"}, {"derecha", "izquierda", "freno"},
		{"apri", "chiudi", "fermo"}, {"aperto", "chiuso", "riposo"}, {"su", "giù", "freno"}, {"destra", "sinistra", "spento"},
	} {
		t.Run(w[0], func(t *testing.T) {
			tr := said(t, "time,direction,wiper\n", r, func(i int, s, d, v float64) string {
				return fmt.Sprintf("%.3f,%s,%.3f", s, word(d, w[0], w[1], w[2]), v)
			})
			wantSigns(t, tr, r)
		})
	}
}

// Letters that make a pair say the direction under the name of a drive as well.
func TestDriveLetters(t *testing.T) {
	r := newRec(400, 0.02)
	for _, w := range [][3]string{{"F", "R", "S"}, {"P", "N", "0"}, {"A", "B", "-"}} {
		tr := said(t, "time,motor drive,wiper\n", r, func(i int, s, d, v float64) string {
			return fmt.Sprintf("%.3f,%s,%.3f", s, word(d, w[0], w[1], w[2]), v)
		})
		wantSigns(t, tr, r)
	}
}

// A recording that begins with a long rest shows its words only behind the
// part of the file that settles its shape.
func TestDirectionWordsBehindALongRest(t *testing.T) {
	r := newRec(24000, 0.002)
	for i := range r.d {
		if i < 8000 {
			r.d[i] = 0
		}
	}
	for _, c := range []struct{ name, head, rest, up, down string }{
		{"named", "time;direction;wiper\n", "0", "CCW", "CW"},
		{"letters", "time;command;wiper\n", "0", "L", "R"},
		{"signs", "time;polarity;wiper\n", "0", "+", "-"},
		{"no header", "", "0", "up", "down"},
		{"words", "time;direction;wiper\n", "REST", "OPEN", "SHUT"},
	} {
		t.Run(c.name, func(t *testing.T) {
			tr := said(t, c.head, r, func(i int, s, d, v float64) string {
				return fmt.Sprintf("%.3f;%s;%.3f", s, word(d, c.up, c.down, c.rest), v)
			})
			if tr.Drive.Stats.Missing != 0 {
				t.Errorf("%d cells were read as missing", tr.Drive.Stats.Missing)
			}
			wantSigns(t, tr, r)
		})
	}
}

// A direction in words of which some are unknown is refused, with the place.
func TestUnknownDirectionWords(t *testing.T) {
	r := newRec(400, 0.02)
	for _, c := range []struct{ up, down, rest, say string }{
		{"open", "close", "banana", "line 2 holds \"banana\""},
		{"apple", "pear", "plum", "line 2 holds \"plum\""},
		{"H", "C", "O", "line 2 holds \"O\""}, // hot, cold, off; or open, close, hold
	} {
		text := "time,direction,wiper\n" + r.rows(func(i int, s, d, v float64) string {
			return fmt.Sprintf("%.3f,%s,%.3f", s, word(d, c.up, c.down, c.rest), v)
		})
		_, err := Read(strings.NewReader(text), Options{Source: "x.csv"})
		if err == nil || !strings.Contains(err.Error(), "x.csv") || !strings.Contains(err.Error(), c.say) || !strings.Contains(err.Error(), "column 2 \"direction\"") || !strings.Contains(err.Error(), "1, -1 and 0") {
			t.Errorf("%s: got %v, want %s", c.rest, err, c.say)
		}
	}
	// Behind the head, too.
	r = newRec(24000, 0.002)
	text := "time,direction,wiper\n" + r.rows(func(i int, s, d, v float64) string {
		w := word(d, "open", "shut", "stop")
		if i > 9000 && d < 0 {
			w = "plum"
		}
		return fmt.Sprintf("%.3f,%s,%.3f", s, w, v)
	})
	if _, err := Read(strings.NewReader(text), Options{}); err == nil || !strings.Contains(err.Error(), "no known direction, first \"plum\"") {
		t.Errorf("got %v", err)
	}
}

// What only looks like a direction is none.
func TestNoDirectionWords(t *testing.T) {
	for _, s := range []string{"", "in position", "open circuit", "not moving up", "error", "C", "A", "l", "motor", "up down", "12 V"} {
		if v, ok := polarity([]byte(s)); ok {
			t.Errorf("%q is read as %v", s, v)
		}
	}
}

// What is passed over as plainly a number is no word of direction, nor of on and off.
func TestNoNumeralIsADirection(t *testing.T) {
	for _, words := range []map[string]float64{polarityWords, letterWords, onOffWords} {
		for w := range words {
			for _, s := range []string{w, " " + w, w + ".", "." + w, "." + w + "."} {
				if isNumeral([]byte(s)) {
					t.Errorf("%q says a direction and is taken for a number", s)
				}
			}
		}
	}
	for _, s := range []string{"12.3412", "-0.05", "+1.0", "100"} {
		if !isNumeral([]byte(s)) {
			t.Errorf("%q is taken for a word", s)
		}
	}
}
