package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"io"
	"os"
	"regexp"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// preambleSize is how much of a capture is searched for its preamble, in
// bytes. Preambles of instruments have a few dozen short lines.
const preambleSize = 4 << 10

// withPreamble adds to a key what the preamble of the capture says. The
// pattern is matched against one line at a time, and each of its groups takes
// its first match that is not empty, so that alternatives find facts in
// whatever order they stand. Without an actuator nothing else is taken.
func withPreamble(key batchKey, pattern *regexp.Regexp, text string) batchKey {
	group := map[string]string{}
	for line := range strings.SplitSeq(text, "\n") {
		for _, m := range pattern.FindAllStringSubmatch(line, -1) {
			for i, name := range pattern.SubexpNames() {
				if s := strings.TrimSpace(m[i]); name != "" && s != "" && group[name] == "" {
					group[name] = s
				}
			}
		}
	}
	if group["actuator"] == "" {
		return key
	}
	key.actuator = plainText(group["actuator"])
	if group["free"] != "" || group["coupled"] != "" {
		key.free = group["free"] != ""
	}
	if when := group["when"]; when != "" {
		if _, at := cutDate(when); at != "" {
			when = at
		}
		key.when = plainText(when)
	}
	if phase := group["phase"]; phase != "" {
		key.phase = strings.ToLower(plainText(phase))
	}
	// What was recorded of one actuator on one day, and on one side of a
	// repair, belongs together whatever the files are called. Without a day
	// only the names can tell.
	if day, _, _ := strings.Cut(key.when, "T"); day != "" {
		key.occasion = strings.Join([]string{key.actuator, day, key.phase}, "\n")
	}
	return key
}

// preamble is the beginning of a capture as UTF-8 with LF line ends. It is
// empty when it cannot be read: the row will say why.
func preamble(f found) string {
	if f.err != nil {
		return ""
	}
	in, err := os.Open(f.path)
	if err != nil {
		return ""
	}
	defer in.Close()
	var r io.Reader = bufio.NewReader(in)
	if magic, _ := r.(*bufio.Reader).Peek(2); bytes.Equal(magic, []byte{0x1f, 0x8b}) {
		if r, err = gzip.NewReader(r); err != nil {
			return ""
		}
	}
	b := make([]byte, preambleSize)
	n, _ := io.ReadFull(r, b) // a short or damaged file has a beginning too
	return lfText(b[:n])
}

// lfText decodes UTF-16 with its mark, UTF-8, or else Latin-1.
func lfText(b []byte) string {
	var s string
	switch {
	case bytes.HasPrefix(b, []byte{0xff, 0xfe}):
		s = utf16Text(b[2:], binary.LittleEndian)
	case bytes.HasPrefix(b, []byte{0xfe, 0xff}):
		s = utf16Text(b[2:], binary.BigEndian)
	default:
		b = bytes.TrimPrefix(b, []byte("\xef\xbb\xbf"))
		// The end may be in the middle of a character.
		whole := b
		for i := 0; i < utf8.UTFMax && len(whole) > 0 && !utf8.Valid(whole); i++ {
			whole = whole[:len(whole)-1]
		}
		if s = string(whole); !utf8.Valid(whole) {
			runes := make([]rune, len(b))
			for i, c := range b {
				runes[i] = rune(c)
			}
			s = string(runes)
		}
	}
	return strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(s)
}

func utf16Text(b []byte, order binary.ByteOrder) string {
	units := make([]uint16, len(b)/2)
	for i := range units {
		units[i] = order.Uint16(b[2*i:])
	}
	return string(utf16.Decode(units))
}
