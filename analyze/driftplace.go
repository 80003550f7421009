package analyze

// endPlace is the share of the span, at either end, in which a place belongs to that end
// (chosen, not derived).
const endPlace = 0.15

// ofTheDrift gives the captures with nothing in them for evidence of a slow place beside an
// end that drifted inwards over the captures while the travel took as long: where a track
// tells less and less of the way, its end comes nearer by what the place lacks, and a door
// that binds there would leave the stop where it was. A place that lacks more than the end
// has moved is more than that. Without such findings they are the captures themselves.
func (s *Series) ofTheDrift(now []*Capture) []*Capture {
	if s == nil || !(s.inwards[0] > 0 || s.inwards[1] > 0) {
		return now
	}
	return explained(now, func(a *Capture, f *Finding) (string, bool) {
		return "The reading at that end moved inwards over the captures, by no less than this place lacks, and the travel takes as long: it is the same change of the track.", !a.Free && s.lacksByDrift(a, f)
	})
}

// lacksByDrift tells whether a slow place lies at an end that drifted by what it lacks.
func (s *Series) lacksByDrift(a *Capture, f *Finding) bool {
	speed, known := f.Measure(MeasureSpeedThere)
	if f.Kind != SlowZone || !known || !(speed > 0) {
		return false
	}
	lacks := f.Volts.Width() * (1/speed - 1)
	return f.Percent.To <= 100*endPlace && lacks < s.inwards[0] || f.Percent.From >= 100*(1-endPlace) && lacks < s.inwards[1]
}
