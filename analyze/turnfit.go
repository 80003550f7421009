package analyze

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// turnData is the dwell of one direction over the cells that were crossed.
type turnData struct {
	x, y, rest []float64 // cell, dwell, dwell less its trend
	sum        float64   // of the squares of rest
	extent     float64   // cells from first to last
}

// findTurn looks for the best pattern that repeats along the way, or returns
// nil where none could repeat often enough.
func (p *dwellProfile) findTurn() *turn {
	if !p.lingers() {
		return nil // nowhere as slow as a finding would have to be: soon seen
	}
	var data [2]turnData
	most := 0.0
	for d := range data {
		data[d] = p.turnData(d)
		most = math.Max(most, data[d].extent)
	}
	least := p.leastPeriod
	first, last := leastTurns, most/least
	if last <= first {
		return nil
	}
	// A twelfth of a turn over the whole way lies between two trials: the
	// pattern's ends are off by no more than a twenty-fourth of a turn.
	const step = 1.0 / 12
	best, turns := 0.0, 0.0
	try := func(k float64) {
		gain := 0.0
		for d := range data {
			if data[d].extent >= 0.7*leastTurns*most/k {
				gain += data[d].power(most / k)
			}
		}
		if gain > best {
			best, turns = gain, k
		}
	}
	for k := first; k <= last; k += step {
		try(k)
	}
	if turns == 0 {
		return nil
	}
	for near, i := turns, -8; i <= 8; i++ { // the best of them, eight times finer
		if k := near + step*float64(i)/8; k >= first && k <= last {
			try(k)
		}
	}
	at := most / turns
	t := fitTurn(data, at)
	// Every second turn of a period fits as well: take the shortest that does.
	for h := 2.0; h <= 3; h++ {
		if at/h >= least {
			if s := fitTurn(data, at/h); s.p <= t.p {
				t = s
			}
		}
	}
	t.p = math.Min(1, t.p*(last-first))
	return t
}

func (p *dwellProfile) turnData(d int) turnData {
	var u turnData
	for c, y := range p.mean[d] {
		if !math.IsNaN(y) {
			u.x, u.y = append(u.x, float64(c)+0.5), append(u.y, y)
		}
	}
	n := len(u.x)
	if n < 16 {
		return turnData{}
	}
	u.extent = u.x[n-1] - u.x[0] + 1
	u.rest, _ = u.fit(0, 0)
	for _, r := range u.rest {
		u.sum += r * r
	}
	return u
}

// fit takes the trend, and harmonics of a period when there are any, out of
// the dwell, and returns what is left and the coefficients: trend first, then
// cosine and sine of each harmonic.
func (u *turnData) fit(period float64, harmonics int) ([]float64, []float64) {
	n, k := len(u.x), turnTrend+1+2*harmonics
	a := mat.NewDense(n, k, nil)
	for i, x := range u.x {
		z := 2*(x-u.x[0])/u.extent - 1
		for j := range turnTrend + 1 {
			a.Set(i, j, math.Pow(z, float64(j)))
		}
		for h := range harmonics {
			s, c := math.Sincos(2 * math.Pi * float64(h+1) * x / period)
			a.Set(i, turnTrend+1+2*h, c)
			a.Set(i, turnTrend+2+2*h, s)
		}
	}
	var c, r mat.VecDense
	b := mat.NewVecDense(n, u.y)
	if c.SolveVec(a, b) != nil {
		return u.y, make([]float64, k)
	}
	r.MulVec(a, &c)
	r.SubVec(b, &r)
	return r.RawVector().Data, c.RawVector().Data
}

// harmonics is how many describe the slow place of a period: as many as the
// cells resolve, up to six, by which a tenth of a turn, about a tooth's share,
// has its shape.
func harmonics(period float64) int {
	return int(math.Max(1, math.Min(turnHarmonics, period/4)))
}

// power is nearly the sum of squares that the harmonics of a period take up,
// less what they would take up of a scatter without pattern: over several
// whole turns they are all but orthogonal.
func (u *turnData) power(period float64) float64 {
	n, k := float64(max(1, len(u.x))), harmonics(period)
	var c, s [turnHarmonics]float64
	for i, x := range u.x {
		sin, cos := math.Sincos(2 * math.Pi * x / period)
		a, b := cos, sin
		for h := range k {
			c[h] += u.rest[i] * a
			s[h] += u.rest[i] * b
			a, b = a*cos-b*sin, a*sin+b*cos
		}
	}
	sum := 0.0
	for h := range k {
		sum += 2 * (c[h]*c[h] + s[h]*s[h]) / n
	}
	return sum - 2*float64(k)*u.sum/n
}

