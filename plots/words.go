package plots

import (
	"fmt"
	"math"
	"strings"
)

// plain turns ranges written with two dots into words: "12..30 %" is for
// people who write programs.
func plain(t string) string { return strings.ReplaceAll(t, "..", " to ") }

// alt says in words what the picture shows, for people who cannot see it. A
// blank picture keeps its answer to itself.
func (d *drawing) alt() string {
	var b strings.Builder
	if d.panels[0] == Contact {
		fmt.Fprintf(&b, "Contact sheet of %d captures, feedback against time.", len(d.figs))
		if !d.o.Blank {
			for i := range d.figs {
				b.WriteString(" " + d.name(&d.figs[i]))
				if r := d.figs[i].Report; r != nil {
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
		case Overlay:
			b.WriteString("Feedback of the coupled and the free run laid over each other. ")
		case Compare:
			b.WriteString("Feedback before and after laid over each other. ")
		}
	}
	if d.o.Blank {
		return strings.TrimSpace(b.String())
	}
	if v, _ := d.verdict(); v != "" {
		b.WriteString("Verdict: " + v + ". ")
	}
	for _, m := range d.marks {
		fmt.Fprintf(&b, "%d: %s ", m.n, plain(m.f.Title))
	}
	if len(d.marks) == 0 {
		b.WriteString("Nothing unusual was found. ")
	}
	return strings.TrimSpace(b.String())
}

// value is a feedback level with its unit; counts have no parts.
func (d *drawing) value(v float64) string {
	if u := d.unit(); u != "V" {
		return fmt.Sprintf("%.4g %s", v, u)
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
