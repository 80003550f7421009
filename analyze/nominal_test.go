package analyze

import (
	"math"
	"strings"
	"testing"

	"threewire/analyze/nominal"
	"threewire/signal"
)

func examineWith(t *testing.T, d *draft, p *nominal.Profile, free bool) *Capture {
	t.Helper()
	o := Defaults()
	o.Profile, o.Free = p, free
	c, err := Examine(d.trace(), o)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// goodProfile is made of one drawn healthy capture.
func goodProfile(t *testing.T) *nominal.Profile {
	t.Helper()
	p, doubts := BuildNominal(examineWith(t, newDraft(1).sweeps(3), nil, false))
	if p == nil || len(doubts) > 0 {
		t.Fatalf("a healthy capture makes no profile: %v", doubts)
	}
	p.File = "good.profile"
	return p
}

// The profile of a drawn capture has the numbers it was drawn with.
func TestBuildNominal(t *testing.T) {
	t.Parallel()
	p := goodProfile(t)
	near := func(what string, got, want, tol float64) {
		if math.Abs(got-want) > tol {
			t.Errorf("%s %v, drawn with %v", what, got, want)
		}
	}
	near("low stop", p.Low, 0.5, 0.01)
	near("high stop", p.High, 4.5, 0.01)
	near("travel time up", p.TransitUp, 5, 0.15)
	near("travel time down", p.TransitDown, 5, 0.15)
	near("drive", p.DriveVolts, 12, 0.05)
	if p.Sense != 1 || p.Free || p.Unit != "V" {
		t.Errorf("%+v", p)
	}
	// Read back from its file it is the same to six digits.
	q, err := nominal.Parse("x", p.Text())
	if err != nil {
		t.Fatal(err)
	}
	near("low stop read back", q.Low, p.Low, 1e-5)
	near("travel time read back", q.TransitUp, p.TransitUp, 1e-4)

	// Three alike give tighter tolerances than one.
	three, doubts := BuildNominal(examineWith(t, newDraft(1).sweeps(3), nil, false), examineWith(t, newDraft(2).sweeps(2), nil, false), examineWith(t, newDraft(3).sweeps(3), nil, false))
	if three == nil || len(doubts) > 0 || three.Tolerance >= p.Tolerance || three.TransitTolerance >= p.TransitTolerance {
		t.Errorf("three captures: %+v, doubts %v; one: %+v", three, doubts, p)
	}
}

// What is no good capture makes no silent profile.
func TestBuildNominalDoubts(t *testing.T) {
	t.Parallel()
	good := examineWith(t, newDraft(1).sweeps(3), nil, false)
	wide := newDraft(2)
	wide.hi = 3.6
	slow := newDraft(2)
	slow.rate = 0.5
	for _, c := range []struct {
		name string
		list []*Capture
		kind DoubtKind
		text string
		none bool
	}{
		{"none", nil, Missing, "no capture", true},
		{"fault", []*Capture{examineWith(t, cases()["dead spot held"].make(1), nil, false)}, ShowsFault, "feedback sensor", false},
		{"no stop", []*Capture{examineWith(t, newDraft(1).run(0, 1).run(12, 3).run(0, 1).run(-12, 2).run(12, 2).run(-12, 2), nil, false)}, Missing, "high stop was never", true},
		{"one sweep", []*Capture{examineWith(t, newDraft(1).sweeps(1), nil, false)}, Missing, "1 full sweep going up", true},
		{"other span", []*Capture{good, examineWith(t, wide.sweeps(3), nil, false)}, Disagree, "high stop 4.50 and 3.60", false},
		{"other speed", []*Capture{good, examineWith(t, slow.sweeps(3), nil, false)}, Disagree, "speed going down 6", false},
		{"free and coupled", []*Capture{good, examineWith(t, newDraft(2).sweeps(3), nil, true)}, Missing, "two profiles", true},
		{"counts", []*Capture{good, examineWith(t, newDraft(2).sweeps(3).counts(), nil, false)}, Missing, "captures of one kind", true},
	} {
		p, doubts := BuildNominal(c.list...)
		found := false
		for _, d := range doubts {
			found = found || d.Kind == c.kind && strings.Contains(d.String(), c.text)
		}
		if !found || (p == nil) != c.none {
			t.Errorf("%s: profile %v, doubts %v", c.name, p, doubts)
		}
		if p != nil {
			if _, err := nominal.Parse("x", p.Text()); err != nil {
				t.Errorf("%s: what is written in spite of doubts cannot be read: %v", c.name, err)
			}
		}
	}
}

// A profile settles what a capture alone cannot: slow, short, shifted and
// scaled, each to its own fault, and leaves healthy ones alone at any usual
// supply, warmth and load.
func TestAgainstProfile(t *testing.T) {
	t.Parallel()
	p := goodProfile(t)
	sweeps := func(d *draft, volts float64) *draft {
		full := (d.hi-d.lo)/d.rate*12/volts*1.7 + 1
		d.run(0, 1)
		for range 3 {
			d.run(volts, full).run(0, 0.5).run(-volts, full).run(0, 0.5)
		}
		return d
	}
	motor := func(drive, load, warmer float64) func(*draft, float64) float64 {
		// The draft moves in proportion to its drive; the motor does not.
		k := relativeSpeed(drive, load, warmer) / drive
		return func(*draft, float64) float64 { return k }
	}
	for _, c := range []struct {
		name string
		make func(s uint64) *draft
		kind Kind
		form string
		want Fault
	}{
		{"the same", func(s uint64) *draft { return newDraft(s).sweeps(3) }, "", "", NoFault},
		{"at 9.5 V, heavy door", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = motor(9.5/12, 0.35, 0)
			return sweeps(d, 9.5)
		}, "", "", NoFault},
		{"at 14.4 V, light door", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = motor(1.2, 0.1, 0)
			return sweeps(d, 14.4)
		}, "", "", NoFault},
		{"warm", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = motor(1, 0.3, 40)
			return sweeps(d, 12)
		}, "", "", NoFault},
		{"leads the other way round", func(s uint64) *draft {
			d := newDraft(s).sweeps(3)
			for i := range d.drive {
				d.drive[i] = -d.drive[i]
			}
			return d
		}, "", "", NoFault},
		{"weak", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(*draft, float64) float64 { return 0.6 }
			return sweeps(d, 12)
		}, WeakDrive, "against the profile", Motor},
		{"jammed from the start", func(s uint64) *draft {
			d := newDraft(s)
			d.hi = 3.4
			return sweeps(d, 12)
		}, Jam, "short of the profile's stop, in less time", DoorMechanism},
		{"scale shrank", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 { return 0.5 + 0.72*(d.x-0.5) }
			return sweeps(d, 12)
		}, SpanShift, "scale", FeedbackSensor},
		{"shifted alike", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 { return d.x + 0.32 }
			return sweeps(d, 12)
		}, SpanShift, "offset", CannotTell},
		{"door broken off, runs on", func(s uint64) *draft {
			d := newDraft(s)
			d.hi = 4.85
			return sweeps(d, 12)
		}, SpanShift, "beyond the profile's stop", DoorMechanism},
	} {
		for seed := range uint64(2) {
			got := examineWith(t, c.make(seed), p, false)
			v := Judge(got).Verdict
			var hits []string
			for _, f := range got.Findings {
				if f.Kind == WeakDrive || f.Kind == SpanShift || f.Kind == Jam {
					hits = append(hits, string(f.Kind)+"/"+f.Form)
				}
			}
			ok := len(hits) == 0
			if c.kind != "" {
				ok = len(hits) > 0
				for _, h := range hits {
					ok = ok && strings.HasPrefix(h, string(c.kind)+"/"+c.form)
				}
			}
			if c.name != "shifted alike" && c.name != "door broken off, runs on" {
				ok = ok && v.Conclusion == c.want
			}
			if !ok || got.Against == nil || !got.Against.Used {
				t.Errorf("%s, seed %d: %v; %s\n%s", c.name, seed, hits, got.Against.Text, say(got, v))
			}
		}
	}
}

