package main

import (
	"bytes"
	"context"
	"encoding/xml"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
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
