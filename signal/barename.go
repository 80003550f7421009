package signal

import (
	"slices"
	"strings"
)

var (
	// temperatureWords say a temperature, or the door that sets one.
	temperatureWords = wordSet("temp|temperature|temperatur|température|temperatura|temperatuur")
	// doorWords behind such a word make it a part of the actuator's name: the
	// temperature door is the very thing that is driven.
	doorWords = wordSet("door|flap|damper|actuator|blend|mix|mixing|klappe|stellmotor|volet|klep|trampilla|compuerta|klapa")
	// groundWords are what a channel is measured against.
	groundWords = wordSet("gnd|ground|masse|tierra|masa|chassis")
	rangeWords  = wordSet("range|scale|full|fs|span|bereich|messbereich|gamme|rango")
)

// againstWords begin what a channel is measured against.
var againstWords = []string{"with respect to", "referenced to", "relative to", "ref to", "rel to", "versus", "against", "vs", "wrt", "gegen", "to"}

// bareName takes from a name in normal words what says nothing of the channel's
// role: its range, what it is measured against or between, and the temperature that the door
// is for.
func bareName(s string) string {
	return withoutDifference(withoutDoorTemperature(withoutGround(withoutRange(s))))
}

// withoutDifference drops both ends that a drive was measured between: "drive A-B" is the
// drive, and no lead A.
func withoutDifference(s string) string {
	for _, ends := range []string{" a b", " 1 2"} {
		if drive, ok := strings.CutSuffix(s, ends); ok && bestPhrase(drive).role == Drive {
			return drive
		}
	}
	return s
}

// withoutRange drops "0 5 v", "5 v range" and "5 v full scale": they tell what a
// channel can read, where a bare "5 v" names the sensor's supply.
func withoutRange(s string) string {
	if !strings.Contains(s, " v") {
		return s
	}
	w := strings.Fields(s)
	number := func(i int) bool { return i >= 0 && i < len(w) && strings.Trim(w[i], "0123456789") == "" }
	for i := 1; i < len(w); i++ {
		if w[i] != "v" || !number(i-1) {
			continue
		}
		from, end := i-1, i+1
		if from >= 2 && w[from-1] == "to" && number(from-2) {
			from--
		}
		zero := from > 0 && w[from-1] == "0"
		if zero {
			from--
		}
		// "20V/10V range" has a level before it.
		for from > 1 && w[from-1] == "v" && number(from-2) {
			from -= 2
		}
		for end < len(w) && rangeWords[w[end]] {
			end++
		}
		if zero || end > i+1 {
			w = slices.Delete(w, from, end)
			i = from
		}
	}
	return strings.Join(w, " ")
}

// withoutGround cuts off what a channel is measured against: "feedback ref to sensor
// ground" is the feedback.
func withoutGround(s string) string {
	last := s[strings.LastIndexByte(s, ' ')+1:]
	if !groundWords[last] {
		return s
	}
	for _, a := range againstWords {
		if i := strings.Index(s, " "+a+" "); i > 0 && strings.Count(s[i+len(a)+2:], " ") < 3 {
			return s[:i]
		}
	}
	return s
}

// withoutDoorTemperature drops the temperature before a door or its actuator, where
// what is left still names a role.
func withoutDoorTemperature(s string) string {
	return withoutTemperature(s, func(next string) bool { return doorWords[next] })
}

func withoutTemperature(s string, before func(next string) bool) string {
	w := strings.Fields(s)
	for i := 0; i+1 < len(w); i++ {
		if temperatureWords[w[i]] && before(w[i+1]) {
			left := strings.Join(slices.Delete(slices.Clone(w), i, i+1), " ")
			if p := bestPhrase(left); p.text != "" && p.role != Unused {
				return left
			}
		}
	}
	return s
}

// temperatureDoor gives the role of a name that begins with a temperature and goes on
// with a motor or a wiper: in volts that is the temperature door's, while "motor temp"
// stays a temperature.
func temperatureDoor(name string) (Role, string) {
	p := bestPhrase(withoutTemperature(bareName(normal(name)), func(next string) bool {
		q := bestPhrase(next)
		return next != "sensor" && (q.role == Drive || q.role == Feedback)
	}))
	return p.role, p.text
}

// withoutMeaning cuts a bracket that tells what a level means, as in "Position (5V = hot)".
func withoutMeaning(name string) string {
	for _, br := range []string{"()", "[]"} {
		if i := strings.IndexByte(name, br[0]); i > 0 {
			if j := strings.IndexByte(name[i:], br[1]); j > 0 && strings.Contains(name[i:i+j], "=") {
				return strings.TrimSpace(name[:i] + name[i+j+1:])
			}
		}
	}
	return name
}
