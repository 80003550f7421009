package signal

import (
	"bytes"
	"io"
)

// looseCR tells a text with LF line ends in which a CR alone parts rows as well, as where
// files of several systems were put together: digits or a sign follow it.
func looseCR(head []byte) bool {
	for i, c := range head {
		if c == '\r' && i > 0 && i+1 < len(head) && head[i-1]-'0' <= 9 && startsNumber(head[i+1]) {
			return bytes.IndexByte(head, '\n') >= 0
		}
	}
	return false
}

func startsNumber(c byte) bool { return c-'0' <= 9 || c == '-' || c == '+' || c == '.' }

// A looseCRReader turns a CR before a number into LF. It is read through a bufio.Reader,
// which never asks for a single byte.
type looseCRReader struct {
	r    io.Reader
	held bool // a CR at the end of the last read
}

func (l *looseCRReader) Read(p []byte) (int, error) {
	k := 0
	if l.held {
		p[0], k, l.held = '\r', 1, false
	}
	n, err := l.r.Read(p[k:])
	n += k
	for i := range p[:max(0, n-1)] {
		if p[i] == '\r' && startsNumber(p[i+1]) {
			p[i] = '\n'
		}
	}
	if n > 0 && p[n-1] == '\r' && err == nil {
		n, l.held = n-1, true
	}
	return n, err
}
