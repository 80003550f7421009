package analyze

import (
	"encoding/json"
	"sync"
	"testing"
)

// Examined and judged at once, captures get the report each of them gets on
// its own: nothing is shared between them. The analysis itself starts no
// goroutine; those of batch, the page and the bench call it as this test does,
// so that the race detector needs no more of this package than this.
func TestManyAtOnce(t *testing.T) {
	t.Parallel()
	all := cases()
	alone := make(map[string]string, len(all))
	report := func(d *draft) string {
		c, err := Examine(d.trace(), Defaults())
		if err != nil {
			return err.Error()
		}
		b, err := json.Marshal(Judge(c))
		if err != nil {
			return err.Error()
		}
		return string(b)
	}
	for name, c := range all {
		alone[name] = report(c.make(1))
		if alone[name][0] != '{' {
			t.Fatalf("%s: %s", name, alone[name])
		}
	}
	together := map[string]*[2]string{}
	var wg sync.WaitGroup
	for name, c := range all {
		got := new([2]string)
		together[name] = got
		for i := range got {
			wg.Go(func() { got[i] = report(c.make(1)) })
		}
	}
	wg.Wait()
	for name, got := range together {
		for _, r := range got {
			if r != alone[name] {
				t.Errorf("%s: examined beside others the report is\n%.300s\nalone it is\n%.300s", name, r, alone[name])
			}
		}
	}
}
