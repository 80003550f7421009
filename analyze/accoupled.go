package analyze

import (
	"math"

	"threewire/analyze/stats"
)

// ACCoupled is the code of the [DataDoubt] that the feedback's input lets no steady volts
// through.
const ACCoupled = "ac-coupled"

// coupledAC tells whether the reading lies about 0 V and leaves it by little, one way while
// driven one way and the other way while driven the other: it goes by the speed of the
// shaft and not by its place, as what an input shows whose capacitor keeps the steady
// volts off. A wiper gives nothing below its ground, and one that lies there knows no
// direction. The drives are compared, each by its mean, so that neither noise nor hum
// counts; four standard errors, as for what is no noise elsewhere, and half of the drives
// of either sort at the least on its own side of 0.
func (w *work) coupledAC() bool {
	if st := &w.tr.Feedback.Stats; w.tr.Feedback.Unit != "V" || !(st.Min < 0) || !(st.Max > 0) {
		return false
	}
	lo, hi := outer(w.tr.Feedback.Mean, 3)
	if math.Max(-lo, hi) > mostCoupled*w.ref || -lo < hi/3 || hi < -lo/3 {
		return false // a wiper's travel, or one side of 0 only
	}
	var by [2][]float64 // V, of drives of each polarity
	for k := range w.moves {
		if m := &w.moves[k]; m.Polarity != 0 && m.last-m.first >= 20 {
			s := 0
			if m.Polarity > 0 {
				s = 1
			}
			by[s] = append(by[s], mean(w.v[m.first:m.last]))
		}
	}
	if len(by[0]) < 2 || len(by[1]) < 2 {
		return false
	}
	apart := math.Abs(medianOf(by[1]) - medianOf(by[0]))
	scatter := math.Hypot(stats.MAD(by[0])/math.Sqrt(float64(len(by[0]))), stats.MAD(by[1])/math.Sqrt(float64(len(by[1]))))
	noise := w.noise * math.Sqrt(2/float64(len(w.v)/(2*len(w.moves))+1))
	return medianOf(by[0])*medianOf(by[1]) < 0 && apart > 4*math.Max(scatter, noise)
}

// mostCoupled is how far from 0, as a share of the sensor's supply, a reading may lie and
// show the speed only: a travel takes a quarter of it at the least ([leastWhole]), half to
// either side of its middle.
const mostCoupled = leastWhole / 2

// tellCoupledAC says that nothing can be judged.
func (w *work) tellCoupledAC() {
	w.doubt(ACCoupled, "the reading lies about 0 V, half of it below, and leaves it one way while driven one way and the other way while driven the other: that is no wiper's place, but looks like an input set to AC. Set it to DC and record again; if it is on DC, the feedback wire is dead and picks up the drive")
}
