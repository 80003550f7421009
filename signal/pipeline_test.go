package signal

import (
	"bytes"
	"strings"
	"testing"
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
