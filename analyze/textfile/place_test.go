package textfile

import (
	"strings"
	"testing"
)

// The column is counted in characters, as an editor counts it; what was found is shown
// in part where it is long, and never cut within a character.
func TestWrong(t *testing.T) {
	at := &Place{File: "shop.txt", Line: 3, Raw: "  Prüfung: 5,0 V # a comment: with 5,0 V"}
	if got, want := at.Setting(), "Prüfung: 5,0 V"; got != want {
		t.Errorf("setting %q, expected %q", got, want)
	}
	if got, want := at.Wrong("5,0 V", "5,0 V", "a number", "write a point").Error(), `shop.txt:3:12: found "5,0 V", expected a number; write a point`; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	long := at.Wrong("", strings.Repeat("ü", 50), "a number", "write one").Error()
	if want := `found "` + strings.Repeat("ü", 40) + `...", expected`; !strings.Contains(long, want) {
		t.Errorf("%s holds no %s", long, want)
	}
	whole := &Error{File: "shop.txt", Want: "a line", Hint: "add it"}
	if got, want := whole.Error(), "shop.txt: expected a line; add it"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
