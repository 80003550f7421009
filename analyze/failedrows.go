package analyze

import (
	"fmt"
	"math"

	"threewire/signal"
)

// withoutFailedRows gives the trace without the single rows in which the reading and the
// drive both fall to the same share of what they were, nothing or half of it, and are back
// in the next: a sample that the instrument failed to take, or took of a channel that was
// switched over too early. Nothing in a vehicle takes the same share of a wiper's volts and
// of a motor's. Where every row in which the reading falls while there is a drive to show it
// is one of these, so are those in which the drive had nothing to lose.
func (w *work) withoutFailedRows(t *signal.Trace) *signal.Trace {
	if t.DriveIsPolarity || t.RowsPerBin > 1 || t.Drive.Unit != "V" || t.Len() < 16 {
		return t
	}
	v, d := t.Feedback.Mean, t.Drive.Mean
	limits := [2]float64{w.jumpLimit(&t.Feedback), w.jumpLimit(&t.Drive)}
	left := make([]bool, t.Len())
	var undriven []int
	shared, rows, dips := 0, 0, 0
	worst, at := 0.0, 0.0
	for i := 1; i+1 < t.Len(); i++ {
		drive, driveBack := between(d, i, limits[1])
		driven := driveBack && math.Abs(drive) > 4*limits[1]
		gone := drive - float64(d[i])
		dip := driven && gone*drive > 0 && math.Abs(gone) > 2*limits[1]
		if driven {
			rows++
			if dip {
				dips++
			}
		}
		reading, back := between(v, i, limits[0])
		fall := reading - float64(v[i])
		if !back || fall < 2*limits[0] || reading <= 0 {
			continue
		}
		share, near := fall/reading, limits[0]/reading+limits[1]/math.Abs(drive)
		switch {
		case dip && math.Abs(share-gone/drive) < near:
			shared++
			left[i] = true
		case driven:
			return t // lost alone, while there was a drive to be lost with it
		default:
			undriven = append(undriven, i)
		}
		if fall > worst {
			worst, at = fall, t.Time[i]
		}
	}
	// Where the drive is pulsed the two meet by chance.
	if shared == 0 || dips > shared+rows/1000 {
		return t
	}
	for _, i := range undriven {
		left[i] = true
	}
	w.notes = append(w.notes, fmt.Sprintf("%s the reading falls for one row, wherever it is driven together with the drive and to the same share, at most by %s at %.2f s: that is the instrument, and these rows were left out", timesText(shared+len(undriven)), amount(worst, t.Feedback.Unit), at))
	return t.Without(left)
}

// between is the mean of the readings before and after one, and whether these two are alike
// within a limit.
func between(x []float32, i int, limit float64) (float64, bool) {
	before, after := float64(x[i-1]), float64(x[i+1])
	return (before + after) / 2, math.Abs(after-before) < limit
}
