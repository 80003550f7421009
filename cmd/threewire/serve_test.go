package main

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"threewire/fixtures"
)

// lines hands over what is written to it line by line.
type lines struct {
	mu  sync.Mutex
	all bytes.Buffer
	out chan string
}

func (l *lines) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.all.Write(p)
	select {
	case l.out <- string(p):
	default:
	}
	return len(p), nil
}

func (l *lines) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.all.String()
}

// served is a page that runs as a user would run it.
type served struct {
	t        *testing.T
	url      string
	temp     string // its folder for temporary files
	out, err *lines
	end      func() (code int)
}

var addressLine = regexp.MustCompile(`http://[^/ ]+/`)

// startPage runs threewire serve on a free port until the test ends.
func startPage(t *testing.T, args ...string) *served {
	t.Helper()
	s := &served{t: t, temp: t.TempDir(), out: &lines{out: make(chan string, 1)}, err: &lines{}}
	t.Setenv("TMPDIR", s.temp)
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan int, 1)
	go func() {
		done <- run(ctx, append([]string{"serve", "--listen", "127.0.0.1:0"}, args...), nil, s.out, s.err)
	}()
	s.end = sync.OnceValue(func() int { cancel(); return <-done })
	t.Cleanup(func() { s.end() })
	select {
	case line := <-s.out.out:
		s.url = addressLine.FindString(line)
	case code := <-done:
		done <- code
		t.Fatalf("ended with %d: %s", code, s.err)
	}
	return s
}

// field is one part of an upload; without a name it is text.
type field struct{ name, file, text string }

// form is the body of an upload.
func form(t *testing.T, fields ...field) (body *bytes.Buffer, kind string) {
	t.Helper()
	body = &bytes.Buffer{}
	w := multipart.NewWriter(body)
	for _, f := range fields {
		var part io.Writer
		var err error
		if f.file == "" {
			part, err = w.CreateFormField(f.name)
		} else {
			part, err = w.CreateFormFile(f.name, f.file)
		}
		if err != nil {
			t.Fatal(err)
		}
		io.WriteString(part, f.text)
	}
	w.Close()
	return body, w.FormDataContentType()
}

// answer is a page as it came.
type answer struct {
	status int
	head   http.Header
	body   string
	path   string // after redirections
}

// send sends a request with more headers, as "Name: value".
func (s *served) send(method, path, kind string, body io.Reader, headers ...string) answer {
	s.t.Helper()
	r, err := http.NewRequest(method, s.url+strings.TrimPrefix(path, "/"), body)
	if err != nil {
		s.t.Fatal(err)
	}
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	for _, h := range headers {
		name, value, _ := strings.Cut(h, ": ")
		if name == "Host" {
			r.Host = value
		}
		r.Header.Set(name, value)
	}
	res, err := http.DefaultClient.Do(r)
	if err != nil {
		s.t.Fatal(err)
	}
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	return answer{res.StatusCode, res.Header, string(b), res.Request.URL.Path}
}

func (s *served) get(path string) answer { s.t.Helper(); return s.send("GET", path, "", nil) }

// upload sends files and follows to the result.
func (s *served) upload(fields ...field) answer {
	s.t.Helper()
	body, kind := form(s.t, fields...)
	return s.send("POST", "/", kind, body)
}

// left are the files in the page's folder for temporary files.
func (s *served) left() (out []string) {
	filepath.WalkDir(s.temp, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			out = append(out, path)
		}
		return nil
	})
	return out
}

