package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// codeTable writes a wiper in volts that reads code in one row of fifty.
func codeTable(head, code string, scale float64) string {
	var b strings.Builder
	b.WriteString(head + "\n")
	v := 0.5
	for i := range 800 {
		d := 0.0
		switch i % 400 / 100 {
		case 1:
			d, v = 12, v+0.035
		case 3:
			d, v = -12, v-0.035
		}
		w := fmt.Sprintf("%.3f", v*scale)
		if i%50 == 7 {
			w = code
		}
		fmt.Fprintf(&b, "%.2f,%.2f,%s\n", float64(i)*0.02, d, w)
	}
	return b.String()
}

func TestErrorCodes(t *testing.T) {
	const volts, milli = "Time (s),Motor (V),Wiper (V)", "Time (s),Motor (V),Wiper (mV)"
	for _, tt := range []struct {
		head, code string
		scale      float64
		missing    int64
	}{
		{volts, "-9999", 1, 16},
		{volts, "-999.9", 1, 16},
		{volts, "99.999", 1, 16},
		{milli, "65535", 1000, 16},
		{milli, "-32768", 1000, 16},
		// what must stay a reading
		{volts, "12.000", 1, 0},                             // shorted to the battery
		{volts, "9.999", 1, 0},                              // within reach of the rest
		{"Time (s),Motor (V),Wiper (counts)", "1023", 3, 0}, // off its ground
		{"Time (s),Motor (V),Wiper (V)", "61.2", 1, 0},      // a wild reading
	} {
		for _, block := range []int{0, 600} {
			tr, err := Read(strings.NewReader(codeTable(tt.head, tt.code, tt.scale)), Options{block: block})
			if err != nil {
				t.Fatal(err)
			}
			if got := tr.Feedback.Stats.Missing; got != tt.missing {
				t.Errorf("%s with %s, blocks of %d: %d cells missing, want %d", tt.head, tt.code, block, got, tt.missing)
			}
			noted := false
			for _, n := range tr.Notes {
				noted = noted || n.Code == "error-code"
			}
			if noted != (tt.missing > 0) {
				t.Errorf("%s with %s: noted %v", tt.head, tt.code, noted)
			}
		}
	}
}

// A converter of whole numbers at its end is a reading.
func TestFullScaleIsNoCode(t *testing.T) {
	for _, x := range []float64{65535, 32767} {
		if looksLikeCode(x, counts, 12) || looksLikeCode(x, noQuantity, 12) {
			t.Errorf("%v among whole numbers was taken for a code", x)
		}
		if !looksLikeCode(x, noQuantity, 0.445) {
			t.Errorf("%v among fractions was not taken for a code", x)
		}
	}
	if looksLikeCode(math.NaN(), volts, 0) {
		t.Error("a missing cell was taken for a code")
	}
}

func TestErrorCodesInLeads(t *testing.T) {
	text := strings.Replace(codeTable("Time (s),Motor (V),Wiper (V)", "-9999", 1), ",12.00,", ",-9999,", 9)
	tr, err := Read(strings.NewReader(text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if tr.Drive.Stats.Missing != 9 || tr.Drive.Stats.Min < -13 {
		t.Errorf("drive: %+v", tr.Drive.Stats)
	}
}
