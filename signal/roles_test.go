package signal

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// rig is a rougher capture: noise, converter steps, sagging supply, idle at
// first, feedback running against the drive.
func rig(rate float64, seconds float64, idle float64, f func(t, d, v, supply, ref, amps float64) string) string {
	r := rand.New(rand.NewPCG(7, 11))
	var b strings.Builder
	pos := 0.3
	for i := range int(rate * seconds) {
		t := float64(i) / rate
		d := 0.0
		if t > idle {
			switch ph := math.Mod(t-idle, 14); {
			case ph < 5:
				d = 1
			case ph > 7 && ph < 12:
				d = -1
			}
		}
		moving := d != 0 && !(d > 0 && pos >= 0.9) && !(d < 0 && pos <= 0.1)
		if moving {
			pos += d * 0.2 / rate
		}
		amps := 0.0
		switch {
		case moving:
			amps = 0.15
		case d != 0:
			amps = 0.6
		}
		supply := 12.6 - amps*0.5 + r.NormFloat64()*0.02
		b.WriteString(f(t, d*supply+r.NormFloat64()*0.03, math.Round((5-5*pos+r.NormFloat64()*0.004)*204.8)/204.8, supply, 5+r.NormFloat64()*0.003, d*amps+r.NormFloat64()*0.005))
		b.WriteByte('\n')
	}
	return b.String()
}

func rolesOf(t *testing.T, text string, o Options) map[Role]int {
	t.Helper()
	tr := mustRead(t, text, o)
	m := map[Role]int{}
	for _, c := range tr.Columns {
		if c.Role != Unused {
			m[c.Role] = c.Number
			if c.Reason == "" {
				t.Errorf("column %d has role %v without a reason", c.Number, c.Role)
			}
		}
	}
	return m
}

func wantRoles(t *testing.T, got map[Role]int, want map[Role]int) {
	t.Helper()
	for r, n := range want {
		if got[r] != n {
			t.Errorf("%v is column %d, want %d", r, got[r], n)
		}
	}
	for r, n := range got {
		if want[r] == 0 {
			t.Errorf("column %d took the role %v", n, r)
		}
	}
}

// Without any name the shape of the whole file decides, at any row rate and
// however long the drive idles first.
func TestRolesByShape(t *testing.T) {
	for _, c := range []struct{ rate, seconds, idle float64 }{{20, 60, 0}, {100, 60, 20}, {1000, 60, 30}, {5000, 30, 10}, {5, 120, 0}} {
		t.Run(fmt.Sprintf("%g Hz idle %g s", c.rate, c.idle), func(t *testing.T) {
			text := rig(c.rate, c.seconds, c.idle, func(s, d, v, supply, ref, amps float64) string {
				return fmt.Sprintf("%.4f,%.4f,%.3f,%.3f,%.3f", s, v, supply, d, ref)
			})
			wantRoles(t, rolesOf(t, text, Options{}), map[Role]int{TimeRole: 1, Feedback: 2, Supply: 3, Drive: 4, Reference: 5})
		})
	}
}

func TestRolesOfLeadsByShape(t *testing.T) {
	text := "s,V,V,V,A\n" + rig(100, 60, 3, func(s, d, v, supply, ref, amps float64) string {
		return fmt.Sprintf("%.4f,%.3f,%.4f,%.3f,%.4f", s, math.Max(d, 0.02), v, math.Max(-d, 0.02), amps)
	})
	wantRoles(t, rolesOf(t, text, Options{}), map[Role]int{TimeRole: 1, LeadA: 2, Feedback: 3, LeadB: 4, Current: 5})
}

// A slow channel that does not follow the drive is not the feedback.
func TestRolesByMotion(t *testing.T) {
	text := "time,CH1,CH2,CH3\n" + rig(50, 60, 3, func(s, d, v, supply, ref, amps float64) string {
		return fmt.Sprintf("%.4f,%.3f,%.4f,%.4f", s, d, 2+math.Sin(s/9), v)
	})
	wantRoles(t, rolesOf(t, text, Options{}), map[Role]int{TimeRole: 1, Drive: 2, Feedback: 4})
}

func TestRolesByHeader(t *testing.T) {
	row := func(s, d, v, supply, ref, amps float64) string {
		return fmt.Sprintf("%.4f,%.3f,%.4f,%.3f,%.3f,%.4f", s, d, v, supply, ref, amps)
	}
	all := map[Role]int{TimeRole: 1, Drive: 2, Feedback: 3, Supply: 4, Reference: 5, Current: 6}
	for _, h := range []string{
		"time,drive,feedback,supply,reference,current",
		"t,Motor Voltage (V),Wiper (V),Battery (V),Sensor Supply (V),Motor Current (A)",
		"Zeit (s),Antrieb (V),Rückmeldung (V),Bordnetz (V),Referenz (V),Strom (A)",
		"Temps (s),Moteur (V),Curseur (V),Batterie (V),Référence (V),Courant (A)",
		"Tiempo (s),Motor (V),Cursor (V),Batería (V),Referencia (V),Corriente (A)",
		"Tempo (s),Motore (V),Cursore (V),Batteria Alimentazione (V),Riferimento (V),Corrente (A)",
		"Tijd (s),Aandrijving (V),Loper (V),Voeding (V),Referentie (V),Stroom (A)",
		"Czas (s),Silnik (V),Suwak (V),Zasilanie (V),Vref (V),Prąd (A)",
		"time_s,motor_drive_v,fbk_v,vbat_v,vref_v,i_motor_a",
		"time_s,motor_drive_v,fbk_v,vbat_v,vref_v,motor_i",
		"Time,V_Motor,PotPosition,Vbatt,5V Ref,MotorCurrent",
	} {
		t.Run(h, func(t *testing.T) {
			wantRoles(t, rolesOf(t, h+"\n"+rig(20, 30, 1, row), Options{}), all)
		})
	}
}

