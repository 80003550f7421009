package plots

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"threewire/analyze"
)

// plain turns words for people who run programs into words for everybody:
// ranges written with two dots, and remarks about commands. A number keeps
// its unit beside it.
func plain(t string) string {
	if i := strings.Index(t, " (the command threewire "); i >= 0 {
		if n := strings.IndexByte(t[i:], ')'); n >= 0 {
			t = t[:i] + t[i+n+1:]
		}
	}
	t = strings.ReplaceAll(t, "..", " to ")
	for _, unit := range []string{"%", "V", "s", "Hz"} {
		for i := 0; ; {
			k := strings.Index(t[i:], " "+unit)
			if k < 0 {
				break
			}
			i += k
			end := i + 1 + len(unit)
			if i > 0 && isDigit(t[i-1]) && (end == len(t) || strings.IndexByte(" ,.;:)", t[end]) >= 0) {
				t = t[:i] + bound + t[i+1:]
			}
			i = min(i+2, len(t))
		}
	}
	return t
}

// says is a finding of the figure in plain words, as its report says it where it has one.
func (g *Figure) says(f *analyze.Finding) string {
	if g == nil || g.Report == nil {
		return plain(f.Title)
	}
	return plain(g.Report.TitleOf(g.Capture, f))
}

// bound is a space at which no line breaks.
const bound = "\u00a0"

func isDigit(b byte) bool { return '0' <= b && b <= '9' }

// alt says in words what the picture shows, for people who cannot see it. A
// blank picture keeps its answer to itself.
func (d *drawing) alt() string {
	var b strings.Builder
	if d.panels[0] == Contact {
		fmt.Fprintf(&b, "Contact sheet of %d captures, feedback against time.", len(d.figs))
		if !d.o.Blank {
			for i := range d.figs {
				b.WriteString(" " + d.name(&d.figs[i]))
				if d.o.Answer {
					b.WriteString(": " + d.figs[i].answered())
				} else if r := d.figs[i].Report; r != nil {
					b.WriteString(": " + verdictWords(&r.Verdict))
				}
				b.WriteString(".")
			}
		}
		return b.String()
	}
	for _, p := range d.panels {
		switch p {
		case Time:
			from, to := d.timeRange()
			fmt.Fprintf(&b, "Motor drive and position feedback against time, %.4g to %.4g s; the feedback runs between %s and %s. ",
				from, to, d.value(d.fig.Capture.Span.From), d.value(d.fig.Capture.Span.To))
		case Rate:
			b.WriteString("Speed of the feedback against position, each direction. ")
		case Sweeps:
			fmt.Fprintf(&b, "Lowest and highest feedback and travel time of each of %d sweeps. ", len(d.fig.Capture.Sweeps))
		case Hunt:
			b.WriteString("A close-up of the feedback with its autocorrelation. ")
		case Close:
			b.WriteString("A close-up of the feedback where places of a finding lie closest. ")
		case Overlay:
			b.WriteString("Feedback of the coupled and the free run laid over each other. ")
		case Compare:
			b.WriteString("Feedback before and after laid over each other. ")
		}
	}
	if d.o.Blank {
		return strings.TrimSpace(b.String())
	}
	if lines, _ := d.headlines(false); len(lines) > 0 && d.o.Answer {
		b.WriteString(lines[0] + ". ")
	} else if v, _ := d.verdict(); v != "" {
		b.WriteString("Verdict: " + v + ". ")
	}
	for _, t := range append(d.truly(), d.together()...) {
		b.WriteString(t + " ")
	}
	for _, m := range d.marks {
		fmt.Fprintf(&b, "%d: %s ", m.n, d.said(m.f))
	}
	if len(d.marks) == 0 {
		b.WriteString(d.nothing() + " ")
	}
	return strings.TrimSpace(b.String())
}

// nothing is [nothingFound] for the picture: of a pair it tells what the other
// capture shows, which has no numbers in it.
func (d *drawing) nothing() string {
	name := ""
	var other *Figure
	switch {
	case slices.Contains(d.panels, Overlay):
		name = "free"
		if a, b := d.pair(); a == d.fig {
			other = b
		} else {
			name, other = "coupled", a
		}
	case slices.Contains(d.panels, Compare):
		name, other = "later", &d.figs[1]
	}
	if len(d.together()) > 0 && (other == nil || len(other.Capture.Findings) == 0) && d.fig.Capture.MissesPolarity() == "" {
		return "Nothing unusual in this capture by itself."
	}
	if other == nil || len(other.Capture.Findings) == 0 || d.fig.Capture.MissesPolarity() != "" {
		if r := d.fig.Report; r != nil && r.Verdict.WeakSign() != "" {
			return "A sign of a fault, too weak to call it one: " + plain(r.Verdict.WeakSign())
		}
		return nothingFound(d.fig.Capture)
	}
	return "Nothing unusual in the first capture. The " + name + " one: " + other.says(&other.Capture.Findings[0])
}

// nothingFound stands where the findings would: a capture that was not judged
// is not one without fault.
func nothingFound(c *analyze.Capture) string {
	if c.MissesPolarity() != "" {
		return "Not judged: the polarity of the drive was not logged."
	}
	return "Nothing unusual was found in this capture."
}

// value is a feedback level with its unit; counts have no parts.
func (d *drawing) value(v float64) string {
	if u := d.unit(); u != "V" {
		if math.Abs(v) >= 20 { // counts have no parts
			return fmt.Sprintf("%.0f %s", v, u)
		}
		return fmt.Sprintf("%.3g %s", v, u)
	}
	return fmt.Sprintf("%.2f V", v)
}

// twoDigits writes two significant digits, and never a power of ten.
func twoDigits(v float64) string {
	if math.Abs(v) >= 100 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.2g", v)
}

// unit of the feedback.
func (d *drawing) unit() string {
	if u := d.fig.Capture.Unit; u != "" {
		return u
	}
	return "V"
}
