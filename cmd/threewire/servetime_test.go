package main

import (
	"io"
	"log"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// An answer has its time from when it begins, however long it took to find,
// and the request lives on meanwhile.
func TestPageAnswersLate(t *testing.T) {
	p := newPage(t.TempDir(), 1e6, settings{}.reportOptions(), log.New(io.Discard, "", 0))
	late := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		io.Copy(io.Discard, r.Body)
		time.Sleep(300 * time.Millisecond)
		if err := r.Context().Err(); err != nil {
			t.Errorf("%s: the request was given up: %v", r.Method, err)
		}
		w.WriteHeader(http.StatusTeapot)
		io.WriteString(w, "late")
	})
	s := httptest.NewUnstartedServer(nil)
	_, port, _ := strings.Cut(s.Listener.Addr().String(), ":")
	s.Config.Handler = p.guard(hosts{port: port, names: []string{"127.0.0.1"}, local: true}, late)
	s.Config.ReadTimeout, s.Config.WriteTimeout = 100*time.Millisecond, 100*time.Millisecond
	s.Start()
	defer s.Close()
	for range 2 { // and again on the same connection
		for _, method := range []string{"GET", "POST"} {
			r, err := http.NewRequest(method, s.URL, strings.NewReader("x"))
			if err != nil {
				t.Fatal(err)
			}
			a, err := http.DefaultClient.Do(r)
			if err != nil {
				t.Errorf("%s: %v", method, err)
				continue
			}
			b, err := io.ReadAll(a.Body)
			a.Body.Close()
			if a.StatusCode != http.StatusTeapot || string(b) != "late" || err != nil {
				t.Errorf("%s: %d, %q, %v", method, a.StatusCode, b, err)
			}
		}
	}
}
