package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// A current clamp and the wiper are all that some have: then the current says which
// way the motor is driven. The current is drawn: 90 mA running, 380 mA against a
// stop, 4 mA of noise, and the kick of a motor that is braked by its own short.
func TestDirectionFromCurrent(t *testing.T) {
	var b strings.Builder
	b.WriteString("Time (s),Motor current (mA),Feedback (V)\n")
	want := make([]float64, 0, 1200)
	pos := 0.5
	for i := range 1200 {
		at := float64(i) / 50
		d := 0.0
		switch ph := math.Mod(at, 12); {
		case ph > 1 && ph < 5:
			d = 1
		case ph > 7 && ph < 11:
			d = -1
		}
		moved := pos
		pos = max(0, min(1, pos+d*0.3/50))
		mA := 4 * math.Sin(float64(i)*1.7)
		if d != 0 {
			mA += d * 90
			if moved == pos {
				mA += d * 290
			}
		}
		if ph := math.Mod(at, 6); d == 0 && ph >= 5 && ph < 5.1 { // braked
			kick := 60 * math.Exp(-(ph-5)/0.03)
			if math.Mod(at, 12) < 6 {
				kick = -kick
			}
			mA += kick
		}
		want = append(want, d)
		fmt.Fprintf(&b, "%.2f,%.1f,%.3f\n", at, mA, 0.5+4*pos)
	}
	tr := mustRead(t, b.String(), Options{})
	if !tr.DriveIsPolarity || tr.Current == nil {
		t.Fatalf("drive is polarity %v, current %v", tr.DriveIsPolarity, tr.Current)
	}
	if m := tr.Current.Stats.Max; math.Abs(m-0.384) > 0.005 {
		t.Errorf("largest current %.4f A, expected 0.384 A", m)
	}
	wrong := 0
	for i, d := range want {
		if float64(tr.Drive.Mean[i]) != d {
			wrong++
		}
	}
	if wrong > 4 {
		t.Errorf("the direction is wrong in %d of %d rows", wrong, len(want))
	}
	if !tr.DriveFromCurrent() {
		t.Errorf("not said where the direction comes from: %v", tr.Notes)
	}
}

// One way only it may be a current without a sign, and with a drive in the file the
// current is never asked.
func TestDirectionFromCurrentRefused(t *testing.T) {
	var one, both strings.Builder
	one.WriteString("time s,motor current mA,feedback V\n")
	both.WriteString("time s,motor current mA,feedback V,out1\n")
	for i := range 600 {
		at, c, d := float64(i)/20, 0.0, 0
		if i/100%2 == 1 {
			c, d = 90, 12
			if i/100%4 == 3 {
				d = -12
			}
		}
		v := 2 + math.Sin(at/3)
		fmt.Fprintf(&one, "%.2f,%g,%.3f\n", at, c, v)
		fmt.Fprintf(&both, "%.2f,%g,%.3f,%d\n", at, math.Copysign(c, float64(d)), v, d)
	}
	if _, err := Read(strings.NewReader(one.String()), Options{Source: "x.csv"}); err == nil || !strings.Contains(err.Error(), "no motor drive") {
		t.Errorf("a current of one sign: %v", err)
	}
	tr := mustRead(t, both.String(), Options{})
	if tr.DriveIsPolarity || tr.DriveFromCurrent() || tr.Drive.Name != "out1" {
		t.Errorf("drive is %q, polarity %v; expected the volts beside the current", tr.Drive.Name, tr.DriveIsPolarity)
	}
}
