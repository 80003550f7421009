package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"threewire/analyze"
	"threewire/plots"
	"threewire/signal"
)

// reportFormat is the format a report file's name asks for.
func reportFormat(path string) (string, error) {
	switch ext := strings.ToLower(filepath.Ext(path)); ext {
	case ".pdf":
		return "pdf", nil
	case ".html", ".htm":
		return "html", nil
	default:
		return "", fmt.Errorf("--report %s: extension %q is unknown: expected .pdf or .html", path, ext)
	}
}

// writeReport writes the one-page report for the customer; the extension of
// the path decides the format. shop and date are printed as given, empty ones
// not at all. An earlier report of the same name is replaced.
func writeReport(path string, rep *analyze.Report, traces []*signal.Trace, shop string, date string) error {
	format, err := reportFormat(path)
	if err != nil {
		return err
	}
	return writeAtomic(path, true, func(w io.Writer) error {
		return plots.Report(w, format, rep, traces, plots.ReportOptions{Shop: shop, Date: date})
	})
}
