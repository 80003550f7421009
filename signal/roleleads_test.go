package signal

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// eased is a capture whose drive eases in and out over a third of a second,
// with noise on every channel. The leads rest at ground, or both at the
// supply. way 0 drives both ways, else only the given one.
func eased(rate float64, braked bool, way float64, f func(t, a, b, v float64) string) string {
	r := rand.New(rand.NewPCG(3, 5))
	var b strings.Builder
	pos, d := 0.5, 0.0
	for i := range int(rate * 40) {
		t := float64(i) / rate
		want := 0.0
		switch ph := math.Mod(t, 10); {
		case ph > 1 && ph < 4:
			want = 1
		case ph > 6 && ph < 9:
			want = -1
		}
		if want*way < 0 {
			want = 0
		}
		d += max(-3/rate, min(3/rate, want-d))
		pos = max(0.05, min(0.95, pos+0.28*d/rate))
		x, y := 13.2*max(d, 0), 13.2*max(-d, 0)
		if braked {
			x, y = 13.2-y, 13.2-x
		}
		n := func() float64 { return 0.02 * r.NormFloat64() }
		b.WriteString(f(t, x+n(), y+n(), 0.4+4.1*pos+n()/5))
		b.WriteByte('\n')
	}
	return b.String()
}

// Two columns that stand against each other in turn are the leads, however
// softly they do it, wherever they rest and whatever they are called.
func TestEasedLeads(t *testing.T) {
	row := func(s, a, b, v float64) string { return fmt.Sprintf("%.4f,%.3f,%.3f,%.4f", s, a, b, v) }
	moved := func(s, a, b, v float64) string { return fmt.Sprintf("%.4f,%.4f,%.3f,%.3f", s, v, b, a) }
	plain := map[Role]int{TimeRole: 1, LeadA: 2, LeadB: 3, Feedback: 4}
	last := map[Role]int{TimeRole: 1, LeadA: 3, LeadB: 4, Feedback: 2}
	for _, c := range []struct {
		name, head string
		braked     bool
		rate, way  float64
		row        func(s, a, b, v float64) string
		want       map[Role]int
	}{
		{"channels", "Time,Channel A,Channel B,Channel C\n(s),(V),(V),(V)\n\n", false, 800, 0, row, plain},
		{"channels at rest at the supply", "Time,Channel A,Channel B,Channel C\n(s),(V),(V),(V)\n\n", true, 800, 0, row, plain},
		{"letters", "Time/s,A/V,B/V,Feedback/V\n", false, 400, 0, row, plain},
		{"letters at rest at the supply", "Time/s,A/V,B/V,Feedback/V\n", true, 400, 0, row, plain},
		{"numbers", "time,CH1,CH2,CH3\n", false, 800, 0, row, plain},
		{"wiper first", "time,CH1,CH2,CH3\n", true, 800, 0, moved, last},
		{"no header", "", false, 800, 0, moved, last},
		{"letters the other way round", "t (s),B (V),A (V),pot (V)\n", false, 400, 0, row, map[Role]int{TimeRole: 1, LeadA: 3, LeadB: 2, Feedback: 4}},
		{"millivolts", "Time/s,A/mV,B/mV,Feedback/mV\n", true, 400, 0, func(s, a, b, v float64) string { return fmt.Sprintf("%.4f,%.0f,%.0f,%.1f", s, 1000*a, 1000*b, 1000*v) }, plain},
		{"one way only", "Time/s,A/V,B/V,Feedback/V\n", false, 400, 1, row, plain},
		{"the other way only", "Time,Channel A,Channel B,Channel C\n(s),(V),(V),(V)\n", false, 400, -1, row, plain},
	} {
		t.Run(c.name, func(t *testing.T) {
			wantRoles(t, rolesOf(t, c.head+eased(c.rate, c.braked, c.way, c.row), Options{}), c.want)
		})
	}
}

