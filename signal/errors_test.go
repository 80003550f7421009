package signal

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"testing"
)

const threeCols = "time,drive,feedback\n"

// fewGoodRows are rows that read well by themselves.
func goodRows(n int) string {
	return newRec(n, 0.02).rows(plainRow)
}

// A message must name the place, what is wrong and, where there is one, the
// flag that helps.
func TestErrorsSayWhereAndWhat(t *testing.T) {
	two := newRec(60, 0.02)
	for _, c := range []struct {
		name, text string
		o          Options
		want       []string // parts of the message
	}{
		{"empty", "", Options{}, []string{"x.csv: ", "empty"}},
		{"only blanks", " \n\n \n", Options{}, []string{"empty"}},
		{"no numbers", "once upon a time\nthere was a door\n", Options{}, []string{"x.csv:1: ", "no column of numbers", `"once upon a time"`}},
		{"one column", "1.5\n2.5\n3.5\n", Options{}, []string{"x.csv: ", "only one column"}},
		{"names only", "time,drive,feedback\n", Options{}, []string{"x.csv:1: ", "named, but no readings follow"}},
		{"names only under a preamble", "bench scope\n\nTime (s);CH1 drive;CH2 wiper\n", Options{}, []string{"x.csv:3: ", "named, but no readings follow"}},
		{"png", "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", Options{}, []string{"x.csv: is a PNG picture", "CSV"}},
		{"text for reading", strings.Repeat("The door of the left side clicks and hunts at one end.\n", 20) + "- 12, 13, 14\n", Options{}, []string{"x.csv: is a text for reading", "not a capture"}},
		{"pdf without zeros", "%PDF-1.7\n1 0 obj\n12 13 14\n", Options{}, []string{"x.csv: is a PDF document", "CSV"}},
		{"web page", "\n <!DOCTYPE HTML>\n<html><body>1,2,3</body></html>", Options{}, []string{"x.csv: is a web page", "CSV"}},
		{"xml", "<?xml version=\"1.0\"?><a>1</a>", Options{}, []string{"x.csv: is an XML file"}},
		{"json", "{\n  \"time\": [0, 1, 2],\n  \"drive\": [1, 2, 3]\n}\n", Options{}, []string{"x.csv: is a JSON file"}},
		{"json list", "[\n {\"time\": 0}, {\"time\": 1}]", Options{}, []string{"x.csv: is a JSON file"}},
		{"zip", "PK\x03\x04\x14\x00\x00\x00\x08\x00capture.csv", Options{}, []string{"x.csv: is a ZIP archive", "unpack"}},
		{"workbook", "PK\x03\x04\x14\x00\x00\x00\x08\x00[Content_Types].xml", Options{}, []string{"x.csv: is a spreadsheet workbook", "save the sheet"}},
		{"packed tar", inGzip(strings.Repeat("a", 257) + "ustar\x0000" + strings.Repeat("\x00", 300)), Options{}, []string{"x.csv: is a tar archive", "unpack"}},
		{"feedback only", "time,feedback\n" + two.rows(func(i int, t, d, v float64) string {
			f := strings.Split(plainRow(i, t, d, v), ",")
			return f[0] + "," + f[2]
		}),
			Options{}, []string{"no motor drive in this file, only", `column 2 "feedback" (feedback)`, "both motor leads", "--drive"}},
		{"drive only", "time,drive\n" + two.rows(func(i int, t, d, v float64) string {
			f := strings.Split(plainRow(i, t, d, v), ",")
			return f[0] + "," + f[1]
		}),
			Options{}, []string{"no wiper feedback in this file, only", `column 2 "drive" (drive)`, "feedback wire", "--feedback"}},
		{"time and one column", "time,feedback\n" + strings.ReplaceAll(goodRows(60), ",0.00,", ","), Options{}, []string{"drive", "--drive"}},
		{"ragged row", threeCols + goodRows(60) + "1.2,3\n" + goodRows(3), Options{}, []string{"x.csv:62:3: ", "found 2 cells, expected 3"}},
		{"too many cells", threeCols + goodRows(60) + "1.2,3,4,5\n" + goodRows(3), Options{}, []string{"x.csv:62:4: ", "found 4 cells, expected 3"}},
		{"malformed number", threeCols + goodRows(60) + "1.2,1.2.3,4\n" + "1.22,1,4\n", Options{}, []string{"x.csv:62:2: ", `found "1.2.3"`, "expected a number"}},
		{"text among data", threeCols + goodRows(60) + "the door stuck here\n" + "1.22,1,4\n", Options{}, []string{"x.csv:62", "found 1 cells, expected 3"}},
		{"open quote", threeCols + goodRows(60) + "1.2,\"3,4\n" + "1.22,1,4\n", Options{}, []string{"x.csv:62", "quote is never closed"}},
		{"time backwards", threeCols + goodRows(60) + "1.3,1,4\n1.1,1,4\n1.2,1,4\n", Options{}, []string{"x.csv:63:1: ", "time runs backwards, from 1.3 to 1.1", "--time"}},
		{"word for a time", threeCols + goodRows(60) + "later,1,4\n1.3,1,4\n", Options{}, []string{"x.csv:62:1: ", `found "later"`, "--time"}},
		{"two drives", "time,a,b,feedback\n" + two.rows(func(i int, t, d, v float64) string {
			return strings.Replace(plainRow(i, t, d, v), ",", ","+word(d, "-12", "12", "0")+",", 1)
		}), Options{}, []string{`column 2 "a"`, `column 3 "b"`, "could both be the drive", "--drive 2", "--drive 3", "--lead-a 2 --lead-b 3"}},
		{"two feedbacks named alike", "time,drive,wiper 1,wiper 2\n" + two.rows(func(i int, t, d, v float64) string {
			return plainRow(i, t, d, v) + "," + plainRow(i, 0, 0, v)[11:]
		}), Options{}, []string{`column 3 "wiper 1"`, `column 4 "wiper 2"`, "could both be the feedback", "--feedback 3", "--feedback 4"}},
		{"counts rows or seconds", "n,drive,feedback\n" + two.rows(func(i int, t, d, v float64) string {
			return plainRow(i, float64(i), d, v)[:strings.IndexByte(plainRow(i, float64(i), d, v), '.')] + plainRow(i, float64(i), d, v)[strings.IndexByte(plainRow(i, float64(i), d, v), ','):]
		}), Options{}, []string{`column 1 "n"`, "may also be seconds", "--rate HZ"}},
		{"flag names no column", threeCols + goodRows(60), Options{Roles: map[Role]string{Feedback: "wiper"}}, []string{`--feedback "wiper"`, "no column has this name", `1 "time", 2 "drive", 3 "feedback"`}},
		{"flag number too high", threeCols + goodRows(60), Options{Roles: map[Role]string{Feedback: "4"}}, []string{"--feedback 4", "no column 4", "columns 1..3"}},
		{"flag number zero", threeCols + goodRows(60), Options{Roles: map[Role]string{TimeRole: "0"}}, []string{"--time 0", "no column 0"}},
		{"one column twice", threeCols + goodRows(60), Options{Roles: map[Role]string{Drive: "2", Feedback: "drive"}}, []string{"two roles", "--drive", "--feedback"}},
		{"flag names text", "time,remark,drive,feedback\n" + two.rows(func(i int, t, d, v float64) string { return strings.Replace(plainRow(i, t, d, v), ",", ",ok,", 1) }),
			Options{Roles: map[Role]string{Supply: "remark"}}, []string{"--supply remark", "no numbers"}},
		{"name twice", "time,v,v\n" + goodRows(60), Options{Roles: map[Role]string{Drive: "v"}}, []string{"columns 2 and 3 both have this name", "number"}},
		{"negative rate", threeCols + goodRows(60), Options{Rate: -5}, []string{"--rate", "-5 Hz", "positive"}},
		{"zero scale", threeCols + goodRows(60), Options{Scale: map[Role]float64{Drive: 0}}, []string{"--scale", "drive=0"}},
		{"a factor no unit has", threeCols + goodRows(60), Options{Scale: map[Role]float64{TimeRole: 1e300}}, []string{"--scale", "time=1e+300", "1e-12 to 1e12"}},
		{"drive and leads", threeCols + goodRows(60), Options{Roles: map[Role]string{Drive: "2", LeadA: "2", LeadB: "3"}}, []string{"--drive", "--lead-a"}},
		{"one lead only", threeCols + goodRows(60), Options{Roles: map[Role]string{LeadA: "2"}}, []string{"--lead-a and --lead-b together"}},
		{"long line", strings.Repeat("abcdefgh", 1_250_000), Options{}, []string{"x.csv:1: ", "longer than 1 MB"}},
		{"long line of digits", threeCols + goodRows(60) + strings.Repeat("1", 10_000_000), Options{}, []string{"x.csv:62: ", "longer than 1 MB"}},
		{"binary", "\x7fELF\x02\x01\x01\x00\x00\x00\x00\x00\x00\x00" + strings.Repeat("\x01\x00\x03", 100), Options{}, []string{"binary file"}},
		{"cut gzip", inGzip(threeCols + goodRows(3000))[:4000], Options{}, []string{"x.csv: ", "gzip", "truncated"}},
		{"damaged gzip header", "\x1f\x8b\x00\x00", Options{}, []string{"gzip", "damaged"}},
		{"no valid number by flag", "time,drive,x\n" + two.rows(func(i int, t, d, v float64) string {
			s := plainRow(i, t, d, v)
			return s[:strings.LastIndexByte(s, ',')] + ",n/a"
		}), Options{Roles: map[Role]string{Feedback: "x"}}, []string{"--feedback x", `column 3 "x" holds no valid number`}},
		{"no valid drive by flag", "time,x,feedback\n" + two.rows(func(i int, t, d, v float64) string {
			f := strings.Split(plainRow(i, t, d, v), ",")
			return f[0] + ",n/a," + f[2]
		}), Options{Roles: map[Role]string{Drive: "2"}}, []string{"--drive 2", `column 2 "x" holds no valid number`}},
		{"time backwards after rows without a time", threeCols + goodRows(60) + ",1,4\n,1,4\n,1,4\n1.3,1,4\n1.1,1,4\n1.2,1,4\n", Options{}, []string{"x.csv:66:1: ", "time runs backwards, from 1.3 to 1.1"}},
		{"no valid feedback", "time,drive,feedback\n" + two.rows(func(i int, t, d, v float64) string {
			s := plainRow(i, t, d, v)
			return s[:strings.LastIndexByte(s, ',')] + ",NaN"
		}), Options{}, []string{"feedback", "no valid number"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.o.Source = "x.csv"
			_, err := Read(strings.NewReader(c.text), c.o)
			if err == nil {
				t.Fatal("no error")
			}
			if !inputError(err) {
				t.Errorf("%T is not an input error", err)
			}
			msg := err.Error()
			for _, w := range c.want {
				if !strings.Contains(msg, w) {
					t.Errorf("message lacks %q:\n%s", w, msg)
				}
			}
			if strings.ContainsAny(msg, "\n\r") || len(msg) > 400 {
				t.Errorf("not one short line:\n%s", msg)
			}
		})
	}
}

