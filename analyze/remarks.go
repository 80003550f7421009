package analyze

import (
	"fmt"

	"threewire/signal"
)

// A Remark is what somebody wrote beside the readings while they were taken.
type Remark struct {
	Time float64 `json:"time"` // s
	Text string  `json:"text"`
}

func remarksOf(t *signal.Trace) []Remark {
	var out []Remark
	for _, m := range t.Remarks {
		out = append(out, Remark{m.Time, m.Text})
	}
	return out
}

// String is the remark in quotes with its time.
func (m Remark) String() string { return fmt.Sprintf("at %.1f s: “%s”", m.Time, m.Text) }

// RemarksText are the remarks of a capture in quotes, each with its time, at most so many of
// them and then how many more there are.
func (c *Capture) RemarksText(most int) []string {
	var out []string
	for i, m := range c.Remarks {
		if i == most {
			more := len(c.Remarks) - most
			if more == 1 {
				return append(out, "and one more")
			}
			return append(out, fmt.Sprintf("and %d more", more))
		}
		out = append(out, m.String())
	}
	return out
}
