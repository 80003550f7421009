package signal

import (
	"strconv"
	"strings"
)

// SyntaxError is a place in a file that could not be read. Line and Column
// are 1-based and 0 when they do not apply; Column counts cells, not bytes.
type SyntaxError struct {
	File   string
	Line   int64
	Column int
	Msg    string // what was found and what was expected
	Hint   string // what to do, "" when nothing helps
}

// Error prints file:line:column: message; hint.
func (e *SyntaxError) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		b.WriteByte(':')
		b.WriteString(strconv.FormatInt(e.Line, 10))
		if e.Column > 0 {
			b.WriteByte(':')
			b.WriteString(strconv.Itoa(e.Column))
		}
	}
	b.WriteString(": ")
	b.WriteString(e.Msg)
	if e.Hint != "" {
		b.WriteString("; ")
		b.WriteString(e.Hint)
	}
	return b.String()
}

// A RoleError says which role could not be given to a column and which flag
// would settle it.
type RoleError struct {
	File string
	Role Role
	Msg  string
	Hint string
}

// Error prints file: message; hint.
func (e *RoleError) Error() string {
	s := e.File + ": " + e.Msg
	if e.Hint != "" {
		s += "; " + e.Hint
	}
	return s
}

// An OptionError is a reading option that is wrong whatever the file holds.
type OptionError struct {
	Flag string // without the leading dashes
	Msg  string
}

func (e *OptionError) Error() string { return "--" + e.Flag + ": " + e.Msg }

// A SourceError is a failure to open, unpack or read the bytes of a file.
type SourceError struct {
	File string
	Msg  string
	Err  error
}

func (e *SourceError) Error() string { return e.File + ": " + e.Msg }

// Unwrap gives the cause.
func (e *SourceError) Unwrap() error { return e.Err }
