package signal

import (
	"fmt"
	"testing"
)

// A terminal that puts a stamp before each line puts one before the names too. Both inputs of
// the bridge are high at rest, so that nothing but their names makes them a pair.
func TestNamesBehindStamps(t *testing.T) {
	for _, sep := range []string{",", " "} {
		text := "09:12:34.200 -> ready\n09:12:34.200 -> pot" + sep + "in_a" + sep + "in_b\n" +
			newRec(300, 0.02).rows(func(i int, s, d, v float64) string {
				a, b := 1, 1
				if d > 0 {
					b = 0
				} else if d < 0 {
					a = 0
				}
				return stampOf(s).Format("15:04:05.000") + fmt.Sprintf(" -> %.3f%s%d%s%d", v, sep, a, sep, b)
			})
		want := map[Role]int{TimeRole: 1, Feedback: 2, LeadA: 3, LeadB: 4}
		if sep == " " {
			want = map[Role]int{TimeRole: 1, Feedback: 3, LeadA: 4, LeadB: 5}
		}
		wantRoles(t, rolesOf(t, text, Options{}), want)
	}
}
