package signal

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// A recorder that starts anew writes all lines of its header again, not the names
// alone.
func TestWholeHeaderRepeated(t *testing.T) {
	head := "Record,R1\nProbe,x10\n,CH1,CH2\nTime,Drive (V),Feedback (V)\n"
	tr := mustRead(t, head+rowsOf(0, 40)+",CH1,CH2\nTime,Drive (V),Feedback (V)\n"+rowsOf(40, 80), Options{})
	if tr.Rows != 80 {
		t.Errorf("read %d rows, expected 80: %v", tr.Rows, tr.Notes)
	}
}

func rowsOf(a, b int) string {
	var s strings.Builder
	for i := a; i < b; i++ {
		fmt.Fprintf(&s, "%.2f,%d,%.2f\n", float64(i)/50, 12*(1-i/20%2*2), 1+float64(i%40)/20)
	}
	return s.String()
}

// A file that ends within its last time looks as if time ran backwards there.
func TestLastTimeCut(t *testing.T) {
	var b strings.Builder
	b.WriteString("feedback,drive,time\n")
	for i := range 80 {
		fmt.Fprintf(&b, "%.2f,%d,%.3f\n", 1+float64(i%40)/20, 1-i/40*2, 60+float64(i)/50)
	}
	text := b.String()
	tr := mustRead(t, text+"1.05,-1,61", Options{})
	if tr.Rows != 80 || len(tr.Time) == 0 || tr.Time[len(tr.Time)-1] < 61.5 {
		t.Errorf("read %d rows up to %.3f s, expected 80 up to 61.58 s", tr.Rows, tr.Time[len(tr.Time)-1])
	}
	said := false
	for _, n := range tr.Notes {
		said = said || n.Code == "cut-line" && strings.Contains(n.Text, "(82)")
	}
	if !said {
		t.Errorf("not said that line 82 was left out: %v", tr.Notes)
	}
	// With its end it is a whole line, and the time does run backwards.
	if _, err := Read(strings.NewReader(text+"1.05,-1,61\n"), Options{Source: "x.csv"}); err == nil || !strings.Contains(err.Error(), "backwards") {
		t.Errorf("a whole line with an earlier time: %v", err)
	}
}

// Blanks in stamps and in names do not make a table of tabs one of blanks, with words
// for the drive and with columns that are filled now and then.
func TestTabsWithWordsAndEmptyCells(t *testing.T) {
	var b strings.Builder
	b.WriteString("Timestamp\tPolarity\tAir temperature [degC]\tBattery post [V]\tWiper [V]\t5V reference [V]\n")
	for i := range 400 {
		word := []string{"OFF", "FWD", "OFF", "REV"}[i/50%4]
		slow := "\t"
		if i%20 == 0 {
			slow = "24,5\t12,1"
		}
		fmt.Fprintf(&b, "09.03.2031 17:50:%02d,%03d\t%s\t%s\t%s\t%s\n", i/20, i%20*50, word, slow,
			strings.ReplaceAll(fmt.Sprintf("%.3f", 1+float64(i%100)/50), ".", ","), "5,003")
	}
	tr := mustRead(t, b.String(), Options{})
	if !tr.DriveIsPolarity || tr.Feedback.Name != "Wiper" || tr.Reference == nil || tr.Rows != 400 {
		t.Errorf("feedback %q, polarity %v, reference %v, %d rows", tr.Feedback.Name, tr.DriveIsPolarity, tr.Reference != nil, tr.Rows)
	}
}

// A clock that stands while rows are taken, and jumps on, has the rows spread over
// what it missed; a few rows of one stamp without such a jump stay where they are.
func TestClockStood(t *testing.T) {
	var b strings.Builder
	b.WriteString("time,drive,feedback\n")
	for i := range 200 {
		at := float64(i) / 20
		if i >= 100 && i < 120 {
			at = 5
		}
		fmt.Fprintf(&b, "%.3f,%d,%.3f\n", at, 12*(1-i/50%2*2), 1+float64(i)/100)
	}
	tr := mustRead(t, b.String(), Options{})
	if len(tr.Gaps) > 0 {
		t.Errorf("gaps %v, expected none", tr.Gaps)
	}
	for i, at := range tr.Time {
		if math.Abs(at-float64(i)/20) > 1e-6 {
			t.Fatalf("row %d at %.3f s, expected %.3f", i, at, float64(i)/20)
		}
	}
	if !slices.ContainsFunc(tr.Notes, func(n Note) bool { return n.Code == "clock-stood" }) {
		t.Errorf("not said: %v", tr.Notes)
	}
}

// The SI writes the unit 1 for a share of the whole (ISO 80000-1): a wiper of which
// the reference is 1, and a direction.
func TestUnitOne(t *testing.T) {
	for _, head := range []string{"Time;Drive polarity;Feedback\ns;1;1\n", "Time (s);Drive polarity;Feedback (1)\n", "Time [s];Drive polarity;Feedback ratio\n"} {
		var b strings.Builder
		b.WriteString(head)
		for i := range 200 {
			fmt.Fprintf(&b, "%.2f;%d;%.4f\n", float64(i)/50, 1-i/50%2*2, 0.1+0.8*float64(i%100)/100)
		}
		tr := mustRead(t, b.String(), Options{})
		if tr.Feedback.Unit != "%" || math.Abs(tr.Feedback.Stats.Min-10) > 0.01 || math.Abs(tr.Feedback.Stats.Max-89.2) > 0.1 {
			t.Errorf("%q: feedback %g to %g %s, expected 10 to 89.2 %%", head, tr.Feedback.Stats.Min, tr.Feedback.Stats.Max, tr.Feedback.Unit)
		}
		if !tr.DriveIsPolarity || tr.Drive.Stats.Max != 1 || tr.Drive.Stats.Min != -1 {
			t.Errorf("%q: drive %g to %g, polarity %v", head, tr.Drive.Stats.Min, tr.Drive.Stats.Max, tr.DriveIsPolarity)
		}
	}
	// A number that counts is no unit.
	var b strings.Builder
	b.WriteString("Time (s),Motor (1),Motor (2),Wiper (V)\n")
	for i := range 200 {
		up := i / 50 % 2
		fmt.Fprintf(&b, "%.2f,%d,%d,%.3f\n", float64(i)/50, 12*up, 12*(1-up), 1+float64(i%100)/50)
	}
	if tr := mustRead(t, b.String(), Options{}); tr.DriveIsPolarity || tr.Drive.Stats.Max != 12 {
		t.Errorf("two motor leads: drive %g to %g", tr.Drive.Stats.Min, tr.Drive.Stats.Max)
	}
}
