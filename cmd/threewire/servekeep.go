package main

import (
	"crypto/rand"
	"os"
	"slices"
	"sync"
	"time"

	"threewire/analyze/cost"
	"threewire/analyze/nominal"
	"threewire/plots"
	"threewire/signal"
)

// kept is one upload: its files, how they are to be read, and what came of
// it.
type kept struct {
	id   string // not to be guessed
	dir  string // of its files
	when time.Time

	// They do not change once the upload is taken, but for the readings.
	files   []upload
	profile *nominal.Profile // nil without one
	prices  *cost.Prices     // nil without any
	volts   float64          // V, the sensor's supply where none was logged
	byForm  bool             // the form told them
	same    bool             // the form says that the uncoupled capture is of this actuator
	whole   bool             // and that each file is one capture, whatever its remarks say

	mu      sync.Mutex // of all that follows, and of the readings
	told    *statement // nil while refused
	refused *refused   // nil once judged
	gone    bool
}

// upload is one uploaded capture.
type upload struct {
	slot    string // what it is of, by the name of its field
	name    string // as the sender calls it
	path    string
	size    int64
	sum     [32]byte // SHA-256
	reading reading
}

// refused says why a file could not be judged.
type refused struct {
	file    int // number in files
	message string
	layout  *signal.Layout // nil when no columns were found in it
}

// drawn is a case that was judged, with its figures.
type drawn struct {
	*judged
	figs   []plots.Figure
	weight int64 // bytes, by estimate
}

func newID() string { return rand.Text() }

// bytes is the size of its files.
func (k *kept) bytes() int64 {
	var n int64
	for i := range k.files {
		n += k.files[i].size
	}
	return n
}

// remove removes the files.
func (k *kept) remove() {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.gone = true
	os.RemoveAll(k.dir)
}

// keeper keeps the last results, within bounds of number, disk and memory.
type keeper struct {
	most          int
	bytes, memory int64

	mu       sync.Mutex
	list     []holding // oldest use first
	reserved int64     // bytes of uploads that are not kept yet
	heavy    int64     // bytes of all drawn
}

// holding is one kept upload with what the keeper knows of it.
type holding struct {
	*kept
	size  int64
	drawn *drawn // nil when there was no room for it
}

// add keeps an upload and lets go of the oldest beyond the bounds.
func (k *keeper) add(x *kept) {
	k.mu.Lock()
	k.list = append(k.list, holding{kept: x, size: x.bytes()})
	var old []*kept
	for len(k.list) > 1 && (len(k.list) > k.most || k.total() > k.bytes) {
		old = append(old, k.oldest())
	}
	k.mu.Unlock()
	for _, o := range old {
		o.remove() // waits for those who still read it
	}
}

// reserve sets n bytes aside for an upload, in the place of the oldest
// results, until they are released. It tells whether there is room among
// other uploads; one alone always has it.
func (k *keeper) reserve(n int64) bool {
	k.mu.Lock()
	room := k.reserved == 0 || k.reserved+n <= k.bytes
	var old []*kept
	if room {
		k.reserved += n
		for len(k.list) > 0 && k.total()+k.reserved > k.bytes {
			old = append(old, k.oldest())
		}
	}
	k.mu.Unlock()
	for _, o := range old {
		o.remove()
	}
	return room
}

func (k *keeper) release(n int64) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.reserved -= n
}

// oldest takes the oldest result out of the list. The caller holds k.mu.
func (k *keeper) oldest() *kept {
	k.lighten(0)
	old := k.list[0].kept
	k.list = k.list[1:]
	return old
}

func (k *keeper) total() int64 {
	var n int64
	for _, h := range k.list {
		n += h.size
	}
	return n
}

// get returns an upload, nil when it is not kept (any more), and what is drawn
// of it, nil when that is not kept.
func (k *keeper) get(id string) (*kept, *drawn) {
	k.mu.Lock()
	defer k.mu.Unlock()
	i := slices.IndexFunc(k.list, func(h holding) bool { return h.id == id })
	if i < 0 {
		return nil, nil
	}
	h := k.list[i]
	k.list = append(slices.Delete(k.list, i, i+1), h)
	return h.kept, h.drawn
}

// hold keeps what was measured of an upload, nil for nothing, in the place of
// older ones.
func (k *keeper) hold(x *kept, d *drawn) {
	k.mu.Lock()
	defer k.mu.Unlock()
	i := slices.IndexFunc(k.list, func(h holding) bool { return h.kept == x })
	if i < 0 {
		return
	}
	k.lighten(i)
	if d == nil {
		return
	}
	k.list[i].drawn, k.heavy = d, k.heavy+d.weight
	for j := range k.list {
		if k.heavy > k.memory && j != i {
			k.lighten(j)
		}
	}
}

// lighten forgets what was measured of holding i; it can be measured again.
func (k *keeper) lighten(i int) {
	if d := k.list[i].drawn; d != nil {
		k.heavy -= d.weight
		k.list[i].drawn = nil
	}
}

// newDrawn makes the figures of a case.
func newDrawn(j *judged) *drawn {
	d := &drawn{judged: j, figs: j.figures()}
	for _, t := range j.all() {
		channels := int64(3)
		if t.RowsPerBin > 1 {
			channels *= 3 // mean, least and most
		}
		// Times and what is measured take about as much again.
		d.weight += int64(t.Len()) * (4*channels + 40)
	}
	return d
}
