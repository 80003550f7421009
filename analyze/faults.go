package analyze

// Fault is what may be wrong with an actuator.
type Fault int

// The faults, in the order of all per-fault tables.
const (
	NoFault Fault = iota
	FeedbackSensor
	Motor
	DoorMechanism
	WiringControl
	faultCount
)

// CannotTell is the conclusion of a capture that does not decide.
const CannotTell Fault = -1

// Faults lists the faults in the order of all per-fault tables.
func Faults() []Fault {
	return []Fault{NoFault, FeedbackSensor, Motor, DoorMechanism, WiringControl}
}

func (f Fault) String() string {
	switch f {
	case NoFault:
		return "no fault"
	case FeedbackSensor:
		return "feedback sensor"
	case Motor:
		return "motor"
	case DoorMechanism:
		return "door mechanism"
	case WiringControl:
		return "wiring or control"
	}
	return "cannot tell"
}

// MarshalText gives the words of String.
func (f Fault) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// Part is what would be replaced: motor and sensor are sold as one actuator,
// doors often only with the air case.
func (f Fault) Part() string {
	switch f {
	case FeedbackSensor, Motor:
		return "actuator"
	case DoorMechanism:
		return "air case"
	case WiringControl:
		return "wiring or control"
	case NoFault:
		return "none"
	}
	return "cannot tell"
}
