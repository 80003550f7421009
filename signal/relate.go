package signal

import (
	"fmt"
	"math"
)

// driveValues gives the drive of every bin by the roles settled so far, or
// nil.
func (a *assignment) driveValues() []float64 {
	pick := func(r Role) []float32 {
		if j, ok := a.col[r]; ok {
			if c := a.channel(j); c != nil {
				return c.mean
			}
		}
		return nil
	}
	var x, y []float32
	if x = pick(Drive); x == nil {
		if x = pick(Polarity); x == nil {
			x, y = pick(LeadA), pick(LeadB)
			if x == nil || y == nil {
				return nil
			}
		}
	}
	d := make([]float64, len(x))
	for i := range x {
		d[i] = float64(x[i])
		if y != nil {
			d[i] -= float64(y[i])
		}
	}
	return d
}

// movesWithDrive picks the one candidate whose movement follows the sign of
// the drive. A wiper's does, in every healthy and most faulty actuators; a
// temperature's or a sagging supply's does not.
func (a *assignment) movesWithDrive(js []int) (int, string, bool) {
	d := a.driveValues()
	if d == nil {
		return 0, "", false
	}
	best, second, at := 0.0, 0.0, -1
	for _, j := range js {
		s := follow(d, a.channel(j).mean)
		switch {
		case s > best:
			second, best, at = best, s, j
		case s > second:
			second = s
		}
	}
	// 1 = every move goes the way of the drive, 0 = no relation.
	if at < 0 || best < 0.5 || second > 0.6*best {
		return 0, "", false
	}
	return at, fmt.Sprintf("the column that moves with the drive (agreement %.2f)", best), true
}

// follow is |sum of signed movement| / sum of movement, over stretches of
// bins, where movement is signed by the drive.
func follow(d []float64, v []float32) float64 {
	top := 0.0
	for _, x := range d {
		if !math.IsNaN(x) {
			top = max(top, math.Abs(x))
		}
	}
	if top == 0 {
		return 0
	}
	// Stretches of a few hundredths of the file outweigh noise and are short
	// against a move.
	step := max(1, len(d)/400)
	signed, total := 0.0, 0.0
	for i := 0; i+step < len(d); i += step {
		move := float64(v[i+step]) - float64(v[i])
		if move != move || d[i] != d[i] {
			continue
		}
		total += math.Abs(move)
		switch s := d[i+step/2] / top; {
		case s > 0.3:
			signed += move
		case s < -0.3:
			signed -= move
		}
	}
	if total == 0 {
		return 0
	}
	return math.Abs(signed) / total
}
