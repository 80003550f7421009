package analyze

import "math"

// DriveCut is the code of the [DataDoubt] that the drive broke off in the instant in which
// the reading fell to nothing.
const DriveCut = "cut-with-the-drive"

// cutWithDrive is the stretch, with the rows on which they fall and rise, over which drive
// and reading were cut together; the reading lies at nothing over bins [from, to), undriven.
// None where a control that lost its reading would look the same: that reads its converter
// every ten milliseconds or so, and believes no single reading, or, if it checks nothing,
// drives towards its aim on (common practice, no source). An ignition that is switched off
// takes both in one instant; they are back where the shaft came to rest, and nothing was
// driven meanwhile.
func (w *work) cutWithDrive(from, to int) (int, int) {
	const (
		cycle  = 0.01 // s, of a control that reads its converter
		least  = 0.5  // s, below which a loss is a drop-out
		filter = 0.1  // s, of the instrument's or the control's input
		same   = 0.02 // of the supply, from one place to another
		line   = 0.2  // s, of the way from which the speed is taken
	)
	n, ref, v := len(w.t), w.reference(), w.tr.Feedback.Mean
	if w.d.pulsed || w.tr.Step > cycle || lapse(w.t[to-1], w.t[from]) < least {
		return 0, 0
	}
	level := func(a, b int) float64 { return medianSmall(filled(v[max(0, a):min(b, n)])) }
	fell := from
	for fell > 8 && math.Abs(float64(v[fell-1])) < wiperMargin*ref {
		fell--
	}
	for low := w.t[fell]; fell > 8 && lapse(low, w.t[fell-1]) < filter && float64(v[fell-1]) < level(fell-6, fell-1)-same*ref; {
		fell--
	}
	cut := w.driveFalls(fell)
	if fell < 9 || w.d.pol[fell-2] == 0 || math.Abs(w.t[cut]-w.t[fell]) > math.Max(1.5*w.tr.Step, cycle/2) {
		return 0, 0
	}
	// Both back in one instant too were lost in a plug that carries both.
	for j := to; j < n && lapse(w.t[j], w.t[to]) <= cycle; j++ {
		if w.d.pol[j] != 0 {
			return 0, 0
		}
	}
	before := level(fell-5, fell)
	a := indexAt(w.t, w.t[fell]-line)
	speed := 0.0
	if fell-a > 4 {
		speed, _, _ = newFitter(w.t[a:fell], filled(v[a:fell])).line(0, fell-a)
	}
	for rose := w.t[to]; to < n-8 && w.d.pol[to] == 0 && lapse(w.t[to], rose) < filter && math.Abs(float64(v[to]-v[to+1])) > same*ref; {
		to++
	}
	// What the volts that die away leave of the drive takes the shaft on, and so does its run-down.
	ranOn := Interval{before, before}.widen(before + speed*(lapse(w.t[from], w.t[fell])+turningTime))
	after := level(to, to+3)
	if before < aboveNothing*ref || after < ranOn.From-2*same*ref || after > ranOn.To+2*same*ref {
		return 0, 0
	}
	return fell - 2, to + 2
}

// driveFalls is the bin, near bin i, from which a drive is below nine tenths of what it was
// just before.
func (w *work) driveFalls(i int) int {
	const beside = 8
	var was []float64
	for j := max(0, i-2*beside); j < i-1; j++ {
		was = append(was, math.Abs(w.d.mean[j]))
	}
	usual := medianIn(was)
	j := max(0, i-beside)
	for j < len(w.t)-1 && math.Abs(w.d.mean[j]) >= 0.9*usual {
		j++
	}
	return j
}
