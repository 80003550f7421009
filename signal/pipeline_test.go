package signal

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"
)

// A block that grew to hold a long line leaves more behind it than the next
// block has room for: nothing may be lost, whatever the block size.
func TestFeederKeepsWhatALongLineLeaves(t *testing.T) {
	text := strings.Repeat("1", 300) + "\n" + strings.Repeat("22,3\n", 200) + strings.Repeat("4", 700) + "\n5\n"
	for _, size := range []int{1, 7, 64, 100, 333, 1024} {
		f := &feeder{r: strings.NewReader(text), size: size}
		var got bytes.Buffer
		var blocks [3]block
		for i := 0; f.fill(&blocks[i%3]); i++ {
			b := &blocks[i%3]
			if b.err != nil {
				t.Fatalf("size %d: %v", size, b.err)
			}
			got.Write(b.buf[:b.n])
		}
		if got.String() != text {
			t.Errorf("size %d: %d bytes came through of %d", size, got.Len(), len(text))
		}
	}
}

// badThen is a capture whose row 5,000 has no time.
func badThen(rows int) []byte {
	var text bytes.Buffer
	text.WriteString("time,drive,feedback\n")
	for i := range rows {
		if i == 5_000 {
			text.WriteString("yesterday,12.0,2.500\n")
		}
		fmt.Fprintf(&text, "%.3f,12.0,2.500\n", float64(i)/1000)
	}
	return text.Bytes()
}

// A caller may read on where Read gave up, such as for the sum of the whole
// file: no goroutine of Read may still have a hand in the stream.
func TestStreamIsTheCallersAfterAnError(t *testing.T) {
	text := badThen(200_000)
	want := sha256.Sum256(text)
	for range 10 {
		h := sha256.New()
		r := io.TeeReader(bytes.NewReader(text), h)
		if _, err := Read(r, Options{Workers: 2, block: 16 << 10}); err == nil {
			t.Fatal("a row without a time was accepted")
		}
		if _, err := io.Copy(io.Discard, r); err != nil {
			t.Fatal(err)
		}
		if got := [sha256.Size]byte(h.Sum(nil)); got != want {
			t.Fatalf("sum %x, want %x", got, want)
		}
	}
}

// An error comes once the read under way has returned, not once the block is
// full: a pipe on which hardly anything comes would take minutes for that.
func TestErrorDoesNotWaitForAFullBlock(t *testing.T) {
	r, w := io.Pipe()
	failed := make(chan error, 1)
	go func() {
		_, err := Read(io.MultiReader(bytes.NewReader(badThen(20_000)), r), Options{Workers: 2})
		r.Close()
		failed <- err
	}()
	late := time.After(20 * time.Second)
	for {
		w.Write([]byte("5"))
		select {
		case err := <-failed:
			if err == nil {
				t.Error("a row without a time was accepted")
			}
			return
		case <-late:
			r.Close()
			t.Fatal("the error waits for more of a slow pipe")
		case <-time.After(time.Millisecond):
		}
	}
}
