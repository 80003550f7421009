package signal

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"testing"
)

// benchText is a plain capture: %.4f,%.3f,%.4f for time, drive and feedback,
// at 10 kHz.
func benchText(rows int) []byte {
	b := []byte("time,drive,feedback\n")
	pos, s := 0.5, uint64(1)
	for i := range rows {
		t := float64(i) / 10000
		d := 0.0
		switch ph := math.Mod(t, 12); {
		case ph < 5:
			d = 12
		case ph >= 6 && ph < 11:
			d = -12
		}
		if d > 0 && pos < 4.5 || d < 0 && pos > 0.5 {
			pos += math.Copysign(0.8/10000, d)
		}
		s ^= s << 13
		s ^= s >> 7
		s ^= s << 17
		noise := float64(s%1000)/1000 - 0.5
		b = strconv.AppendFloat(b, t, 'f', 4, 64)
		b = append(b, ',')
		b = strconv.AppendFloat(b, d+noise*0.05, 'f', 3, 64)
		b = append(b, ',')
		b = strconv.AppendFloat(b, pos+noise*0.01, 'f', 4, 64)
		b = append(b, '\n')
	}
	return b
}

func BenchmarkRead(b *testing.B) {
	for _, rows := range []int{10_000, 2_000_000} {
		text := benchText(rows)
		for _, workers := range []int{1, 2} {
			b.Run(fmt.Sprintf("rows=%d/workers=%d", rows, workers), func(b *testing.B) {
				b.SetBytes(int64(len(text)))
				b.ReportAllocs()
				for b.Loop() {
					if _, err := Read(bytes.NewReader(text), Options{Workers: workers}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
