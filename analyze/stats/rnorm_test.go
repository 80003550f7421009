package stats

import (
	"encoding/binary"
	"math"
	"slices"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/mathext/prng"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// rNormals returns a function equal to rnorm(1) of R after set.seed(seed), with
// its default kinds "Mersenne-Twister" and "Inversion", so that examples of R
// manuals can be repeated. The seeding is from memory; the test below checks the
// published values.
func rNormals(t *testing.T, seed uint32) func() float64 {
	next := func() uint32 {
		seed = 69069*seed + 1
		return seed
	}
	for range 50 {
		next()
	}
	next() // the place of the position counter, which is set apart
	const words = 624
	var state []byte
	for range words {
		state = binary.BigEndian.AppendUint32(state, next())
	}
	state = binary.BigEndian.AppendUint32(state, words)
	source := prng.NewMT19937()
	if err := source.UnmarshalBinary(state); err != nil {
		t.Fatal(err)
	}
	uniform := func() float64 { return float64(source.Uint32()) * 2.3283064365386963e-10 }
	return func() float64 {
		const big = 1 << 27
		u := math.Floor(big * uniform())
		return distuv.UnitNormal.Quantile((u + uniform()) / big)
	}
}

// Example of cpt.mean in the manual of the R package changepoint: changes at
// 50, 100 and 150. Mean and first values as of R 4.2.2; the cost by a numpy
// implementation of PELT.
func TestPELTPublishedExample(t *testing.T) {
	normal := rNormals(t, 1)
	var x []float64
	for _, mean := range []float64{0, 5, 10, 3} {
		for range 50 {
			x = append(x, mean+normal())
		}
	}
	for i, want := range []float64{-0.62645381, 0.18364332, -0.83562861} {
		near(t, "rnorm", x[i], want, 5e-9)
	}
	// The mean was taken of the values as printed with ten digits.
	printed := make([]float64, len(x))
	for i, v := range x {
		var err error
		if printed[i], err = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 10, 64), 64); err != nil {
			t.Fatal(err)
		}
	}
	near(t, "mean", stat.Mean(printed, nil), 4.535539645248150, 1e-14)

	beta := 2 * math.Log(200)
	near(t, "penalty", beta, 10.596635, 5e-8)
	ends, cost := PELT(x, beta)
	if !slices.Equal(ends, []int{50, 100, 150, 200}) {
		t.Errorf("ends %v", ends)
	}
	near(t, "cost", cost, 201.172838, 5e-9)
}
