package signal

import (
	"fmt"
	"strings"
	"testing"
)

// statesFile writes a motor that goes up, rests, comes down and rests, its state in the
// words given for +1, -1 and 0.
func statesFile(above, name, up, down, rest string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%st,%s,Feedback (V)\n", above, name)
	v := 1.0
	for i := range 400 {
		word := rest
		switch i / 50 % 4 {
		case 1:
			word, v = up, v+0.04
		case 3:
			word, v = down, v-0.04
		}
		fmt.Fprintf(&b, "%.2f,%s,%.3f\n", float64(i)*0.05, word, v+0.001*float64(i%3))
	}
	return b.String()
}

// Numbers of a state are read by a legend in the file, or as controllers number them.
func TestStateNumbers(t *testing.T) {
	for _, c := range []struct{ above, name, up, down, rest string }{
		{"# Motor state: 1=stop, 2=open, 3=close\n", "Motor state", "2", "3", "1"},
		{"\"Drive (0 = open, 1 = off, 2 = close)\"\n\n", "Drive", "0", "2", "1"},
		{"", "Direction", "1", "255", "0"},
		{"", "Direction", "1", "2", "0"},
		{"", "Motor", "1", "2", "0"},
		{"", "Direction", "1", "-1", "0"},
	} {
		tr := mustRead(t, statesFile(c.above, c.name, c.up, c.down, c.rest), Options{})
		if d := tr.Drive.Mean; !tr.DriveIsPolarity || d[10] != 0 || d[60] != 1 || d[120] != 0 || d[170] != -1 {
			t.Errorf("%q %s: polarity %v, drive %v %v %v %v", c.above, c.name, tr.DriveIsPolarity, d[10], d[60], d[120], d[170])
		}
	}
}

// Numbers that nothing explains are asked about; volts are no numbers of a state.
func TestStateNumbersUnknown(t *testing.T) {
	_, err := Read(strings.NewReader(statesFile("", "Motor state", "2", "3", "1")), Options{})
	if err == nil || !strings.Contains(err.Error(), "1 = stop, 2 = open, 3 = close") {
		t.Errorf("1, 2 and 3 without a legend: %v", err)
	}
	tr := mustRead(t, statesFile("", "Motor (V)", "2", "-2", "0"), Options{})
	if tr.DriveIsPolarity || tr.Drive.Mean[60] != 2 {
		t.Errorf("2 V: polarity %v, drive %v", tr.DriveIsPolarity, tr.Drive.Mean[60])
	}
}

// A dash among words is nothing, beside a plus it is minus.
func TestDashOfDirection(t *testing.T) {
	for _, c := range []struct {
		up, down, rest string
	}{{"in", "out", "-"}, {"+", "-", ""}, {"+", "-", "0"}} {
		d := mustRead(t, statesFile("", "Motor", c.up, c.down, c.rest), Options{}).Drive.Mean
		if d[60] == 0 || d[60] != -d[170] || d[10] == d[60] || d[10] == d[170] {
			t.Errorf("%s/%s/%s: drive %v, %v, at rest %v", c.up, c.down, c.rest, d[60], d[170], d[10])
		}
	}
}

// Words of more languages, and of a state machine.
func TestMoreDirectionWords(t *testing.T) {
	for _, w := range []string{"Apre/Chiude/Fermo", "Otwiera/Zamyka/Stop", "Öppna/Stäng/Stopp", "nahoru/dolů/stop", "Abre/Fecha/Parado", "Açık/Kapalı/Dur", "RUN_POS/RUN_NEG/STBY"} {
		s := strings.Split(w, "/")
		d := mustRead(t, statesFile("", "Motor", s[0], s[1], s[2]), Options{}).Drive.Mean
		if d[60] != 1 || d[170] != -1 {
			t.Errorf("%s: drive %v, %v", w, d[60], d[170])
		}
	}
}

// One number without a unit all along is no measured supply.
func TestCountIsNoSupply(t *testing.T) {
	text := strings.ReplaceAll(statesFile("", "Motor (V)", "12", "-12", "0"), "\n", ",10\n")
	text = strings.Replace(text, "(V),10", "(V),n", 1)
	if r := mustRead(t, text, Options{}).Columns[3].Role; r != Unused {
		t.Errorf("a count is the %v", r)
	}
}
