package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"slices"
	"strings"
	"sync"

	"threewire/analyze"
	"threewire/signal"
)

// batchSet are the captures that are judged in one go: one, the coupled and
// the free capture of one occasion, or those before and after a repair.
type batchSet struct {
	key   string
	files []found
	keys  []batchKey
}

// sets groups paths, in the order of the output.
func sets(list []found, k keyer) []batchSet {
	byKey := map[string]*batchSet{}
	for _, f := range list {
		key := k.key(f)
		s := byKey[key.set()]
		if s == nil {
			s = &batchSet{key: key.set()}
			byKey[s.key] = s
		}
		s.files, s.keys = append(s.files, f), append(s.keys, key)
	}
	out := make([]batchSet, 0, len(byKey))
	for _, s := range byKey {
		out = append(out, *s)
	}
	slices.SortFunc(out, func(a, b batchSet) int { return strings.Compare(a.key, b.key) })
	return out
}

// shard keeps the k-th of n parts, from 1. A set goes by the hash of its key
// (FNV-1a, 64 bits), so it stays whole and every machine agrees.
func shard(all []batchSet, k, n int) []batchSet {
	var out []batchSet
	for _, s := range all {
		h := fnv.New64a()
		io.WriteString(h, s.key)
		if h.Sum64()%uint64(n) == uint64(k-1) {
			out = append(out, s)
		}
	}
	return out
}

// judge is how captures are read and judged.
type judge struct {
	read     *readFlags
	opt      analyze.Options
	settings string // all of it as text, for fingerprints
	parsers  int    // goroutines that parse one capture
}

// set checks the captures of a set. It returns nil when rows, the rows of an
// earlier run, still hold.
func (j *judge) set(s *batchSet, earlier map[string]*batchRow) []*batchRow {
	if j.holds(s, earlier) {
		return nil
	}
	rows := make([]*batchRow, len(s.files))
	proof := s.repair()
	for _, occasion := range s.occasions() {
		var captures []*analyze.Capture
		var own []*batchRow
		coupled, free := 0, 0
		for _, i := range occasion {
			f := s.files[i]
			rows[i] = newRow(f.path, s.keys[i])
			own = append(own, rows[i])
			parts, err := j.one(f, rows[i])
			if k := slices.IndexFunc(own[:len(own)-1], func(r *batchRow) bool { return r.SHA256 != "" && r.SHA256 == rows[i].SHA256 && r.Free != rows[i].Free }); k >= 0 && err == nil {
				err, rows[i].Result = fmt.Errorf("%s and %s are the same recording, one coupled and one uncoupled by name: %s", own[k].Path, f.path, noSecond), nil
			}
			if err != nil {
				rows[i].Error = plainText(err.Error())
				continue
			}
			for _, p := range parts.List {
				captures = append(captures, p.Capture)
				proof.keep(i, p.Capture)
			}
			if rows[i].Free {
				free++
			} else {
				coupled++
			}
		}
		if coupled > 0 && free > 0 {
			v, err := judgeTogether(captures)
			for _, r := range own {
				if err == nil {
					r.Joined = &v
				} else if r.Error == "" {
					r.Error, r.Result = err.Error(), nil
				}
			}
		}
	}
	proof.mark(rows)
	print := j.fingerprint(s, func(i int) string { return rows[i].SHA256 })
	for _, r := range rows {
		r.Fingerprint = print
	}
	return rows
}

// occasions are the numbers of the captures of each occasion.
func (s *batchSet) occasions() [][]int {
	var list [][]int
	at := map[string]int{}
	for i, k := range s.keys {
		n, ok := at[k.occasion]
		if !ok {
			n = len(list)
			at[k.occasion], list = n, append(list, nil)
		}
		list[n] = append(list[n], i)
	}
	return list
}

// judgeTogether judges the captures of one actuator; like a single file, a
// set must not end the run.
func judgeTogether(captures []*analyze.Capture) (v batchVerdict, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the program failed on this set, please report it: %v", p)
		}
	}()
	return shortVerdict(&analyze.Judge(captures...).Verdict), nil
}

// holds tells whether the earlier rows follow from the files as they are.
// What could not be read is tried again.
func (j *judge) holds(s *batchSet, earlier map[string]*batchRow) bool {
	for _, f := range s.files {
		if r := earlier[f.path]; f.err != nil || r == nil || r.SHA256 == "" {
			return false
		}
	}
	sums := make([]string, len(s.files))
	for i, f := range s.files {
		sum, err := hashFile(f.path)
		if err != nil {
			return false
		}
		sums[i] = sum
	}
	print := j.fingerprint(s, func(i int) string { return sums[i] })
	for _, f := range s.files {
		if earlier[f.path].Fingerprint != print {
			return false
		}
	}
	return true
}

