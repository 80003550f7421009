package main

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"threewire/analyze"
	"threewire/plots"
)

// chartFormat is the picture format a file's name asks for, "" if none.
func chartFormat(path string) string {
	format := strings.TrimPrefix(strings.ToLower(filepath.Ext(path)), ".")
	if !slices.Contains(plots.Formats(), format) {
		return ""
	}
	return format
}

// writeChart draws the faults and the drifts of rows.
func writeChart(path string, rows []*batchRow) error {
	list := judgements(rows)
	b := plots.Batch{Title: plural(len(rows), "capture") + ", " + plural(len(list), "verdict")}
	count := map[string]int{}
	for _, j := range list {
		count[j.Conclusion]++
	}
	for name, n := range count {
		b.Faults = append(b.Faults, plots.Tally{Name: name, Count: n})
	}
	slices.SortFunc(b.Faults, func(p, q plots.Tally) int {
		return cmp.Or(cmp.Compare(q.Count, p.Count), strings.Compare(p.Name, q.Name))
	})
	b.Drifts, b.Unit, b.Axis = chartDrifts(rows)
	var picture bytes.Buffer
	if err := plots.DrawBatch(&picture, chartFormat(path), b, plots.Options{}); err != nil {
		return err
	}
	return writeAtomic(path, true, func(w io.Writer) error {
		_, err := w.Write(marked(chartFormat(path), picture.Bytes()))
		return err
	})
}

// chartMark tells charts of a batch, which the next run may replace, from other pictures.
const chartMark = "threewire batch chart"

// marked is a chart with its mark, where its format has room for one.
func marked(format string, b []byte) []byte {
	switch format {
	case "png": // a text chunk behind the header, which is 33 bytes long (PNG specification)
		const head = 33
		text := []byte("tEXtSoftware\x00" + chartMark)
		chunk := binary.BigEndian.AppendUint32(nil, uint32(len(text)-4))
		chunk = append(chunk, text...)
		chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(text))
		return slices.Concat(b[:head], chunk, b[head:])
	case "svg":
		return append(b, "<!-- "+chartMark+" -->\n"...)
	}
	return append(b, "% "+chartMark+"\n"...) // a comment of PDF
}

// onlyChart refuses a file that is something else than a chart of a batch.
func onlyChart(path string) error {
	st, err := os.Stat(path)
	if err != nil || !st.Mode().IsRegular() || st.Size() == 0 {
		return nil // nothing to lose
	}
	b, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	if !bytes.Contains(b, []byte(chartMark)) {
		return fmt.Errorf("%s exists and is no chart of a batch: give another name, or remove it", path)
	}
	return nil
}

// shortNames are the ends of paths that tell them apart: that of a long one is the name of
// the door, and doors of one name need their rig.
func shortNames(paths []string) []string {
	out := make([]string, len(paths))
	for i, p := range paths {
		parts := strings.Split(filepath.ToSlash(p), "/")
		for k := len(parts) - 1; k >= 0; k-- {
			out[i] = strings.Join(parts[k:], "/")
			end := "/" + out[i]
			if !slices.ContainsFunc(paths, func(q string) bool { return q != p && strings.HasSuffix("/"+filepath.ToSlash(q), end) }) {
				break
			}
		}
	}
	return out
}

// chartDrifts picks the trends that fit on one pair of axes: dated ones if
// there are any, in the unit of the first.
func chartDrifts(rows []*batchRow) (list []plots.Drift, unit, axis string) {
	trend := drifts(rows)
	per := "capture"
	names := make([]string, 0, len(trend))
	for name, d := range trend {
		names = append(names, name)
		if d.per == "day" {
			per = "day"
		}
	}
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Or(cmp.Compare(trend[a].q, trend[b].q), natural(a, b), strings.Compare(a, b))
	})
	short := shortNames(names)
	for i, name := range names {
		d := trend[name]
		if d.per != per || unit != "" && d.unit != unit {
			continue
		}
		unit = d.unit
		list = append(list, plots.Drift{Name: short[i] + ", " + strings.ReplaceAll(d.what, " ", "\u00a0"), X: d.x, Y: d.y, Least: analyze.DriftLeast * d.span,
			Slope: d.slope, Intercept: d.intercept, Sure: d.q < driftSeen})
	}
	axis = "captures since the first"
	if per == "day" {
		axis = "time since the first capture of the actuator, days"
	}
	return list, unit, axis
}
