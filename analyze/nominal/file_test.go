package nominal

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"threewire/analyze/textfile"
)

const smallProfile = "threewire actuator profile 1\nlow stop: 0.5 V\nhigh stop: 4.5 V\ntravel time up: 5 s\ntravel time down: 4800 ms\n"

// What is written is read back, for profiles drawn at random.
func TestProfileRoundTrip(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	six := func(x float64) float64 { // six significant digits
		scale := math.Pow(10, 5-math.Floor(math.Log10(math.Abs(x))))
		return math.Round(x*scale) / scale
	}
	near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(math.Abs(a), math.Abs(b)) }
	for range 500 {
		span := 0.5 + 4*rng.Float64()
		low := rng.Float64() - 0.2
		p := &Profile{
			Low: six(low), High: six(low + span), Tolerance: six(0.2 * span * (0.01 + rng.Float64())), Unit: []string{"V", "%", "counts"}[rng.IntN(3)],
			TransitUp: six(0.5 + 30*rng.Float64()), TransitDown: six(0.5 + 30*rng.Float64()), TransitTolerance: six(0.01 + 0.3*rng.Float64()),
			DriveVolts: []float64{0, six(6 + 10*rng.Float64())}[rng.IntN(2)], Reference: six(1 + 10*rng.Float64()),
			Sense: rng.IntN(3) - 1, Free: rng.IntN(2) == 0, Origin: []string{"rig 1, # 3\nof two lines"},
		}
		text := p.Text()
		q, err := Parse("f", text)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		for _, x := range [][2]float64{{p.Low, q.Low}, {p.High, q.High}, {p.Tolerance, q.Tolerance}, {p.TransitUp, q.TransitUp},
			{p.TransitDown, q.TransitDown}, {p.TransitTolerance, q.TransitTolerance}, {p.DriveVolts, q.DriveVolts}, {p.Reference, q.Reference}} {
			if !near(x[0], x[1]) {
				t.Fatalf("wrote %v, read %v\n%s", x[0], x[1], text)
			}
		}
		if p.Unit != q.Unit || p.Sense != q.Sense || p.Free != q.Free {
			t.Fatalf("wrote %+v, read %+v", p, q)
		}
	}
}

func TestProfileForms(t *testing.T) {
	t.Parallel()
	want, err := Parse("f", []byte(smallProfile))
	if err != nil {
		t.Fatal(err)
	}
	if want.Low != 0.5 || want.High != 4.5 || want.TransitDown != 4.8 || want.Unit != "V" || want.Reference != 5 || want.Sense != 0 || want.Free {
		t.Errorf("read %+v", want)
	}
	if want.Tolerance != 0.04*4 || want.TransitTolerance != 0.1 {
		t.Errorf("defaults %v and %v", want.Tolerance, want.TransitTolerance)
	}
	for _, form := range []string{
		strings.ReplaceAll(smallProfile, ": ", " = "),
		strings.ReplaceAll(smallProfile, ": ", ":"),
		strings.ReplaceAll(smallProfile, "\n", "\r\n"),
		"\xef\xbb\xbf" + smallProfile,
		strings.ReplaceAll(smallProfile, "0.5 V", "500mV   # half a volt"),
		strings.ReplaceAll(smallProfile, "low stop", "  Low   Stop "),
		smallProfile + "drive: unknown\nsense of drive: unknown\n\n# the end",
	} {
		got, err := Parse("f", []byte(form))
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%q gives %+v (%v), expected %+v", form, got, err, want)
		}
	}
}

// Every refusal names file, line, what was found and what was expected, and
// says what to do.
func TestProfileErrors(t *testing.T) {
	t.Parallel()
	change := func(from, to string) string { return strings.Replace(smallProfile, from, to, 1) }
	for _, c := range []struct {
		text, want string
		line       int
	}{
		{"", `expected "threewire actuator profile 1"`, 1},
		{"time,drive\n0,1", `found "time,drive"`, 1},
		{change("profile 1", "profile 2"), "expected version 1", 1},
		{change("high stop", "hihg stop"), `found "hihg stop", expected one of low stop`, 3},
		{change("0.5 V", "0,5 V"), "write a decimal point, not a comma", 2},
		{change("0.5 V", "0.5"), "a number with a unit (V, mV, %, counts)", 2},
		{change("0.5 V", "0.5 A"), `found "0.5 A"`, 2},
		{change("0.5 V", "half V"), "expected a number", 2},
		{change("5 s", "-5 s"), "a value above 0", 4},
		{change("5 s", "1e9 s"), "not above 1000", 4},
		{change("4.5 V", "0.4 V"), "a high stop above the low stop", 3},
		{change("4.5 V", "90 %"), "the unit of the low stop, V", 3},
		{change("low stop: 0.5 V\n", ""), `a line "low stop: 0.50 V"`, 0},
		{smallProfile + "low stop: 0.6 V", "in line 2 already", 6},
		{smallProfile + "stop tolerance: 3 V", "less than half of the span", 6},
		{smallProfile + "sense of drive: up", "one of positive raises", 6},
		{smallProfile + "a word", "put # before a comment", 6},
		{"\x00\xff\xfe", "text in UTF-8", 1},
	} {
		_, err := Parse("shop.profile", []byte(c.text))
		var pe *textfile.Error
		if !errors.As(err, &pe) || pe.Line != c.line || pe.Hint == "" || pe.Want == "" || !strings.HasPrefix(err.Error(), "shop.profile") || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v (expected line %d and %q)", c.text, err, c.line, c.want)
		}
	}
}

// Whatever the bytes, the parser neither panics nor accepts a profile that
// cannot be used or written again.
func FuzzParse(f *testing.F) {
	f.Add([]byte(smallProfile))
	f.Add((&Profile{Low: 10, High: 90, Unit: "%", TransitUp: 3, TransitDown: 4, Sense: -1, Free: true}).Text())
	f.Add([]byte("threewire actuator profile 1\nlow stop: 1e308 V\n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		p, err := Parse("f", b)
		if err != nil {
			var pe *textfile.Error
			if !errors.As(err, &pe) {
				t.Fatalf("error of another kind: %v", err)
			}
			return
		}
		if !(p.High > p.Low && p.TransitUp > 0 && p.TransitDown > 0 && p.Tolerance > 0 && p.TransitTolerance > 0 && p.Reference > 0) {
			t.Fatalf("unusable: %+v", p)
		}
		// Stops that differ by less than six digits cannot be written apart.
		if p.Span() < 1e-4*math.Max(math.Abs(p.Low), math.Abs(p.High)) || p.Tolerance > 0.499*p.Span() {
			return
		}
		q, err := Parse("f", p.Text())
		if err != nil || math.Abs(q.Span()-p.Span()) > 1e-5*math.Max(math.Abs(p.Low), math.Abs(p.High)) {
			t.Fatalf("%+v comes back as %+v (%v)", p, q, err)
		}
	})
}
