package signal

import (
	"bytes"
)

// signatures are the first bytes by which files that are no captures are
// told: PNG (ISO/IEC 15948), JPEG (ISO/IEC 10918), PDF (ISO 32000), ZIP and
// the others by their makers' published formats (from memory).
var signatures = []struct{ magic, what string }{
	{"\x89PNG\r\n\x1a\n", "a PNG picture"},
	{"\xff\xd8\xff", "a JPEG picture"},
	{"GIF87a", "a GIF picture"},
	{"GIF89a", "a GIF picture"},
	{"II*\x00", "a TIFF picture"},
	{"MM\x00*", "a TIFF picture"},
	{"%PDF-", "a PDF document"},
	{"PK\x03\x04", "a ZIP archive"},
	{"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "an office document or workbook"},
	{"7z\xbc\xaf\x27\x1c", "a 7z archive"},
	{"Rar!\x1a\x07", "a RAR archive"},
	{"BZh", "a bzip2 file"},
	{"\xfd7zXZ\x00", "an xz file"},
	{"\x28\xb5\x2f\xfd", "a zstd file"},
	{"\x89HDF\r\n\x1a\n", "an HDF5 file"},
	{"PAR1", "a Parquet file"},
	{"SQLite format 3\x00", "a database"},
	{"{\\rtf", "a text document"},
}

// otherFile tells what a file is that begins with head and is plainly no
// table, and what to do with it; "" when it may be one.
func otherFile(head []byte) (what, hint string) {
	const export = "export the capture as CSV and give that file"
	for _, s := range signatures {
		// "BZh" alone could begin a word: the level follows.
		if !bytes.HasPrefix(head, []byte(s.magic)) || s.magic == "BZh" && (len(head) < 4 || head[3] < '1' || head[3] > '9') {
			continue
		}
		switch s.what {
		case "a ZIP archive":
			if bytes.Contains(head[:min(len(head), 8<<10)], []byte("xl/")) || bytes.Contains(head[:min(len(head), 8<<10)], []byte("[Content_Types].xml")) {
				return "a spreadsheet workbook", "save the sheet with the readings as CSV and give that file"
			}
			return s.what, "unpack it and give the CSV file in it"
		case "a 7z archive", "a RAR archive", "a bzip2 file", "an xz file", "a zstd file":
			return s.what, "unpack it and give the CSV file in it (of packed files only .gz is read as it is)"
		}
		return s.what, export
	}
	if len(head) > 262 && bytes.Equal(head[257:262], []byte("ustar")) { // POSIX.1 ustar
		return "a tar archive", "unpack it and give the CSV file in it"
	}
	text := bytes.ToLower(bytes.TrimLeft(head[:min(len(head), 256)], " \t\r\n"))
	for _, tag := range []string{"<!doctype html", "<html", "<head", "<body"} {
		if bytes.HasPrefix(text, []byte(tag)) {
			return "a web page (HTML)", export
		}
	}
	if bytes.HasPrefix(text, []byte("<?xml")) || bytes.HasPrefix(text, []byte("<svg")) {
		return "an XML file", export
	}
	if rest, ok := bytes.CutPrefix(text, []byte("{")); ok {
		if rest = bytes.TrimLeft(rest, " \t\r\n"); bytes.HasPrefix(rest, []byte(`"`)) || bytes.HasPrefix(rest, []byte("}")) {
			return "a JSON file", export
		}
	}
	if rest, ok := bytes.CutPrefix(text, []byte("[")); ok && bytes.HasPrefix(bytes.TrimLeft(rest, " \t\r\n"), []byte("{")) {
		return "a JSON file", export
	}
	if prose(head) {
		return "a text for reading", export
	}
	return "", ""
}

// prose tells whether a file is mostly sentences: more than half of its lines, and more
// of them than a preamble has.
func prose(head []byte) bool {
	const fewest, words = 8, 6 // common practice, no source
	lines, sentences := 0, 0
	for line := range bytes.Lines(head) {
		if line = bytes.TrimSpace(line); len(line) == 0 {
			continue
		}
		lines++
		letters := 0
		for _, c := range line {
			if c|0x20 >= 'a' && c|0x20 <= 'z' || c >= 0x80 {
				letters++
			}
		}
		if 2*letters > len(line) && len(bytes.Fields(line)) >= words && !bytes.HasPrefix(line, []byte("#")) {
			sentences++
		}
	}
	return sentences >= fewest && 2*sentences > lines
}

// namesOnly finds a line among the first that names at least two channels or
// a channel and the time: the head of a recording without readings. It
// returns its 1-based number, or 0.
func namesOnly(head []byte) int64 {
	const lines = 60 // no preamble of an instrument is longer (common practice, no source)
	for i, line := range bytes.SplitN(head, []byte{'\n'}, lines) {
		for _, delim := range []string{",", ";", "\t"} {
			named := 0
			for _, cell := range bytes.Split(line, []byte(delim)) {
				name := string(bytes.Trim(cell, " \t\r\""))
				if len(name) > 40 {
					continue // a sentence
				}
				if r, w := headerRole(name); isTimeName(name) || w != "" && r != Unused {
					named++
				}
			}
			if named >= 2 {
				return int64(i + 1)
			}
		}
	}
	return 0
}