// words are the words of a page, as read aloud; a page that is no clean XHTML
// fails the test, and so does a control without a label.
func words(t *testing.T, page string) string {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(page))
	d.Strict = true
	var b strings.Builder
	labels, controls := map[string]bool{}, map[string]bool{}
	skip := 0
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, page)
		}
		switch x := tok.(type) {
		case xml.StartElement:
			b.WriteByte(' ')
			attr := map[string]string{}
			for _, a := range x.Attr {
				if _, twice := attr[a.Name.Local]; twice {
					t.Errorf("<%s> has %s twice", x.Name.Local, a.Name.Local)
				}
				attr[a.Name.Local] = a.Value
			}
			switch x.Name.Local {
			case "label":
				labels[attr["for"]] = true
			case "input", "select":
				controls[attr["id"]] = true
			case "img":
				if attr["alt"] == "" {
					t.Errorf("a picture without words: %v", attr)
				}
			case "title":
				skip++
			}
			if attr["style"] != "" || attr["onclick"] != "" {
				t.Errorf("<%s> has style or script that the policy forbids", x.Name.Local)
			}
		case xml.EndElement:
			if x.Name.Local == "title" {
				skip--
			}
			b.WriteByte(' ')
		case xml.CharData:
			if skip == 0 {
				b.Write(x)
			}
		}
	}
	for id := range controls {
		if !labels[id] {
			t.Errorf("the control %q has no label", id)
		}
	}
	return plainSpace(b.String())
}

func plainSpace(s string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(s, "\u00a0", " ")), " ")
}

// saysAll fails where a page lacks a section of a text that check printed.
func saysAll(t *testing.T, page, text string) {
	t.Helper()
	said := words(t, page)
	bullet := regexp.MustCompile(`(?m)^  - `)
	for _, section := range strings.Split(strings.TrimSpace(text), "\n\n") {
		want := plainSpace(pageWords(plainSpace(bullet.ReplaceAllString(section, " "))))
		if !strings.Contains(said, want) {
			t.Errorf("the page lacks\n%s", want)
		}
	}
}

