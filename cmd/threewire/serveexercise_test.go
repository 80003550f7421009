package main

import (
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"threewire/analyze"
)

// An exercise tells nothing before the guess, and the truth after it; its
// number fixes it; its capture can be checked like any other.
func TestExercise(t *testing.T) {
	_, send, _ := bench(t, nil)
	if at := send("GET", "/exercise").Header().Get("Location"); !regexp.MustCompile(`^/exercise/[1-9]\d{0,3}$`).MatchString(at) {
		t.Errorf("any exercise is %q", at)
	}
	truths := map[string]bool{}
	guess := func(n int, f string) (right bool, truth string) {
		t.Helper()
		answer := words(t, send("GET", fmt.Sprintf("/exercise/%d?guess=%s", n, strings.ReplaceAll(f, " ", "+"))).Body.String())
		m := regexp.MustCompile(`(Right\.|Not so\.) Your guess: ([a-z ]+)\. The truth: ([a-z ]+) \.`).FindStringSubmatch(answer)
		if m == nil || m[2] != f {
			t.Fatalf("%d: %s", n, answer)
		}
		return m[1] == "Right.", m[3]
	}
	for n := 1; n <= 2; n++ {
		path := fmt.Sprintf("/exercise/%d", n)
		blank := words(t, send("GET", path).Body.String())
		if strings.Contains(blank, "truth") || strings.Contains(blank, "program says") || blank != words(t, send("GET", path+"?guess=gremlin").Body.String()) {
			t.Fatalf("%d tells the answer: %s", n, blank)
		}
		_, truth := guess(n, analyze.NoFault.String())
		truths[truth] = true
		if right, again := guess(n, truth); !right || again != truth {
			t.Errorf("%d: the truth %s is no right guess, or became %s", n, truth, again)
		}
		wrong := analyze.WiringControl.String()
		if truth == wrong {
			wrong = analyze.DoorMechanism.String()
		}
		if right, _ := guess(n, wrong); right {
			t.Errorf("%d: %s is right, the truth is %s", n, wrong, truth)
		}
	}
	if len(truths) < 2 {
		t.Errorf("the truths are %v", truths)
	}
	for _, name := range []string{"blank.svg", "answer-phone.svg"} {
		w := send("GET", "/exercise/7/"+name)
		if w.Code != http.StatusOK || !strings.HasPrefix(w.Body.String(), "<?xml") || !strings.Contains(w.Body.String(), "Exercise 7") {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
	text := send("GET", "/exercise/7/capture.csv").Body.String()
	path := t.TempDir() + "/x.csv"
	put(t, path, text)
	_, said, errs := call("", "check", "--brief", path)
	answer := words(t, send("GET", "/exercise/7?guess=motor").Body.String())
	if !strings.Contains(answer, "In truth: ") || !strings.Contains(answer, "The program finds: ") || !strings.Contains(answer, analyze.CannotTell.String()) {
		t.Errorf("the answer does not tell truth and finding apart, or has no choice to leave it open: %s", answer)
	}
	if errs != "" || !strings.Contains(answer, plainSpace(said)) {
		t.Errorf("check says %q%s, the page %s", said, errs, answer)
	}
	for _, path := range []string{"/exercise/0", "/exercise/10000", "/exercise/x", "/exercise/7/truth.json", "/exercise/7/blank.png"} {
		if w := send("GET", path); w.Code != http.StatusNotFound {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
}
