package signal

import "math"

// Unheld is the trace without rows that a logger wrote again and again while it read
// nothing new, and the stretches they took. A row is such where the feedback and
// another channel that is read in volts or amperes stay to the last digit what they
// were for longer than their noise does by chance: with the share p of equal
// neighbours where nothing is driven, n rows alike have the chance p^n. A sensor that
// holds its last reading leaves the other channels their noise; so where no other
// channel has any, nothing is taken out. The first row of each stretch stays. A trace
// without such rows is itself.
func (t *Trace) Unheld() (*Trace, []Span) {
	const (
		fewest = 40   // neighbours at rest that tell p
		chance = 1e-3 // of one such stretch in the whole trace
	)
	var others []*Series
	if !t.DriveIsPolarity {
		others = append(others, &t.Drive)
	}
	for _, s := range []*Series{t.Current, t.Supply, t.Reference} {
		if s != nil {
			others = append(others, s)
		}
	}
	if len(others) == 0 || t.RowsPerBin > 1 || t.Len() < 2*fewest {
		return t, nil
	}
	alike := func(i int) bool {
		if t.Feedback.Mean[i] != t.Feedback.Mean[i-1] {
			return false
		}
		for _, s := range others {
			if s.Mean[i] != s.Mean[i-1] {
				return false
			}
		}
		return true
	}
	// Rest is where the drive is small: a tenth of its largest.
	most := 0.1 * math.Max(math.Abs(t.Drive.Stats.Max), math.Abs(t.Drive.Stats.Min))
	var pairs, same, own int
	for i := 1; i < t.Len(); i++ {
		if math.Abs(float64(t.Drive.Mean[i])) > most {
			continue
		}
		pairs++
		if alike(i) {
			same++
		}
		for _, s := range others {
			if s.Mean[i] != s.Mean[i-1] {
				own++
				break
			}
		}
	}
	// Held stretches at rest count into p: less is found then.
	p := float64(same+1) / float64(pairs+2)
	if pairs < fewest || p > 0.5 || 2*own < pairs {
		return t, nil
	}
	least := int(math.Ceil(math.Log(chance/float64(t.Len())) / math.Log(p)))
	kept := make([]bool, t.Len())
	kept[0] = true
	var held []Span
	for i := 1; i < t.Len(); {
		j := i
		for j < t.Len() && alike(j) {
			j++
		}
		out := j-i >= max(least, 2)
		for k := i; k < j; k++ {
			kept[k] = !out
		}
		if out {
			held = append(held, Span{t.Time[i], t.Time[j-1]})
		}
		if j < t.Len() {
			kept[j] = true
		}
		i = j + 1
	}
	if len(held) == 0 {
		return t, nil
	}
	return t.only(func(i int) bool { return kept[i] }), held
}
