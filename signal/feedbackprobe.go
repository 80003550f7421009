package signal

// Readings of a wiper through a probe of which the channel was told the wrong factor.
const (
	// tenthOfSensor is more than a tenth of what any wiper fed with 5 V reads, V.
	tenthOfSensor = wiperMost / probeFactor
	// leastOfTenth is a travel within it that is plainly one, V: of 1 V at the sensor, where
	// most have 3 to 4 V.
	leastOfTenth = 0.1
)

// feedbackProbe looks at a feedback that the file gives in volts. One that lies, more than
// now and then, above what a 12 V system feeds anything with was divided by a probe once
// and multiplied twice: nothing else makes volts there, so it is put right. One whose whole
// travel lies within a tenth of what a wiper reads may have been read through a probe of
// 10:1 of which the channel was not told; but a sensor whose supply is nearly gone reads so
// too, so it is asked about. [reducer.tenths] has put right what another channel proves.
func (r *reducer) feedbackProbe(t *Trace, j int, o *Options) {
	c := &r.p.cols[j]
	if _, told := o.Scale[Feedback]; told || t.Feedback.Unit != "V" || c.unit.q != volts || c.unitGuess {
		return
	}
	lo, hi := bulk(t.Feedback.Mean, 100)
	switch {
	case hi > mostDrive && hi <= rawCountsMax && hi-lo > probeFactor*leastOfTenth:
		t.Feedback = scaleSeries(t.Feedback, 1/probeFactor)
		if ref := t.Reference; ref != nil && ref.Unit == "V" {
			if low, _ := bulk(ref.Mean, 5); low > mostDrive && low <= rawCountsMax {
				s := scaleSeries(*ref, 1/probeFactor)
				t.Reference = &s
			}
		}
		r.p.doubt("probe-factor", "the feedback (%s) reads up to %.4g V, more than a 12 V system feeds a sensor with: taken as a probe of 10:1 counted twice, its volts are divided by ten (--scale feedback=1 keeps them as written)", r.p.columnName(j), hi)
	case t.Reference == nil && hi < tenthOfSensor && hi-lo > leastOfTenth && lo > -leastOfTenth && r.drivenInOrder(t):
		r.p.doubt("probe-asked", "the whole travel of the feedback (%s) lies below %.2g V, a tenth of what a sensor fed with 5 V reads: was it read through a probe of 10:1 that the channel was not told of? Then give --scale feedback=10; if not, measure the sensor's supply first", r.p.columnName(j), hi)
	}
}

// drivenInOrder tells whether the drive is what a 12 V motor runs on, as far as is known.
func (r *reducer) drivenInOrder(t *Trace) bool {
	if t.DriveIsPolarity || t.Drive.Unit != "V" {
		return true
	}
	v := drivenLevel(sizes(t.Drive.Mean))
	return v >= leastDrive && v <= mostDrive
}
