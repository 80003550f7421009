package plots

import (
	"testing"

	"threewire/analyze"
)

func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"Slow from 3.00 to 3.55 V (63..76 % of the span).":                           "Slow from 3.00 to 3.55\u00a0V (63 to 76\u00a0% of the span).",
		"no profile: compared with itself (the command threewire profile makes one)": "no profile: compared with itself",
		"hold (the command threewire":                                                "hold (the command threewire",
		"2.9 Hz, 4 sweeps, for 0.52 s":                                               "2.9\u00a0Hz, 4 sweeps, for 0.52\u00a0s",
		"a V, x % and 5 Volts":                                                       "a V, x % and 5 Volts",
		"":                                                                           "",
	} {
		if got := plain(in); got != want {
			t.Errorf("plain(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestLasting(t *testing.T) {
	for in, want := range map[float64]string{0.36: "0.4 s", 9.94: "9.9 s", 60: "60 s", 179: "179 s", 180: "3 minutes", 3600: "60 minutes"} {
		if got := lasting(in); got != want {
			t.Errorf("lasting(%v) = %q, want %q", in, got, want)
		}
	}
}

// A pair whose first capture is clean must not read as a pair without finding.
func TestNothingOfAPair(t *testing.T) {
	clean, worn := &analyze.Capture{}, &analyze.Capture{Findings: []analyze.Finding{{Kind: analyze.Play, Title: "Play of 0.4 V."}}}
	freed := *worn
	freed.Free = true
	for _, c := range []struct {
		panel Panel
		other *analyze.Capture
		want  string
	}{
		{Time, worn, "Nothing unusual was found in this capture."},
		{Overlay, &freed, "Nothing unusual in the first capture. The free one: Play of 0.4\u00a0V."},
		{Compare, worn, "Nothing unusual in the first capture. The later one: Play of 0.4\u00a0V."},
		{Compare, clean, "Nothing unusual was found in this capture."},
	} {
		figs := []Figure{{Capture: clean}, {Capture: c.other}}
		d := &drawing{figs: figs, fig: &figs[0], panels: []Panel{Time, c.panel}}
		if got := d.nothing(); got != c.want {
			t.Errorf("%s: %q, want %q", c.panel, got, c.want)
		}
	}
}

// A sign that is too weak to call a fault is said where no finding is: the picture must not
// deny what the text names.
func TestNothingButAWeakSign(t *testing.T) {
	const sign = "Drives in vain from 42.0 to 92.3 s."
	for _, c := range []struct {
		concluded analyze.Fault
		want      string
	}{
		{analyze.NoFault, "A sign of a fault, too weak to call it one: Drives in vain from 42.0 to 92.3\u00a0s."},
		{analyze.CannotTell, "Nothing unusual was found in this capture."},
	} {
		r := &analyze.Report{Verdict: analyze.Verdict{Conclusion: c.concluded, Against: []analyze.Evidence{{Text: sign, Ratio: 0.5}}}}
		figs := []Figure{{Capture: &analyze.Capture{}, Report: r}}
		d := &drawing{figs: figs, fig: &figs[0], panels: []Panel{Time}}
		if got := d.nothing(); got != c.want {
			t.Errorf("%s: %q, want %q", c.concluded, got, c.want)
		}
	}
}
