package analyze

import (
	"math"
	"slices"
	"time"
)

// Interval is a closed range: of time in s, or of feedback in Capture.Unit (V, unless
// the file had percent or counts).
type Interval struct {
	From float64 `json:"from"`
	To   float64 `json:"to"`
}

// Width is To - From.
func (r Interval) Width() float64 { return r.To - r.From }

// Mid is the middle of the interval.
func (r Interval) Mid() float64 { return (r.From + r.To) / 2 }

// Has tells whether x lies in the interval, ends included.
func (r Interval) Has(x float64) bool { return x >= r.From && x <= r.To }

// Overlaps tells whether two intervals share a point.
func (r Interval) Overlaps(o Interval) bool { return r.From <= o.To && o.From <= r.To }

// inCommon is the length that two intervals share.
func (r Interval) inCommon(o Interval) float64 {
	return math.Max(0, math.Min(r.To, o.To)-math.Max(r.From, o.From))
}

// noInterval holds nothing yet: the first value that widens it is both its ends.
func noInterval() Interval { return Interval{math.Inf(1), math.Inf(-1)} }

// widen makes the interval include x.
func (r Interval) widen(x float64) Interval {
	if x < r.From {
		r.From = x
	}
	if x > r.To {
		r.To = x
	}
	return r
}

// Direction is the sense in which a drive moves the feedback: Up raises the
// feedback voltage, Down lowers it.
type Direction int8

// The directions; None is "no drive" or "both".
const (
	Down Direction = -1
	None Direction = 0
	Up   Direction = 1
)

func (d Direction) String() string {
	switch d {
	case Up:
		return "up"
	case Down:
		return "down"
	}
	return "both"
}

// MarshalText gives "up", "down" or "both".
func (d Direction) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// Move is one run of constant drive polarity.
type Move struct {
	Time      Interval  `json:"time"`      // s
	Polarity  int8      `json:"polarity"`  // sign of the drive
	Direction Direction `json:"direction"` // which way this polarity moves the feedback
	DriveMean float64   `json:"drive"`     // mean drive over the move, V (or -1..1)

	Start float64 `json:"start"` // feedback at the start, Capture.Unit
	End   float64 `json:"end"`   // feedback at the end, Capture.Unit

	Moving  float64 `json:"moving"`  // s during which the feedback followed the drive
	Stalled float64 `json:"stalled"` // s of stall at the end of the move
	Delay   float64 `json:"delay"`   // s from drive on to first motion
	Coast   float64 `json:"coast"`   // moved after the drive went off, Capture.Unit
	Rate    float64 `json:"rate"`    // Capture.Unit per s while moving, unsigned; 0 if it never moved

	first, last int // bins [first, last)
	segs        []segment
	gain        []float64 // local drive over full drive, for each bin
	fitted      *fitter   // of its bins, while rates are measured
}

// Travel is the feedback's change over the move in the direction of drive, in
// Capture.Unit.
func (m *Move) Travel() float64 { return float64(m.Direction) * (m.End - m.Start) }

// Duration of the drive, s.
func (m *Move) Duration() float64 { return lapse(m.Time.To, m.Time.From) }

// Stop is a feedback level at which driven moves ended in a stall, again and
// again.
type Stop struct {
	Level     float64   `json:"level"`     // Capture.Unit, median of the stalls
	Spread    float64   `json:"spread"`    // Capture.Unit, largest minus smallest
	Direction Direction `json:"direction"` // of the drive that ran into it
	Stalls    int       `json:"stalls"`
	Seconds   float64   `json:"seconds"` // s stalled, all stalls together
	Extreme   bool      `json:"extreme"` // the outermost stop on its side
	Times     []float64 `json:"times"`   // s, start of each stall
}

// Sweep is a drive in one direction over most of the span (the travel that this capture shows, be it
// the whole one or not), pauses included.
type Sweep struct {
	Time      Interval  `json:"time"` // s, from first to last motion
	Direction Direction `json:"direction"`
	Low       float64   `json:"low"`        // Capture.Unit, lowest reading
	High      float64   `json:"high"`       // Capture.Unit, highest reading
	Transit   float64   `json:"transit"`    // s of driven motion between the two
	Rate      float64   `json:"rate"`       // Capture.Unit per s, median while moving
	DriveMean float64   `json:"drive"`      // V, mean unsigned drive while moving (or 0..1)
	Stalled   bool      `json:"stalled"`    // ended in a stall
	FromStall bool      `json:"from_stall"` // began at the other stop
}

