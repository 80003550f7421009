package main

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"threewire/plots"
)

// Captures of several months are judged as check judges them in the order of their names,
// in whatever order a browser sends them, and the start page lets them be chosen together.
func TestPageTakesSeveralMonths(t *testing.T) {
	s := startPage(t)
	dir := t.TempDir()
	t.Chdir(dir)
	var args []string
	var fields []field
	for _, k := range []int{10, 2, 9} {
		name := simulated(t, dir, fmt.Sprintf("month-%d.csv", k), "--take", fmt.Sprint(k))
		name = name[strings.LastIndex(name, "/")+1:]
		fields = append(fields, field{"capture", name, readText(t, name)})
	}
	for _, k := range []int{2, 9, 10} {
		args = append(args, fmt.Sprintf("month-%d.csv", k))
	}
	a := s.upload(fields...)
	if a.status != http.StatusOK {
		t.Fatalf("%d: %s", a.status, a.body)
	}
	_, want, _ := call("", append([]string{"check", "--json"}, args...)...)
	if got := s.get(a.path + "/result.json"); got.body != want {
		t.Error("the JSON differs from that of check")
	}
	if strings.Count(a.body, "Capture of the actuator:") != 1 || !strings.Contains(a.body, "Order (by their names): month-2.csv, month-9.csv, month-10.csv") {
		t.Errorf("the page does not say which captures it judged, and in which order:\n%s", a.body)
	}
	for _, picture := range []string{"/view.svg", "/phone.svg"} {
		if got := s.get(a.path + picture); got.status != http.StatusOK || !strings.Contains(got.body, "month-10.csv") {
			t.Errorf("%s: %d", picture, got.status)
		}
	}
	if start := s.get("/").body; strings.Count(start, `multiple="multiple"`) != 4 || strings.Contains(start, `name="prices" multiple`) {
		t.Error("the start page does not let several captures be chosen, or lets several price lists")
	}
}

// More captures than a picture shows are refused with a number.
func TestPageRefusesTooMany(t *testing.T) {
	s := startPage(t)
	var fields []field
	for k := range plots.MaxFigures + 1 {
		fields = append(fields, field{"capture", fmt.Sprintf("%d.csv", k), fmt.Sprintf("time,drive,feedback\n0,0,%d\n", k)})
	}
	if a := s.upload(fields...); a.status != http.StatusUnprocessableEntity || !strings.Contains(a.body, fmt.Sprint(plots.MaxFigures)) {
		t.Errorf("%d: %s", a.status, a.body)
	}
}
