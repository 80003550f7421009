package analyze

import (
	"fmt"
	"math"

	"threewire/analyze/stats"
	"threewire/signal"
)

// Setup is how a capture is to be taken.
type Setup struct {
	Rate      float64 `json:"rate"`            // rows a second
	Bits      int     `json:"bits"`            // of the converter
	Range     float64 `json:"range"`           // V, all that the feedback's channel covers
	Noise     float64 `json:"noise"`           // V rms of a row at rest, besides the converter's steps
	Reference float64 `json:"reference_volts"` // V, the sensor's supply
	Span      float64 `json:"span"`            // V, of the feedback from stop to stop
	Transit   float64 `json:"transit"`         // s from stop to stop
	Sweeps    int     `json:"sweeps"`          // each way
	Hold      float64 `json:"hold"`            // s driven against each stop
	More      float64 `json:"more"`            // s of record besides
}

// Sight is one thing that a capture would show, from which size on.
type Sight struct {
	What    string  `json:"what"` // stable word
	Least   float64 `json:"least"`
	Unit    string  `json:"unit"`
	Percent float64 `json:"percent_of_span,omitempty"`
	Text    string  `json:"text"`
}

// Prospect is what a capture of a [Setup] would show of a fault, by the rules
// of the finders. The instrument is taken as free of hum, the motor as sending
// nothing into the wires, the passes as alike.
type Prospect struct {
	Setup
	Duration float64 `json:"duration"`        // s
	Rows     int64   `json:"rows"`            // of the record
	Step     float64 `json:"step"`            // s between bins analysed
	Travel   float64 `json:"rows_per_travel"` // bins from stop to stop
	Sights   []Sight `json:"shows"`
}

// pauseBetween is the rest between sweeps, and firstRest that before them, s.
const pauseBetween, firstRest = 0.5, 2.0

// RecordSeconds is the length of the record that the sweeps take: rest, the
// sweeps with a tenth to spare, the time at the stops, pauses, and what more is
// asked.
func (s Setup) RecordSeconds() float64 {
	return math.Ceil(2*firstRest + 2*float64(s.Sweeps)*(1.1*s.Transit+s.Hold+pauseBetween) + s.More)
}

// UsualSpan is the feedback's span of an actuator that uses most of its
// sensor's supply.
func UsualSpan(reference float64) float64 { return usualShare * reference }

// Foresee works out what a capture would show.
func Foresee(s Setup, lim Limits) *Prospect {
	p := &Prospect{Setup: s, Duration: s.RecordSeconds()}
	p.Rows = int64(math.Ceil(p.Duration * s.Rate))
	rows := signal.RowsInBin(s.Rate)
	p.Step = rows / s.Rate
	row := s.Range / math.Exp2(float64(s.Bits))
	one := math.Hypot(s.Noise, row/math.Sqrt(12))
	noise, quantum, change := resolved(lim, one/math.Sqrt(rows), row, rows, s.Reference)
	rate := s.Span / s.Transit
	perRow := rate * p.Step
	p.Travel = s.Span / perRow
	window := func() int {
		n, _ := windowRows(noise, quantum, rate, p.Step, s.Span)
		return max(3, int(math.Ceil(n))|1)
	}()
	volts := func(what string, v float64, text string, a ...any) {
		p.Sights = append(p.Sights, Sight{what, v, "V", 100 * v / s.Span, fmt.Sprintf(text, a...)})
	}
	of := func(v float64) string { return shareText(100 * v / s.Span) }

	// A single row is enough where the reading falls far from the track.
	lost := rate / s.Rate
	volts(seesLoss, lost, "a dead spot in which the contact is lost and the reading leaves the track: from %s of the travel on", of(lost))
	hold := shortestHold(change, s.Reference, window, perRow)
	if s.Sweeps >= 2 { // both ways, again and again
		hold = math.Min(hold, shortestSkip(noise, quantum, perRow, window))
	}
	volts(seesHold, hold, "a dead spot in which the reading only stands and then jumps: from %s of the travel on", of(hold))
	if rough, width := s.roughest(noise, quantum, perRow); rough > 0 {
		volts(seesRough, rough, "a noisy piece of track, %s of the travel or longer: where the readings scatter by %s of the span or more (root mean square)", of(width), of(rough))
	}
	volts(seesStep, row, "steps of the reading: %s of the span each, and a single reading counts as changed from %s on", of(row), of(change))
	if cells := profileCells(s.Span, noise, quantum); cells >= 4 {
		band := math.Max(2*s.Span/float64(cells), float64(window+1)*perRow)
		volts(seesSlow, band, "a place where the door binds, slower than %.0f %% of the speed elsewhere: from %s of the travel on", 100*lim.Slow, of(band))
	}
	hunt, shown := math.Min(fastestHunt, 1/(cycleSeen*p.Step)), math.Min(fastestHunt, 1/(cycleShown*p.Step))
	text := fmt.Sprintf("hunting: up to %.2g times to and fro a second, with its true swing up to %.2g", hunt, shown)
	if shown == hunt {
		text = fmt.Sprintf("hunting: up to %.2g times to and fro a second, with its true swing", hunt)
	}
	p.Sights = append(p.Sights, Sight{What: seesHunting, Least: hunt, Unit: "Hz", Text: text})
	p.Sights = append(p.Sights, Sight{What: seesDropouts, Least: 1 / s.Rate, Unit: "s", Text: fmt.Sprintf("losses of signal that come with time and not with place: from %s on", SecondsText(1/s.Rate))})
	if drift, ok := s.leastDriftPerSweep(noise, quantum, p.Step, lim); ok {
		volts(seesDrift, drift, "a stop's reading that moves the same way at each of its %d visits: from %s of the span a sweep on", s.Sweeps, of(drift))
	}
	if slow, ok := s.leastSlowing(); ok {
		p.Sights = append(p.Sights, Sight{What: seesHeating, Least: slow, Unit: "%", Text: fmt.Sprintf("a motor that gets slower from sweep to sweep: from %.0f %% over the record on", slow)})
	}
	return p
}