// Profile is the feedback rate against position for one direction.
type Profile struct {
	Direction Direction      `json:"direction"`
	Nominal   float64        `json:"nominal"` // Capture.Unit per s, typical over the travel
	Points    []ProfilePoint `json:"points"`
}

// ProfilePoint is one cell of a [Profile].
type ProfilePoint struct {
	Position float64 `json:"position"` // Capture.Unit, middle of the cell
	Rate     float64 `json:"rate"`     // Capture.Unit per s, median of the passes
	Slowest  float64 `json:"slowest"`  // Capture.Unit per s, slowest pass
	Passes   int     `json:"passes"`

	rates   []float64 // Capture.Unit per s, of the single passes
	through []float64 // likewise, of those that went through it undisturbed
}

// SlowestThrough is the speed of the slowest pass that went through the cell, Capture.Unit
// per s: one that started there, or whose reading leapt there, was no slow pass. ok is
// false where there is none. Of a point that was not measured here the passes are not known.
func (p *ProfilePoint) SlowestThrough() (v float64, ok bool) {
	if p.rates == nil {
		return p.Slowest, true
	}
	if len(p.through) == 0 {
		return 0, false
	}
	return slices.Min(p.through), true
}

// Kind names what a finding is. The values are stable words of the JSON
// output.
type Kind string

// The kinds of findings.
const (
	DeadSpot     Kind = "dead spot"             // position not told: open, or held and jumped
	NoisyTrack   Kind = "noisy track"           // noise over a band of positions
	EndLoss      Kind = "end of track lost"     // the track stops telling before the shaft stops
	Hunting      Kind = "hunting"               // driven back and forth
	SpanDrift    Kind = "span drift"            // the feedback span changes from sweep to sweep
	TravelChange Kind = "travel change"         // span and transit time change together
	Jam          Kind = "jam"                   // stall short of a stop
	SlowZone     Kind = "slow zone"             // slow in a band of positions
	BentLine     Kind = "bent line"             // the rate changes gradually along the travel, the same both ways
	BentTrack    Kind = "bent track"            // slow and, beside it, faster than the shaft, both ways
	StickSlip    Kind = "stick-slip"            // many small stops and jumps along the travel
	Pauses       Kind = "pauses"                // stands still under drive at scattered positions
	UnevenWays   Kind = "slower one way"        // slower one way than the other, all along the travel
	LoadLost     Kind = "load lost"             // faster both ways from one moment on
	WeakDrive    Kind = "weak drive"            // slow everywhere
	Heating      Kind = "slower with each run"  // each sweep slower than the last
	GearSlip     Kind = "gear slip"             // falls back at constant polarity
	Play         Kind = "play"                  // lost motion after each reversal
	OneWay       Kind = "one way only"          // moves in one direction only
	NoMotion     Kind = "no motion"             // driven, nothing moves
	NoDrive      Kind = "no drive"              // never driven
	HalfDrive    Kind = "drive one-sided"       // one polarity never appears
	OneLead      Kind = "one lead logged"       // the shaft comes back by a lead that is not on record
	AtRail       Kind = "feedback at a rail"    // open or shorted feedback
	Dropouts     Kind = "drop-outs"             // signal lost at times, not at places
	RefLoss      Kind = "reference disturbed"   // the sensor's supply moves
	Ignored      Kind = "command without drive" // what the controller wants does not reach the motor
	Broken       Kind = "motor circuit opens"   // no current under drive, or drive that falls to nothing in its midst
	LastingLeap  Kind = "leap that lasts"       // another level from one moment on, without a motion
	DriveShift   Kind = "steps with the drive"  // the reading jumps as the drive is switched
	SupplySag    Kind = "supply sag"            // the motor's supply is low or dips
	SelfMotion   Kind = "moves undriven"        // feedback moves with no drive
	NotAPot      Kind = "not a potentiometer"   // pulses or data on the feedback wire
)

