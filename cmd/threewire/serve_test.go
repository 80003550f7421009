package main

import (
	"bytes"
	"fmt"
	"net/http"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// What the page says of a capture is what check says, word for word, and its
// JSON the same bytes.
func TestPageSaysWhatCheckSays(t *testing.T) {
	s := startPage(t)
	t.Chdir(demoFolder)
	const spot, healthy, binding, free = "rig3-left-temperature-door-dead-spot.csv", "rig1-left-temperature-door-healthy.csv", "rig8-left-temperature-door-binding.csv", "rig8-left-temperature-door-binding-free.csv"
	for _, c := range []struct {
		args   []string
		fields []field
	}{
		{[]string{spot}, []field{{"capture", spot, ""}}},
		{[]string{healthy}, []field{{"capture", healthy, ""}}},
		{[]string{"rig10-left-temperature-door-cannot-tell-no-motion.csv"}, []field{{"capture", "rig10-left-temperature-door-cannot-tell-no-motion.csv", ""}}},
		{[]string{"rig6-mode-door-gear-slip.csv.gz"}, []field{{"capture", "rig6-mode-door-gear-slip.csv.gz", ""}}},
		{[]string{binding, "--free", free}, []field{{"free", free, ""}, {"capture", binding, ""}}},
		{[]string{"--free", free}, []field{{"free", free, ""}}},
		{[]string{"--before", spot, healthy}, []field{{"capture", healthy, ""}, {"before", spot, ""}}},
		{[]string{binding, "--good-side", healthy, "--reference-volts", "4.9"}, []field{{"capture", binding, ""}, {"volts", "", "4,9"}, {"good", healthy, ""}}},
	} {
		for i := range c.fields {
			if f := &c.fields[i]; f.file != "" {
				f.text = readText(t, f.file)
			}
		}
		_, text, errs := call("", append([]string{"check"}, c.args...)...)
		if errs != "" {
			t.Fatal(errs)
		}
		a := s.upload(c.fields...)
		if a.status != http.StatusOK || !strings.HasPrefix(a.path, "/result/") {
			t.Fatalf("%v: %d at %s\n%s", c.args, a.status, a.path, a.body)
		}
		saysAll(t, a.body, text)
		_, want, _ := call("", append([]string{"check", "--json"}, c.args...)...)
		if got := s.get(a.path + "/result.json"); got.body != want {
			t.Errorf("%v: the JSON differs from that of check", c.args)
		}
		for _, picture := range []string{"/view.svg", "/phone.svg"} {
			if got := s.get(a.path + picture); got.status != http.StatusOK {
				t.Errorf("%v: %s: %d", c.args, picture, got.status)
			}
		}
	}
	if s.err.String() != "" {
		t.Errorf("said %s", s.err)
	}
}

// A shop gives its prices once, and an upload may bring others. The example that
// the page links to can be used as it is.
func TestPagePrices(t *testing.T) {
	example, spot := readText(t, shopPrices), readText(t, demo)
	t.Chdir(t.TempDir())
	put(t, "dear.txt", strings.Replace(example, "labour rate: 80", "labour rate: 800", 1))
	s := startPage(t, "--prices", "dear.txt")
	got := s.get("/prices.txt")
	if got.body != example || !strings.HasPrefix(got.head.Get("Content-Type"), "text/plain") {
		t.Errorf("the example is %q, %s", got.head.Get("Content-Type"), got.body)
	}
	capture := field{"capture", "a.csv", spot}
	if a := s.upload(capture); !strings.Contains(words(t, a.body), "Replace the actuator first EUR 1580 ") || !strings.Contains(a.body, `href="#what-each-choice-costs"`) {
		t.Errorf("by the shop's prices: %s", words(t, a.body))
	}
	put(t, "a.csv", spot)
	put(t, "own.txt", got.body)
	_, text, _ := call("", "check", "--prices", "own.txt", "a.csv")
	_, json, _ := call("", "check", "--prices", "own.txt", "--json", "a.csv")
	a := s.upload(capture, field{"prices", "own.txt", got.body})
	// What each choice costs is a table on the page, and the rest as check says it.
	before, rest, _ := strings.Cut(text, "\nWhat each choice costs")
	costs, after, _ := strings.Cut(rest, "\n\n")
	saysAll(t, a.body, before+"\n"+after)
	first, _, _ := strings.Cut(costs, "\n  - Replace the actuator first")
	for _, want := range []string{strings.ReplaceAll(plainSpace(first), " - ", " "), "Replace the actuator first EUR 212 (parts EUR 60, work 1.9 h) 97 % 1 % EUR 223 (212 to 1317)", "Leave it and wait EUR 0 under 1 % over 99 % EUR 292 (0 to 1387)", "Amounts by the figures in own.txt."} {
		if !strings.Contains(words(t, a.body), strings.TrimPrefix(want, "- ")) {
			t.Errorf("the page lacks %q:\n%s", want, words(t, a.body))
		}
	}
	if s.get(a.path+"/result.json").body != json || !strings.Contains(json, "repair_choice") {
		t.Error("the JSON differs from that of check")
	}
}

// Everything that can be had of a result is there, whole, of its kind, and
// carries a policy.
func TestPageOutputs(t *testing.T) {
	dir := t.TempDir()
	shop := filepath.Join(dir, "shop.txt")
	put(t, shop, "shop: Millbrook Technical College\n")
	s := startPage(t, "--settings", shop)
	a := s.upload(field{"capture", "../left door.csv", drawCSV()})
	for _, c := range []struct{ name, magic, kind, file string }{
		{"view.svg", "<?xml", "image/svg+xml", ""},
		{"phone.svg", "<?xml", "image/svg+xml", ""},
		{"picture.svg", "<?xml", "image/svg+xml", "left-door.svg"},
		{"picture.png", "\x89PNG", "image/png", "left-door.png"},
		{"picture.pdf", "%PDF", "application/pdf", "left-door.pdf"},
		{"report.pdf", "%PDF", "application/pdf", "left-door-report.pdf"},
		{"report.html", "<!DOCTYPE html>", "text/html; charset=utf-8", ""},
		{"result.json", "{", "application/json", "left-door.json"},
	} {
		got := s.get(a.path + "/" + c.name)
		if got.status != http.StatusOK || !strings.HasPrefix(got.body, c.magic) || got.head.Get("Content-Type") != c.kind {
			t.Errorf("%s: %d, %q, begins %.20q", c.name, got.status, got.head.Get("Content-Type"), got.body)
		}
		if at := got.head.Get("Content-Disposition"); c.file == "" && at != "" || c.file != "" && at != "attachment; filename="+c.file {
			t.Errorf("%s: Content-Disposition %q", c.name, at)
		}
		if csp := got.head.Get("Content-Security-Policy"); !strings.HasPrefix(csp, "default-src 'none'") {
			t.Errorf("%s: policy %q", c.name, csp)
		}
		if c.name == "report.html" && (!strings.Contains(got.body, "Millbrook Technical College") || !strings.Contains(got.body, fmt.Sprint(time.Now().Year()))) {
			t.Error("the report lacks the shop or the date")
		}
	}
	if got := s.get(a.path + "/report.html?job=order+12,%0A+left+door"); !strings.Contains(got.body, "order 12, left door") {
		t.Error("the report lacks the job that the form sent")
	}
	if got := s.get(a.path + "/report.html?job=" + strings.Repeat("x", 4000)); strings.Contains(got.body, strings.Repeat("x", longestJob+1)) {
		t.Error("the job has no bound")
	}
	// At the top, with the field for it.
	body := s.get(a.path).body
	if job, picture := strings.Index(body, `name="job"`), strings.Index(body, "<figure>"); job < 0 || job > picture || strings.Index(body, "report.pdf") > picture {
		t.Errorf("the report's form is not above the picture: %d, %d", job, picture)
	}
	for _, path := range []string{a.path + "/picture.gif", "/result/" + strings.Repeat("A", 26), "/result/x/view.svg", "/nowhere", a.path + "/columns/9", a.path + "/columns/x"} {
		if got := s.get(path); got.status != http.StatusNotFound || !strings.Contains(words(t, got.body), "start page") {
			t.Errorf("%s: %d", path, got.status)
		}
	}
}

// twoDrives is a capture with two columns that could both be the drive.
func twoDrives() string {
	var b strings.Builder
	b.WriteString("time,CH1 <b>,CH2,CH3\n")
	for _, line := range strings.Split(strings.TrimSpace(drawCSV()), "\n")[1:] {
		c := strings.Split(line, ",")
		on := strings.Replace(c[1], "-12.00", "0.00", 1)
		fmt.Fprintf(&b, "%s,%s,%s,%s\n", c[0], on, on, c[2])
	}
	return b.String()
}

// Two columns that could be the same thing are asked for, with the message of
// check; the file goes on without a second upload.
func TestPageAsksForColumns(t *testing.T) {
	s := startPage(t)
	t.Chdir(t.TempDir())
	put(t, "odd.csv", twoDrives())
	_, _, errs := call("", "check", "odd.csv")
	message := plainSpace(pageWords(strings.TrimPrefix(errs, "threewire check: ")))
	if !strings.Contains(message, "could both be the drive") {
		t.Fatalf("check says %q", errs)
	}
	a := s.upload(field{"capture", "odd.csv", twoDrives()})
	if a.status != http.StatusOK || !strings.Contains(words(t, a.body), message) {
		t.Errorf("%d: the page lacks %q:\n%s", a.status, message, a.body)
	}
	if !strings.Contains(a.body, "CH1 &lt;b&gt;") || strings.Contains(a.body, "CH1 <b>") {
		t.Error("a header word was not escaped")
	}
	send := func(choice string) answer {
		return s.send("POST", a.path+"/columns/0", "application/x-www-form-urlencoded", strings.NewReader(choice))
	}
	for choice, want := range map[string]string{
		"role-2=drive&role-3=drive":           "columns 2 and 3 are both chosen as “Motor drive”",
		"role-2=drive&factor-2=ten":           `column 2: the factor is "ten"`,
		"factor-2=10":                         "column 2 has a factor: choose also what it is",
		"role-2=gearbox":                      `"gearbox" is no choice of the form`,
		"role-2=drive&rate=fast":              "“Readings per second” is \"fast\"",
		"role-2=lead-a":                       "“Motor lead A” and “Motor lead B” together",
		"role-2=drive&rate=-5":                "expected a positive sample rate",
		"role-3=" + strings.Repeat("x", 5000): "is no choice of the form",
	} {
		if got := send(choice); got.status != http.StatusUnprocessableEntity || !strings.Contains(words(t, got.body), want) {
			t.Errorf("%.40s: %d, lacks %q:\n%s", choice, got.status, want, words(t, got.body))
		}
	}
	if got := s.get(a.path + "/view.svg"); got.status != http.StatusNotFound || !strings.Contains(got.body, "what its columns are") {
		t.Errorf("the picture of a capture that was not judged: %d", got.status)
	}
	got := send("role-2=drive&factor-2=1%2C0&role-4=feedback&role-99=drive")
	_, text, errs := call("", "check", "--drive", "2", "--feedback", "4", "--scale", "drive=1.0", "odd.csv")
	if got.status != http.StatusOK || got.path != a.path || errs != "" {
		t.Fatalf("%d at %s: %s\n%s", got.status, got.path, errs, words(t, got.body))
	}
	saysAll(t, got.body, text)
	// The form can be had again, with what was chosen.
	again := s.get(a.path + "/columns/0")
	if words(t, again.body); !strings.Contains(again.body, `<option value="feedback" selected="selected">`) || !strings.Contains(again.body, `value="1,0"`) {
		t.Errorf("the form forgot the choices:\n%s", again.body)
	}
}

// Choices for one file hold for the others with the same columns.
func TestPageGivesChoicesToFilesAlike(t *testing.T) {
	s := startPage(t)
	other := strings.Replace(twoDrives(), "\n0.05,", "\n0.050,", 1)
	a := s.upload(field{"capture", "odd.csv", twoDrives()}, field{"before", "odd.csv", other})
	got := s.send("POST", a.path+"/columns/0", "application/x-www-form-urlencoded", strings.NewReader("role-2=drive&role-4=feedback"))
	if said := words(t, got.body); got.status != http.StatusOK || !strings.Contains(said, "odd.csv (before), before the repair") {
		t.Errorf("%d: %s", got.status, said)
	}
}

// Many at once, on one result and on several (for the race detector).
func TestPageManyAtOnce(t *testing.T) {
	s := startPage(t)
	a := s.upload(field{"capture", "a.csv", drawCSV()})
	odd := s.upload(field{"capture", "odd.csv", twoDrives()})
	var wg sync.WaitGroup
	for i := range 6 {
		wg.Go(func() {
			for _, o := range []string{"", "/view.svg", "/phone.svg", "/report.html", "/result.json", "/columns/0"} {
				if got := s.get(a.path + o); got.status != http.StatusOK {
					t.Errorf("%s: %d", o, got.status)
				}
			}
			s.send("POST", odd.path+"/columns/0", "application/x-www-form-urlencoded", strings.NewReader([]string{"role-2=drive", "role-2=drive&role-3=drive"}[i%2]))
			s.get(odd.path + "/view.svg")
			if got := s.upload(field{"capture", fmt.Sprintf("%d.csv", i), drawCSV()}); got.status != http.StatusOK {
				t.Errorf("upload %d: %d", i, got.status)
			}
		})
	}
	wg.Wait()
}

// The form as a browser sends it: empty file fields have no name.
func TestPageTakesEmptyFields(t *testing.T) {
	s := startPage(t)
	var b bytes.Buffer
	const edge = "x1x"
	for _, f := range [][2]string{{`name="capture"; filename="a.csv"`, drawCSV()}, {`name="free"; filename=""`, ""}, {`name="profile"; filename=""`, ""}, {`name="volts"`, ""}} {
		fmt.Fprintf(&b, "--%s\r\nContent-Disposition: form-data; %s\r\n\r\n%s\r\n", edge, f[0], f[1])
	}
	fmt.Fprintf(&b, "--%s--\r\n", edge)
	if got := s.send("POST", "/", "multipart/form-data; boundary="+edge, &b); got.status != http.StatusOK || !strings.HasPrefix(got.path, "/result/") {
		t.Errorf("%d at %s", got.status, got.path)
	}
}
