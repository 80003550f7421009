package plots

import (
	"strings"

	"threewire/analyze"
)

// A symbol is a few lines in a square of 10 x 10, y upwards, written as runs
// of "x,y" pairs: it says the same in every language.
func kindSymbol(k analyze.Kind) string {
	switch k {
	case analyze.DeadSpot:
		return "0,2 3.5,4.5|6.5,6 10,8.5|3.5,7.5 3.5,1.5|6.5,9 6.5,3"
	case analyze.NoisyTrack:
		return "0,2 2,3 3,7 4,1 5,9 6,2 7,7 8,6 10,8"
	case analyze.EndLoss:
		return "0,1 6,7 10,7|7.5,9.5 10,9.5|6,5 6,9"
	case analyze.Hunting:
		return "0,5 1.5,8.5 3.5,1.5 5.5,8.5 7.5,1.5 9,8.5 10,5"
	case analyze.SpanDrift:
		return "0,6 10,9.5|0,4 10,0.5"
	case analyze.TravelChange:
		return "1,0 1,10|4.5,1 4.5,9|8,2.5 8,7.5"
	case analyze.Jam:
		return "0,5 7,5|4.5,7.5 7,5 4.5,2.5|9,0 9,10"
	case analyze.SlowZone:
		return "0,8 3,8 4,3 6,3 7,8 10,8"
	case analyze.StickSlip:
		return "0,1 2.5,1 2.5,4 5,4 5,7 7.5,7 7.5,10 10,10"
	case analyze.Pauses:
		return "0,1 3,4 7,4 10,8|4,7 4,10|6,7 6,10"
	case "load lost":
		return "0,1 5,3.5 10,10|5,0 5,10"
	case analyze.WeakDrive:
		return "0,1 10,4|0,1 5,9"
	case analyze.Heating:
		return "0,9 3,9 3,6.5 6.5,6.5 6.5,3.5 10,3.5|8.3,2.5 8.3,0"
	case analyze.GearSlip:
		return "0,1 3.3,8 3.3,3 6.6,9 6.6,4 10,10"
	case analyze.OneWay:
		return "1,7 9,7|6.5,9.5 9,7 6.5,4.5|2,0 5,3|5,0 2,3"
	case analyze.NoMotion:
		return "0,5 10,5|3,8 7,2|3,2 7,8"
	case analyze.NoDrive:
		return "0,5 3,5 7,9|7,5 10,5"
	case analyze.HalfDrive:
		return "0,5 2,5 2,9 5,9 5,5 10,5|7,1 9,3|7,3 9,1"
	case analyze.AtRail:
		return "0,9.5 10,9.5|0,3 4,7 4,9 10,9"
	case analyze.Dropouts:
		return "0,8 2,8 2,1 3,1 3,8 6,8 6,1 6.7,1 6.7,8 10,8"
	case analyze.RefLoss:
		return "0,8 4,8 5,4 6,8 10,8|0,1 10,1"
	case analyze.BentTrack:
		return "0,1 3,3.5 6,4.5 7,8 10,10|0,1 10,10"
	case analyze.GearTurn:
		return "0,8 1.5,8 2.5,2 3.5,8 5,8 6,2 7,8 8.5,8 9.5,2 10,5"
	case analyze.Play:
		return "0,8 3,2 7,2 10,8"
	case analyze.Ignored:
		return "0,2 3,2 3,8 10,8|4,2 5.5,2|7,2 8.5,2"
	case analyze.Broken:
		return "0,8 3,8 3,2 4,2 4,8 6,8 6,2 7.5,2 7.5,8 10,8"
	case analyze.LastingLeap:
		return "0,8 4,8 4,2 10,2"
	case analyze.DriveShift:
		return "0,8 2,8 2,3 5,3 5,8 8,8 8,3 10,3"
	case analyze.UnevenWays:
		return "0,1 6,9 8,1|8,1 10,1"
	case analyze.StaysOn:
		return "0,8 2,8 2,2 10,2"
	case analyze.HeavyDrag:
		return "0,8 2,8 2,3 10,3|0,1 10,1"
	case analyze.FeedResists:
		return "0,5 2,5 3,8 4,2 5,8 6,2 7,8 8,5 10,5"
	case analyze.SupplySag:
		return "0,9 3,9 4.5,4 7,4 8.5,9 10,9|0,1 10,1"
	case analyze.Unexplained:
		return "0,8 3,8 4,3 6,3 7,8 10,8|5,1 5,0"
	case analyze.SelfMotion:
		return "0,1 10,1|0,4 10,9"
	case analyze.NotAPot:
		return "0,2 2,2 2,8 4,8 4,2 6,2 6,8 8,8 8,2 10,2"
	}
	return "5,0 10,10 0,10 5,0"
}

