package main

import (
	"bytes"
	"context"
	"image/color"
	"io"
	"log"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"threewire/analyze"
	"threewire/plots"
	"threewire/signal"
)

// bench is a page without a network, for what a user cannot set.
func bench(t *testing.T, change func(p *page)) (p *page, send func(method, path string, fields ...field) *httptest.ResponseRecorder, said *bytes.Buffer) {
	t.Helper()
	said = &bytes.Buffer{}
	p = newPage(t.TempDir(), 1e6, settings{}.reportOptions(), log.New(said, "", 0))
	if change != nil {
		change(p)
	}
	h := p.guard(hosts{port: "80", names: []string{"example.com"}, local: true}, p.routes())
	return p, func(method, path string, fields ...field) *httptest.ResponseRecorder {
		t.Helper()
		var body io.Reader
		kind := ""
		if len(fields) > 0 {
			body, kind = form(t, fields...)
		}
		r := httptest.NewRequest(method, path, body)
		r.Header.Set("Content-Type", kind)
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		return w
	}, said
}

func folders(t *testing.T, p *page) int {
	t.Helper()
	all, err := os.ReadDir(p.dir)
	if err != nil {
		t.Fatal(err)
	}
	return len(all)
}

// Results beyond the bound go, the one used longest ago first, and their files
// with them.
func TestResultsExpire(t *testing.T) {
	p, send, _ := bench(t, func(p *page) { p.keep.most = 3 })
	var at []string
	for range 3 {
		at = append(at, send("POST", "/", field{"capture", "a.csv", drawCSV()}).Header().Get("Location"))
	}
	seen := map[string]bool{}
	for _, path := range at {
		if seen[path] || !regexp.MustCompile(`^/result/[A-Z2-7]{26}$`).MatchString(path) {
			t.Fatalf("results at %q", at)
		}
		seen[path] = true
	}
	if w := send("GET", at[0]); w.Code != http.StatusOK { // used again
		t.Errorf("%s: %d", at[0], w.Code)
	}
	send("POST", "/", field{"capture", "a.csv", drawCSV()})
	for i, want := range []int{http.StatusOK, http.StatusNotFound, http.StatusOK} {
		w := send("GET", at[i])
		if w.Code != want {
			t.Errorf("result %d: %d, wanted %d", i, w.Code, want)
		}
		if want == http.StatusNotFound && !strings.Contains(words(t, w.Body.String()), "The page keeps the last 20") {
			t.Errorf("says %s", w.Body)
		}
	}
	if n := folders(t, p); n != 3 {
		t.Errorf("%d folders of uploads, wanted 3", n)
	}
}

// The disk is bounded too, whatever the number of results; the newest stays.
func TestResultsExpireBySize(t *testing.T) {
	p, send, _ := bench(t, func(p *page) { p.keep.bytes = int64(len(drawCSV())) * 5 / 2 })
	for range 4 {
		send("POST", "/", field{"capture", "a.csv", drawCSV()})
	}
	if n := folders(t, p); n != 2 {
		t.Errorf("%d folders of uploads, wanted 2", n)
	}
	p.keep.bytes = 1
	last := send("POST", "/", field{"capture", "a.csv", drawCSV()}).Header().Get("Location")
	if w := send("GET", last); w.Code != http.StatusOK || folders(t, p) != 1 {
		t.Errorf("%d, %d folders", w.Code, folders(t, p))
	}
}

// What was measured goes when memory is short, and is measured again.
func TestResultsAreMeasuredAgain(t *testing.T) {
	p, send, _ := bench(t, func(p *page) { p.keep.memory = 1 })
	first := send("POST", "/", field{"capture", "a.csv", drawCSV()}).Header().Get("Location")
	want := send("GET", first+"/result.json").Body.String()
	send("POST", "/", field{"capture", "b.csv", drawCSV()})
	if _, d := p.keep.get(strings.TrimPrefix(first, "/result/")); d != nil {
		t.Error("the older one is still in memory")
	}
	if w := send("GET", first+"/result.json"); w.Code != http.StatusOK || w.Body.String() != want || len(want) < 1000 {
		t.Errorf("%d, differs from before", w.Code)
	}
	var sum int64
	for _, h := range p.keep.list {
		if h.drawn != nil {
			sum += h.drawn.weight
		}
	}
	if sum != p.keep.heavy || sum == 0 {
		t.Errorf("%d bytes are counted, %d are there", p.keep.heavy, sum)
	}
}

