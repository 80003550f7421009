package signal

import (
	"fmt"
	"strings"
	"testing"
)

// leadTable writes two leads and a wiper; high is what a driven lead reads.
func leadTable(head string, high float64) string {
	var b strings.Builder
	b.WriteString(head + "\n")
	v := 500.0
	for i := range 800 {
		x, y := 0.0, 0.0
		switch i % 400 / 100 {
		case 1:
			x, v = high, v+35
		case 3:
			y, v = high, v-35
		}
		fmt.Fprintf(&b, "%.2f,%g,%g,%.0f\n", float64(i)*0.02, x, y, v)
	}
	return b.String()
}

func TestDriveThatIsNoVolts(t *testing.T) {
	for _, tt := range []struct {
		head     string
		high     float64
		scale    float64
		polarity bool
	}{
		{"Time (s),Lead A (counts),Lead B (counts),Wiper (counts)", 2687, 0, true},
		{"Time (s),Lead A (counts),Lead B (counts),Wiper (counts)", 50, 0, true},
		{"Time (s),Lead A,Lead B,Wiper (counts)", 2687, 0, true},
		{"Time (s),Lead A (V),Lead B (V),Wiper (mV)", 43000, 0, true},
		// what must stay volts
		{"Time (s),Lead A (counts),Lead B (counts),Wiper (counts)", 2687, 0.005, false},
		{"Time (s),Lead A,Lead B,Wiper (counts)", 13, 0, false},
		{"Time (s),Lead A (V),Lead B (V),Wiper (mV)", 130, 0, false}, // a probe counted twice
		{"Time (s),Lead A (mV),Lead B (mV),Wiper (mV)", 13000, 0, false},
	} {
		o := Options{}
		if tt.scale > 0 {
			o.Scale = map[Role]float64{Drive: tt.scale}
		}
		tr, err := Read(strings.NewReader(leadTable(tt.head, tt.high)), o)
		if err != nil {
			t.Fatal(err)
		}
		if tr.DriveIsPolarity != tt.polarity {
			t.Errorf("%s at %g: polarity %v, want %v", tt.head, tt.high, tr.DriveIsPolarity, tt.polarity)
		}
		top := tr.Drive.Stats.Max
		if tt.polarity && (top < 0.99 || top > 1.01) {
			t.Errorf("%s at %g: drive to %g", tt.head, tt.high, top)
		}
		if !tt.polarity && (tr.Drive.Unit != "V" || top < 12.9 || top > 13.5) {
			t.Errorf("%s at %g: drive to %g %s", tt.head, tt.high, top, tr.Drive.Unit)
		}
	}
}

// A drive without a unit whose level is about 1 is a share of the full drive, averaged or not:
// no motor turns on a volt. With a unit it is volts as written.
func TestDriveAsAShare(t *testing.T) {
	for head, polarity := range map[string]bool{"drive": true, "drive (V)": false} {
		var b strings.Builder
		fmt.Fprintf(&b, "time (s),%s,feedback (V)\n", head)
		for i := range 2000 {
			d, v := shuttle(float64(i) / 50)
			fmt.Fprintf(&b, "%.2f,%.4f,%.4f\n", float64(i)/50, d/12*0.9961, v)
		}
		if tr := mustRead(t, b.String(), Options{}); tr.DriveIsPolarity != polarity {
			t.Errorf("%s: polarity %v, notes %v", head, tr.DriveIsPolarity, tr.Notes)
		}
	}
}
