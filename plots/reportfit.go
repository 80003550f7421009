package plots

import (
	"errors"
	"fmt"
	"slices"

	"gonum.org/v1/plot/vg/recorder"
)

// shortened is a list of which the last may have been left out for want of room.
type shortened struct {
	Items []string
	Out   []string // left out on paper
}

// inFull is a list with nothing left out, in words a customer reads.
func inFull(list []string) shortened {
	l := shortened{Items: make([]string, 0, len(list))}
	for _, t := range list {
		l.Items = append(l.Items, upper(plain(t)))
	}
	return l
}

// More says what was left out, "" where nothing was.
func (l shortened) More() string {
	if len(l.Out) == 0 {
		return ""
	}
	return fmt.Sprintf("and %d more", len(l.Out))
}

// drop leaves out the last.
func (l *shortened) drop() {
	n := len(l.Items) - 1
	l.Items, l.Out = l.Items[:n], slices.Concat(l.Items[n:], l.Out)
}

// Of each list as many stay as long as smaller type makes room for them. What is more
// stands there only where the type need not be small for it.
const (
	leastRulesOut = 5
	leastUnknown  = 3
	leastCautions = 4
	leastSteps    = 3
	leastShows    = 2
)

// shortenExtra takes an item off a list that is longer than its least, of the lists that
// matter less first; false means that none is.
func (w *reportWords) shortenExtra() bool {
	for _, l := range []struct {
		list  *shortened
		least int
	}{{&w.RulesOut, leastRulesOut}, {&w.Procedure, leastSteps}, {&w.Shows, leastShows}, {&w.Unknown, leastUnknown}, {&w.Cautions, leastCautions}} {
		if len(l.list.Items) > l.least {
			l.list.drop()
			return true
		}
	}
	return false
}

// shorten takes an item off the longest of the lists that bear it; false
// means that nothing is left to take.
func (w *reportWords) shorten() bool {
	if w.shortenExtra() {
		return true
	}
	long := &w.RulesOut
	for _, l := range []*shortened{&w.Unknown, &w.Procedure, &w.Shows} {
		if len(l.Items) > len(long.Items) {
			long = l
		}
	}
	if len(long.Items) > 1 {
		long.drop()
		return true
	}
	// What explains goes before what was found.
	for _, t := range []*string{&w.Why, &w.Else} {
		if *t != "" {
			*t = ""
			return true
		}
	}
	if w.Shows.Items != nil {
		w.Shows = shortened{}
		return true
	}
	if len(w.Found) > 1 {
		n := len(w.Found) - 1
		w.Found, w.Lesser, w.More = w.Found[:n], slices.Concat(w.Found[n:], w.Lesser), "and more"
		return true
	}
	return false
}

// extra tells whether a list is longer than its least.
func (w *reportWords) extra() bool {
	return len(w.RulesOut.Items) > leastRulesOut || len(w.Procedure.Items) > leastSteps || len(w.Shows.Items) > leastShows || len(w.Unknown.Items) > leastUnknown || len(w.Cautions.Items) > leastCautions
}

// putBack takes back into the lists what of them still fits: they stand in two columns, and
// room in the one is left where the other was full. fits tells whether the words do.
func (w *reportWords) putBack(fits func() bool) {
	for _, l := range []*shortened{&w.Cautions, &w.Unknown, &w.Shows, &w.Procedure, &w.RulesOut} {
		for len(l.Out) > 0 {
			before := *l
			l.Items, l.Out = slices.Concat(l.Items, l.Out[:1]), l.Out[1:]
			if !fits() {
				*l = before
				break
			}
		}
	}
}

// errTooLong tells that the words do not fit the page at any size.
var errTooLong = errors.New("the report does not fit one page")

// easyToRead is the least size of type, in points, that the lists in full may take.
const easyToRead = 8.5

// fit is the largest of the type sizes at which the words fit a page, and the room they
// leave there. Where none is small enough, the lists get shorter.
func (d *drawing) fit(w *reportWords, width, height float64, sizes []float64) (size, spare float64, err error) {
	tops := map[float64]float64{} // no list stands up there
	for {
		for _, size := range sizes {
			if size < easyToRead && w.extra() {
				break
			}
			s := &sheet{c: new(recorder.Canvas), f: d.f, th: d.o.Style.theme(), size: size, page: box{0, 0, width, height}}
			y, ok := tops[size]
			if !ok {
				y = d.reportTop(s, w, 0)
				tops[size] = y
			}
			if _, err = s.reportBottom(w, y); err == nil {
				w.putBack(func() bool { _, err := s.reportBottom(w, y); return err == nil })
				spare, err = s.reportBottom(w, y)
				return size, spare, err
			}
		}
		if !w.shorten() {
			return 0, 0, errTooLong
		}
	}
}
