package signal

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
)

// fast renders a long capture: seconds of a motor driven up and down, with a
// one-row glitch of the feedback to 0 V at glitch.
func fast(rate float64, rows, glitch int, edit func(i int, t *float64)) string {
	b := []byte("t (s),drive (V),feedback (V)\n")
	for i := range rows {
		t := float64(i) / rate
		d, v := 12.0, 1+math.Mod(t, 2)
		if math.Mod(t, 4) >= 2 {
			d, v = -12, 3-math.Mod(t, 2)
		}
		if i == glitch {
			v = 0
		}
		if edit != nil {
			edit(i, &t)
		}
		b = strconv.AppendFloat(b, t, 'f', 6, 64)
		b = append(b, ',')
		b = strconv.AppendFloat(b, d, 'f', 1, 64)
		b = append(b, ',')
		b = strconv.AppendFloat(b, v, 'f', 4, 64)
		b = append(b, '\n')
	}
	return string(b)
}

func mustRead(t *testing.T, text string, o Options) *Trace {
	t.Helper()
	tr, err := Read(strings.NewReader(text), o)
	if err != nil {
		t.Fatal(err)
	}
	if msg := broken(tr); msg != "" {
		t.Fatal(msg)
	}
	return tr
}

func TestReduction(t *testing.T) {
	const rows, glitch = 200_000, 123_457
	for _, c := range []struct {
		rate    float64
		maxBins int
		perBin  int // largest allowed rows per bin
		minBins int
	}{
		{1000, 0, 1, rows},
		{2000, 0, 1, rows},
		{10_000, 0, 10, rows / 10},
		{100_000, 0, 128, fewBins},
		{1000, 20_000, 32, 5000},
		{10_000, 2000, 320, 500},
	} {
		t.Run(fmt.Sprintf("%g Hz, %d bins", c.rate, c.maxBins), func(t *testing.T) {
			tr := mustRead(t, fast(c.rate, rows, glitch, nil), Options{MaxBins: c.maxBins})
			if tr.Rows != rows || tr.RowsPerBin > c.perBin || tr.Len() < c.minBins || c.maxBins > 0 && 2*tr.Len() > c.maxBins {
				t.Fatalf("%d rows in %d bins of %d", tr.Rows, tr.Len(), tr.RowsPerBin)
			}
			if math.Abs(tr.RowStep*c.rate-1) > 1e-6 || math.Abs(tr.Step*c.rate/float64(tr.RowsPerBin)-1) > 1e-3 || !tr.Uniform {
				t.Errorf("row step %v, step %v, uniform %v", tr.RowStep, tr.Step, tr.Uniform)
			}
			// The glitch survives in the minimum of its bin, at its time.
			at, lowest := 0, float32(9)
			for i, v := range tr.Feedback.Min {
				if v < lowest {
					at, lowest = i, v
				}
			}
			if lowest != 0 || math.Abs(tr.Time[at]-glitch/c.rate) > tr.Step {
				t.Errorf("glitch %v at %v, want 0 at %v", lowest, tr.Time[at], glitch/c.rate)
			}
			if n := tr.Feedback.Stats.AtMin; n != 1 || tr.Feedback.Stats.Min != 0 || tr.Feedback.Stats.Valid != rows {
				t.Errorf("stats %+v", tr.Feedback.Stats)
			}
			// The mean of all bins, weighted by rows, is the mean of all rows;
			// all bins but the last are of one width.
			got, want, n := 0.0, 0.0, 0.0
			for i, v := range tr.Feedback.Mean {
				w := float64(tr.RowsPerBin)
				if i == tr.Len()-1 {
					w = rows - w*float64(tr.Len()-1)
				}
				got += w * float64(v)
				n += w
			}
			for i := range rows {
				s := float64(i) / c.rate
				v := 1 + math.Mod(s, 2)
				if math.Mod(s, 4) >= 2 {
					v = 3 - math.Mod(s, 2)
				}
				if i == glitch {
					v = 0
				}
				want += v
			}
			if math.Abs(got-want)/rows > 1e-4 || n != rows {
				t.Errorf("mean %v over %v rows, want %v", got/n, n, want/rows)
			}
		})
	}
}

