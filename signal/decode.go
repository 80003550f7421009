package signal

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// text is a source brought to one form: bytes with '\n' line ends and without
// a byte-order mark. Anything above 0x7f is UTF-8, or Latin-1 where it is not
// valid UTF-8; only names and units are affected.
type text struct {
	io.Reader
	encoding string
	gzip     bool
	lineEnd  string
}

// probeSize is how much of the start is looked at to tell the encoding and
// the line ends.
const probeSize = 64 << 10

// openText unpacks gzip, decodes UTF-16 and translates CR-only line ends.
func openText(r io.Reader, file string) (*text, error) {
	t := &text{encoding: "UTF-8", lineEnd: "LF"}
	br := bufio.NewReaderSize(r, probeSize)
	for range 2 { // a twice-packed file is no rarity after a mail program
		magic, err := br.Peek(2)
		if err != nil && !errors.Is(err, io.EOF) {
			return nil, readError(file, err)
		}
		if len(magic) < 2 || magic[0] != 0x1f || magic[1] != 0x8b {
			break
		}
		z, err := gzip.NewReader(br)
		if err != nil {
			return nil, &SourceError{file, "starts like a gzip file but its header is damaged", err}
		}
		t.gzip = true
		br = bufio.NewReaderSize(z, probeSize)
	}
	head, err := peekAll(br)
	if err != nil && len(head) == 0 {
		return nil, readError(file, err)
	}
	if len(bytes.TrimSpace(head)) == 0 && len(head) < probeSize {
		return nil, &SyntaxError{File: file, Msg: "the file is empty", Hint: "expected CSV text with columns of numbers"}
	}
	if what, hint := otherFile(bytes.TrimPrefix(head, []byte("\xef\xbb\xbf"))); what != "" {
		return nil, &SourceError{file, "is " + what + ", not a capture; " + hint, nil}
	}
	var src io.Reader = br
	switch enc, bom := utf16Order(head); {
	case enc != "":
		t.encoding = enc
		if bom {
			discard(br, 2)
		}
		src = &utf16Reader{r: br, big: enc == "UTF-16BE"}
		b16 := bufio.NewReaderSize(src, probeSize)
		head, _ = peekAll(b16)
		src = b16
	case bytes.HasPrefix(head, []byte("\xef\xbb\xbf")):
		t.encoding = "UTF-8 with byte-order mark"
		discard(br, 3)
		head = head[3:]
	case !validUTF8(head):
		t.encoding = "Latin-1"
	}
	if i := bytes.IndexByte(head, 0); i >= 0 && (i == 0 || len(bytes.Trim(head[i:], "\x00")) > 0) { // zeros at the end are a lost tail
		return nil, &SyntaxError{File: file, Line: 1 + int64(bytes.Count(head[:i], []byte{'\n'})),
			Msg: "a NUL byte: this is a binary file, not CSV text", Hint: "export the capture as CSV"}
	}
	if bytes.Contains(head, []byte("\r\n")) {
		t.lineEnd = "CRLF"
	} else if bytes.IndexByte(head, '\n') < 0 && bytes.IndexByte(bytes.TrimRight(head, "\r"), '\r') >= 0 {
		t.lineEnd = "CR"
		src = &crReader{src}
	}
	if t.lineEnd != "CR" && looseCR(head) {
		src = bufio.NewReaderSize(&looseCRReader{r: src}, probeSize)
	}
	t.Reader = src
	return t, nil
}

// Preamble gives the beginning of a capture, about n bytes of it, as UTF-8
// with LF line ends: unpacked and decoded as [Read] does.
func Preamble(r io.Reader, n int) (string, error) {
	t, err := openText(r, "-")
	if err != nil {
		return "", err
	}
	b := make([]byte, n)
	m, _ := io.ReadFull(t, b) // a short or damaged file has a beginning too
	b = b[:m]
	// The end may be in the middle of a character.
	for i := 1; m == n && i <= min(m, utf8.UTFMax); i++ {
		if tail := b[m-i:]; utf8.RuneStart(tail[0]) {
			if !utf8.FullRune(tail) {
				b = b[:m-i]
			}
			break
		}
	}
	var s strings.Builder
	for line := range bytes.Lines(b) {
		text, ended := bytes.CutSuffix(line, []byte{'\n'})
		s.WriteString(utf8String(bytes.TrimRight(text, "\r")))
		if ended {
			s.WriteByte('\n')
		}
	}
	return s.String(), nil
}

