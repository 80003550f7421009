package analyze

import (
	"encoding/binary"
	"encoding/json"
	"math"
	"testing"

	"threewire/signal"
)

// FuzzExamine feeds arbitrary waveforms to the analysis. It must not panic,
// its probabilities must add up, and its result must be plain JSON (no NaN,
// no infinity).
func FuzzExamine(f *testing.F) {
	add := func(d *draft) {
		var b []byte
		for i := 0; i < len(d.time); i += 40 {
			b = append(b, byte(int8(d.drive[i]*8)))
			b = binary.LittleEndian.AppendUint16(b, uint16(math.Max(0, d.feed[i])*1000))
		}
		f.Add(b, uint8(200), true)
	}
	for _, c := range cases() {
		add(c.make(1))
	}
	f.Add([]byte{}, uint8(1), false)
	f.Add([]byte{1, 2, 3, 4, 5, 6}, uint8(0), true)
	f.Fuzz(func(t *testing.T, b []byte, ms uint8, volts bool) {
		if len(b) > 30000 {
			b = b[:30000]
		}
		n := len(b) / 3
		step := float64(ms)/1000 + 1e-5
		tr := &signal.Trace{Source: "fuzz", Step: step, RowStep: step, RowsPerBin: 1, Rows: int64(n), DriveIsPolarity: !volts}
		for i := range n {
			v := float32(binary.LittleEndian.Uint16(b[3*i+1:])) / 1000
			if v > 65 {
				v = float32(math.NaN())
			}
			tr.Time = append(tr.Time, float64(i)*step)
			tr.Drive.Mean = append(tr.Drive.Mean, float32(int8(b[3*i]))/8)
			tr.Feedback.Mean = append(tr.Feedback.Mean, v)
		}
		for _, s := range []*signal.Series{&tr.Drive, &tr.Feedback} {
			s.Min, s.Max, s.Unit = s.Mean, s.Mean, "V"
			lo, hi := extremes(filled(s.Mean))
			s.Stats.Min, s.Stats.Max = lo, hi
		}
		c, err := Examine(tr, Defaults())
		if err != nil {
			return
		}
		rep := Judge(c)
		sum := 0.0
		for _, x := range rep.Verdict.Chances {
			if !(x.Probability >= 0 && x.Probability <= 1) {
				t.Fatalf("probability %v of %s", x.Probability, x.Fault)
			}
			sum += x.Probability
		}
		if math.Abs(sum-1) > 1e-6 {
			t.Fatalf("probabilities add up to %v", sum)
		}
		if _, err := json.Marshal(rep); err != nil {
			t.Fatal(err)
		}
	})
}
