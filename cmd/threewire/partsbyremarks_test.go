package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// bound is captures one after the other in one file, each beginning with its remark, 5 s apart.
func bound(t *testing.T, name string, parts ...[2]string) string {
	t.Helper()
	var b strings.Builder
	shift := time.Duration(0)
	for k, p := range parts {
		raw, err := os.ReadFile(captures + p[0])
		if err != nil {
			t.Fatal(err)
		}
		head, rows, _ := strings.Cut(string(raw), "\n")
		if k == 0 {
			b.WriteString(head + ";remarks\n")
		}
		var first, last time.Time
		for i, line := range strings.Split(strings.TrimSpace(rows), "\n") {
			cells := strings.Split(line, ";")
			at, err := time.Parse("15:04:05.000", cells[1])
			if err != nil {
				t.Fatal(err)
			}
			if i == 0 {
				first = at
			}
			last = at
			cells[1] = at.Add(shift).Format("15:04:05.000")
			remark := ""
			if i == 0 {
				remark = p[1]
			}
			b.WriteString(strings.Join(append(cells, remark), ";") + "\n")
		}
		shift += last.Sub(first) + 5*time.Second
	}
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

const (
	bindingOn  = "rig8-left-temperature-door-binding.csv"
	bindingOff = "rig8-left-temperature-door-binding-free.csv"
)

type partsReport struct {
	Verdict struct {
		Conclusion  string
		Probability float64
	}
	Captures []struct {
		Source  string
		Free    bool
		Notes   []string
		Remarks []struct{ Text string }
	}
	DoorLoad string `json:"door_load"`
}

func checkedJSON(t *testing.T, args ...string) partsReport {
	t.Helper()
	_, out, errs := call("", append([]string{"check", "--json"}, args...)...)
	var r partsReport
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatalf("%v: %s", err, errs)
	}
	return r
}

// One file whose remark says that the actuator was taken off its door is judged as the two
// captures would be; a remark on a plug, or --whole, leaves it one.
func TestRemarkMakesAPair(t *testing.T) {
	pair := checkedJSON(t, captures+bindingOn, "--free", captures+bindingOff)
	one := bound(t, "door.csv", [2]string{bindingOn, ""}, [2]string{bindingOff, "arm pulled off door here"})
	got := checkedJSON(t, one)
	if len(got.Captures) != 2 || got.Captures[0].Free || !got.Captures[1].Free || !strings.HasSuffix(got.Captures[1].Source, "door.csv (65.0 to 125.0 s)") {
		t.Fatalf("captures %+v", got.Captures)
	}
	if got.Verdict != pair.Verdict || got.DoorLoad == "" || got.DoorLoad != pair.DoorLoad {
		t.Errorf("%+v, as two files %+v", got.Verdict, pair.Verdict)
	}
	if len(got.Captures[0].Remarks) != 0 || len(got.Captures[1].Remarks) != 1 || !strings.Contains(got.Captures[1].Notes[0], "taken as uncoupled") {
		t.Errorf("remarks and notes %+v", got.Captures)
	}
	code, out, errs := call("", "check", one)
	if code != exitFault || !strings.Contains(out, "\nFrom 65.0 s on the recording says “arm pulled off door here”: this part is taken as uncoupled.") ||
		!strings.Contains(out, "--whole takes the") || !strings.Contains(out, "door.csv (65.0 to 125.0 s), uncoupled: ") {
		t.Errorf("%d %s %s", code, errs, out)
	}
	for what, args := range map[string][]string{
		"--whole": {"--whole", one},
		"plug":    {bound(t, "plug.csv", [2]string{bindingOn, ""}, [2]string{bindingOff, "connector pulled off here"})},
		"--free":  {"--free", one},
		"empty":   {bound(t, "none.csv", [2]string{bindingOn, ""}, [2]string{bindingOff, ""})},
	} {
		if r := checkedJSON(t, args...); len(r.Captures) != 1 || r.Captures[0].Free != (what == "--free") {
			t.Errorf("%s: %+v", what, r.Captures)
		}
		if _, out, _ := call("", append([]string{"check"}, args...)...); strings.Contains(out, "is taken as") {
			t.Errorf("%s: %s", what, out)
		}
	}
}

