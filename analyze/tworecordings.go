package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/signal"
)

// recordedApart says that a capture holds two recordings which are not of one actuator with
// its leads as they were, and where the second one begins; "" where nothing tells. Where the
// file's clock starts anew, what stands before and after is measured by itself and held
// against each other as two captures are ([otherActuator]); the sense of the drive alone is
// enough there, because one sense is taken for the whole file. Elsewhere only the sense
// tells: no fault turns it over for good.
func (w *work) recordedApart(t *signal.Trace) string {
	first, compared := 0, 0
	var before *Capture
	for k := 0; k <= len(t.Anew); k++ {
		last := t.Len()
		if k < len(t.Anew) {
			last, _ = slices.BinarySearch(t.Time, t.Anew[k].Time)
		}
		c := w.measuredPart(t, first, last)
		first = last
		switch {
		case c == nil:
		case before == nil:
			before = c
		default:
			compared++
			if why := apart(before, c); why != "" {
				at := t.Anew[k-1]
				return fmt.Sprintf("What stands from line %d on (%.1f s), where the clock starts anew, is not of the same actuator, or its leads were changed over: %s.", at.Line, at.Time, why)
			}
		}
	}
	w.oneRecording = compared == len(t.Anew)
	if at := w.turnsOver; at > 0 {
		return fmt.Sprintf("From about %.1f s on the reading goes the other way under the same drive, as no fault makes it: another recording follows there, or the leads were changed over.", at)
	}
	return ""
}

// measuredPart measures the bins [first, last) of a trace as a capture of their own; nil
// where they are the whole of it, or too few.
func (w *work) measuredPart(t *signal.Trace, first, last int) *Capture {
	if len(t.Anew) == 0 || last-first < 8 {
		return nil
	}
	c, err := Examine(t.Recording(first, last), w.opt)
	if err != nil || c.Sense == 0 || c.contrary != "" || c.Apart != "" || len(c.Sweeps) == 0 {
		return nil
	}
	return c
}

// apart says why two recordings in one file are not to be taken as one; "" where they may.
func apart(a, b *Capture) string {
	x, y := steadyOf(a), steadyOf(b)
	if why := otherActuator(&x, &y); why != "" {
		return why
	}
	if a.Sense*b.Sense < 0 {
		return "positive drive raises the reading in one and lowers it in the other"
	}
	return ""
}

// senseTurnsOver is the time in s from which on positive drive moves the reading the other
// way than before: nine tenths of the travel before and nine tenths of that after agree
// among themselves, each with drive of both polarities and two strokes at least, and not
// with one another. Strokes that were leaps for the most part, or leapt again and again, do
// not count: what is left of their way is the error of the leaps. 0 where there is none.
func (w *work) senseTurnsOver() float64 {
	const agree = 0.9 // the rest is noise and what the votes of short strokes err by (chosen, not derived)
	votes := slices.DeleteFunc(w.votes(), func(v senseVote) bool { return v.leapt })
	best, at := 0.0, 0.0
	for k := 2; k+2 <= len(votes); k++ {
		a, b := sumVotes(votes[:k]), sumVotes(votes[k:])
		x, y := math.Abs(a.sum), math.Abs(b.sum)
		if a.sum*b.sum < 0 && x >= (2*agree-1)*a.travel && y >= (2*agree-1)*b.travel && a.both && b.both && x+y > best {
			best, at = x+y, w.t[votes[k].first]
		}
	}
	return at
}

// votesTogether is what strokes say of the sense: the travel that goes with positive drive
// less what goes against it, all of it, and whether both polarities are there.
type votesTogether struct {
	sum, travel float64
	both        bool
}

func sumVotes(votes []senseVote) votesTogether {
	var s votesTogether
	for _, v := range votes {
		s.sum += v.dv * float64(v.polarity)
		s.travel += math.Abs(v.dv)
		s.both = s.both || v.polarity != votes[0].polarity
	}
	return s
}

// takeApart makes a capture of two recordings one of which nothing is judged: what was
// measured of it as one is not so.
func (c *Capture) takeApart(why string) {
	c.Apart = why
	c.seen, c.sees = 0, 0
	c.Findings, c.Absent, c.Sweeps, c.Profiles, c.Checks = []Finding{}, []Absence{}, []Sweep{}, []Profile{}, []PositionCheck{}
	c.Blind = []Absence{{NoMotion, "two recordings in one file: nothing of it is judged as one"}}
}

// apartOf is what is said of the first capture that holds two recordings; "" of none.
func apartOf(captures []*Capture) string {
	for _, c := range captures {
		if c.Apart == "" {
			continue
		}
		say := c.Apart + " Split the file there and check each part by itself."
		if len(captures) > 1 {
			return c.Source + ": " + say
		}
		return say
	}
	return ""
}

// splitFile is the next test of a file with two recordings.
func splitFile() NextTest {
	return NextTest{
		Name: "Split the file", Minutes: 5, Turns: true,
		Procedure: []string{
			"Cut the file where the second recording begins, each part with the line of names above it.",
			"Check each part by itself. If both are of one actuator after all, its leads were changed over between them: see which way round they were in which.",
		},
		Outcomes: []string{}, Cautions: []string{},
	}
}