// Without a profile the output says that the capture stood alone; with one of
// another actuator, that it was not used.
func TestProfileIsSaid(t *testing.T) {
	t.Parallel()
	said := func(c *Capture) string {
		v := Judge(c).Verdict
		return strings.Join(append(v.Unknown, v.Absent...), "\n")
	}
	if s := said(examineWith(t, newDraft(1).sweeps(3), nil, false)); !strings.Contains(s, "compared only with itself") {
		t.Errorf("without a profile: %s", s)
	}
	p := goodProfile(t)
	if s := said(examineWith(t, newDraft(2).sweeps(3), p, false)); strings.Contains(s, "compared only with itself") || !strings.Contains(s, "where the profile's are") {
		t.Errorf("with a profile: %s", s)
	}
	other := newDraft(3)
	other.lo, other.hi, other.rate = 2, 3, 0.1
	c := examineWith(t, other.sweeps(2), p, false)
	if s := said(c); c.Against.Used || !strings.Contains(s, "does not fit") {
		t.Errorf("profile of another actuator: %+v\n%s", c.Against, s)
	}
	// In another unit the stops cannot be compared, the speed can.
	c = examineWith(t, newDraft(2).sweeps(3).counts(), p, false)
	if c.Against == nil || c.Against.LowShift != nil || !strings.Contains(c.Against.Text, "not compared") {
		t.Errorf("counts against volts: %+v", c.Against)
	}
}

