package analyze

import (
	"slices"
	"strings"
	"unicode"
)

// What a remark says of the coupling between actuator and door: a whole capture may be taken
// for an uncoupled one on the strength of it, so it must say so in plain words. A remark that
// may mean something else (a plug, a trim panel, an intention, a question) is only shown.
type coupling int8

const (
	saysNothing coupling = iota
	saysUncoupled
	saysCoupled
)

// couplingIn is what a remark says of the coupling. Where it says both, it says nothing.
func couplingIn(remark string) coupling {
	off, on := false, false
	if !strings.Contains(remark, "?") {
		all := wordsOf(remark)
		if slices.ContainsFunc(all, isOtherThing) {
			return saysNothing
		}
		for clause := range strings.FieldsFuncSeq(remark, func(r rune) bool { return strings.ContainsRune(",;:.!()–—/", r) }) {
			w := wordsOf(clause)
			if slices.ContainsFunc(w, isNoFact) {
				continue
			}
			switch {
			case coupledAgain(w):
				on = true
			case uncoupled(w):
				off = true
			}
		}
	}
	switch {
	case off && !on:
		return saysUncoupled
	case on && !off:
		return saysCoupled
	}
	return saysNothing
}

// wordsOf are the words of a text in lower case.
func wordsOf(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' && r != '’' })
}

// isOtherThing tells what is pulled off and put back that is no coupling: all that is
// electrical, what instruments are clipped with, and what is in the way of a door.
func isOtherThing(w string) bool {
	switch strings.TrimSuffix(w, "s") {
	case "plug", "connector", "wire", "lead", "cable", "fuse", "sensor", "pin", "terminal", "socket", "harness", "battery", "supply", "power",
		"ignition", "probe", "clamp", "clip", "meter", "scope", "logger", "ground", "earth", "relay", "module", "controller", "switch", "wiper", "hose", "vacuum",
		"cover", "panel", "trim", "glove", "glovebox", "box", "dash", "dashboard", "filter", "car", "vehicle", "passenger", "driver", "tape", "foam", "seal", "screw",
		"stop", "limit", "end", "seat", "rest", "trigger", "fan", "blower", "heater", "obstruction", "object", "pen", "leaf", "weight", "load":
		return true
	}
	return w == "leaves" || w == "batteries" || w == "fuses" || w == "switches"
}

// isNoFact tells the words of what is not so, not yet or not sure.
func isNoFact(w string) bool {
	switch strings.ReplaceAll(w, "’", "'") {
	case "not", "no", "never", "before", "without", "will", "going", "about", "next", "later", "cannot", "can't", "couldn't", "won't", "isn't", "wasn't", "didn't",
		"don't", "if", "should", "must", "need", "needs", "to", "until", "still", "try", "tried", "trying", "failed", "maybe", "perhaps", "almost", "nearly", "when", "whether",
		"would", "could", "or", "like", "as", "because", "plan", "unless":
		return true
	}
	return false
}

func isMechanical(w string) bool {
	switch strings.TrimSuffix(w, "s") {
	case "arm", "door", "lever", "link", "linkage", "crank", "shaft", "flap":
		return true
	}
	return false
}

func isDoor(w string) bool {
	switch w {
	case "door", "flap", "case", "housing", "lever", "arm", "linkage", "link", "crank", "shaft":
		return true
	}
	return false
}

// isFiller tells words that may stand between a verb and what it is done to.
func isFiller(w string) bool {
	switch w {
	case "the", "a", "an", "is", "was", "are", "were", "been", "being", "has", "have", "had", "now", "just", "got", "i", "we", "here", "its", "his", "of", "s", "both", "completely",
		"fully", "quickly", "by", "hand", "off", "mode", "temperature", "temp", "blend", "air", "intake", "recirc", "left", "right", "output", "main", "from", "again", "back", "then":
		return true
	}
	return false
}

func isActuator(w string) bool { return w == "actuator" || w == "motor" || w == "servo" }

// takesOff tells a verb that uncouples, and whether it needs an "off" for that: what somebody
// does, not what comes off by itself ("popped off"), which is a fault.
func takesOff(w string) (verb, needsOff bool) {
	switch w {
	case "unclipped", "unhooked", "uncoupled", "decoupled", "detached", "removed", "disconnected", "unclip", "unhook", "uncouple", "decouple", "detach":
		return true, false
	case "pulled", "taken", "took", "lifted", "pull", "pulling", "taking":
		return true, true
	}
	return false, false
}