// Further kinds: of findings, and of evidence that no single finding gives.
const (
	StaysOn       Kind = "drive stays on"                  // pressed into a stand to the end of the capture
	HeavyDrag     Kind = "heavy drag"                      // the running current over that of a held motor
	FeedResists   Kind = "resistance in the motor circuit" // less current of a held motor from one moment on
	GearTurn      Kind = "uneven with each turn of a gear" // slow at places evenly spaced along the way
	SpanShift     Kind = "span shift"                      // stops read otherwise than the profile's
	FreeRun       Kind = "free run"                        // coupled beside uncoupled
	GoodSide      Kind = "good side"                       // beside its like on the healthy side
	LikeProfile   Kind = "profile"                         // stops and speed are those of the profile
	Unexplained   Kind = "unexplained"                     // clearly no sound actuator's, and of no shape that is known
	PositionTried Kind = "position check"                  // a controller that tries again or gives up
)

// Tie says what an anomaly belongs to.
type Tie string

// What an anomaly can be tied to.
const (
	TiedToPosition  Tie = "position"
	TiedToTime      Tie = "time"
	TiedToDirection Tie = "direction"
	TiedToWarming   Tie = "warming" // the time it has been driven
	TieUnknown      Tie = "unknown"
)

// Measure is one number of a finding.
type Measure struct {
	Name  MeasureName `json:"name"`
	Value float64     `json:"value"`
	Unit  string      `json:"unit,omitempty"`
}

// Occurrence is one place in the capture that shows a finding.
type Occurrence struct {
	Time      Interval  `json:"time"`  // s
	Volts     Interval  `json:"volts"` // Capture.Unit
	Direction Direction `json:"direction"`
}

// Finding is something wrong that the capture shows, with where and how
// often.
type Finding struct {
	Kind  Kind   `json:"kind"`
	Form  string `json:"form,omitempty"` // e.g. "open", "held and jumped"
	Title string `json:"title"`          // one plain sentence

	Time    Interval `json:"time"`            // s, first to last sign of it
	Volts   Interval `json:"volts"`           // Capture.Unit, whatever its name says
	Percent Interval `json:"percent_of_span"` // of the span seen, from the low end

	Seen      int       `json:"seen"`   // passes (or sweeps, or moves) that show it
	Passes    int       `json:"passes"` // passes that could have shown it
	Direction Direction `json:"direction"`
	Tie       Tie       `json:"tie,omitempty"`
	TieP      float64   `json:"tie_p,omitempty"` // p-value of the tie, 1 where it was not tested; the least of the tests made when it is unknown
	Tests     []TieTest `json:"tie_tests,omitempty"`
	Told      string    `json:"tie_text,omitempty"` // the tie in plain words, empty where nothing could be tested

	Strength float64      `json:"strength"` // 0..1, confidence that it is real and not noise
	Measures []Measure    `json:"measures,omitempty"`
	Places   []Occurrence `json:"places,omitempty"`

	// Weights are the natural logarithms of the likelihood ratio of this
	// finding for each fault, in the order of Faults; Because says why in
	// one sentence. Event names the physical event: findings with the same
	// Event count once.
	Weights []float64 `json:"log_likelihood,omitempty"`
	Because string    `json:"because,omitempty"`
	Event   string    `json:"event,omitempty"`

	span float64 // Capture.Unit, width of the capture's span
	ref  float64 // Capture.Unit, the sensor's supply

	// tieWord says the tie that TieP belongs to. ownTie tells that the finding's
	// own search knows it: no other test may lend it words or a chance.
	tieWord string
	ownTie  bool
}

// Measure returns the value of the named measure and whether it is there.
func (f *Finding) Measure(name MeasureName) (float64, bool) {
	for _, m := range f.Measures {
		if m.Name == name {
			return m.Value, true
		}
	}
	return 0, false
}

// value is the named measure, 0 where it is not there.
func (f *Finding) value(name MeasureName) float64 { v, _ := f.Measure(name); return v }

// Levels are the drive's state levels, V (IEEE Std 181 histogram modes).
type Levels struct {
	Low  float64 `json:"low"`  // driven one way; equals Rest if never driven that way
	Rest float64 `json:"rest"` // not driven
	High float64 `json:"high"` // driven the other way; equals Rest if never driven that way
}

