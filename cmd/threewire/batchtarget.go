package main

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
)

// targets refuses, before anything is read, tables and charts that could not
// be written in the end, that would replace something else, or that are the
// same file as another output. Rows are refused by their store.
func (o *batchFlags) targets(inputs []string) error {
	if err := o.apart(); err != nil {
		return err
	}
	if o.csv != "" && o.csv != "-" {
		err := checkTarget(o.csv, true, inputs)
		if err == nil {
			err = onlyTable(o.csv)
		}
		if err != nil {
			return fmt.Errorf("--csv %w", err)
		}
	}
	if o.chart != "" {
		err := checkTarget(o.chart, true, inputs)
		if err == nil {
			err = onlyChart(o.chart)
		}
		if err != nil {
			return fmt.Errorf("--chart %w", err)
		}
	}
	return nil
}

// apart refuses two outputs in one place.
func (o *batchFlags) apart() error {
	list := []struct{ flag, path string }{{"out", o.out}, {"csv", o.csv}, {"chart", o.chart}}
	for i, a := range list {
		for _, b := range list[:i] {
			if a.path != "" && b.path != "" && samePlace(a.path, b.path) {
				return fmt.Errorf("--%s and --%s both name %s: expected two places", b.flag, a.flag, b.path)
			}
		}
	}
	return nil
}

// samePlace tells whether two paths lead to one file, there or not yet.
func samePlace(a, b string) bool {
	x, err1 := os.Stat(a)
	y, err2 := os.Stat(b)
	if err1 == nil && err2 == nil {
		return os.SameFile(x, y)
	}
	return wholePath(a) == wholePath(b)
}

// wholePath is where a path leads, from the root and without links.
func wholePath(path string) string {
	path = followed(path)
	if dir, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil {
		path = filepath.Join(dir, filepath.Base(path))
	}
	if whole, err := filepath.Abs(path); err == nil {
		path = whole
	}
	return path
}

// onlyTable refuses a file that is something else than a table of a batch,
// by the first columns of its header, which have always been the same.
func onlyTable(path string) error {
	st, err := os.Stat(path)
	if err != nil || !st.Mode().IsRegular() || st.Size() == 0 {
		return nil // nothing to lose
	}
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	want := tableHead()
	if got, _ := bufio.NewReader(f).Peek(len(want)); string(got) != want {
		return fmt.Errorf("%s exists and is no table of a batch: give another name", path)
	}
	return nil
}