// inputError tells whether err is of a kind that Read and Inspect promise.
func inputError(err error) bool {
	var s *SyntaxError
	var r *RoleError
	var o *OptionError
	var f *SourceError
	return errors.As(err, &s) || errors.As(err, &r) || errors.As(err, &o) || errors.As(err, &f)
}

func TestOpenFileErrors(t *testing.T) {
	dir := t.TempDir()
	for path, want := range map[string]string{dir: "is a directory", filepath.Join(dir, "none.csv"): "no such file"} {
		_, err := OpenFile(path)
		if err == nil || !strings.Contains(err.Error(), want) || !strings.HasPrefix(err.Error(), path) || !inputError(err) {
			t.Errorf("OpenFile(%q): %v", path, err)
		}
	}
}

// A reader that fails gives its error, wrapped.
func TestReadError(t *testing.T) {
	fail := errors.New("cable pulled")
	for _, n := range []int{0, 100, 500_000} {
		text := threeCols + goodRows(40_000)
		_, err := Read(io.MultiReader(strings.NewReader(text[:n]), failing{fail}), Options{Source: "x.csv"})
		if !errors.Is(err, fail) || !inputError(err) {
			t.Errorf("after %d bytes: %v", n, err)
		}
	}
}

type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

// What is odd but harmless is read and noted.
func TestNotes(t *testing.T) {
	r := newRec(60, 0.02)
	plain := threeCols + r.rows(plainRow)
	for _, c := range []struct {
		name, text string
		o          Options
		code       string
		want       string
	}{
		{"cut last line", plain + "1.2,3", Options{}, "cut-line", "62"},
		{"footer", plain + "end\nof record\n", Options{}, "footer", "2 lines from line 62"},
		{"rate besides times", plain, Options{Rate: 100}, "rate-unused", "column 1"},
		{"preamble disagrees", "Sample interval,0.05\n\n" + plain, Options{}, "interval-differs", "0.05 s"},
		{"preamble tells the unit", "# sample rate 50 Hz\nt,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%.1f", 1000*t+0.5) + plainRow(i, t, d, v)[strings.IndexByte(plainRow(i, t, d, v), ','):]
		}), Options{}, "time-unit", "by the interval of 0.02 s that the preamble tells, its times count ms"},
		{"preamble counts otherwise", "Samples,4000\n\n" + plain, Options{}, "count-differs", "4000 samples"},
		{"factor for clock stamps", "when,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return stampOf(t).Format("15:04:05.000") + plainRow(i, t, d, v)[strings.IndexByte(plainRow(i, t, d, v), ','):]
		}), Options{Scale: map[Role]float64{TimeRole: 0.001}}, "scale-unused", "--scale time=0.001 is not used: the times are clock stamps"},
		{"factor without such a column", plain, Options{Scale: map[Role]float64{Current: 10}}, "scale-unused", "--scale current=10 is not used: no column is the current"},
		{"factor for a lead that is none", plain, Options{Scale: map[Role]float64{LeadA: 10}}, "scale-unused", "lead-a=10"},
		{"rate disagrees", "# Sample rate: 50 Hz\ndrive,feedback\n" + r.rows(func(i int, t, d, v float64) string { return strings.SplitN(plainRow(i, t, d, v), ",", 2)[1] }), Options{Rate: 25}, "rate-differs", "50 Hz"},
		{"gap", threeCols + r.rows(func(i int, t, d, v float64) string {
			if i > 30 {
				t += 5
			}
			return plainRow(i, t, d, v)
		}), Options{}, "gap", "1 place, first from 0.6 to 5.62 s"},
		{"odd word", threeCols + r.rows(func(i int, t, d, v float64) string {
			s := plainRow(i, t, d, v)
			if i == 40 {
				s = s[:strings.LastIndexByte(s, ',')] + ",sticky"
			}
			return s
		}), Options{}, "odd-text", `column 3 "feedback": 1 cell holds text, first "sticky" in line 42`},
		{"feedback in mV", threeCols + r.rows(func(i int, t, d, v float64) string { return plainRow(i, t, d, 1000.25*v) }), Options{}, "too-high", "--scale feedback=0.001"},
		{"time that stands", threeCols + r.rows(func(i int, t, d, v float64) string { return plainRow(i, 0, d, v) }), Options{}, "repeated-times", "--rate HZ"},
		{"drive that never switches", threeCols + r.rows(func(i int, t, d, v float64) string { return plainRow(i, t, 0, v) }), Options{}, "constant-drive", `column 2 "drive"`},
		{"repeated row", threeCols + r.rows(func(i int, t, d, v float64) string {
			s := plainRow(i, t, d, v)
			if i == 20 {
				s += "\n" + s
			}
			return s
		}), Options{}, "repeated-times", "1 row repeats"},
		{"stamps that jitter", threeCols + r.rows(func(i int, t, d, v float64) string {
			if i%40 == 20 {
				t += 1.2 * (r.t[1] - r.t[0])
			}
			return plainRow(i, t, d, v)
		}), Options{}, "jitter", "less than a row's distance"},
		{"descending", threeCols + r.rows(func(i int, t, d, v float64) string { return plainRow(i, 10-t, d, v) }), Options{}, "descending", "turned round"},
		{"dates either way", "when,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return "03/04/2031 " + stampOf(t-3600).Format("15:04:05.000") + plainRow(i, t, d, v)[strings.IndexByte(plainRow(i, t, d, v), ','):]
		}), Options{}, "date-order", "month first"},
	} {
		t.Run(c.name, func(t *testing.T) {
			tr, err := Read(strings.NewReader(c.text), c.o)
			if err != nil {
				t.Fatal(err)
			}
			if msg := broken(tr); msg != "" {
				t.Error(msg)
			}
			for _, n := range tr.Notes {
				if n.Code == c.code {
					if !strings.Contains(n.Text, c.want) {
						t.Errorf("note lacks %q: %s", c.want, n.Text)
					}
					return
				}
			}
			t.Errorf("no note %q in %v", c.code, tr.Notes)
		})
	}
}

// A plain capture gives no doubts at all.
func TestNoNotes(t *testing.T) {
	tr, err := Read(bytes.NewReader([]byte(threeCols+goodRows(400))), Options{})
	if err != nil || len(tr.Notes) != 0 || !tr.Uniform || len(tr.Gaps) != 0 {
		t.Errorf("notes %v, uniform %v, gaps %v, %v", tr.Notes, tr.Uniform, tr.Gaps, err)
	}
}
