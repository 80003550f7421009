package signal

import (
	"fmt"
	"math"
	"testing"
)

// What the controller wants stands beside the drive that was measured, in any
// of the ways it is written; it is the drive only where nothing else is.
func TestCommand(t *testing.T) {
	r := newRec(600, 0.02)
	sign := func(d float64) float64 { return d / 12 }
	lead := func(d float64) string { return fmt.Sprintf("%g,%g", max(0, d), max(0, -d)) }
	for _, c := range []struct {
		name, head string
		row        func(i int, s, d, v float64) string
		want       map[Role]int
		o          Options
	}{
		{"signs beside volts", "time,motor_v,command,wiper",
			func(i int, s, d, v float64) string { return fmt.Sprintf("%g,%g,%g,%g", s, d, sign(d), v) },
			map[Role]int{TimeRole: 1, Drive: 2, Command: 3, Feedback: 4}, Options{}},
		{"words beside leads", "time,lead a,lead b,requested direction,wiper",
			func(i int, s, d, v float64) string {
				return fmt.Sprintf("%g,%s,%s,%g", s, lead(d), word(d, "open", "close", "stop"), v)
			},
			map[Role]int{TimeRole: 1, LeadA: 2, LeadB: 3, Command: 4, Feedback: 5}, Options{}},
		{"a drive asked for, beside leads", "time,drive request,lead a,lead b,wiper",
			func(i int, s, d, v float64) string { return fmt.Sprintf("%g,%g,%s,%g", s, sign(d), lead(d), v) },
			map[Role]int{TimeRole: 1, Command: 2, LeadA: 3, LeadB: 4, Feedback: 5}, Options{}},
		{"a drive asked for, alone", "time,drive request,wiper",
			func(i int, s, d, v float64) string { return fmt.Sprintf("%g,%g,%g", s, sign(d), v) },
			map[Role]int{TimeRole: 1, Polarity: 2, Feedback: 3}, Options{}},
		{"a direction beside volts", "time,direction,drive (V),wiper",
			func(i int, s, d, v float64) string {
				return fmt.Sprintf("%g,%s,%g,%g", s, word(d, "cw", "ccw", "0"), d, v)
			},
			map[Role]int{TimeRole: 1, Command: 2, Drive: 3, Feedback: 4}, Options{}},
		{"signed duty", "time,motor (V),duty demand (%),wiper",
			func(i int, s, d, v float64) string { return fmt.Sprintf("%g,%g,%g,%g", s, d, 100*sign(d), v) },
			map[Role]int{TimeRole: 1, Drive: 2, Command: 3, Feedback: 4}, Options{}},
		{"lopsided duty", "time,motor (V),command (%),wiper",
			func(i int, s, d, v float64) string {
				return fmt.Sprintf("%g,%g,%g,%g", s, d, bySign(d, 100, -15), v)
			},
			map[Role]int{TimeRole: 1, Drive: 2, Command: 3, Feedback: 4}, Options{}},
		{"volts wanted", "time,motor_v,cmd_v,wiper",
			func(i int, s, d, v float64) string { return fmt.Sprintf("%g,%g,%g,%g", s, d*0.96, d, v) },
			map[Role]int{TimeRole: 1, Drive: 2, Command: 3, Feedback: 4}, Options{}},
		{"target direction", "time,motor_v,target direction,wiper",
			func(i int, s, d, v float64) string { return fmt.Sprintf("%g,%g,%g,%g", s, d, sign(d), v) },
			map[Role]int{TimeRole: 1, Drive: 2, Command: 3, Feedback: 4}, Options{}},
		{"German", "Zeit (s),Motor (V),Sollrichtung,Schleifer (V)",
			func(i int, s, d, v float64) string {
				return fmt.Sprintf("%g,%g,%s,%g", s, d, word(d, "auf", "zu", "halt"), v)
			},
			map[Role]int{TimeRole: 1, Drive: 2, Command: 3, Feedback: 4}, Options{}},
		{"leads without a name", "time,command,CH1,CH2,CH3",
			func(i int, s, d, v float64) string { return fmt.Sprintf("%g,%g,%s,%g", s, sign(d), lead(d), v) },
			map[Role]int{TimeRole: 1, Command: 2, LeadA: 3, LeadB: 4, Feedback: 5}, Options{}},
		{"volts and words without names", "",
			func(i int, s, d, v float64) string {
				return fmt.Sprintf("%g,%s,%g,%g", s, word(d, "up", "down", "off"), d, v)
			},
			map[Role]int{TimeRole: 1, Command: 2, Drive: 3, Feedback: 4}, Options{}},
		{"volts and signs without names", "",
			func(i int, s, d, v float64) string { return fmt.Sprintf("%g,%g,%g,%g", s, sign(d), d, v) },
			map[Role]int{TimeRole: 1, Command: 2, Drive: 3, Feedback: 4}, Options{}},
		{"the drive named by flag", "time,x1,command,wiper",
			func(i int, s, d, v float64) string { return fmt.Sprintf("%g,%g,%g,%g", s, d, sign(d), v) },
			map[Role]int{TimeRole: 1, Drive: 2, Command: 3, Feedback: 4}, Options{Roles: map[Role]string{Drive: "2"}}},
		{"named by flag", "time,motor,x1,wiper",
			func(i int, s, d, v float64) string { return fmt.Sprintf("%g,%g,%g,%g", s, d, sign(d), v) },
			map[Role]int{TimeRole: 1, Drive: 2, Command: 3, Feedback: 4}, Options{Roles: map[Role]string{Command: "x1"}}},
		{"beside a direction", "time,command,direction,wiper",
			func(i int, s, d, v float64) string {
				return fmt.Sprintf("%g,%g,%s,%g", s, sign(d), word(d, "open", "shut", "rest"), v)
			},
			map[Role]int{TimeRole: 1, Command: 2, Polarity: 3, Feedback: 4}, Options{}},
		{"alone it is the drive", "time,command,wiper",
			func(i int, s, d, v float64) string { return fmt.Sprintf("%g,%g,%g", s, sign(d), v) },
			map[Role]int{TimeRole: 1, Polarity: 2, Feedback: 3}, Options{}},
		{"one leg dead", "time,motor_v,command,wiper",
			func(i int, s, d, v float64) string { return fmt.Sprintf("%g,%g,%g,%g", s, max(0.2, d), sign(d), v) },
			map[Role]int{TimeRole: 1, Drive: 2, Command: 3, Feedback: 4}, Options{}},
		{"the sign of a size", "time,motor_v,direction,wiper",
			func(i int, s, d, v float64) string { return fmt.Sprintf("%g,%g,%g,%g", s, math.Abs(d), sign(d), v) },
			map[Role]int{TimeRole: 1, Drive: 2, Polarity: 3, Feedback: 4}, Options{}},
		{"a set point", "time,motor_v,command,target position,position command,wiper",
			func(i int, s, d, v float64) string {
				return fmt.Sprintf("%g,%g,%g,%g,%g,%g", s, d, 50+10*math.Sin(s), 40+v, 2+math.Cos(s), v)
			},
			map[Role]int{TimeRole: 1, Drive: 2, Feedback: 6}, Options{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			head := c.head
			if head != "" {
				head += "\n"
			}
			text := head + r.rows(c.row)
			wantRoles(t, rolesOf(t, text, c.o), c.want)
			tr := mustRead(t, text, c.o)
			if msg := broken(tr); msg != "" {
				t.Fatal(msg)
			}
			if (tr.Command != nil) != (c.want[Command] > 0) {
				t.Fatalf("Command is %v", tr.Command)
			}
			if tr.Command == nil {
				return
			}
			if tr.Command.Unit != "" {
				t.Errorf("command in %q", tr.Command.Unit)
			}
			for i, d := range r.d {
				want := sign(d)
				if c.name == "lopsided duty" {
					want = bySign(d, 1, -0.15)
				}
				if got := float64(tr.Command.Mean[i]); math.Abs(got-want) > 1e-6 {
					t.Fatalf("row %d: command %v, want %v", i, got, want)
				}
			}
		})
	}
}

// bySign gives a number by the sign of the drive.
func bySign(d, up, down float64) float64 {
	switch {
	case d > 0:
		return up
	case d < 0:
		return down
	}
	return 0
}
