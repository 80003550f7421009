package main

import (
	"context"
	"fmt"
	"net/http"

	"threewire/analyze"
	"threewire/signal"
)

// atWork runs f when one of the places for heavy work is free.
func (p *page) atWork(ctx context.Context, f func() error) error {
	select {
	case p.work <- struct{}{}:
		defer func() { <-p.work }()
		return f()
	case <-ctx.Done():
		return ctx.Err()
	}
}

// judge reads and judges an upload; what came of it is told or refused. An
// error says that it was not settled. The caller holds k.mu.
func (p *page) judge(ctx context.Context, k *kept) (d *drawn, err error) {
	if k.gone {
		return nil, errNotKept
	}
	err = p.atWork(ctx, func() error {
		var at int // the file being read
		j, err := k.paths().judge(k.options(), k.prices, func(path string, o analyze.Options) (*analyze.Parts, error) {
			at = k.index(path)
			if err := refuseOther(path, k.files[at].name); err != nil {
				return nil, err
			}
			so, err := k.files[at].reading.options(k.files[at].name)
			if err != nil {
				return nil, err
			}
			return p.examine(ctx, path, nil, so, o)
		})
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			k.told, k.refused = nil, &refused{file: at, message: pageWords(err.Error())}
			// What the form needs; nothing where the file is no table.
			if noCapture(k.files[at].path) == "" {
				k.refused.layout, _ = k.files[at].inspect(ctx)
			}
			return ctx.Err()
		}
		j.ask = k.named().ask()
		d = newDrawn(j)
		k.told, k.refused = tell(j).forPage(), nil
		return nil
	})
	return d, err
}

// paths are the files by what they are of, and named the same by their names.
func (k *kept) paths() caseFiles { return k.sorted(func(u *upload) string { return u.path }) }
func (k *kept) named() caseFiles { return k.sorted(func(u *upload) string { return u.name }) }

func (k *kept) sorted(by func(*upload) string) caseFiles {
	f := caseFiles{same: k.same}
	for i := range k.files {
		u := &k.files[i]
		switch u.slot {
		case "capture":
			f.now = append(f.now, by(u))
		case "free":
			f.free = append(f.free, by(u))
		case "before":
			f.before = append(f.before, by(u))
		case "good":
			f.good = append(f.good, by(u))
		}
	}
	return f
}

// index is the number of the file at path.
func (k *kept) index(path string) int {
	for i := range k.files {
		if k.files[i].path == path {
			return i
		}
	}
	panic("no file at " + path)
}

func (k *kept) options() analyze.Options {
	o := analyze.Defaults()
	o.ReferenceVolts, o.ReferenceTold, o.Profile, o.Whole = k.volts, k.byForm, k.profile, k.whole
	return o
}

// inspect says how the file is read, with the columns as chosen where that
// works.
func (u *upload) inspect(ctx context.Context) (*signal.Layout, error) {
	so, err := u.reading.options(u.name)
	if err == nil {
		var l *signal.Layout
		if l, err = inspectFile(ctx, u.path, so); err == nil || len(so.Roles) == 0 {
			return l, err
		}
	}
	return inspectFile(ctx, u.path, signal.Options{Source: u.name})
}

func inspectFile(ctx context.Context, path string, o signal.Options) (*signal.Layout, error) {
	src, err := openCapture(ctx, path, nil)
	if err != nil {
		return nil, err
	}
	defer src.Close()
	return signal.Inspect(src, o)
}

// errNotKept is the answer to a result that was let go.
var errNotKept = &refusal{http.StatusNotFound, "This result is not kept any more.",
	fmt.Sprintf("The page keeps the last %d, until threewire serve ends. Check the capture again.", keepResults)}

// drawnOf is what was measured of an upload, measured again when it was let
// go for room.
func (p *page) drawnOf(ctx context.Context, k *kept, d *drawn) (*drawn, error) {
	if d != nil {
		return d, nil
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.refused != nil {
		return nil, &refusal{http.StatusNotFound, "This capture was not judged.", "Open its result and say first what its columns are."}
	}
	d, err := p.judge(ctx, k)
	if err == nil && d == nil {
		err = errNotKept
	}
	if err != nil {
		return nil, err
	}
	p.keep.hold(k, d)
	return d, nil
}
