package analyze

import (
	"fmt"
	"math"
	"strings"
)

// Learn takes from earlier captures of the actuator what they tell of the next one: the
// rows a second that the instrument took, its steps and noise, the span seen, the time
// from stop to stop, and that there is a clamp. What a person gave (the flag's name is
// told) stands. It returns the names of what it took, and says it in one sentence.
func (s *Situation) Learn(captures []*Capture, told func(name string) bool) (names []string, text string) {
	var words []string
	took := func(name, format string, a ...any) {
		names, words = append(names, name), append(words, fmt.Sprintf(format, a...))
	}
	sure := func(name string, x, least, most float64) bool { return !told(name) && x >= least && x <= most }
	rate, noise, quantum := 0.0, 0.0, 0.0
	for _, c := range captures {
		if c.Duration > 0 {
			rate = math.Max(rate, float64(c.Rows-1)/c.Duration)
		}
		if c.Unit == "V" {
			noise, quantum = math.Max(noise, c.Noise), math.Max(quantum, c.Quantum)
		}
		if c.current && !told("clamp") && !s.Clamp {
			s.Clamp = true
			took("clamp", "a current clamp")
		}
	}
	// Above 2000 rows a second are averaged to about 1000 before anything is judged.
	if rate > 2000 {
		rate = 1000
	}
	if rate = threeDigits(rate); sure("rate", rate, 0.1, 1e9) {
		s.Rate = rate
		took("rate", "%.4g rows a second", rate)
	}
	way, span := wayLearnt(captures)
	if span = threeDigits(span); sure("span", span, 0.01*s.Reference, s.Reference) {
		s.Span = span
		took("span", "%.3g V of feedback seen", span)
	}
	if transit := threeDigits(transitOf(way, s.Span)); sure("transit", transit, fastestTransit, 600) {
		s.Transit = transit
		took("transit", "%.3g s for that way", transit)
	}
	// A finer converter than the usual one shows in the steps of what it wrote.
	if bits := math.Round(math.Log2(s.Range / quantum)); quantum > 0 && !told("range") && sure("bits", bits, 6, 24) {
		s.Bits = int(bits)
		took("bits", "readings in steps of %.2g mV", 1000*quantum)
	}
	own := s.Range / math.Exp2(float64(s.Bits)) / math.Sqrt(12) // V rms, which the plan adds by itself
	if rest := threeDigits(math.Sqrt(math.Max(0, noise*noise-own*own))); rest > 0 && sure("noise", rest, 0, s.Reference) {
		s.Noise = rest
		took("noise", "noise of %.2g mV", 1000*noise)
	}
	if len(words) == 0 {
		return nil, ""
	}
	return names, "Taken from them for what follows: " + strings.Join(words, ", ") + "."
}

// wayLearnt is the captures that tell how far the shaft goes and how fast, and that way: the
// widest of the coupled ones, without any the widest of the uncoupled. Coupled and
// uncoupled it may go differently far, and at another speed.
func wayLearnt(captures []*Capture) (of []*Capture, span float64) {
	for _, free := range []bool{false, true} {
		for _, c := range captures {
			if c.Unit == "V" && c.Free == free && len(c.Sweeps) > 0 && c.Span.Width() > span { // short moves show a piece of the way
				of, span = []*Capture{c}, c.Span.Width()
			}
		}
		if span > 0 {
			break
		}
	}
	return of, span
}

// transitOf is the time over so many volts by the sweeps of captures, s, of the slower
// direction, so that a record made by it is long enough; 0 without any.
func transitOf(captures []*Capture, span float64) float64 {
	var by [2][]float64
	for _, c := range captures {
		if c.Unit != "V" {
			continue
		}
		for _, x := range c.Sweeps {
			if way := x.High - x.Low; way > 0 && x.Transit > 0 {
				by[side(x.Direction)] = append(by[side(x.Direction)], x.Transit*span/way)
			}
		}
	}
	slowest := 0.0
	for _, t := range by {
		if len(t) > 0 {
			slowest = math.Max(slowest, medianOf(t))
		}
	}
	return slowest
}

// threeDigits rounds to three digits: more of a measurement say nothing to a person.
func threeDigits(x float64) float64 {
	if !(x > 0) || math.IsInf(x, 0) {
		return 0
	}
	unit := math.Pow(10, math.Floor(math.Log10(x))-2)
	return math.Round(x/unit) * unit
}