// A panic answers 500, is printed, and the page goes on.
func TestPageSurvivesAPanic(t *testing.T) {
	said := &bytes.Buffer{}
	p := newPage(t.TempDir(), 1e6, settings{}.reportOptions(), log.New(said, "", 0))
	h := p.guard(hosts{port: "80", names: []string{"example.com"}}, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/panic" {
			panic("a gear fell out")
		}
	}))
	for path, want := range map[string]int{"/panic": http.StatusInternalServerError, "/": http.StatusOK} {
		w := httptest.NewRecorder()
		h.ServeHTTP(w, httptest.NewRequest("GET", path, nil))
		if w.Code != want {
			t.Errorf("%s: %d", path, w.Code)
		}
		if want != http.StatusOK && (!strings.Contains(said.String(), "a gear fell out") || !strings.Contains(said.String(), "servekeep_test.go") || strings.Contains(w.Body.String(), "gear")) {
			t.Errorf("printed %q, answered %s", said, w.Body)
		}
	}
	p.under.Wait() // and is not counted as under way
}

// A panic amid judging leaves neither a lock nor a place nor a file.
func TestPageSurvivesAPanicInJudging(t *testing.T) {
	fail := false
	p, send, said := bench(t, func(p *page) {
		good := p.examine
		p.examine = func(ctx context.Context, path string, stdin io.Reader, so signal.Options, opt analyze.Options) (*analyze.Parts, error) {
			if fail {
				panic("a gear fell out")
			}
			return good(ctx, path, stdin, so, opt)
		}
		p.keep.memory = 1
	})
	at := send("POST", "/", field{"capture", "a.csv", drawCSV()}).Header().Get("Location")
	p.keep.hold(p.keep.list[0].kept, nil) // is measured again
	fail = true
	for _, c := range [][2]string{{"GET", at}, {"POST", "/"}, {"POST", at + "/columns/0"}, {"GET", at + "/view.svg"}} {
		var fields []field
		if c[0] == "POST" {
			fields = []field{{"capture", "a.csv", drawCSV()}}
		}
		w := send(c[0], c[1], fields...)
		if w.Code != http.StatusInternalServerError || !strings.Contains(said.String(), "a gear fell out") {
			t.Errorf("%s %s: %d, said %q", c[0], c[1], w.Code, said)
		}
		said.Reset()
	}
	if n := folders(t, p); n != 1 || len(p.uploads)+len(p.work) != 0 {
		t.Errorf("%d folders, %d and %d places taken", n, len(p.uploads), len(p.work))
	}
	fail = false
	if w := send("GET", at); w.Code != http.StatusOK {
		t.Errorf("afterwards: %d", w.Code)
	}
}

// Too many uploads at a time wait for nobody.
func TestPageIsBusy(t *testing.T) {
	p, send, _ := bench(t, func(p *page) { p.uploads = make(chan struct{}, 1) })
	p.uploads <- struct{}{}
	if w := send("POST", "/", field{"capture", "a.csv", drawCSV()}); w.Code != http.StatusServiceUnavailable || !strings.Contains(words(t, w.Body.String()), "Wait a moment") {
		t.Errorf("%d", w.Code)
	}
	<-p.uploads
	if w := send("POST", "/", field{"capture", "a.csv", drawCSV()}); w.Code != http.StatusSeeOther {
		t.Errorf("%d", w.Code)
	}
	if len(p.uploads) != 0 || len(p.work) != 0 {
		t.Error("a place was not given back")
	}
}