// A dead leg follows the live one through the motor's winding: what stands against
// ground under the names A and B is the leads all the same, and a plain A and B is
// asked about.
func TestLeadsAgainstGround(t *testing.T) {
	follows := func(s, a, b, v float64) string { return fmt.Sprintf("%.4f,%.3f,%.3f,%.4f", s, a, 0.7*a, 2.5) }
	wantRoles(t, rolesOf(t, "Time (s),A to gnd (V),B to gnd (V),Wiper (V)\n"+eased(400, false, 0, follows), Options{}), map[Role]int{TimeRole: 1, LeadA: 2, LeadB: 3, Feedback: 4})
	wantRoles(t, rolesOf(t, "Time (s),B against ground,A against ground,Wiper (V)\n"+eased(400, false, 0, follows), Options{}), map[Role]int{TimeRole: 1, LeadA: 3, LeadB: 2, Feedback: 4})
	if _, err := Read(strings.NewReader("Time (s),A (V),B (V),Wiper (V)\n"+eased(400, false, 0, follows)), Options{}); err == nil || !strings.Contains(err.Error(), "--lead-a") {
		t.Errorf("A and B that are against nothing: got %v", err)
	}
}

// Two channels named A and B, or one lead beside a wiper, are no two leads;
// and four leads are two motors.
func TestNotTwoLeads(t *testing.T) {
	text := "Time,Channel A,Channel B\n" + eased(400, false, 0, func(s, a, b, v float64) string { return fmt.Sprintf("%.4f,%.3f,%.4f", s, a-b, v) })
	wantRoles(t, rolesOf(t, text, Options{}), map[Role]int{TimeRole: 1, Drive: 2, Feedback: 3})

	// A wiper on a track fed with 12 V, parked at its ends most of the time.
	text = "time,Channel A,Channel B,Channel C\n" + eased(400, false, 0, func(s, a, b, v float64) string {
		return fmt.Sprintf("%.4f,%.3f,%.4f,%.3f", s, math.Round(a/13)*13, max(0, min(12.5, (v-2)*9)), 13.1+0.01*a)
	})
	if got := rolesOf(t, text, Options{}); got[LeadA] != 0 || got[Drive] != 2 || got[Feedback] != 3 {
		t.Errorf("a single lead beside a wiper was read as %v", got)
	}

	text = "time,Channel A,Channel B,Channel C,Channel D,Channel E\n" + eased(400, false, 0, func(s, a, b, v float64) string {
		return fmt.Sprintf("%.4f,%.3f,%.3f,%.3f,%.3f,%.4f", s, a, b, 0.98*a, 1.01*b, v)
	})
	if _, err := Read(strings.NewReader(text), Options{}); err == nil || !strings.Contains(err.Error(), "--lead-a") {
		t.Errorf("four leads: got %v", err)
	}
}

// Without names the one column with volts of both signs is the drive: also
// when nothing moves with it, or a bad wiper is what jumps.
func TestDriveByItsSigns(t *testing.T) {
	for name, v := range map[string]func(i int, v float64) float64{
		"lost":      func(i int, v float64) float64 { return 0.004 * float64(i%3) },
		"drops out": func(i int, v float64) float64 { return v * float64(min(1, i/37%5)) },
		"parked":    func(i int, v float64) float64 { return math.Round(v/4) * 4.4 },
	} {
		t.Run(name, func(t *testing.T) {
			i := 0
			text := eased(300, false, 0, func(s, a, b, w float64) string {
				i++
				return fmt.Sprintf("%.4f,%.3f,%.4f", s, a-b, v(i, w))
			})
			wantRoles(t, rolesOf(t, text, Options{}), map[Role]int{TimeRole: 1, Drive: 2, Feedback: 3})
		})
	}
}

// The same in millivolts, as written in the header or nowhere.
func TestDriveByItsSignsInMillivolts(t *testing.T) {
	for _, head := range []string{"", "ms,mV,mV\n"} {
		text := head + eased(300, false, 0, func(s, a, b, v float64) string {
			return fmt.Sprintf("%.2f,%.0f,%.1f", 1000*s, 1000*(a-b), 4000*math.Round(v/4)+s)
		})
		wantRoles(t, rolesOf(t, text, Options{}), map[Role]int{TimeRole: 1, Drive: 2, Feedback: 3})
	}
}

