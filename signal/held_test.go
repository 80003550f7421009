package signal

import (
	"math/rand/v2"
	"testing"
)

// A row that is written over and over is taken out once another channel with noise
// shows that it is the logger; where no other channel could tell, nothing is.
func TestUnheld(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	make := func(polarity bool) *Trace {
		tr := &Trace{Step: 0.01, RowStep: 0.01, RowsPerBin: 1, DriveIsPolarity: polarity}
		for i := range 1000 {
			drive := 0.0
			if i%400 >= 200 {
				drive = 12
			}
			if !polarity {
				drive += 0.02 * rng.NormFloat64()
			}
			tr.Time = append(tr.Time, 0.01*float64(i))
			tr.Drive.Mean = append(tr.Drive.Mean, float32(drive))
			tr.Feedback.Mean = append(tr.Feedback.Mean, float32(2+0.005*rng.NormFloat64()))
		}
		for k := 1; k < 30; k++ {
			tr.Drive.Mean[300+k], tr.Feedback.Mean[300+k] = tr.Drive.Mean[300], tr.Feedback.Mean[300]
		}
		tr.Drive.Min, tr.Drive.Max = tr.Drive.Mean, tr.Drive.Mean
		tr.Feedback.Min, tr.Feedback.Max = tr.Feedback.Mean, tr.Feedback.Mean
		tr.Drive.Stats.Max = 12.1
		return tr
	}
	got, held := make(false).Unheld()
	if len(held) != 1 || got.Len() != 971 || held[0].From < 3.005 || held[0].From > 3.015 || held[0].To < 3.285 || held[0].To > 3.295 {
		t.Errorf("%d rows, held %v; want 971 rows and one stretch from 3.01 to 3.29 s", got.Len(), held)
	}
	if tr := make(true); true {
		if got, held := tr.Unheld(); got != tr || held != nil {
			t.Errorf("beside a polarity %v were taken for held", held)
		}
	}
}
