package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// Names of leads, currents, supplies and commands in several languages and
// spellings; header words hold whatever the columns look like.
func TestNamesOfRoles(t *testing.T) {
	lead := func(d float64) (a, b float64) { return max(d, 0), max(-d, 0) }
	two := map[Role]int{TimeRole: 1, LeadA: 2, LeadB: 3, Feedback: 4}
	for _, c := range []struct {
		head string
		want map[Role]int
	}{
		{"t,Moteur A,Moteur B,Retour", two},
		{"t,Motore A,Motore B,Cursore", two},
		{"t,Silnik A,Silnik B,Potencjometr", two},
		{"t,Motor 1,Motor 2,Poti", two},
		{"t,M+,M-,Poti", two},
		{"t,Motor + (V),Motor - (V),Terugmelding (V)", two},
		{"t,mot_p,mot_n,pot", two},
		{"t,Motor A_raw,Motor B_raw,pot", two},
		{"t,Motor A_counts,Motor B_counts,pot", two},
		{"t,mtr_p [V],mtr_n [V],fbk [V]", two},
		{"t,Klemme 1,Klemme 2,Schleifer", two},
		{"t,Motor+ voltage (V),Motor- voltage (V),wiper (V)", two},
		{"t,Motor + V,Motor - V,wiper V", two},
		{"time - s,Motor + V,Motor - V,wiper - V", two},
		{"t,Motor + lead (V),Motor - lead (V),wiper (V)", two},
		{"t,Motorspannung +,Motorspannung -,Poti", two},
		{"t,Borne +,Borne -,Curseur", two},
		{"t,Moteur B,Moteur A,Retour", map[Role]int{TimeRole: 1, LeadA: 3, LeadB: 2, Feedback: 4}},
		{"; channel 1 = Motor A\n; channel 2 = Motor B\n; channel 3 = Poti\nt,ch1,ch2,ch3", two},
		{"; Channel 1: Schleifer (V)\n; Channel 2: Motor +\n; Channel 3: Motor -\nt,CH2,CH3,CH1", two},
	} {
		t.Run(c.head, func(t *testing.T) {
			text := c.head + "\n" + rig(50, 60, 3, func(s, d, v, supply, ref, amps float64) string {
				a, b := lead(d)
				return fmt.Sprintf("%.3f,%.3f,%.3f,%.4f", s, a, b, v)
			})
			wantRoles(t, rolesOf(t, text, Options{}), c.want)
		})
	}
	// Driven one way only, so that the shapes do not tell the leads either.
	for _, head := range []string{"t,Moteur A,Moteur B,Retour", "; channel 1 = Motor A\n; channel 2 = Motor B\n; channel 3 = Poti\nt,ch1,ch2,ch3"} {
		text := head + "\n" + rig(50, 60, 3, func(s, d, v, supply, ref, amps float64) string {
			return fmt.Sprintf("%.3f,%.3f,%.3f,%.4f", s, max(d, 0), 0.004, v)
		})
		wantRoles(t, rolesOf(t, text, Options{}), two)
	}
	// A list of couplings names nothing.
	text := "; channel 1 = DC coupled\n; channel 2 = DC coupled\nt,ch1,ch2\n" + rig(50, 60, 3, func(s, d, v, supply, ref, amps float64) string {
		return fmt.Sprintf("%.3f,%.3f,%.4f", s, d, v)
	})
	if tr := mustRead(t, text, Options{}); strings.Contains(tr.Columns[1].Name, "DC") {
		t.Errorf("a coupling became the name %q", tr.Columns[1].Name)
	}
}