// The number of goroutines must not change the result.
func TestWorkersAgree(t *testing.T) {
	text := fast(10_000, 100_000, 5000, nil)
	a := mustRead(t, text, Options{Workers: 1})
	b := mustRead(t, text, Options{Workers: 4})
	if a.Len() != b.Len() {
		t.Fatalf("%d and %d bins", a.Len(), b.Len())
	}
	for i := range a.Time {
		if a.Time[i] != b.Time[i] || a.Feedback.Mean[i] != b.Feedback.Mean[i] || a.Drive.Max[i] != b.Drive.Max[i] {
			t.Fatalf("bin %d differs", i)
		}
	}
}

// Bins must not reach over a gap wider than themselves.
func TestGapsStayApart(t *testing.T) {
	const rows, at = 100_000, 54_321
	text := fast(10_000, rows, -1, func(i int, t *float64) {
		if i >= at {
			*t += 7
		}
	})
	for _, most := range []int{0, 4000, 1000} {
		tr := mustRead(t, text, Options{MaxBins: most})
		if len(tr.Gaps) != 1 || math.Abs(tr.Gaps[0].From-(at-1)/1e4) > 1e-9 || math.Abs(tr.Gaps[0].To-7-at/1e4) > 1e-9 {
			t.Fatalf("gaps %v", tr.Gaps)
		}
		if !tr.Uniform {
			t.Error("a gap is no unevenness")
		}
		for i, x := range tr.Time {
			if x > tr.Gaps[0].From && x < tr.Gaps[0].To {
				t.Errorf("%d bins: bin %d at %v lies in the gap", most, i, x)
			}
		}
	}
}

// A pulsed drive becomes its local mean, with the pulses in the extremes.
func TestPulsedDrive(t *testing.T) {
	const rate, rows, duty = 100_000, 400_000, 0.7
	b := []byte("time,drive,feedback\n")
	for i := range rows {
		s := float64(i) / rate
		d := 0.0
		if i%50 < 50*duty {
			d = 12
		}
		if s > 2 {
			d = -d
		}
		b = fmt.Appendf(b, "%.5f,%g,%.4f\n", s, d, 1+math.Min(s, 4-s))
	}
	tr := mustRead(t, string(b), Options{})
	if tr.RowsPerBin < 50 || tr.RowsPerBin > 128 {
		t.Fatalf("%d rows per bin", tr.RowsPerBin)
	}
	for i := 5; i < tr.Len()-5; i++ {
		want := 12 * duty
		if tr.Time[i] > 2 {
			want = -want
		}
		if math.Abs(tr.Time[i]-2) < 0.002 {
			continue
		}
		// A bin of k rows holds at most one pulse too many or too few.
		if math.Abs(float64(tr.Drive.Mean[i])-want) > 12*50*(1-duty)/float64(tr.RowsPerBin) || tr.Drive.Max[i]-tr.Drive.Min[i] != 12 {
			t.Fatalf("bin %d: %v..%v..%v, want %v", i, tr.Drive.Min[i], tr.Drive.Mean[i], tr.Drive.Max[i], want)
		}
	}
}

// Leads are subtracted; the extremes bound the rows' difference.
func TestLeadsReduced(t *testing.T) {
	b := []byte("time,lead a,lead b,feedback\n")
	for i := range 100_000 {
		x, y := 0.0, 0.0
		if i/20_000%2 == 0 {
			x = 12
		} else {
			y = 12
		}
		b = fmt.Appendf(b, "%.4f,%g,%g,%.4f\n", float64(i)/1e4, x, y, 1+math.Abs(float64(i%40_000)-20_000)/1e4)
	}
	tr := mustRead(t, string(b), Options{})
	if tr.RowsPerBin != 10 || tr.Drive.Stats.Min != -12 || tr.Drive.Stats.Max != 12 || tr.Drive.Name != "lead a - lead b" {
		t.Fatalf("%d per bin, %+v", tr.RowsPerBin, tr.Drive.Stats)
	}
	for i, m := range tr.Drive.Mean {
		want := float32(12)
		if i/2000%2 == 1 {
			want = -12
		}
		if m != want || tr.Drive.Min[i] != want || tr.Drive.Max[i] != want {
			t.Fatalf("bin %d: %v %v %v, want %v", i, tr.Drive.Min[i], m, tr.Drive.Max[i], want)
		}
	}
}

