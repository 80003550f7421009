package signal

// signed joins the size of a drive with its direction, -1 to +1, or 0 and 1
// on a logic line. A size without volts becomes a share of its largest value.
func signed(size, dir Series, inVolts bool) Series {
	logic := dir.Stats.Min == 0
	top := float32(1)
	s := Series{Name: size.Name + " x " + dir.Name, Unit: size.Unit, Stats: size.Stats}
	if !inVolts && (size.Unit != "V" || size.Stats.Max <= 1 || size.Stats.Max > rawCountsMax) {
		s.Unit = ""
		if size.Stats.Max > 0 {
			top = float32(size.Stats.Max)
		}
	}
	n := len(size.Mean)
	s.Mean = make([]float32, n)
	s.Min, s.Max = s.Mean, s.Mean
	shared := n > 0 && &size.Mean[0] == &size.Min[0] && &dir.Mean[0] == &dir.Min[0]
	if !shared {
		s.Min, s.Max = make([]float32, n), make([]float32, n)
	}
	st := &s.Stats
	st.Quantum /= float64(top)
	sign := func(x float32) float32 {
		if logic {
			return 2*x - 1
		}
		return x
	}
	for i := range s.Mean {
		s.Mean[i] = size.Mean[i] / top * sign(dir.Mean[i])
		if !shared {
			a, b := size.Max[i]/top*sign(dir.Min[i]), size.Max[i]/top*sign(dir.Max[i])
			c, d := size.Min[i]/top*sign(dir.Min[i]), size.Min[i]/top*sign(dir.Max[i])
			s.Min[i], s.Max[i] = min(a, b, c, d), max(a, b, c, d)
			s.Mean[i] = max(s.Min[i], min(s.Max[i], s.Mean[i]))
		}
	}
	st.bound(s.Mean)
	return s
}
