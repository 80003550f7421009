package signal

import "strings"

// withMinus gives the name before a dash and a unit its dash back, where another column
// has the same name with a plus: "Motor + mV" and "Motor - mV" are the two ends of a motor,
// and the dash of the second parts no unit from its name.
func (h *header) withMinus(name, written string) string {
	if !strings.HasPrefix(written, name+" - ") {
		return name
	}
	for _, other := range h.name {
		if rest, ok := strings.CutPrefix(strings.TrimSpace(other), name+" +"); ok && (rest == "" || rest[0] == ' ') {
			return name + " -"
		}
	}
	return name
}
