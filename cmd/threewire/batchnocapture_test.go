package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threewire/fixtures"
)

// What the program wrote itself, and what a shop wrote for it, is no capture: it is
// named and left out. A capture stays one, whatever it is called.
func TestBatchLeavesOutWhatIsNoCapture(t *testing.T) {
	dir := t.TempDir()
	shelf := filepath.Join(dir, "shelf")
	put(t, filepath.Join(shelf, "door.csv"), drawCSV())
	put(t, filepath.Join(shelf, "prices-of-a-door.csv"), "# a comment: no setting\n"+drawCSV()+"1,2,3\n")
	put(t, filepath.Join(shelf, "prices.txt"), fixtures.ShopPrices())
	put(t, filepath.Join(shelf, "shop.txt"), "shop: Millbrook Technical College\n")
	if code, _, errs := call("", "batch", shelf, "--quiet", "--csv", filepath.Join(dir, "first.csv")); code != 0 {
		t.Fatal(errs)
	}
	table, err := os.ReadFile(filepath.Join(dir, "first.csv"))
	if err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(shelf, "earlier-table.csv"), string(table))
	code, out, errs := call("", "batch", shelf)
	if code != 0 || !strings.HasPrefix(out, "2 captures") {
		t.Errorf("ended with %d: %s%s", code, out, errs)
	}
	for _, want := range []string{"left out, no capture", "earlier-table.csv (a table of a batch)", "prices.txt (prices)", "shop.txt (settings for reports)"} {
		if !strings.Contains(errs, want) {
			t.Errorf("nothing says %q: %s", want, errs)
		}
	}
	if strings.Contains(errs, "prices-of-a-door") {
		t.Errorf("a capture was left out: %s", errs)
	}
}

// check says so too, rather than complain of cells.
func TestCheckRefusesPricesAsCapture(t *testing.T) {
	if code, _, errs := call("", "check", shopPrices); code != exitUsage || !strings.Contains(errs, "is no capture (prices)") {
		t.Errorf("%d %q", code, errs)
	}
}

// Of captures with the same bytes the tables count one and name the others; where
// nothing could drift no heading stands over nothing.
func TestBatchCountsCopiesOnce(t *testing.T) {
	shelf := t.TempDir()
	put(t, filepath.Join(shelf, "a.csv"), drawCSV())
	put(t, filepath.Join(shelf, "b.csv"), drawCSV())
	put(t, filepath.Join(shelf, "c.csv"), drawCSV())
	put(t, filepath.Join(shelf, "c-free.csv"), drawCSV())
	_, out, errs := call("", "batch", shelf)
	flat := strings.Join(strings.Fields(out), " ")
	for _, want := range []string{"4 captures, 1 verdict, 2 copies, 1 not read", "b 0 0 0 0 copy of", "b.csv has the same bytes as", "are the same recording, one coupled and one uncoupled by name", "No span drift was tested"} {
		if !strings.Contains(flat, want) {
			t.Errorf("nothing says %q: %s%s", want, out, errs)
		}
	}
	if strings.Contains(out, "\nSpan drift over captures") {
		t.Errorf("a heading over nothing: %s", out)
	}
}

// Answer sheets that simulate wrote beside its captures are counted and not named: a class
// has many. A capture whose first line speaks of an answer is one all the same.
func TestBatchCountsAnswerSheets(t *testing.T) {
	dir := t.TempDir()
	for _, seed := range []string{"5", "6"} {
		if code, _, errs := call("", "simulate", "--fault", "jam", "--seed", seed, "--sheet", "--out", filepath.Join(dir, "e"+seed+".csv")); code != 0 {
			t.Fatal(errs)
		}
	}
	put(t, filepath.Join(dir, "x.txt"), "Answer to the complaint\n"+drawCSV())
	code, out, errs := call("", "batch", dir)
	if code != 0 || !strings.HasPrefix(out, "3 captures") || !strings.Contains(out, " 0 not read") || !strings.Contains(errs, "left out, no capture: 2 answer sheets of simulate\n") {
		t.Errorf("ended with %d: %s%s", code, out, errs)
	}
}
