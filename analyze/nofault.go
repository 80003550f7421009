package analyze

import (
	"fmt"
	"slices"
	"strings"
)

// Doubts tells whether the evidence speaks against what is concluded: less than three to
// two is none.
func (e *Evidence) Doubts() bool { return e.Ratio < 2./3 }

// noFaultSummary is the first line of "no fault": that nothing was found only where
// nothing was, else the strongest sign of a fault; and what can look the same in captures
// of this kind.
func (v *Verdict) noFaultSummary(captures []*Capture) string {
	worst, signs := v.worstSign()
	profile := slices.ContainsFunc(captures, func(c *Capture) bool { return c.asGood() != nil })
	say := "Nothing wrong in what was logged"
	switch {
	case signs == 1:
		return "One sign of a fault, too weak to call it one: " + inSentence(worst.Text)
	case signs > 1:
		return fmt.Sprintf("%d signs of a fault, too weak to call it one, above all: %s", signs, inSentence(worst.Text))
	case profile:
		say += ", and stops and speed are those of the profile"
	}
	like, uncoupled := alikeUnfound(captures, profile)
	if uncoupled && len(like) == 0 {
		return say + "; it was logged off its door, of which it tells nothing."
	}
	say += "; " + oneOf(like) + " can look the same"
	if uncoupled {
		say += ", and of the door, off which it was logged, it tells nothing"
	}
	return say + "."
}

// worstSign is the strongest of the signs that speak against what is concluded, nil without
// one, and how many there are.
func (v *Verdict) worstSign() (worst *Evidence, signs int) {
	for i := range v.Against {
		if e := &v.Against[i]; e.Doubts() {
			if signs++; worst == nil || e.Ratio < worst.Ratio {
				worst = e
			}
		}
	}
	return worst, signs
}

// WeakSign is the strongest sign of a fault where none is concluded, too weak to call it
// one; "" without one.
func (v *Verdict) WeakSign() string {
	if worst, _ := v.worstSign(); worst != nil && v.Conclusion == NoFault {
		return worst.Text
	}
	return ""
}

// alikeUnfound lists the faults that leave no mark in such captures, and tells whether
// all of them are of the uncoupled actuator. What stops the door early looks like its
// stop, where neither a profile nor the uncoupled actuator tells how far it should go, and
// is not met at all where the door was not driven that far; a motor slow from the start is
// as it was in every pass, where no profile tells.
func alikeUnfound(captures []*Capture, profile bool) (like []string, uncoupled bool) {
	uncoupled, early := true, false
	for _, c := range captures {
		if c.Free {
			continue
		}
		uncoupled = false
		if _, ok := freeTravel(c, captures); !ok || unreached(captures) != "" {
			early = true
		}
	}
	if early && !profile {
		like = append(like, "a stop that comes early")
	}
	if !uncoupled {
		like = append(like, "a door broken off")
	}
	if !profile {
		like = append(like, "a motor slow from the start")
	}
	return like, uncoupled
}

// oneOf lists things of which any may be.
func oneOf(s []string) string {
	if len(s) < 2 {
		return strings.Join(s, "")
	}
	return strings.Join(s[:len(s)-1], ", ") + ", or " + s[len(s)-1] + ","
}

// inSentence lets a sentence go on after a colon: it begins small, unless its first word
// is capitals throughout, and keeps its end.
func inSentence(s string) string {
	if len(s) > 1 && s[1] >= 'A' && s[1] <= 'Z' {
		return s
	}
	return strings.ToLower(s[:min(1, len(s))]) + s[min(1, len(s)):]
}