// Flags beat header words, and header words beat shape.
func TestRolesByFlag(t *testing.T) {
	text := "time,drive,feedback\n" + rig(20, 30, 1, func(s, d, v, supply, ref, amps float64) string {
		return fmt.Sprintf("%.4f,%.4f,%.3f", s, v, d) // swapped names
	})
	got := rolesOf(t, text, Options{Roles: map[Role]string{Drive: "feedback", Feedback: "2"}})
	wantRoles(t, got, map[Role]int{TimeRole: 1, Drive: 3, Feedback: 2})

	tr := mustRead(t, text, Options{})
	codes := ""
	for _, n := range tr.Notes {
		codes += n.Code + " "
	}
	if !strings.Contains(codes, "unlike-drive") || !strings.Contains(codes, "unlike-feedback") {
		t.Errorf("swapped names were not noted: %s", codes)
	}
}

func TestHeaderRole(t *testing.T) {
	for name, want := range map[string]Role{
		"": Unused, "CH1": Unused, "A": Unused, "B": Unused, "Channel 2": Unused, "Volt1": Unused, "1": Unused,
		"Motor+": LeadA, "Motor-": LeadB, "Motor A": LeadA, "lead_b": LeadB, "M1": LeadA, "LeadA": LeadA,
		"Motor current": Current, "Motor supply": Supply, "Sensor supply": Reference, "Feedback reference": Reference,
		"Position setpoint": Unused, "Target position": Unused, "Motor temp": Unused, "feedback_v": Feedback, "FBK": Feedback,
		"DriveVoltage": Drive, "Motor Direction": Polarity, "5V": Reference, "12V supply": Supply, "V_BAT": Supply,
	} {
		if got, w := headerRole(name); got != want {
			t.Errorf("headerRole(%q) = %v by %q, want %v", name, got, w, want)
		}
	}
}

// A column that follows the drive, is zero at rest and far smaller, is the
// motor current, wherever it stands.
func TestCurrentByRelation(t *testing.T) {
	text := rig(100, 60, 3, func(s, d, v, supply, ref, amps float64) string {
		return fmt.Sprintf("%.4f,%.4f,%.3f,%.4f", s, amps, v, d)
	})
	wantRoles(t, rolesOf(t, text, Options{}), map[Role]int{TimeRole: 1, Current: 2, Feedback: 3, Drive: 4})

	// One direction dead: the drive has one sign only.
	text = rig(100, 60, 3, func(s, d, v, supply, ref, amps float64) string {
		return fmt.Sprintf("%.4f,%.4f,%.3f,%.4f", s, math.Min(amps, 0.01), 2+0.2*v, math.Min(d, 0.02))
	})
	wantRoles(t, rolesOf(t, text, Options{}), map[Role]int{TimeRole: 1, Current: 2, Feedback: 3, Drive: 4})
}

// An eased drive has no levels; its sign tells.
func TestDriveByRelation(t *testing.T) {
	var b strings.Builder
	for i := range 6000 {
		s := float64(i) / 100
		fmt.Fprintf(&b, "%.2f,%.3f,%.4f\n", s, 2.5-1.2*math.Cos(s/2), 9*math.Sin(s/2))
	}
	wantRoles(t, rolesOf(t, b.String(), Options{}), map[Role]int{TimeRole: 1, Feedback: 2, Drive: 3})
}

// With a drive that never moves nothing can be told without names.
func TestNoDriveIsNotGuessed(t *testing.T) {
	text := rig(100, 30, 100, func(s, d, v, supply, ref, amps float64) string {
		return fmt.Sprintf("%.4f,%.4f,%.3f", s, d, v)
	})
	_, err := Read(strings.NewReader(text), Options{})
	if err == nil || !strings.Contains(err.Error(), "no column could be told to be the motor drive") || !strings.Contains(err.Error(), "--drive") {
		t.Errorf("got %v", err)
	}
	wantRoles(t, rolesOf(t, text, Options{Roles: map[Role]string{Drive: "2", Feedback: "3"}}), map[Role]int{TimeRole: 1, Drive: 2, Feedback: 3})
}

// A drive named as the feedback is refused: no wiper reads below its ground.
func TestDriveAsFeedbackRefused(t *testing.T) {
	text := "t,a,b\n" + rig(50, 60, 3, func(s, d, v, supply, ref, amps float64) string { return fmt.Sprintf("%.3f,%.3f,%.4f", s, d, v) })
	_, err := Read(strings.NewReader(text), Options{Source: "x.csv", Roles: map[Role]string{Drive: "3", Feedback: "2"}})
	if err == nil || !strings.Contains(err.Error(), "no wiper reads below its ground") {
		t.Errorf("got %v", err)
	}
}