// fitTurn fits one period to both directions, each at its own phase, and tests
// it: the variance it takes up against what is left, by F, with as many
// independent cells as their correlation leaves (Bartlett: n(1-r)/(1+r)). The
// larger of the two directions' chances counts where both were crossed: a
// gear's pattern must show in each.
func fitTurn(data [2]turnData, period float64) *turn {
	t := &turn{period: period}
	for d := range data {
		u := &data[d]
		if u.extent < 0.7*leastTurns*period {
			continue
		}
		k := harmonics(period)
		rest, coef := u.fit(period, k)
		t.known[d], t.coef[d] = true, coef[turnTrend+1:]
		ss, lag := 0.0, 0.0
		for i, r := range rest {
			ss += r * r
			if i > 0 {
				lag += r * rest[i-1]
			}
		}
		r := math.Max(0, lag/ss)
		n := float64(len(rest)) * (1 - r) / (1 + r)
		free := n - float64(turnTrend+1+2*k)
		p := 1.0
		if free > 2 && ss > 0 {
			f := (u.sum - ss) / float64(2*k) / (ss / free) * n / float64(len(rest))
			p = distuv.F{D1: float64(2 * k), D2: free}.Survival(f)
		}
		t.p = math.Max(t.p, p)
		at, half := t.slowest(d)
		t.at[d], t.half = at, math.Max(t.half, half)
	}
	// A direction that crossed too little is looked at where the other is slow.
	for d := range t.at {
		if !t.known[d] {
			t.at[d] = t.at[1-d]
		}
	}
	return t
}

// wander is by how much of a turn the pattern is off its place in single
// passes, two turns at a time: the median, 0 where no pass is long enough.
func (t *turn) wander(p *dwellProfile) float64 {
	off := t.offsets(p)
	if len(off) == 0 {
		return 0
	}
	return medianOf(off)
}

// offsets are by how much of a turn the pattern is off its place, for each pass
// and two turns of it.
func (t *turn) offsets(p *dwellProfile) []float64 {
	var off []float64
	for d, passes := range p.pass {
		for _, q := range passes {
			for a := 0.0; a < float64(p.cells); a += 2 * t.period {
				b := min(p.cells, int(a+2*t.period))
				sin, cos, n := 0.0, 0.0, 0
				for c := int(a); c < b; c++ {
					if y := math.Min(q.y[c], dwellMost); !math.IsNaN(y) {
						s, k := math.Sincos(2 * math.Pi * (float64(c) + 0.5 - t.at[d]) / t.period)
						sin, cos, n = sin+(y-1)*s, cos+(y-1)*k, n+1
					}
				}
				if float64(n) >= 1.7*t.period {
					off = append(off, math.Abs(math.Atan2(sin, cos))/(2*math.Pi))
				}
			}
		}
	}
	return off
}

// shape is the swing of the dwell at a cell.
func (t *turn) shape(d int, x float64) float64 {
	sum := 0.0
	for h := range len(t.coef[d]) / 2 {
		s, c := math.Sincos(2 * math.Pi * float64(h+1) * x / t.period)
		sum += t.coef[d][2*h]*c + t.coef[d][2*h+1]*s
	}
	return sum
}

// slowest is the cell, within one period, where the shape is highest, and how
// far half of that height reaches from it.
func (t *turn) slowest(d int) (at, half float64) {
	best := math.Inf(-1)
	const steps = 48
	for i := range steps {
		x := t.period * float64(i) / steps
		if y := t.shape(d, x); y > best {
			best, at = y, x
		}
	}
	above := 0
	for i := range steps {
		if t.shape(d, at+t.period*(float64(i)/steps-0.5)) > best/2 {
			above++
		}
	}
	return at, t.period * float64(above) / steps / 2
}

// lingers tells whether either way the reading stays in as many stretches as
// leastTurns asks for longer than usual: by half of what a gear's slow
// places would have to show.
func (p *dwellProfile) lingers() bool {
	for d := range p.mean {
		n, y := 0, p.mean[d]
		for c := 1; c+1 < len(y); c++ {
			// Over three cells, or single ones that are long by noise would do.
			if (y[c-1]+y[c]+y[c+1])/3 > 1+(1/soundSwing-1)/2 { // false for NaN
				n++
			}
		}
		if float64(n) < leastTurns {
			return false
		}
	}
	return true
}