// What is seen, by [Sight.What].
const (
	seesLoss     = "lost contact"
	seesHold     = "held reading"
	seesRough    = "noise of the track"
	seesStep     = "step of the reading"
	seesSlow     = "slow place" // of a door
	seesHunting  = "hunting"
	seesDropouts = "loss of signal"
	seesDrift    = "drift"
	seesHeating  = "slowing"
)

// Sight returns what the prospect says of a thing.
func (p *Prospect) Sight(what string) (Sight, bool) {
	for _, s := range p.Sights {
		if s.What == what {
			return s, true
		}
	}
	return Sight{}, false
}

// roughest is the least noise, in V rms from row to row, that findNoisyTrack
// sees in a single pass over one of its stretches, and their width.
func (s *Setup) roughest(noise, quantum, perRow float64) (rough, width float64) {
	width = roughWidth(s.Span, perRow)
	if int(s.Span/width) < 5 {
		return 0, 0
	}
	n := math.Max(3, math.Floor(width/perRow)-2)
	base := math.Max(math.Sqrt(6)*noise, quantum)
	limit := roughLimit(base, n)
	return math.Sqrt(math.Max(0, limit*limit/6-noise*noise)), width
}

// leastDriftPerSweep is the least drift of a stop, in V from one visit to the
// next, that findDrift calls one, when every visit goes the same way.
func (s *Setup) leastDriftPerSweep(noise, quantum, step float64, lim Limits) (float64, bool) {
	if s.Sweeps < 3 {
		return 0, false
	}
	at := plateauErrorOf(noise, quantum, step, 2*lim.StallSeconds)
	whole := math.Max(leastDrift(s.Span, s.Reference), 5*at)
	level := make([]float64, s.Sweeps)
	for i := range level {
		level[i] = float64(i)
	}
	if stats.MannKendall(level).P >= 0.05 {
		whole = math.Max(whole, math.Max(fewVisits*s.Span, 10*at))
	}
	return whole / float64(s.Sweeps-1), true
}

// leastSlowing is the least loss of speed over the record, in percent, that
// findHeating calls one, when every sweep is slower than the one before.
func (s *Setup) leastSlowing() (float64, bool) {
	if 2*s.Sweeps < heatingPasses {
		return 0, false
	}
	level := make([]float64, s.Sweeps)
	for i := range level {
		level[i] = -float64(i)
	}
	switch mk := stats.SeasonalKendall(level, level); {
	case mk.P <= 0.05:
		return 100 * heatingLoss, true
	case mk.P <= 0.17:
		return 100 * heatingLossFew, true
	}
	return 0, false
}

// shareText says a share, in percent, to two digits.
func shareText(p float64) string {
	switch {
	case p < 0.01:
		return "less than 0.01 %"
	case p < 0.1:
		return fmt.Sprintf("%.2f %%", p)
	case p < 10:
		return fmt.Sprintf("%.1f %%", p)
	}
	return fmt.Sprintf("%.0f %%", p)
}
