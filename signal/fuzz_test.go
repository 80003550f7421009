package signal

import (
	"bytes"
	"testing"
)

// FuzzRead feeds any bytes to the reader: the answer is an input error or a
// trace that keeps its promises, and never depends on the number of workers.
func FuzzRead(f *testing.F) {
	small := newRec(40, 0.02)
	for _, s := range shapes {
		f.Add([]byte(s.text(small)), s.o.Rate)
	}
	for _, s := range longShapes {
		f.Add([]byte(s.text(small)), s.o.Rate)
	}
	for _, s := range []string{
		"", "\n", ",", "1,2,3\n", "\xff\xfe", "\x1f\x8b", "time,drive,feedback\n1,2", "\"", "a,b\n\"1,2\n", "1e999,2,3\n2,3,4\n", "#\n#\n",
		"time,drive,feedback\n1,1,1\n1,1,1\n1,1,1\n", "0,1,2\n1e300,1,2\n2e300,1,2\n", "time,drive,feedback\n0,1,1\n5e-324,1,1\n1e-320,2,2\n",
		"time,drive,feedback\n23:59:59,1,1\n00:00:01,1,2\n", "date,drive,feedback\n99/99/9999,1,1\n", "-1e15,1,1\n1e15,2,2\n1e16,1,1\n",
		"time,drive,feedback,note\n0,1,1,\n1,1,1,arm off\n2,1,1\n3,1,1,arm off, here\n# let go\n4,1,1,\"door \"\"A\"\"\"\n", "note;time;drive;feedback\n;0;1;1\nup;1;1;1\nheld by hand;;1;1\n;2;1;1\n",
	} {
		f.Add([]byte(s), 0.0)
	}
	f.Add([]byte(twiceFile(again(again(twiceLines(60, func(i int) string { return []string{"0.0", "0.1", "0.2", "0.3"}[i/15] }), 50, 8), 9, 9))), 0.0)
	f.Fuzz(func(t *testing.T, b []byte, rate float64) {
		o := Options{Rate: rate, MaxBins: 1000, Workers: 1}
		tr, err := Read(bytes.NewReader(b), o)
		o.Workers, o.block = 2, blockSize
		tr2, err2 := Read(bytes.NewReader(b), o)
		if (err == nil) != (err2 == nil) || err != nil && err.Error() != err2.Error() {
			t.Fatalf("one worker: %v; two workers: %v", err, err2)
		}
		if err != nil {
			if !inputError(err) {
				t.Fatalf("%T: %v", err, err)
			}
		} else {
			if msg := broken(tr); msg != "" {
				t.Fatal(msg)
			}
			if tr.Len() == 0 || tr.Len() != tr2.Len() || tr.Rows < int64(tr.Len()) {
				t.Fatalf("%d bins, %d bins, %d rows", tr.Len(), tr2.Len(), tr.Rows)
			}
		}
		o.block = 100 // what is learned from the first block may differ, promises may not
		if tr, err := Read(bytes.NewReader(b), o); err == nil {
			if msg := broken(tr); msg != "" {
				t.Fatal(msg)
			}
		} else if !inputError(err) {
			t.Fatalf("%T: %v", err, err)
		}
		if _, err := Inspect(bytes.NewReader(b), o); err != nil && !inputError(err) {
			t.Fatalf("%T: %v", err, err)
		}
	})
}
