package main

import (
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Two files in either order give one verdict.
func TestCheckInAnyOrder(t *testing.T) {
	t.Parallel()
	for fault, seed := range map[string]string{"connector": "13", "dead-spot": "5"} {
		dir := t.TempDir()
		var f [2]string
		for k := range f {
			f[k] = filepath.Join(dir, strconv.Itoa(k)+".csv")
			if code, _, e := call("", "simulate", "--fault", fault, "--severity", ".5", "--seed", seed, "--duration", "30", "--instrument", "two-channel-logger", "--take", strconv.Itoa(k), "--out", f[k]); code != 0 {
				t.Fatal(e)
			}
		}
		_, one, _ := call("", "check", f[0], f[1])
		_, other, _ := call("", "check", f[1], f[0])
		if a, _, _ := strings.Cut(one, "\n"); a == "" || !strings.HasPrefix(other, a+"\n") {
			t.Errorf("%s: %s, in the other order: %s", fault, one, other)
		}
	}
}