// A drive that eases in, one way only, is the one column between ground and
// the supply.
func TestDriveByItsReach(t *testing.T) {
	text := eased(900, false, 1, func(s, a, b, v float64) string { return fmt.Sprintf("%.5f,%.3f,%.4f", s, a, v/2) })
	wantRoles(t, rolesOf(t, text, Options{}), map[Role]int{TimeRole: 1, Drive: 2, Feedback: 3})

	// The supply alone never comes near ground: nothing is guessed.
	text = eased(900, false, 1, func(s, a, b, v float64) string { return fmt.Sprintf("%.5f,%.3f,%.4f", s, 10+a/5, v/2) })
	if _, err := Read(strings.NewReader(text), Options{}); err == nil {
		t.Error("a supply was taken as the drive")
	}
}

// A column without a name that is lifted a little while the only driven lead
// is there may be the other lead at ground or a current: neither is guessed.
func TestLeadHeldAtGround(t *testing.T) {
	for name, c := range map[string]struct {
		way  float64
		want map[Role]int
	}{
		"one way":   {1, map[Role]int{TimeRole: 1, Drive: 2, Feedback: 4}},
		"both ways": {0, map[Role]int{TimeRole: 1, Drive: 2, Feedback: 4, Current: 3}},
	} {
		t.Run(name, func(t *testing.T) {
			text := rig(50, 60, 4, func(s, d, v, supply, ref, amps float64) string {
				if c.way > 0 {
					d, amps = max(d, 0), max(amps, 0)
				}
				return fmt.Sprintf("%.3f,%.3f,%.4f,%.4f", s, d, 0.2*amps, v)
			})
			wantRoles(t, rolesOf(t, text, Options{}), c.want)
		})
	}
}

// A lead that is let go shows for a moment what the motor generates while it
// runs on, below ground.
func TestLeadsThatGenerate(t *testing.T) {
	last, off := 0.0, 9
	text := "t,CH1,CH2,CH3\n" + rig(200, 60, 2, func(s, d, v, supply, ref, amps float64) string {
		if d < 1 && last > 1 {
			off = 0
		}
		last = d
		a, b := max(d, 0), max(-d, 0)
		if off < 8 {
			a = -8 + float64(off)
			off++
		}
		return fmt.Sprintf("%.4f,%.3f,%.3f,%.4f", s, a, b, v)
	})
	wantRoles(t, rolesOf(t, text, Options{}), map[Role]int{TimeRole: 1, LeadA: 2, LeadB: 3, Feedback: 4})
}

// A duty cycle with a sign is the drive, also where it ramps and never switches,
// in percent or in steps of a timer, and beside words that are no directions.
func TestSignedDuty(t *testing.T) {
	for _, c := range []struct {
		head string
		top  float64
		word string
	}{
		{"uptime (ms),pwm duty (%),wiper (V)", 90, ""},
		{"uptime (ms),duty,wiper (V)", 230, ""},
		{"uptime (ms),duty (%),wiper (V),state", 90, ",MAN"},
	} {
		var b strings.Builder
		b.WriteString(c.head + "\n")
		x := 2.5
		for i := range 2000 {
			d := math.Round(c.top * math.Sin(2*math.Pi*float64(i)/400))
			x += 0.01 * d / c.top
			fmt.Fprintf(&b, "%d,%.0f,%.4f%s\n", 20*i, d, x, c.word)
		}
		tr := mustRead(t, b.String(), Options{})
		if tr.Columns[1].Role != Drive || tr.Columns[2].Role != Feedback || !tr.DriveIsPolarity {
			t.Errorf("%s: drive is %s, feedback is %s, polarity %v", c.head, tr.Columns[1].Role, tr.Columns[2].Role, tr.DriveIsPolarity)
		}
		if m := tr.Drive.Stats.Max; m < 0.5 || m > 1 {
			t.Errorf("%s: the largest duty is %g, expected a share of 1", c.head, m)
		}
	}
}

// A column in amperes is no feedback, whoever says so.
func TestCurrentIsNoFeedback(t *testing.T) {
	text := "t (s),drive (V),motor current (A),wiper (V)\n" + rig(50, 20, 3, func(s, d, v, supply, ref, amps float64) string {
		return fmt.Sprintf("%.3f,%.3f,%.4f,%.4f", s, d, amps, v)
	})
	_, err := Read(strings.NewReader(text), Options{Roles: map[Role]string{Feedback: "motor current"}})
	if err == nil || !strings.Contains(err.Error(), "is a current in A") || !strings.Contains(err.Error(), "--current") {
		t.Errorf("%v", err)
	}
}