// What flows, what feeds and what is wanted, beside a drive written as -1, 0
// and 1: the current in mV of a shunt is larger than that and yet no drive.
func TestNamesBesideTheDrive(t *testing.T) {
	want := map[Role]int{TimeRole: 1, Drive: 2, Feedback: 3, Current: 4, Supply: 5, Command: 6}
	for _, head := range []string{
		"Tijd,Motorspanning,Terugmelding (V),Motorstroom (mV),Accu (V),Commando",
		"Tid,Motorspänning,Återkoppling (V),Motorström (mV),Batteri (V),Kommando",
		"Zeit,Motorspannung,Schleifer (V),Motorstrom (mV),Batterie (V),Ansteuerung Soll",
		"Temps,Tension moteur,Retour (V),Courant moteur (mV),Batterie (V),Consigne",
		"Tempo,Tensione motore,Cursore (V),Corrente motore (mV),Batteria (V),Comando",
		"Tiempo,Tensión motor,Cursor (V),Corriente motor (mV),Batería (V),Mando",
		"Czas,Napięcie silnika,Suwak (V),Prąd silnika (mV),Akumulator (V),Sterowanie",
		"t,mtr,fbk (V),i_mtr (mV),vbatt (V),cmd",
		"t,drive,wiper (V),Motor A current (mV),battery (V),command",
		"Zeit,Motorspannung,Schleifer,Motorstrom,Batterie,Ansteuerung Soll\n(s),(-),(V),(mV),(V),(-)",
	} {
		t.Run(head, func(t *testing.T) {
			text := head + "\n" + rig(50, 60, 3, func(s, d, v, supply, ref, amps float64) string {
				return fmt.Sprintf("%.3f,%.0f,%.4f,%.2f,%.2f,%.0f", s, d/13, v, 200*amps, supply, d/13)
			})
			wantRoles(t, rolesOf(t, text, Options{}), want)
		})
	}
	// Without names the sign stays the drive beside millivolts.
	text := "t,CH1,CH2,CH3\n(s),,(V),(mV)\n" + rig(50, 60, 3, func(s, d, v, supply, ref, amps float64) string {
		return fmt.Sprintf("%.3f,%.0f,%.4f,%.2f", s, d/13, v, 200*amps)
	})
	if got := rolesOf(t, text, Options{}); got[Polarity] != 2 || got[Feedback] != 3 {
		t.Errorf("-1, 0, 1 beside a shunt in mV was read as %v", got)
	}
}

// What was measured is the drive, and the command only what was wanted, also
// where the measured column has a name that says nothing.
func TestMeasuredBeforeCommand(t *testing.T) {
	want := func(drive Role) map[Role]int { return map[Role]int{TimeRole: 1, drive: 2, Feedback: 3, Command: 4} }
	text := "time,q7,fbk [V],cmd\n" + rig(50, 60, 3, func(s, d, v, supply, ref, amps float64) string {
		return fmt.Sprintf("%.3f,%.0f,%.4f,%.0f", s, d/13, v, d/13)
	})
	wantRoles(t, rolesOf(t, text, Options{}), want(Polarity))

	// One leg of the bridge is dead, so that the volts have one sign only.
	text = "time,q7 [V],fbk [V],cmd\n" + rig(50, 60, 3, func(s, d, v, supply, ref, amps float64) string {
		return fmt.Sprintf("%.3f,%.2f,%.4f,%.0f", s, max(d, 0), v, d/13)
	})
	wantRoles(t, rolesOf(t, text, Options{}), want(Drive))

	// Two such columns are equal: nothing is guessed, the command stays.
	text = "time,q7,q8,fbk [V],cmd\n" + rig(50, 60, 3, func(s, d, v, supply, ref, amps float64) string {
		return fmt.Sprintf("%.3f,%.0f,%.0f,%.4f,%.0f", s, d/13, -d/13, v, d/13)
	})
	if got := rolesOf(t, text, Options{}); got[Polarity] != 5 {
		t.Errorf("two signs beside a command were read as %v", got)
	}
}

// A drive named as one but written as -1, 0 and 1 is a polarity, in whatever
// unit the channel claims to be.
func TestSignIsNoVoltage(t *testing.T) {
	row := func(s, d, v, supply, ref, amps float64) string {
		return fmt.Sprintf("%.3f,%.0f,%.4f", s, d/13, v)
	}
	for _, head := range []string{"t,Motorspannung,Poti (V)\n", "t,drive (V),Poti (V)\n", "t,CH1 (V),CH2 (V)\n"} {
		if tr := mustRead(t, head+rig(50, 60, 3, row), Options{}); !tr.DriveIsPolarity {
			t.Errorf("%q: the drive is %s from %g to %g", head, tr.Drive.Unit, tr.Drive.Stats.Min, tr.Drive.Stats.Max)
		}
	}
	if tr := mustRead(t, "t,drive (V),Poti (V)\n"+rig(50, 60, 3, row), Options{Scale: map[Role]float64{Drive: 12}}); tr.DriveIsPolarity {
		t.Error("a sign scaled to volts by the user is no polarity")
	}
}