func TestScaleFlags(t *testing.T) {
	r := newRec(60, 0.02)
	text := "time,drive,feedback,current\n" + r.rows(func(i int, t, d, v float64) string {
		return fmt.Sprintf("%.3f,%g,%g,%g", t, d/10, v, 0.05)
	})
	tr := mustRead(t, text, Options{Scale: map[Role]float64{Drive: 10, Feedback: -1, Current: 10, TimeRole: 0.5}})
	if tr.Drive.Stats.Max < 11.999 || tr.Drive.Stats.Max > 12.001 || tr.Current.Mean[5] != 0.5 || tr.Feedback.Mean[0] != -1 || tr.Time[1] != 0.01 {
		t.Errorf("drive %v, current %v, feedback %v, time %v", tr.Drive.Stats.Max, tr.Current.Mean[5], tr.Feedback.Mean[0], tr.Time[1])
	}
	if s := tr.Feedback.Stats; s.Min >= s.Max || s.Max != -1 {
		t.Errorf("inverted feedback: %+v", s)
	}
}

// Where the file tells no unit of time, a factor is in s per written number,
// as the note says; where it tells one, the factor comes on top.
func TestScaleOfTime(t *testing.T) {
	r := newRec(60, 0.02)
	rows := r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%d,%g,%g", 5*i, d, v) })
	since1970 := r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%d,%g,%g", 1_900_000_000_000+5*i, d, v) })
	for _, c := range []struct {
		head, rows string
		f          float64 // 0: none
		step       float64 // s
	}{
		{"ticks", rows, 0, 0.005},
		{"ticks", rows, 0.01, 0.05},
		{"ticks", rows, 1, 5},
		{"ticks (ms)", rows, 0, 0.005},
		{"ticks (ms)", rows, 2, 0.01},
		{"ticks", since1970, 0, 0.005},
		{"ticks", since1970, 0.001, 0.005},
		{"ticks", since1970, 0.01, 0.05},
	} {
		o := Options{Roles: map[Role]string{TimeRole: "1"}}
		if c.f != 0 {
			o.Scale = map[Role]float64{TimeRole: c.f}
		}
		tr := mustRead(t, c.head+",drive,feedback\n"+c.rows, o)
		if math.Abs(tr.Step-c.step) > 1e-4*c.step {
			t.Errorf("%s times %g: step %g s, want %g", c.head, c.f, tr.Step, c.step)
		}
		for _, n := range tr.Notes {
			if n.Code == "time-unit" && c.f != 0 {
				t.Errorf("%s times %g: settled, and still %q", c.head, c.f, n.Text)
			}
		}
	}
}

// The converter's step is found through printed rounding.
func TestQuantum(t *testing.T) {
	for _, c := range []struct {
		name string
		step float64
		fmt  string
		want float64
	}{
		{"8 bit of 5 V", 5.0 / 255, "%.6f", 5.0 / 255},
		{"10 bit of 5 V", 5.0 / 1023, "%.5f", 5.0 / 1023},
		{"12 bit of 5 V", 5.0 / 4095, "%.6f", 5.0 / 4095},
		{"printed digit", 1e-9, "%.2f", 0.01},
		{"counts", 1, "%.0f", 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := []byte("time,drive,feedback\n")
			span := 4.0
			if c.step == 1 {
				span = 900
			}
			for i := range 4000 {
				v := span * (0.1 + 0.8*math.Abs(math.Mod(float64(i)/700, 2)-1))
				b = fmt.Appendf(b, "%.2f,%g,"+c.fmt+"\n", float64(i)/100, 12*float64(1-2*(i/700%2)), math.Round(v/c.step)*c.step)
			}
			tr := mustRead(t, string(b), Options{})
			if q := tr.Feedback.Stats.Quantum; math.Abs(q-c.want) > 0.01*c.want {
				t.Errorf("quantum %v, want %v", q, c.want)
			}
		})
	}
	// A continuous value has none.
	b := []byte("time,drive,feedback\n")
	x := 0.37
	for i := range 4000 {
		x = math.Mod(x*997.13+0.123, 1)
		b = fmt.Appendf(b, "%.2f,%g,%.17g\n", float64(i)/100, 12*float64(1-2*(i/700%2)), math.Abs(math.Mod(float64(i)/700, 2)-1)+0.01*x)
	}
	if q := mustRead(t, string(b), Options{}).Feedback.Stats.Quantum; q != 0 {
		t.Errorf("quantum %v of a continuous value", q)
	}
}
