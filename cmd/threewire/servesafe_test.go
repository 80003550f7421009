package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"threewire/fixtures"
)

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