// uncoupled tells a clause that says that the actuator turns without its door from now on.
func uncoupled(w []string) bool {
	if slices.Contains(w, "uncoupled") || slices.Contains(w, "decoupled") || isFreeRun(w) {
		return true
	}
	for i, v := range w {
		verb, needsOff := takesOff(v)
		switch {
		case v == "off" && i > 0 && offAlone(w, i):
			return true
		case !verb:
			continue
		case needsOff && !slices.Contains(w[i+1:], "off"):
			continue
		}
		if doneTo(w, i) {
			return true
		}
	}
	return false
}

// offAlone tells "arm off", "arm off door here" and "actuator off the door": the word off at
// i with no verb of its own.
func offAlone(w []string, i int) bool {
	verbs := func(x string) bool {
		v, _ := takesOff(x)
		return v || strings.HasSuffix(x, "ed") || x == "turn" || x == "air"
	}
	if slices.ContainsFunc(w[:i], verbs) {
		return false
	}
	by := w[i-1]
	rest := slices.DeleteFunc(slices.Clone(w[i+1:]), func(x string) bool { return isFiller(x) })
	switch {
	case len(rest) > 0 && isDoor(rest[0]):
		return isActuator(by) || isMechanical(by) || by == "is" || by == "now"
	case len(rest) == 0: // "door off" and "lever off" may be positions, "link off" a bus
		if (by == "is" || by == "now") && i > 1 {
			by = w[i-2]
		}
		return by == "arm" || by == "linkage" || by == "crank"
	}
	return false
}

// doneTo tells whether what the verb at i is done to is part of the coupling: the first word
// before it or after it that is no filler; an actuator must come off or from its door.
func doneTo(w []string, i int) bool {
	after := slices.DeleteFunc(slices.Clone(w[i+1:]), isFiller)
	before := slices.DeleteFunc(slices.Clone(w[:i]), isFiller)
	what := ""
	switch {
	case len(before) > 0:
		what = before[len(before)-1]
	case len(after) > 1 && isMechanical(after[0]) && isActuator(after[1]), // "the door actuator"
		len(after) > 1 && isActuator(after[0]) && isMechanical(after[1]) && !fromDoor(w): // "the actuator arm"
		what = after[1]
	case len(after) > 0:
		what = after[0]
	}
	return isMechanical(what) || isActuator(what) && fromDoor(w)
}

// fromDoor tells "off the door" and "from its case".
func fromDoor(w []string) bool {
	for i, x := range w {
		rest := slices.DeleteFunc(slices.Clone(w[i+1:]), isFiller)
		if (x == "off" || x == "from") && len(rest) > 0 && isDoor(rest[0]) {
			return true
		}
	}
	return false
}

// isFreeRun tells "free run", said alone.
func isFreeRun(w []string) bool {
	rest := slices.DeleteFunc(slices.Clone(w), func(x string) bool {
		return isFiller(x) || isActuator(x) || x == "starts" || x == "begins" || x == "start" || x == "on"
	})
	said := strings.Join(rest, " ")
	return said == "free run" || said == "free running" || said == "running free" || said == "runs free"
}

// coupledAgain tells a clause that says that the door is on again.
func coupledAgain(w []string) bool {
	again := slices.Contains(w, "again") || slices.Contains(w, "back")
	mechanical := slices.ContainsFunc(w, isMechanical) || slices.ContainsFunc(w, isActuator)
	rest := slices.DeleteFunc(slices.Clone(w), func(x string) bool { return isFiller(x) || isMechanical(x) || isActuator(x) })
	said := strings.Join(rest, " ")
	switch said {
	case "refitted", "recoupled", "reattached", "rehooked", "coupled", "hooked on", "hooked", "clipped on", "put on", "pushed on", "fitted":
		return again || strings.HasPrefix(said, "re")
	case "on":
		return again && (mechanical || len(w) <= 3)
	case "reconnected", "reinstalled":
		return mechanical
	case "connected":
		return mechanical && again
	}
	return false
}
