// Package plots draws what the analysis found: annotated pictures of captures
// as PNG, SVG or PDF, and the one-page report as PDF or HTML.
//
// Everything is laid out by hand on a sheet that measures its text before it
// places it, so that no two labels share a spot. One drawing serves all
// formats; a format only decides how the strokes are written down.
//
// Meaning is never carried by colour alone: a direction has an arrowhead, a
// stop has a hatched edge, a finding has a number and a symbol, a second trace
// has a dashed line.
//
// The same input gives the same bytes: no dates, no random numbers, no order
// of a map.
package plots
