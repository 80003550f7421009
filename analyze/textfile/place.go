// Package textfile tells where a text file that a user writes by hand, one setting a
// line, cannot be used. It builds on nothing.
package textfile

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// An Error is a place in a file that cannot be used.
type Error struct {
	File         string
	Line, Column int    // from 1; Line 0 when the file as a whole lacks something
	Found        string // "" when something is missing
	Want         string // what was expected
	Hint         string // what to do
}

func (e *Error) Error() string {
	s := e.File
	if e.Line > 0 {
		s += fmt.Sprintf(":%d:%d", e.Line, e.Column)
	}
	s += ": "
	if e.Found != "" {
		s += "found " + strconv.Quote(short(e.Found)) + ", "
	}
	return s + "expected " + e.Want + "; " + e.Hint
}

// short keeps a message readable when a file is no text at all.
func short(s string) string {
	const most = 40
	if runes := []rune(s); len(runes) > most {
		return string(runes[:most]) + "..."
	}
	return s
}

// A Place is a line of a file, for messages.
type Place struct {
	File string
	Line int
	Raw  string // the whole line
}

// Wrong is an error at the column where part begins.
func (at *Place) Wrong(part, found, want, hint string) *Error {
	column := 1
	if i := strings.Index(at.Raw, part); i > 0 {
		column += utf8.RuneCountInString(at.Raw[:i])
	}
	return &Error{at.File, at.Line, column, found, want, hint}
}

// Setting gives what stands in the line before a comment, without the blanks around it.
func (at *Place) Setting() string {
	s, _, _ := strings.Cut(at.Raw, "#")
	return strings.TrimSpace(s)
}
