package signal

import "testing"

// Levels in brackets number no lead.
func TestLevelsInNames(t *testing.T) {
	for name, want := range map[string]Role{
		"Drive (-1/0/1)":        Drive,
		"Drive [-1..1]":         Drive,
		"Motor drive (+1/0/−1)": Drive,
		"Drive (1)":             LeadA,
		"Drive 2":               LeadB,
		"Polarity (-1, 0, 1)":   Polarity,
		"Lead A (0-12 V)":       LeadA,
	} {
		if got, _ := headerRole(name); got != want {
			t.Errorf("%q: %v, want %v", name, got, want)
		}
	}
}
