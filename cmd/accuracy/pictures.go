package main

import (
	"fmt"
	"io"

	"threewire/analyze"
	"threewire/plots"
)

// drawReliability draws the reliability diagrams of all ranges: component and
// part.
func (s *summary) drawReliability(w io.Writer) error {
	var panels []plots.ReliabilityPanel
	for _, q := range []struct {
		head string
		get  func(*rangeSummary) *calibration
	}{
		{"Component", func(r *rangeSummary) *calibration { return &r.Calibration }},
		{"Part", func(r *rangeSummary) *calibration { return &r.Parts }},
	} {
		p := plots.ReliabilityPanel{Heading: q.head}
		for i := range s.Ranges {
			c := q.get(&s.Ranges[i])
			line := plots.Curve{Name: fmt.Sprintf("%s: error %.3f, n %d", s.Ranges[i].Range, c.ECE.Value, c.Count)}
			for _, b := range c.Bins {
				line.Points = append(line.Points, plots.CurvePoint{X: b.Stated, Y: b.Observed, Low: b.Low, High: b.High})
			}
			p.Curves = append(p.Curves, line)
		}
		panels = append(panels, p)
	}
	return plots.DrawReliability(w, "png", "How often a stated probability was right", panels, plots.Options{})
}

// drawDetection draws the share of faults named, by severity, rate and noise.
func (s *rangeSummary) drawDetection(w io.Writer) error {
	panels := []plots.DetectionPanel{
		{Heading: "by severity", Axis: "severity, 0 barely visible to 1 gross"},
		{Heading: "by sampling rate", Axis: "sampling rate, Hz", Decades: true},
		{Heading: "by noise", Axis: "smallest change one row shows, % of span", Decades: true},
	}
	for _, f := range analyze.Faults()[1:] {
		c := s.Curves[component(f)]
		for i, rows := range [][]group{c.Severity, c.Rate, c.Noise} {
			line := plots.Curve{Name: component(f)}
			for _, g := range rows {
				d := g.Detected
				if d.Of == 0 {
					continue
				}
				line.Points = append(line.Points, plots.CurvePoint{X: g.At, Y: d.Rate, Low: d.Low, High: d.High})
			}
			panels[i].Curves = append(panels[i].Curves, line)
		}
	}
	return plots.DrawDetection(w, "png", fmt.Sprintf("Share of faults whose component the verdict names (%s, single captures)", s.Range), panels, plots.Options{})
}
