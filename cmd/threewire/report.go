package main

import (
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"threewire/plots"
)

const reportHelp = `
A settings file has one setting a line; flags win over it:

  # for every report of this shop
  shop: Millbrook Technical College
  address: Training workshop, 12 Mill Lane, Millbrook
  paper: letter
  style: mono
`

// reportFlags are the flags of the one-page report.
type reportFlags struct {
	path, settings, job, date string
	force                     bool
	given                     settings
	fs                        *pflag.FlagSet
}

// addReportFlags defines the flags on fs.
func addReportFlags(fs *pflag.FlagSet) *reportFlags {
	f := &reportFlags{fs: fs}
	fs.StringVar(&f.path, "report", "", "also write a one-page report for the customer to `FILE` (.pdf or .html)")
	fs.BoolVar(&f.force, "force", false, "replace an earlier report of the same name")
	fs.StringVar(&f.given.shop, "shop", "", "shop `NAME` on the report")
	fs.StringVar(&f.given.address, "address", "", "address line under the shop's name, as `TEXT`")
	fs.StringVar(&f.job, "job", "", "what was checked, as `TEXT` on the report: order, vehicle, which door")
	fs.StringVar(&f.date, "date", "", "date on the report, as `TEXT` such as 2026-03-09 or 9 March 2026 (default: today)")
	fs.StringVar(&f.given.paper, "paper", "", "`SIZE` of the report: a4 (default) or letter")
	fs.StringVar(&f.given.style, "style", "", "`STYLE` of the report: light (default) or mono (black and white)")
	fs.StringVar(&f.settings, "settings", "", "`FILE` with shop, address, paper and style for reports")
	return f
}

// options checks the flags and the settings file, before any capture is read.
func (f *reportFlags) options() (plots.ReportOptions, error) {
	var o plots.ReportOptions
	if f.path == "" {
		for _, name := range []string{"shop", "address", "job", "date", "paper", "style", "settings", "force"} {
			if f.fs.Changed(name) {
				return o, fmt.Errorf("--%s belongs to a report: add --report FILE.pdf or FILE.html", name)
			}
		}
		return o, nil
	}
	if _, err := reportFormat(f.path); err != nil {
		return o, err
	}
	s := settings{paper: string(plots.A4), style: string(plots.Light)}
	for _, c := range []struct {
		flag, value string
		allowed     []string
	}{{"paper", f.given.paper, papers()}, {"style", f.given.style, reportStyles()}} {
		if f.fs.Changed(c.flag) && !known(c.value, c.allowed) {
			return o, fmt.Errorf("--%s %q is unknown: expected %s", c.flag, c.value, either(c.allowed))
		}
	}
	if f.fs.Changed("settings") {
		from, err := readSettings(f.settings)
		if err != nil {
			return o, err
		}
		s = s.under(from)
	}
	for _, x := range []struct {
		flag     string
		to, from *string
	}{{"shop", &s.shop, &f.given.shop}, {"address", &s.address, &f.given.address}, {"paper", &s.paper, &f.given.paper}, {"style", &s.style, &f.given.style}} {
		if f.fs.Changed(x.flag) { // to nothing too
			*x.to = *x.from
		}
	}
	o = s.reportOptions()
	o.Job, o.Date = f.job, f.date
	if !f.fs.Changed("date") {
		o.Date = time.Now().Format("2 January 2006")
	} else if !isDate(f.date) {
		return o, fmt.Errorf("--date %q is no date: expected a day as in 2026-03-09, 9.3.2026 or 9 March 2026 (empty prints none)", f.date)
	}
	return o, nil
}

// isDate tells whether a text is a day as people write it, in figures or with the month as
// a word of any language; it is printed as it is. Empty prints none.
func isDate(s string) bool {
	const day, year, month = `(0?[1-9]|[12]\d|3[01])`, `(\d{2}|\d{4})`, `(de |di )?\p{L}{3,}\.?`
	const part = `(0?[1-9]|1[0-2])`
	return s == "" || regexp.MustCompile(`^\s*(`+strings.Join([]string{
		`\d{4}([-/.]\s?)` + part + `([-/.]\s?)` + day + `\.?`, // the year first
		day + `([-/.]\s?)` + part + `([-/.]\s?)` + year,       // the day
		part + `/` + day + `/` + year,                         // the month
		day + `(st|nd|rd|th|er|º)?\.? ` + month + `,? (de |di )?` + year,
		month + ` ` + day + `(st|nd|rd|th)?,? ` + year,
	}, "|")+`)\s*$`).MatchString(s)
}

// reportOptions are those of a report by the settings alone.
func (s settings) reportOptions() plots.ReportOptions {
	return plots.ReportOptions{
		Shop: s.shop, Address: s.address,
		Paper: plots.Paper(strings.ToLower(s.paper)), Style: plots.Style(strings.ToLower(s.style)),
	}
}

// under returns the settings with those of over laid over them.
func (s settings) under(over settings) settings {
	for _, x := range []struct{ to, from *string }{
		{&s.shop, &over.shop}, {&s.address, &over.address}, {&s.paper, &over.paper}, {&s.style, &over.style},
	} {
		if *x.from != "" {
			*x.to = *x.from
		}
	}
	return s
}

func papers() []string       { return []string{string(plots.A4), string(plots.Letter)} }
func reportStyles() []string { return []string{string(plots.Light), string(plots.Mono)} }

func known(value string, allowed []string) bool {
	return slices.Contains(allowed, strings.ToLower(value))
}

func either(s []string) string { return strings.Join(s, " or ") }

// target refuses a report that could not be written in the end, or over a
// capture or the settings.
func (f *reportFlags) target(inputs []string) error {
	if f.path == "" {
		return nil
	}
	if err := checkTarget(f.path, f.force, slices.Concat(inputs, []string{f.settings})); err != nil {
		return fmt.Errorf("--report %w", err)
	}
	return nil
}

// reportFormat is the format a report file's name asks for.
func reportFormat(path string) (string, error) {
	switch ext := strings.ToLower(filepath.Ext(path)); ext {
	case ".pdf":
		return "pdf", nil
	case ".html", ".htm":
		return "html", nil
	case "":
		return "", fmt.Errorf("--report %s has no extension: expected .pdf or .html", path)
	default:
		return "", fmt.Errorf("--report %s: extension %q is unknown: expected .pdf or .html", path, ext)
	}
}

// writeReport writes the one-page report for the customer; the extension of
// the path decides the format. Only with force an earlier file of the same name is
// replaced.
func writeReport(path string, force bool, j *judged, o plots.ReportOptions) error {
	format, err := reportFormat(path)
	if err != nil {
		return err
	}
	return writeAtomic(path, force, func(w io.Writer) error {
		return plots.Report(w, format, j.report, j.all(), o)
	})
}
