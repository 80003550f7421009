package signal

import (
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"
)

// Rows parted by CRLF, LF and CR in turn are rows all the same; CR CR LF is one line end.
func TestLooseCR(t *testing.T) {
	for _, ends := range [][]string{{"\r\n", "\n", "\r"}, {"\r", "\n"}, {"\r\r\n"}, {"\r\n"}} {
		var b strings.Builder
		b.WriteString("Time (s),Motor (V),Wiper (V)\r\n")
		v := 0.5
		for i := range 400 {
			d := 0.0
			switch i / 100 {
			case 1:
				d = 12
			case 3:
				d = -12
			}
			v += d * 0.003
			fmt.Fprintf(&b, "%.2f,%.1f,%.3f%s", float64(i)*0.02, d, v, ends[i%len(ends)])
		}
		for _, r := range []io.Reader{strings.NewReader(b.String()), iotest.OneByteReader(strings.NewReader(b.String()))} {
			tr, err := Read(r, Options{})
			if err != nil || tr.Rows != 400 {
				t.Errorf("%q: %v", ends, err)
			}
		}
	}
}