// Capture is everything measured on one capture.
type Capture struct {
	Source   string  `json:"source"`
	Free     bool    `json:"free"`     // uncoupled from the door
	Duration float64 `json:"duration"` // s
	Rows     int64   `json:"rows"`
	Step     float64 `json:"step"` // s between bins analysed

	Noise     float64  `json:"noise"`     // Capture.Unit rms of one bin, feedback at rest
	Quantum   float64  `json:"quantum"`   // Capture.Unit, converter step of the feedback; 0 unknown
	Reference float64  `json:"reference"` // Capture.Unit, the sensor supply used for percent
	Span      Interval `json:"span"`      // Capture.Unit, lowest to highest credible reading
	Levels    Levels   `json:"drive_levels"`
	Driven    float64  `json:"driven"` // s under drive
	Pulsed    bool     `json:"pulsed"` // drive is PWM or pulse trains

	// RatesAtFullDrive tells that the drive was below its full volts in part, and the
	// rates of the profiles are those that full drive would give.
	RatesAtFullDrive bool `json:"rates_at_full_drive,omitempty"`

	// Sense is +1 when positive drive raises the feedback, -1 when it lowers
	// it, 0 when the capture does not tell.
	Sense int `json:"sense"`

	Moves    []Move    `json:"moves"`
	Stops    []Stop    `json:"stops"`
	Sweeps   []Sweep   `json:"sweeps"`
	Profiles []Profile `json:"profiles"`
	Findings []Finding `json:"findings"`

	// Absent lists what was looked for and not found although the capture
	// could have shown it; Blind lists what the capture cannot tell, and why.
	Absent []Absence `json:"absent"`
	Blind  []Absence `json:"cannot_tell"`

	Notes []string `json:"notes,omitempty"`

	// Remarks are what somebody wrote beside the readings, in the order of time.
	Remarks []Remark `json:"remarks,omitempty"`

	// Doubts are those of Notes of which the verdict hangs: were what they say was taken
	// not so, it could be another one.
	Doubts []DataDoubt `json:"doubts,omitempty"`

	// Apart says that the file holds two recordings that are not of one actuator as it
	// was, and where the second one begins; nothing of it is judged then.
	Apart string `json:"recorded_apart,omitempty"`

	// Unit is the unit of feedback values: "V", "%", "counts", or "units" where
	// the file does not tell.
	Unit string `json:"feedback_unit"`

	// Drivable tells that the drive was logged in volts, not as a polarity.
	Drivable bool `json:"drive_in_volts"`

	// Clipped tells that the drive stands at the end of its channel: its volts
	// are not the motor's.
	Clipped bool `json:"drive_clipped"`

	// Start is the wall-clock time of time 0, when the file told it.
	Start time.Time `json:"start,omitzero"`

	// Checks are a controller's position check at the beginning, and drives
	// that were repeated in vain.
	Checks []PositionCheck `json:"position_checks"`

	// Sampling lists what the instrument hides.
	Sampling []Observation `json:"sampling"`

	// Against is nil without a profile of a known good actuator.
	Against *AgainstProfile `json:"against_profile,omitempty"`

	current      bool    // the motor's current was logged
	reference    bool    // the sensor's reference was logged
	seen         float64 // 0..1, how much of what a healthy actuator does was seen
	sees         float64 // 0..1, how much of what faults leave can show in the channels logged
	contrary     string  // says that much of the travel goes against the drive; "" where it does not
	shareKnown   bool    // Reference is known, see [work.shareKnown]
	supplyLogged bool    // the motor's supply has a channel
	refLogged    bool    // the sensor's has one in the unit of the feedback
	leastHold    float64 // Capture.Unit, the narrowest dead spot that would show
	travel       travelTime
	runAmps      float64             // A, running current, NaN where none was logged
	heldAmps     float64             // A, current of the held motor, NaN likewise
	idleAmps     float64             // A, what the channel reads at rest
	ripple       [rippleCount]ripple // over the distances of rippleShares
	paths        []path              // of the moves at a steady drive
	finest       float64             // Capture.Unit, see dwellFinest
}

// DataDoubt is a note on how the data were read on which the verdict hangs.
type DataDoubt struct {
	Code string `json:"code"` // short stable key, that of the [signal.Note] where it is one
	Text string `json:"text"`
}

// Absence is a finding that was looked for and not found, or could not be
// looked for.
type Absence struct {
	Kind Kind   `json:"kind"`
	Text string `json:"text"`
}