func readText(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

const demoFolder = "../../fixtures/captures/"

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

// What cannot be judged is answered with the place and the way out, and leaves
// no file behind.
func TestPageRefuses(t *testing.T) {
	s := startPage(t, "--largest", "1")
	ragged := "time,drive,feedback\n" + strings.Repeat("1,12,3\n", 50) + "1,12\n" + strings.Repeat("1,12,3\n", 50)
	good := field{"capture", "a.csv", drawCSV()}
	for name, c := range map[string]struct {
		fields []field
		status int
		want   string
	}{
		"ragged":               {[]field{{"capture", "ragged.csv", ragged}}, 422, "ragged.csv:52"},
		"empty":                {[]field{{"capture", "e.csv", ""}}, 422, "e.csv: the file is empty"},
		"picture":              {[]field{{"capture", "p.png", "\x89PNG\r\n\x1a\n0000"}}, 422, "a PNG picture"},
		"prose":                {[]field{{"capture", "prose.txt", "the door clicks\nand hunts\n"}}, 422, "prose.txt:1"},
		"no file":              {[]field{{"volts", "", "5"}}, 422, "No capture was chosen"},
		"only before":          {[]field{{"before", "a.csv", drawCSV()}}, 422, "No capture was chosen"},
		"same twice":           {[]field{good, {"free", "b.csv", drawCSV()}}, 422, "a.csv and b.csv are the same recording"},
		"swapped":              {[]field{{"capture", "a-free.csv", drawCSV()}, {"free", "a.csv", drawCSV() + "99,0,1\n"}}, 422, "a-free.csv is uncoupled by its name"},
		"second is bad":        {[]field{good, {"before", "b.csv", ragged}}, 422, "b.csv:52"},
		"supply":               {[]field{good, {"volts", "", "five"}}, 422, `“Sensor supply” is "five"`},
		"profile":              {[]field{good, {"profile", "x.profile", "threewire actuator profile 1\nlow stop: many\n"}}, 422, "x.profile:2:"},
		"large profile":        {[]field{good, {"profile", "x.profile", strings.Repeat("#\n", 600_000)}}, 422, "x.profile: longer than a megabyte"},
		"prices":               {[]field{good, {"prices", "shop.txt", "labour rate: 80\nlabour rate: 90\n"}}, 422, `shop.txt:2:1: found "labour rate", expected each line once; it stands in line 1 already`},
		"prices for a capture": {[]field{{"capture", "shop.txt", fixtures.ShopPrices()}}, 422, `shop.txt is no capture (prices): expected the CSV file that a scope or a logger saved; prices go with “Prices”`},
		"no prices":            {[]field{good, {"prices", "shop.txt", "# none yet\n"}}, 422, `shop.txt: expected lines such as "labour rate: 80"`},
		"empty profile":        {[]field{good, {"profile", "x.profile", ""}}, 422, "x.profile"},
		"too large":            {[]field{{"capture", "big.csv", strings.Repeat("1,12,3\n", 500_000)}}, 413, "The upload is larger than 1 MB. Pack the file with gzip"},
		"many parts":           {make([]field, mostParts+1), 400, fmt.Sprintf("more than %d files", mostParts)},
		"too large, two":       {[]field{{"capture", "a.csv", strings.Repeat("1,12,3\n", 80_000)}, {"free", "b.csv", strings.Repeat("1,12,4\n", 80_000)}}, 413, "larger than 1 MB"},
	} {
		got := s.upload(c.fields...)
		if said := words(t, got.body); got.status != c.status || !strings.Contains(said, c.want) {
			t.Errorf("%s: %d, wanted %d and %q:\n%s", name, got.status, c.status, c.want, said)
		}
		if left := s.left(); len(left) > 0 {
			t.Errorf("%s: left %v behind", name, left)
		}
	}
	if got := s.send("POST", "/", "text/plain", strings.NewReader("x")); got.status != http.StatusBadRequest {
		t.Errorf("no form at all: %d", got.status)
	}
	body, kind := form(t, good)
	if got := s.send("POST", "/", kind, io.LimitReader(body, 1000)); got.status != http.StatusBadRequest || !strings.Contains(got.body, "broke off") {
		t.Errorf("half an upload: %d", got.status)
	}
	if left := s.left(); len(left) > 0 {
		t.Errorf("left %v behind", left)
	}
}

// Names come from outside: none becomes markup, a path or a header.
func TestPageEscapesNames(t *testing.T) {
	s := startPage(t)
	for _, name := range []string{`<script>alert(1)</script>.csv`, `"><img src=x onerror=alert(1)>.csv`, `..\..\boot.csv`, "a\u202e\tb.csv", strings.Repeat("long", 80) + ".csv", "--drive 2.csv"} {
		a := s.upload(field{"capture", name, drawCSV()})
		said := words(t, a.body)
		if a.status != http.StatusOK || strings.Contains(a.body, "<script>alert") || strings.Contains(a.body, "<img src=x") || !strings.Contains(said, "NO FAULT FOUND") {
			t.Errorf("%q: %d\n%s", name, a.status, a.body)
		}
		if got := s.get(a.path + "/report.html"); strings.Contains(got.body, "<script") || strings.Contains(got.body, "<img") {
			t.Errorf("%q: markup in the report", name)
		}
		if got := s.get(a.path + "/picture.pdf").head.Get("Content-Disposition"); !regexp.MustCompile(`^attachment; filename="?[A-Za-z0-9._-]+\.pdf"?$`).MatchString(got) {
			t.Errorf("%q: %s", name, got)
		}
	}
	for _, path := range s.left() {
		if filepath.Dir(filepath.Dir(filepath.Dir(path))) != s.temp {
			t.Errorf("stored at %s", path)
		}
	}
}

// Foreign names and foreign pages are refused; the page's own are not.
func TestPageIsForItsOwn(t *testing.T) {
	s := startPage(t)
	port := s.url[strings.LastIndex(s.url, ":") : len(s.url)-1]
	for host, want := range map[string]int{
		"127.0.0.1" + port: 200, "localhost" + port: 200, "LOCALHOST" + port: 200, "[::1]" + port: 200,
		"127.0.0.1": 403, "localhost:1": 403, "door.example" + port: 403, "10.0.0.1" + port: 403, "localhost.door.example" + port: 403,
	} {
		if got := s.send("GET", "/", "", nil, "Host: "+host); got.status != want {
			t.Errorf("Host %s: %d, wanted %d", host, got.status, want)
		}
	}
	for _, c := range []struct {
		headers []string
		want    int
	}{
		{nil, 200}, // a program, not a browser
		{[]string{"Origin: http://127.0.0.1" + port}, 200},
		{[]string{"Origin: http://127.0.0.1" + port, "Sec-Fetch-Site: same-origin"}, 200},
		{[]string{"Origin: http://door.example"}, 403},
		{[]string{"Origin: null"}, 403},
		{[]string{"Origin: http://localhost:1"}, 403},
		{[]string{"Sec-Fetch-Site: cross-site"}, 403},
		{[]string{"Sec-Fetch-Site: same-site", "Origin: http://127.0.0.1" + port}, 403},
	} {
		body, kind := form(t, field{"capture", "a.csv", drawCSV()})
		if got := s.send("POST", "/", kind, body, c.headers...); got.status != c.want {
			t.Errorf("%q: %d, wanted %d", c.headers, got.status, c.want)
		}
	}
	a := s.get("/")
	for name, want := range map[string]string{
		"Content-Security-Policy": "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
		"X-Content-Type-Options":  "nosniff", "Cache-Control": "no-store", "Referrer-Policy": "same-origin", "Set-Cookie": "",
	} {
		if got := a.head.Get(name); got != want {
			t.Errorf("%s: %q", name, got)
		}
	}
	// Nothing on the page comes from elsewhere.
	for _, path := range []string{"/", "/page.css", "/page.js", "/icon.svg"} {
		got := s.get(path)
		if text := strings.ReplaceAll(got.body, "http://www.w3.org/2000/svg", ""); got.status != 200 || strings.Contains(text, "//") && strings.Contains(text, "http") {
			t.Errorf("%s: %d, or an address of elsewhere", path, got.status)
		}
	}
	if got := s.send("DELETE", "/", "", nil); got.status != http.StatusNotFound && got.status != http.StatusMethodNotAllowed {
		t.Errorf("DELETE: %d", got.status)
	}
}

// The end of the page is prompt, clean and no error, even amid an upload.
func TestPageEnds(t *testing.T) {
	s := startPage(t)
	s.upload(field{"capture", "a.csv", drawCSV()})
	if len(s.left()) != 1 {
		t.Errorf("kept %v, expected the upload", s.left())
	}
	info, err := os.Stat(s.left()[0])
	dir, err2 := os.Stat(filepath.Dir(filepath.Dir(s.left()[0])))
	if err = errors.Join(err, err2); err != nil || info.Mode().Perm() != 0o600 || dir.Mode().Perm() != 0o700 {
		t.Errorf("the upload is not for its owner alone: %v, %v, %v", info.Mode(), dir.Mode(), err)
	}
	conn, err := net.Dial("tcp", strings.Trim(s.url, "htp:/"))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	body, kind := form(t, field{"capture", "b.csv", drawCSV()})
	fmt.Fprintf(conn, "POST / HTTP/1.1\r\nHost: %s\r\nContent-Type: %s\r\nContent-Length: %d\r\n\r\n", strings.Trim(s.url, "htp:/"), kind, body.Len())
	conn.Write(body.Bytes()[:body.Len()/2])
	for wait := time.Now(); len(s.left()) < 2; time.Sleep(5 * time.Millisecond) {
		if time.Since(wait) > 5*time.Second {
			t.Fatal("the upload did not begin")
		}
	}
	// A browser opens connections before it needs them.
	silent, err := net.Dial("tcp", strings.Trim(s.url, "htp:/"))
	if err != nil {
		t.Fatal(err)
	}
	defer silent.Close()
	from := time.Now()
	if code := s.end(); code != 0 || time.Since(from) > 3*time.Second {
		t.Errorf("ended with %d after %v", code, time.Since(from))
	}
	if all, err := os.ReadDir(s.temp); err != nil || len(all) > 0 {
		t.Errorf("left %v behind (%v)", all, err)
	}
	if n := strings.Count(s.out.String(), "\n"); n != 1 || s.err.String() != "" {
		t.Errorf("printed %d lines, and said %q", n, s.err)
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

// Wrong use says what to do and ends with 2.
func TestServeWrongUse(t *testing.T) {
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer ln.Close()
	temp := t.TempDir()
	t.Setenv("TMPDIR", temp)
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--listen", ln.Addr().String()}, "--listen 127.0.0.1:0"},
		{[]string{"--listen", "8080"}, "expected ADDRESS:PORT"},
		{[]string{"--largest", "0"}, "--largest 0"},
		{[]string{"--settings", filepath.Join(temp, "none.txt")}, "none.txt"},
		{[]string{"a.csv"}, "captures are given on the page"},
		{[]string{"--port", "1"}, "unknown flag --port"},
	} {
		code, out, errs := call("", append([]string{"serve"}, c.args...)...)
		if code != exitUsage || out != "" || !strings.Contains(errs, c.want) || strings.Count(errs, "\n") != 1 {
			t.Errorf("%q ended with %d, printed %q and said %q", c.args, code, out, errs)
		}
	}
	if all, _ := os.ReadDir(temp); len(all) > 0 {
		t.Errorf("left %v behind", all)
	}
}

// An address that others can reach comes with a warning.
func TestServeWarnsOfTheNetwork(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel() // ends at once
	var out, errs bytes.Buffer
	if code := run(ctx, []string{"serve", "--listen", "0.0.0.0:0"}, nil, &out, &errs); code != 0 {
		t.Errorf("ended with %d: %s", code, &errs)
	}
	if !strings.Contains(errs.String(), "everybody in the network") || !strings.Contains(out.String(), "open http://") {
		t.Errorf("said %q and %q", &errs, &out)
	}
	out.Reset()
	errs.Reset()
	if run(ctx, []string{"serve", "--listen", "localhost:0"}, nil, &out, &errs); errs.Len() > 0 {
		t.Errorf("said %q of this computer alone", &errs)
	}
}

// The names a page answers to.
func TestHosts(t *testing.T) {
	at := func(s string) net.Addr { a, _ := net.ResolveTCPAddr("tcp", s); return a }
	for _, c := range []struct {
		given, addr, url string
		local            bool
		yes, no          string
	}{
		{"127.0.0.1:80", "127.0.0.1:80", "http://127.0.0.1:80/", true, "127.0.0.1", "127.0.0.1:8080"},
		{"127.0.0.1:9", "127.0.0.1:9", "http://127.0.0.1:9/", true, "localhost:9", "127.0.0.2:9"},
		{"127.0.0.2:9", "127.0.0.2:9", "http://127.0.0.2:9/", true, "127.0.0.2:9", "0.0.0.0:9"},
		{"[::1]:9", "[::1]:9", "http://[::1]:9/", true, "[::1]:9", "[::2]:9"},
		{"bench:9", "10.0.0.7:9", "http://10.0.0.7:9/", false, "BENCH:9", "10.0.0.8:9"},
		{":9", "[::]:9", "", false, "10.1.2.3:9", "door.example:9"},
		{"0.0.0.0:9", "0.0.0.0:9", "", false, "localhost:9", "10.1.2.3.example:9"},
	} {
		h := hostsOf(c.given, at(c.addr))
		if h.local != c.local || c.url != "" && h.url() != c.url || !h.has(c.yes) || h.has(c.no) || h.has("") {
			t.Errorf("%s: %+v, url %s, %s %v, %s %v", c.given, h, h.url(), c.yes, h.has(c.yes), c.no, h.has(c.no))
		}
	}
}

// Uploaded names are made harmless.
func TestFileName(t *testing.T) {
	for in, want := range map[string]string{
		"a.csv": "a.csv", "": "capture.csv", "..": "capture.csv", `C:\logs\a.csv`: "a.csv", "/etc/passwd": "passwd",
		"a\x00\n\u202eb.csv": "ab.csv", "  x .csv ": "x .csv", "täst.csv": "täst.csv", "\xff.csv": ".csv",
		strings.Repeat("x", 300) + ".csv": strings.Repeat("x", 96) + ".csv",
	} {
		if got := fileName(in); got != want {
			t.Errorf("%q became %q, wanted %q", in, got, want)
		}
	}
}

func FuzzFileName(f *testing.F) {
	for _, s := range []string{"a.csv", `..\x`, "\xff\u202e", strings.Repeat("ä", 200)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		name := fileName(s)
		if name == "" || len([]rune(name)) > 100 || strings.ContainsAny(name, "/\\\x00\n\r") || name == ".." {
			t.Errorf("%q became %q", s, name)
		}
		if plain := plainName(name); strings.Trim(plain, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._-") != "" {
			t.Errorf("%q became %q", s, plain)
		}
		pageWords(s)
	})
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