// discard skips n bytes that were peeked before.
func discard(br *bufio.Reader, n int) {
	for range n {
		if _, err := br.ReadByte(); err != nil {
			return
		}
	}
}

// peekAll looks at up to probeSize bytes. A short look at a stream that still
// runs is filled up by the blocking read inside Peek.
func peekAll(br *bufio.Reader) ([]byte, error) {
	b, err := br.Peek(probeSize)
	if errors.Is(err, io.EOF) {
		err = nil
	}
	return b, err
}

func readError(file string, err error) error {
	switch {
	case errors.Is(err, io.ErrUnexpectedEOF):
		return &SourceError{file, "the gzip data end early: the file is truncated", err}
	case errors.Is(err, gzip.ErrChecksum):
		return &SourceError{file, "the gzip checksum does not match: the file is damaged", err}
	}
	return &SourceError{file, err.Error(), err}
}

// utf16Order recognises UTF-16 by its mark, or by zero bytes in every second
// place of a longer text.
func utf16Order(b []byte) (enc string, bom bool) {
	switch {
	case bytes.HasPrefix(b, []byte{0xff, 0xfe}):
		return "UTF-16LE", true
	case bytes.HasPrefix(b, []byte{0xfe, 0xff}):
		return "UTF-16BE", true
	}
	n := min(len(b), 512) &^ 1
	if n < 8 {
		return "", false
	}
	even, odd := 0, 0
	for i := 0; i < n; i += 2 {
		if b[i] == 0 {
			even++
		}
		if b[i+1] == 0 {
			odd++
		}
	}
	// Latin text has a zero in nearly every second byte; a few non-Latin
	// letters in names must not hide that.
	switch most := n / 2 * 8 / 10; {
	case odd >= most && even == 0:
		return "UTF-16LE", false
	case even >= most && odd == 0:
		return "UTF-16BE", false
	}
	return "", false
}

// validUTF8 allows for a rune cut at the end.
func validUTF8(b []byte) bool {
	for len(b) > 0 {
		r, n := utf8.DecodeRune(b)
		if r == utf8.RuneError && n == 1 {
			return len(b) < utf8.UTFMax && !utf8.FullRune(b)
		}
		b = b[n:]
	}
	return true
}

// utf16Reader decodes UTF-16 to UTF-8.
type utf16Reader struct {
	r    *bufio.Reader
	big  bool
	rest []byte
	buf  []byte
	err  error
}

func (u *utf16Reader) Read(p []byte) (int, error) {
	for len(u.rest) == 0 {
		if u.err != nil {
			return 0, u.err
		}
		u.buf = u.buf[:0]
		for len(u.buf) < 32<<10 && u.err == nil {
			c, ok := u.unit()
			if !ok {
				break
			}
			r := rune(c)
			if utf16.IsSurrogate(r) {
				d, _ := u.unit()
				r = utf16.DecodeRune(r, rune(d))
			}
			u.buf = utf8.AppendRune(u.buf, r)
		}
		u.rest = u.buf
	}
	n := copy(p, u.rest)
	u.rest = u.rest[n:]
	return n, nil
}

func (u *utf16Reader) unit() (uint16, bool) {
	a, err := u.r.ReadByte()
	if err != nil {
		u.err = err
		return 0, false
	}
	b, err := u.r.ReadByte()
	if err != nil {
		u.err = err
		return 0, false
	}
	if u.big {
		return uint16(a)<<8 | uint16(b), true
	}
	return uint16(b)<<8 | uint16(a), true
}

// crReader turns every CR into LF.
type crReader struct{ r io.Reader }

func (c *crReader) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	for i, b := range p[:n] {
		if b == '\r' {
			p[i] = '\n'
		}
	}
	return n, err
}

// utf8String gives b as a string, reading bytes that are not UTF-8 as
// Latin-1.
func utf8String(b []byte) string {
	if utf8.Valid(b) {
		return string(b)
	}
	r := make([]rune, len(b))
	for i, c := range b {
		r[i] = rune(c)
	}
	return string(r)
}