// faultSymbol is the sign of a component: a track with its wiper, a rotor with
// two leads, a door on its hinge, a plug and socket, a tick, a question mark.
func faultSymbol(f analyze.Fault) string {
	switch f {
	case analyze.NoFault:
		return "1,5 4,1.5 9.5,9"
	case analyze.FeedbackSensor:
		return "0.5,2 1,5.5 3,8.5 5,9.3 7,8.5 9,5.5 9.5,2|5,2 7.6,6.6|4.2,1.2 5.8,1.2 5.8,2.8 4.2,2.8 4.2,1.2"
	case analyze.Motor:
		return "5,8.5 7.5,7.5 8.5,5 7.5,2.5 5,1.5 2.5,2.5 1.5,5 2.5,7.5 5,8.5|0,5 1.5,5|8.5,5 10,5|3.5,3.5 3.5,6.3 5,4.8 6.5,6.3 6.5,3.5"
	case analyze.DoorMechanism:
		return "0,1 10,1|0,9.5 10,9.5|2,1 7.5,7.5|1.2,1 2,1.9 2.8,1|8.5,4.5 7.9,7.9 4.7,8.3"
	case analyze.WiringControl:
		return "0,5 3,5|3,2 3,8 5,8 5,2 3,2|5,6.5 6.5,6.5|5,3.5 6.5,3.5|7.5,2 7.5,8 8.5,8 8.5,2 7.5,2|8.5,5 10,5"
	}
	return "2,7 3,9 5,9.7 7,9 8,7 7.3,5.5 5,4 5,2.8|4.6,0.5 5.4,0.5 5.4,1.2 4.6,1.2 4.6,0.5"
}

// symbol draws a symbol in the square of the given side whose lower left
// corner is (x, y).
func (s *sheet) symbol(sym string, x, y, side, width float64) {
	for _, run := range strings.Split(sym, "|") {
		var p []pt
		for _, f := range strings.Fields(run) {
			a, b, _ := strings.Cut(f, ",")
			p = append(p, pt{x + side*tenth(a), y + side*tenth(b)})
		}
		s.stroke(p, s.th.ink, width)
	}
}

// tenth reads "7.5" as 0.75: the tables above hold nothing but such numbers.
func tenth(t string) float64 {
	whole, part, _ := strings.Cut(t, ".")
	x := 0.0
	for _, r := range whole {
		x = 10*x + float64(r-'0')
	}
	for k, r := range part {
		d := float64(r - '0')
		for range k + 1 {
			d /= 10
		}
		x += d
	}
	return x / 10
}

// arrow draws a filled arrowhead: up, down, or (for an unknown direction) a
// square.
func (s *sheet) arrow(d analyze.Direction, x, y, r float64) {
	switch d {
	case analyze.Up:
		s.polygon([]pt{{x - r, y - 0.8*r}, {x + r, y - 0.8*r}, {x, y + r}}, s.th.upInk)
	case analyze.Down:
		s.polygon([]pt{{x - r, y + 0.8*r}, {x + r, y + 0.8*r}, {x, y - r}}, s.th.downInk)
	default:
		s.outline(box{x - 0.7*r, y - 0.7*r, x + 0.7*r, y + 0.7*r}, s.th.ink, 0.8)
	}
}

// bothWays draws two arrowheads side by side, for a crowd of short moves that
// begins with these two.
func (s *sheet) bothWays(a, b analyze.Direction, x, y, r float64) {
	s.arrow(a, x-0.9*r, y, 0.8*r)
	s.arrow(b, x+0.9*r, y, 0.8*r)
}

// badge draws a numbered disc.
func (s *sheet) badge(n string, b box) {
	r := b.h() / 2
	s.disc(b.cx(), b.cy(), r+1, s.th.paper)
	s.disc(b.cx(), b.cy(), r, s.th.badge)
	st := style{0.95 * s.size, true, s.th.badgeInk}
	s.text(n, st, b.cx(), b.cy(), align{0.5, 0.5})
}

func (s *sheet) badgeSize() float64 { return 1.45 * s.size }
