package signal

// Role is what a column measures.
type Role uint8

// The roles. LeadA and LeadB are the two motor leads against ground; their
// difference becomes the drive. Polarity is a drive known only as -1, 0, +1
// or as words. Command is what the controller wants of a drive that was
// measured.
const (
	Unused Role = iota
	TimeRole
	Drive
	LeadA
	LeadB
	Polarity
	Feedback
	Reference
	Supply
	Current
	Command
)

func (r Role) String() string {
	switch r {
	case TimeRole:
		return "time"
	case Drive:
		return "drive"
	case LeadA:
		return "lead A"
	case LeadB:
		return "lead B"
	case Polarity:
		return "polarity"
	case Feedback:
		return "feedback"
	case Reference:
		return "reference"
	case Supply:
		return "supply"
	case Current:
		return "current"
	case Command:
		return "command"
	}
	return "unused"
}

// Column says how one column of a file was read.
type Column struct {
	Number int     // 1-based, as a user counts
	Name   string  // header text, "" when the file has none
	Unit   string  // unit as written in the file, "" when none
	Scale  float64 // factor from the written number to the base unit
	Role   Role
	Reason string // why it has this role, in one phrase
	Stats  Stats
}