func (j *judge) fingerprint(s *batchSet, sum func(int) string) string {
	h := sha256.New()
	fmt.Fprintf(h, "%s\n%q\n", j.settings, s.key)
	for i, f := range s.files {
		k := s.keys[i]
		fmt.Fprintf(h, "%q %s %q %q %q %q %t\n", f.path, sum(i), k.actuator, k.occasion, k.when, k.phase, k.free)
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// one reads and examines one capture and fills its row. Whatever the file
// does to the program becomes an error of the row.
func (j *judge) one(f found, row *batchRow) (parts *analyze.Parts, err error) {
	if f.err != nil {
		return nil, f.err
	}
	defer func() {
		if p := recover(); p != nil {
			parts, err = nil, fmt.Errorf("the program failed on this file, please report it: %v", p)
			row.Result = nil
		}
	}()
	so, err := j.read.options(f.path)
	if err != nil {
		return nil, err
	}
	so.Workers = j.parsers
	in, err := signal.OpenFile(f.path)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	// The hash is of the very bytes that were judged, should the file change
	// meanwhile.
	h := sha256.New()
	counted := &countReader{r: io.TeeReader(in, h)}
	t, readErr := signal.Read(counted, so)
	if _, err := io.Copy(io.Discard, counted); err != nil {
		return nil, err
	}
	row.Size, row.SHA256 = counted.n, hex.EncodeToString(h.Sum(nil))
	if readErr != nil {
		return nil, readErr
	}
	// A clock of the day alone has no year.
	if row.When == "" && t.Start.Year() > 1 {
		row.When = t.Start.Format("2006-01-02T15:04:05")
	}
	o := j.opt
	o.Free = row.Free
	if parts, err = examineTrace(t, o); err != nil {
		return nil, fmt.Errorf("%s: %w", f.path, err)
	}
	row.Result = partsResult(t, parts)
	return parts, nil
}

// partsResult is what a row says of one file: where it is judged as several parts, their
// verdict together, and what was measured on the door.
func partsResult(t *signal.Trace, parts *analyze.Parts) *batchResult {
	main := parts.List[0].Capture
	if len(parts.List) == 1 {
		r := shortResult(main, &analyze.Judge(main).Verdict)
		r.Summary = plainText(strings.TrimSpace(r.Summary + " " + parts.Told))
		return r
	}
	what := analyze.Case{Same: true}
	findings := []string{}
	for _, p := range parts.List {
		what.Now = append(what.Now, p.Capture)
		if c := p.Capture; !c.Free && (main.Free || c.Duration > main.Duration) {
			main = c
		}
	}
	r := shortResult(main, &what.Judge().Verdict)
	r.Rows, r.Duration, r.Sweeps = t.Rows, rounded(t.Duration()), 0
	for _, c := range what.Now {
		r.Sweeps += len(c.Sweeps)
		for _, f := range c.Findings {
			if k := string(f.Kind); !slices.Contains(findings, k) {
				findings = append(findings, k)
			}
		}
	}
	r.Findings = findings
	r.Summary = plainText(strings.TrimSpace(r.Summary + " " + parts.Told))
	return r
}

type countReader struct {
	r io.Reader
	n int64
}

func (c *countReader) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.n += int64(n)
	return n, err
}

func hashFile(path string) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	_, err = io.Copy(h, f)
	return hex.EncodeToString(h.Sum(nil)), err
}

// aheadPerWorker is how many finished sets may wait, for each worker, for a
// slow one before them: short rows, no traces.
const aheadPerWorker = 16

// runSets judges sets in parallel and hands the rows to done one set after
// the other, in their order. nil rows are a set whose earlier rows hold. It
// stops early when done fails or ctx ends; what was begun is still finished
// and, unless done failed, handed over.
func runSets(ctx context.Context, all []batchSet, workers int, work func(*batchSet) []*batchRow, done func(*batchSet, []*batchRow) error) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	type result struct {
		i    int
		rows []*batchRow
	}
	jobs, results := make(chan int), make(chan result)
	room := make(chan struct{}, aheadPerWorker*workers)
	go func() {
		defer close(jobs)
		for i := range all {
			select {
			case room <- struct{}{}:
			case <-ctx.Done():
				return
			}
			// A free slot and an end may be ready at once.
			if ctx.Err() != nil {
				return
			}
			jobs <- i
		}
	}()
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			for i := range jobs {
				results <- result{i, work(&all[i])}
			}
		})
	}
	go func() {
		wg.Wait()
		close(results)
	}()
	var failed error
	waiting := map[int][]*batchRow{}
	next := 0
	for r := range results {
		waiting[r.i] = r.rows
		for {
			rows, ok := waiting[next]
			if !ok {
				break
			}
			delete(waiting, next)
			if failed == nil {
				if failed = done(&all[next], rows); failed != nil {
					stop()
				}
			}
			next++
			<-room
		}
	}
	if failed != nil {
		return failed
	}
	if next < len(all) {
		return ctx.Err()
	}
	return nil
}
