package main

import (
	"encoding"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"
)

// A jsonDoc is what DEVELOPERS.md says about one output: paragraphs about all of
// it, and list items that begin with a path, such as `captures[].moves[]`.
type jsonDoc struct {
	all   string
	items map[string]string
}

func readJSONDoc(text string) jsonDoc {
	d := jsonDoc{items: map[string]string{}}
	at := ""
	path := regexp.MustCompile("^- `([a-z_.\\[\\]]+)`")
	for line := range strings.Lines(text) {
		if m := path.FindStringSubmatch(line); m != nil {
			at = m[1]
		} else if strings.TrimSpace(line) == "" {
			at = ""
		}
		d.items[at] += line
	}
	d.all = d.items[""]
	return d
}

// about is the text about a path: that of the nearest item above it.
func (d jsonDoc) about(path string) string {
	for path != "" {
		if s, ok := d.items[path]; ok {
			return d.all + s
		}
		path = path[:max(0, strings.LastIndexByte(path, '.'))]
	}
	s := ""
	for _, item := range d.items {
		s += item
	}
	return s
}

// want demands the names of a type and of all types within it.
func (d jsonDoc) want(t *testing.T, typ reflect.Type, path string, seen map[reflect.Type]bool) {
	for typ.Kind() == reflect.Pointer || typ.Kind() == reflect.Slice {
		if typ.Kind() == reflect.Slice && !strings.HasSuffix(path, "[][]") {
			path += "[]"
		}
		typ = typ.Elem()
	}
	text := reflect.TypeFor[encoding.TextMarshaler]()
	if typ.Kind() != reflect.Struct || typ.Implements(text) || seen[typ] {
		return
	}
	seen[typ] = true
	for i := range typ.NumField() {
		f := typ.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if f.Anonymous && name == "" {
			d.want(t, f.Type, path, seen)
			continue
		}
		if name == "-" || name == "" {
			continue
		}
		if !regexp.MustCompile(`\b` + name + `\b`).MatchString(d.about(path)) {
			t.Errorf("DEVELOPERS.md does not name %q of %q", name, path)
		}
		d.want(t, f.Type, strings.TrimPrefix(path+"."+name, "."), seen)
	}
}

func TestJSONIsDocumented(t *testing.T) {
	b, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, ok := strings.Cut(string(b), "\n## JSON of `check`\n")
	section, _, ok2 := strings.Cut(section, "\n## ")
	check, plan, ok3 := strings.Cut(section, "\n`plan --json` is")
	if !ok || !ok2 || !ok3 {
		t.Fatal("DEVELOPERS.md has no part on JSON")
	}
	named := map[reflect.Type]bool{} // what check names, plan need not again
	readJSONDoc(check).want(t, reflect.TypeFor[jsonReport](), "", named)
	readJSONDoc(plan).want(t, reflect.TypeFor[planJSON](), "", named)
}

func TestBatchRowIsDocumented(t *testing.T) {
	b, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, ok := strings.Cut(string(b), "\n## Batch\n")
	section, _, ok2 := strings.Cut(section, "\n## ")
	_, fields, ok3 := strings.Cut(section, "\nFields of a row")
	fields, columns, ok4 := strings.Cut(fields, "\nCSV columns")
	if !ok || !ok2 || !ok3 || !ok4 {
		t.Fatal("DEVELOPERS.md has no part on the rows of a batch")
	}
	readJSONDoc(fields).want(t, reflect.TypeFor[batchRow](), "", map[reflect.Type]bool{})
	for _, c := range csvColumns(&batchWhole{}) {
		if !strings.Contains(columns, "`"+c.name+"`") {
			t.Errorf("DEVELOPERS.md does not name the column %q", c.name)
		}
	}
}
