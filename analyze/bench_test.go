package analyze

import (
	"fmt"
	"testing"
)

// BenchmarkExamine measures the analysis alone, without reading, on sweeps at
// 1 kHz; the second size is near the reader's bound on bins.
func BenchmarkExamine(b *testing.B) {
	for _, n := range []int{1, 10, 100} {
		d := newDraft(1)
		d.dt = 0.001
		tr := d.sweeps(n).trace()
		b.Run(fmt.Sprintf("bins=%d", tr.Len()), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Examine(tr, Defaults()); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(tr.Len())*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mbins/s")
		})
	}
}
