package analyze

import "testing"

// Small moves about one place, of which one was turned down short of a stand's length,
// have seen no end of the travel; a motor pressed there twice has.
func TestOneShortStandIsNoEnd(t *testing.T) {
	t.Parallel()
	w := &work{tol: 0.07, span: Interval{2.9, 3.4}}
	for _, c := range []struct {
		name string
		stop Stop
		end  bool
	}{
		{"one short stand, passed", Stop{Direction: Up, Level: 3.18, Stalls: 1, Seconds: 0.3, Extreme: true}, false},
		{"not passed", Stop{Direction: Up, Level: 3.38, Stalls: 1, Seconds: 0.3, Extreme: true}, true},
		{"pressed for long", Stop{Direction: Up, Level: 3.18, Stalls: 1, Seconds: 1, Extreme: true}, true},
		{"twice", Stop{Direction: Up, Level: 3.18, Stalls: 2, Seconds: 0.4, Extreme: true}, true},
		{"the low one, passed", Stop{Direction: Down, Level: 3.1, Stalls: 1, Seconds: 0.3, Extreme: true}, false},
		{"not the outermost", Stop{Direction: Up, Level: 3.38, Stalls: 2, Seconds: 3}, false},
	} {
		if got := w.endsAt(c.stop); got != c.end {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