// The door is put on again: a third part. A part in which nothing is driven is none.
func TestRemarksOfSeveralParts(t *testing.T) {
	r := checkedJSON(t, bound(t, "on.csv", [2]string{bindingOn, "door opened by hand"}, [2]string{bindingOff, "lever unclipped"}, [2]string{bindingOn, "lever back on"}))
	if len(r.Captures) != 3 || r.Captures[0].Free || !r.Captures[1].Free || r.Captures[2].Free || r.Verdict.Conclusion != "door mechanism" {
		t.Errorf("%+v", r)
	}
	raw, err := os.ReadFile(captures + bindingOff)
	if err != nil {
		t.Fatal(err)
	}
	// Rows before the first drive, and those up to it once more at the end.
	lines := strings.Split(strings.TrimSpace(string(raw)), "\n")
	rest := 0
	for i, line := range lines[1:] {
		if d, err := strconv.ParseFloat(strings.Split(line, ";")[2], 64); err != nil || d > 6 || d < -6 {
			rest = i
			break
		}
	}
	if rest < 20 {
		t.Fatalf("%d rows before the first drive", rest)
	}
	write := func(name string, at int) string {
		out := append([]string(nil), lines...)
		for i := range out {
			switch {
			case i == 0:
				out[i] += ";remarks"
			case i == at:
				out[i] += ";arm pulled off door here"
			default:
				out[i] += ";"
			}
		}
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, []byte(strings.Join(out, "\n")+"\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	for _, c := range []struct {
		path string
		free bool
		says string
	}{
		{write("early.csv", rest-5), true, "hardly anything is driven before it: only what follows was judged, as uncoupled, and says nothing of the door."},
		{write("late.csv", len(lines)-20), false, "hardly anything is driven after it: the recording was taken as one, coupled to its door."},
	} {
		r := checkedJSON(t, c.path)
		_, out, _ := call("", "check", c.path)
		if len(r.Captures) != 1 || r.Captures[0].Free != c.free || !strings.Contains(strings.Join(strings.Fields(out), " "), c.says) {
			t.Errorf("%+v\n%.900s", r.Captures, out)
		}
	}
}

// A batch judges the parts of a file together and keeps one row of it.
func TestBatchReadsRemarks(t *testing.T) {
	one := bound(t, "door.csv", [2]string{bindingOn, ""}, [2]string{bindingOff, "arm pulled off door here"})
	want := checkedJSON(t, one)
	for _, whole := range []bool{false, true} {
		args := []string{"batch", filepath.Dir(one), "--out", filepath.Join(t.TempDir(), "rows.jsonl")}
		if whole {
			args = append(args, "--whole")
		}
		if code, _, errs := call("", args...); code == exitUsage {
			t.Fatal(errs)
		}
		raw, err := os.ReadFile(args[3])
		if err != nil {
			t.Fatal(err)
		}
		var row batchRow
		if err := json.Unmarshal(raw, &row); err != nil {
			t.Fatalf("%v: %s", err, raw)
		}
		if row.Result == nil || row.Joined != nil || row.Free || row.Result.Rows != 6002 {
			t.Fatalf("%s", raw)
		}
		if strings.Contains(row.Result.Summary, "this part is taken as uncoupled") == whole {
			t.Errorf("whole %t: %s", whole, row.Result.Summary)
		}
		if same := row.Result.Probability == rounded(want.Verdict.Probability); same == whole {
			t.Errorf("whole %t: %s", whole, raw)
		}
	}
}

// The page takes a file with such a remark as check does, and as one where that is ticked.
func TestPageReadsRemarks(t *testing.T) {
	one := bound(t, "door.csv", [2]string{bindingOn, ""}, [2]string{bindingOff, "arm pulled off door here"})
	s := startPage(t)
	t.Chdir(filepath.Dir(one))
	text := readText(t, "door.csv")
	for _, whole := range []bool{false, true} {
		fields, args := []field{{"capture", "door.csv", text}}, []string{"check", "door.csv"}
		if whole {
			fields, args = append(fields, field{"whole", "", "yes"}), append(args, "--whole")
		}
		_, want, errs := call("", args...)
		a := s.upload(fields...)
		if a.status != 200 {
			t.Fatalf("%d %s", a.status, errs)
		}
		saysAll(t, a.body, want)
		if strings.Contains(words(t, a.body), "“Each file as one” takes the recording as one") == whole {
			t.Errorf("whole %t: %s", whole, words(t, a.body))
		}
	}
}

// A file drawn alone has a coupled and an uncoupled run; on a sheet of several it has one picture.
func TestDrawReadsRemarks(t *testing.T) {
	one := bound(t, "door.csv", [2]string{bindingOn, ""}, [2]string{bindingOff, "arm pulled off door here"})
	for _, c := range []struct {
		args []string
		part bool
	}{{[]string{one}, true}, {[]string{one, "--whole"}, false}, {[]string{one, captures + bindingOn}, false}, {[]string{one, "--blank"}, false}} {
		code, svg, errs := call("", append([]string{"draw", "--format", "svg", "--out", "-"}, c.args...)...)
		if code != 0 || strings.Contains(svg, "(65.0 to 125.0 s)") != c.part || len(c.args) == 2 && c.args[1] != "--whole" && c.args[1] != "--blank" && !strings.Contains(svg, "rig8") {
			t.Errorf("%v: %d %s", c.args, code, errs)
		}
	}
}