// Start and increment stand in the header; a sign that rose once in the first
// thousand rows is no time.
func TestStartAndIncrementInHeader(t *testing.T) {
	i := -1
	text := "X,CH1,CH2,Start,Increment\nSequence,VOLT,VOLT,-2.0e-01,2.5e-03\n" + rig(400, 60, 12, func(s, d, v, supply, ref, amps float64) string {
		i++
		return fmt.Sprintf("%d,%.0f,%.4f", i, d/13, v)
	})
	wantRoles(t, rolesOf(t, text, Options{}), map[Role]int{Polarity: 2, Feedback: 3})
	if tr := mustRead(t, text, Options{}); tr.RowStep != 2.5e-3 || tr.Time[0] != -0.2 {
		t.Errorf("times start at %g by %g, want -0.2 by 0.0025", tr.Time[0], tr.RowStep)
	}

	// The same without units, in a file whose first block ends while the sign
	// is up.
	text = "; interval 2.5 ms\nX,CH1,CH2\n"
	for i := range 20000 {
		d := 0
		if i > 900 {
			d = 1 - i/14000
		}
		text += fmt.Sprintf("%d,%d,%.4f\n", i, d, 3.4+0.4*math.Sin(float64(min(d, 1)*i)/3000))
	}
	wantRoles(t, rolesOf(t, text, Options{}), map[Role]int{Polarity: 2, Feedback: 3})

	// Volts that rise as evenly as a time are none.
	text = "; interval 2.5 ms\nn,CH1 (V),drive (V)\n"
	for i := range 3000 {
		text += fmt.Sprintf("%d,%.3f,%d\n", i, 0.5+0.001*float64(i), 12*min(1, i/30))
	}
	wantRoles(t, rolesOf(t, text, Options{}), map[Role]int{Feedback: 2, Drive: 3})

	// One lead driven in one direction, a wiper that is at its end in a row.
	i = -1
	text = "X,CH1,CH2,CH3,Start,Increment\nSequence,VOLT,VOLT,VOLT,0,2.0e-01\n" + rig(5, 30, 12, func(s, d, v, supply, ref, amps float64) string {
		i++
		return fmt.Sprintf("%d,%.2f,%.3f,%.3f", i, max(d, 0), 0.01*float64(i%5), 4.2+0.5*float64(min(1, max(0, i-70)))-0.002*float64(i%3))
	})
	if got := rolesOf(t, text, Options{}); got[Drive] != 2 || got[Feedback] != 4 {
		t.Errorf("one lead and a wiper that jumps were read as %v", got)
	}
}

// A feedback in percent says of what in many ways, with and without brackets;
// "reference" in it names no column.
func TestShareOfReference(t *testing.T) {
	for _, name := range []string{"Wiper (% of reference)", "Wiper % of reference", "Pot wiper [% of ref]", "feedback % Vref", "Position sensor percent of the supply", "Schleifer % von Referenz"} {
		text := "t," + name + ",drive\n" + rig(50, 60, 3, func(s, d, v, supply, ref, amps float64) string {
			return fmt.Sprintf("%.3f,%.2f,%.3f", s, 20*v, d)
		})
		wantRoles(t, rolesOf(t, text, Options{}), map[Role]int{TimeRole: 1, Feedback: 2, Drive: 3})
		tr := mustRead(t, text, Options{})
		if tr.Feedback.Unit != "%" {
			t.Errorf("%s: unit %q", name, tr.Feedback.Unit)
		}
	}
	for name, want := range map[string]bool{"% of reference": true, "%": false, "% rh": false, "% open": false, "percent full scale": true} {
		if isShare(name) != want {
			t.Errorf("%q: share %v", name, !want)
		}
	}
}
