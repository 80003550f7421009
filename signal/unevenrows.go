package signal

import (
	"math"
	"slices"
)

const (
	unevenRows = 50  // fewest that tell a pace
	unevenWide = 3.0 // times the steps between neighbours: a single row that was lost makes two
	unevenMany = 3.5 // rows of a cluster: what more of them scatter by tells more than a grid keeps (chosen)
)

// spreadUneven puts the rows of a logger that writes them in clusters, with pauses between
// them that take most of the time, on an even grid as wide as such a pause is while the
// reading moves, and tells whether it did. Such are loggers that write a row at a change and
// another so often in any case, and those that take bursts. The pauses are their pace, not
// rows that are missing: only one far longer stays a gap. The drive and a command stand until
// the next row, feedback and the other volts and currents go on evenly, or stand as well
// where the drive switches; the extremes of a bin are those of its rows.
func (t *Trace) spreadUneven(most int) bool {
	pace := t.unevenPace()
	if pace == 0 || t.Duration()/pace > float64(most) {
		return false
	}
	longest := 3 * unevenWide * pace
	var time []float64
	var row []int // the last row not after the time
	var gaps []Span
	x, last := t.Time[0], t.Len()-1
	for i := 0; ; {
		for i < last && t.Time[i+1] <= x {
			i++
		}
		if time, row = append(time, x), append(row, i); i == last {
			break
		}
		if a, b := t.Time[i], t.Time[i+1]; b-a > longest {
			gaps = append(gaps, Span{a, b})
			x, i = b, i+1
			continue
		}
		if x += pace; x > t.Time[last] {
			break
		}
	}
	from := t.Time
	on := 0.3 * math.Max(math.Abs(t.Drive.Stats.Max), math.Abs(t.Drive.Stats.Min))
	drive := t.Drive.carried().Mean
	switches := func(i int) bool { return math.Abs(float64(drive[i+1])-float64(drive[i])) > on }
	t.Drive = t.Drive.carried().rows(row)
	if t.Command != nil {
		s := t.Command.carried().rows(row)
		t.Command = &s
	}
	t.Feedback = t.Feedback.evenlyAt(from, time, row, func(int) bool { return false })
	for _, p := range []**Series{&t.Reference, &t.Supply, &t.Current, &t.Both} {
		if *p != nil {
			s := (*p).evenlyAt(from, time, row, switches)
			*p = &s
		}
	}
	t.Time, t.Gaps, t.Step, t.RowStep = time, gaps, pace, pace
	return true
}

// unevenPace is the pause, in s, in which half of the time lies that the reading takes to
// move, where that is far longer than the steps between neighbouring rows; else 0.
func (t *Trace) unevenPace() float64 {
	if t.RowsPerBin > 1 || t.Uniform || t.Len() < unevenRows {
		return 0
	}
	feed := carried(t.Feedback.Mean)
	var all, moving []float64
	whole := 0.0
	for i := 1; i < t.Len(); i++ {
		d := t.Time[i] - t.Time[i-1]
		all = append(all, d)
		if feed[i] != feed[i-1] {
			moving, whole = append(moving, d), whole+d
		}
	}
	if len(moving) < unevenRows/2 {
		return 0
	}
	// A pause that takes half of the time by itself is a gap, and no pace.
	slices.Sort(moving)
	if moving[len(moving)-1] > whole/4 {
		return 0
	}
	pace, sum := 0.0, 0.0
	for _, d := range moving {
		if sum += d; sum >= whole/2 {
			pace = d
			break
		}
	}
	near := unevenWide * quantile(all, 0.25)
	pauses := 0
	for _, d := range all {
		if d > near {
			pauses++
		}
	}
	if pace <= near || float64(len(all)) > unevenMany*float64(pauses) {
		return 0
	}
	return pace
}

// evenlyAt is the series at times that lie after the rows given, on the line to the next row,
// or, where stays tells so of a row, as it was until then.
func (s *Series) evenlyAt(from, at []float64, row []int, stays func(i int) bool) Series {
	p := *s
	p.Mean, p.Min, p.Max = make([]float32, len(at)), make([]float32, len(at)), make([]float32, len(at))
	for k, x := range at {
		i := row[k]
		v := s.Mean[i]
		if n := i + 1; n < len(from) && x > from[i] && !stays(i) {
			v += float32((x-from[i])/(from[n]-from[i])) * (s.Mean[n] - s.Mean[i])
		}
		lo, hi := v, v
		for n := i + 1; n < len(from) && (k+1 == len(at) || n <= row[k+1]); n++ {
			lo, hi = least(lo, s.Min[n]), greatest(hi, s.Max[n])
		}
		p.Mean[k], p.Min[k], p.Max[k] = v, lo, hi
	}
	return p
}

func least(a, b float32) float32 {
	if b < a || a != a {
		return b
	}
	return a
}

func greatest(a, b float32) float32 {
	if b > a || a != a {
		return b
	}
	return a
}
