package signal

import (
	"bytes"
	"strings"
)

// longRows is how the names in one column go together with the times.
type longRows struct {
	names   map[string]int // rows of each name
	rows    int
	runs    int // stretches of rows with one name
	again   int // rows whose name was there before in their instant
	turns   int // instants
	back    int // rows that lie before the one before them
	ownBack int // rows that lie before the last one of their own name
}

func (t *table) longRows(f *longForm) longRows {
	r := longRows{names: map[string]int{}}
	last := map[string]float64{}
	instant := map[string]int{} // the instant in which a name came last
	prev, before := 0.0, []cell(nil)
	for i := t.first; i < t.end; i++ {
		cells := t.cells[i]
		x, ok := f.at(cells)
		if t.kinds[i] == nil || !ok || len(textOf(cells, f.name)) == 0 {
			continue
		}
		name := string(textOf(cells, f.name))
		if before == nil || !f.sameTime(cells, before) {
			r.turns++
		}
		if before == nil || !bytes.Equal(textOf(before, f.name), textOf(cells, f.name)) {
			r.runs++
		}
		if before != nil && x < prev {
			r.back++
		}
		if instant[name] == r.turns {
			r.again++
		}
		if at, ok := last[name]; ok && x < at {
			r.ownBack++
		}
		r.rows++
		r.names[name]++
		instant[name], last[name], prev, before = r.turns, x, x, cells
	}
	return r
}

// sameTime tells whether two rows have the same stamp, as written.
func (f *longForm) sameTime(a, b []cell) bool {
	for _, j := range f.times {
		if !bytes.Equal(textOf(a, j), textOf(b, j)) {
			return false
		}
	}
	return true
}

// told tells whether the column f.name, under the head given, names the channel of each
// reading.
//
// Where every instant has each of the names once, nothing else is possible: a state or a
// remark stays what it is for many rows, also where a coarse clock gives these one stamp,
// and a list of events does not run through all of them at every instant. Where each row
// has its own time, or time goes back from name to name, such a list looks alike: then the
// head or the names must speak of channels. Words of a direction are the drive.
func (f *longForm) told(t *table, head string) bool {
	if r, w := headerRole(head); w != "" && r != Unused {
		return false // "state", "motor"
	}
	r := t.longRows(f)
	n, signs, roles := len(r.names), 0, map[Role]bool{}
	for name := range r.names {
		role, w := headerRole(utf8String([]byte(name)))
		_, direction := polarity([]byte(name))
		_, onOff := onOffWords[strings.ToLower(name)]
		if direction || onOff {
			signs++
		}
		if w != "" && role != Unused {
			roles[role] = true
		}
		if isPiece([]byte(name)) {
			return false // "run 2": the same channel once more
		}
	}
	const fewest = 3            // rows of a channel that are a list of readings
	channels := len(roles) >= 2 // "motor +" is a direction and a lead
	if r.rows < fewest*n || signs == n || 2*signs >= n && !channels {
		return false
	}
	// A clock that begins anew takes all channels back; where one follows the other, their
	// rows must not be taken for those of a new start.
	if f.unsorted = n == 1 || r.back > 0 && (r.ownBack == 0 || r.runs == n); n == 1 {
		return true // of blocks longer than the head; whether others follow is seen later
	}
	return 10*r.rows >= 9*n*r.turns && 20*r.again <= r.rows || channels || headedBy(channelWords, head)
}
