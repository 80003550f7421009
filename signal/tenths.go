package signal

import (
	"math"
	"slices"
	"strings"
)

// tenths puts right the channels that read a tenth of what they must, for a probe of 10:1
// that they were not told of, and notes it. What proves it: a motor that turns has no
// supply of 1 to 1.7 V; a wiper reads no more than the reference that feeds it; and a
// reference that stands at a tenth of 5 V while the wiper goes over most of it is one by
// ten, not one that fails. The drive's volts and a feedback without reference follow where
// another channel is proven.
func (r *reducer) tenths(t *Trace, o *Options) {
	lo, hi := bulk(t.Feedback.Mean, 100)
	if t.Feedback.Unit != "V" || !(hi-lo > 0.05*hi) { // nothing moved: nothing is proven
		return
	}
	told := func(roles ...Role) bool {
		return slices.ContainsFunc(roles, func(r Role) bool { _, ok := o.Scale[r]; return ok })
	}
	var put []string
	raise := func(s *Series, name string) {
		*s = scaleSeries(*s, probeFactor)
		put = append(put, name)
	}
	if s := t.Supply; s != nil && s.Unit == "V" && !told(Supply) {
		if v := drivenLevel(s.Mean); v > 1 && v < mostDrive/probeFactor {
			raise(s, "the supply")
		}
	}
	feedback := false
	if s := t.Reference; s != nil && s.Unit == "V" && !told(Reference) {
		low, high := bulk(s.Mean, 5)
		stands := low > 0.45 && high < 0.55 // 5 V within a tenth, but for a clip that slips
		switch {
		case !stands:
		case hi > 1.2*high && hi < 1.2*probeFactor*high:
			raise(s, "the reference")
		case hi < 1.05*high && hi-lo > 0.3*high && !told(Feedback):
			raise(s, "the reference")
			feedback = true
		}
	} else if s == nil && len(put) > 0 && hi < 0.55 && hi-lo > 0.1 && !told(Feedback) {
		feedback = true
	}
	if feedback {
		raise(&t.Feedback, "the feedback")
	}
	if len(put) > 0 && t.Drive.Unit == "V" && !t.DriveIsPolarity && !told(Drive, LeadA, LeadB) {
		size := make([]float32, len(t.Drive.Mean))
		for i, x := range t.Drive.Mean {
			size[i] = float32(math.Abs(float64(x)))
		}
		if v := drivenLevel(size); v > 0.8 && v < mostDrive/probeFactor {
			raise(&t.Drive, "the drive")
			if t.Both != nil {
				both := scaleSeries(*t.Both, probeFactor)
				t.Both = &both
			}
		}
	}
	if len(put) > 0 {
		r.p.doubt("probe-factor", "%s: a tenth of what is there in a 12 V system whose actuator runs; taken as probes of 10:1 that the channels do not know of, the volts are taken ten times (--scale with the role and 1 keeps one as written)", strings.Join(put, ", "))
	}
}

// bulk is the range of a channel but for the highest and the lowest of its readings, one
// in so many each.
func bulk(x []float32, oneIn int) (lo, hi float64) {
	v := sortedSample(x)
	if len(v) == 0 {
		return math.NaN(), math.NaN()
	}
	cut := len(v) / oneIn
	return float64(v[cut]), float64(v[len(v)-1-cut])
}