// An upload that waits to be judged lies on the disk: it keeps its place among
// the uploads, and its bytes count.
func TestPageBoundsWhatWaits(t *testing.T) {
	for name, c := range map[string]struct {
		places int
		bytes  int64
		want   string
	}{
		"places": {1, 1e9, "1 uploads are under way."},
		"bytes":  {9, int64(len(drawCSV())) * 3 / 2, "As much as the page has room for is being uploaded."},
	} {
		t.Run(name, func(t *testing.T) {
			p, send, _ := bench(t, func(p *page) {
				p.uploads, p.work = make(chan struct{}, c.places), make(chan struct{}, 1)
				p.keep.bytes = c.bytes
			})
			p.work <- struct{}{} // somebody else is at work
			done := make(chan int)
			go func() { done <- send("POST", "/", field{"capture", "a.csv", drawCSV()}).Code }()
			for stored := false; !stored; time.Sleep(time.Millisecond) {
				files, _ := filepath.Glob(filepath.Join(p.dir, "*", "capture-*"))
				for _, f := range files {
					st, err := os.Stat(f)
					stored = stored || err == nil && st.Size() == int64(len(drawCSV()))
				}
			}
			time.Sleep(20 * time.Millisecond) // all is stored: it waits for work
			if w := send("POST", "/", field{"capture", "b.csv", drawCSV()}); w.Code != http.StatusServiceUnavailable || !strings.Contains(words(t, w.Body.String()), c.want) {
				t.Errorf("%d", w.Code)
			}
			<-p.work
			if code := <-done; code != http.StatusSeeOther {
				t.Errorf("the one that waited: %d", code)
			}
			if w := send("POST", "/", field{"capture", "b.csv", drawCSV()}); w.Code != http.StatusSeeOther {
				t.Errorf("afterwards: %d", w.Code)
			}
			if len(p.uploads) != 0 || p.keep.reserved != 0 {
				t.Errorf("%d places and %d bytes were not given back", len(p.uploads), p.keep.reserved)
			}
		})
	}
}

// Every page is clean XHTML whose controls have labels (words tests that).
func TestPagesAreClean(t *testing.T) {
	_, send, _ := bench(t, nil)
	for _, path := range []string{"/", "/nowhere"} {
		if w := send("GET", path); words(t, w.Body.String()) == "" {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
}

// The style sheet's colours keep WCAG 2.2: text 4.5:1 (1.4.3), edges of
// controls and signs 3:1 (1.4.11). plots.Contrast computes by its formula.
func TestPageContrast(t *testing.T) {
	css, err := pageFiles.ReadFile("page/page.css")
	if err != nil {
		t.Fatal(err)
	}
	colours := map[string]color.NRGBA{}
	for _, m := range regexp.MustCompile(`--([a-z-]+): #([0-9a-f]{6});`).FindAllStringSubmatch(string(css), -1) {
		v, _ := strconv.ParseUint(m[2], 16, 32)
		colours[m[1]] = color.NRGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}
	}
	used := map[string]bool{"line": true} // rules between sections only
	for _, c := range []struct {
		text, grounds string
		least         float64
	}{
		{"ink", "ground shade wrong", 4.5}, {"lesser", "ground shade", 4.5}, {"link", "ground shade", 4.5}, {"on-link", "link", 4.5},
		{"fault", "shade", 4.5}, {"good", "shade", 4.5},
		{"edge", "ground shade", 3}, {"link", "ground", 3}, {"focus", "ground shade wrong", 3}, {"fault", "ground wrong", 3}, {"good", "ground", 3}, {"open", "ground", 3},
	} {
		for _, ground := range strings.Fields(c.grounds) {
			a, ok := colours[c.text]
			b, ok2 := colours[ground]
			if ratio := plots.Contrast(a, b); !ok || !ok2 || ratio < c.least {
				t.Errorf("%s on %s: %.2f:1, wanted %.1f:1", c.text, ground, ratio, c.least)
			}
			used[c.text], used[ground] = true, true
		}
	}
	for name := range colours {
		if !used[name] {
			t.Errorf("%s is not tested", name)
		}
	}
	if rest := regexp.MustCompile(`:root \{[^}]*\}`).ReplaceAllString(string(css), ""); regexp.MustCompile(`#[0-9a-fA-F]{3,8}\b|rgb|hsl|url\(|@import`).MatchString(rest) {
		t.Error("a colour or an address beside the list at the top")
	}
}