// The wiper gives a share of its supply: a logged reference that differs from
// the profile's moves the expected stops with it.
func TestProfileFollowsTheReference(t *testing.T) {
	t.Parallel()
	p := goodProfile(t)
	for _, k := range []float64{0.9, 1.08} {
		d := newDraft(2)
		d.read = func(d *draft) float64 { return k * d.x }
		d.sweeps(3)
		tr := d.trace()
		ref := make([]float32, len(d.time))
		for i := range ref {
			ref[i] = float32(5 * k)
		}
		tr.Reference = &signal.Series{Name: "reference", Unit: "V", Mean: ref, Min: ref, Max: ref}
		o := Defaults()
		o.Profile = p
		c, err := Examine(tr, o)
		if err != nil {
			t.Fatal(err)
		}
		if showsKind(c, SpanShift) || c.Against.LowShift == nil || math.Abs(*c.Against.HighShift) > 0.03 {
			t.Errorf("reference times %v: %s", k, c.Against.Text)
		}
	}
}

// Each sweep is judged at its own drive. One at few volts, at which the load may hold a
// good motor too, neither widens nor narrows what those at the profile's volts say, and
// alone it says nothing.
func TestProfileJudgesEachSweepAtItsOwnDrive(t *testing.T) {
	t.Parallel()
	p := goodProfile(t)
	draw := func(seed uint64, speed float64, volts ...float64) *draft {
		d := newDraft(seed)
		d.speed = func(d *draft, dir float64) float64 {
			at := math.Abs(d.volts) / 12
			if dir == 0 {
				return 1
			}
			return speed * relativeSpeed(at, usualLoad, 0) / at
		}
		d.run(0, 1)
		for _, v := range volts {
			// To the stops and a second more: relativeSpeed is V over the profile's.
			full := (d.hi-d.lo)/(d.rate*speed*relativeSpeed(v/12, usualLoad, 0)) + 1
			d.run(v, full).run(0, 0.5).run(-v, full).run(0, 0.5)
		}
		return d
	}
	for _, c := range []struct {
		name  string
		speed float64
		volts []float64
		weak  bool // shown to be slower than the profile's
		agree bool // said to be as good as the profile's
		blind bool // said that the speed tells nothing
	}{
		{"weak", 0.7, []float64{12, 12, 12, 12}, true, false, false},
		{"weak, 5 V last", 0.7, []float64{12, 12, 12, 12, 5}, true, false, false},
		{"weak, 5 V first", 0.7, []float64{5, 12, 12, 12, 12}, true, false, false},
		{"good", 1, []float64{12, 12, 12, 12}, false, true, false},
		{"good, 5 V last", 1, []float64{12, 12, 12, 12, 5}, false, true, false},
		{"good, 9 V last", 1, []float64{12, 12, 12, 9}, false, true, false},
		{"weak, 5 V only", 0.7, []float64{5, 5, 5}, false, false, true},
	} {
		for seed := range uint64(2) {
			got := examineWith(t, draw(seed, c.speed, c.volts...), p, false)
			v := Judge(got).Verdict
			said := strings.Join(v.Unknown, "\n")
			if showsKind(got, WeakDrive) != c.weak || (got.asGood() != nil) != c.agree || strings.Contains(said, "the speed tells nothing") != c.blind {
				t.Errorf("%s, seed %d: agrees %t; %+v\n%s\n%s", c.name, seed, got.asGood() != nil, got.Against, said, say(got, v))
			}
		}
	}
}
