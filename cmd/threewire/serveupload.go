package main

import (
	"cmp"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"threewire/analyze"
	"threewire/analyze/cost"
	"threewire/analyze/nominal"
	"threewire/plots"
)

// refusal is an answer to a request that cannot be met.
type refusal struct {
	status int
	what   string // was found
	todo   string // to do about it
}

func (e *refusal) Error() string { return e.what + " " + e.todo }

// errTooLarge ends the reading of an upload beyond its bound.
var errTooLarge = errors.New("upload too large")

// receive stores an upload in a folder of its own. Nothing is left of one
// that is refused.
func (p *page) receive(w http.ResponseWriter, r *http.Request) (k *kept, err error) {
	ctx, cancel := context.WithTimeout(r.Context(), uploadTime)
	defer cancel()
	patient := &patientReader{ctx, r.Body, http.NewResponseController(w)}
	// The end of the page must not wait for the rest of an upload.
	defer context.AfterFunc(ctx, func() { patient.rc.SetReadDeadline(time.Now()) })()
	body := &boundReader{patient, p.largest + 1<<20} // the form itself takes some
	r.Body = io.NopCloser(body)
	form, err := r.MultipartReader()
	if err != nil {
		return nil, &refusal{http.StatusBadRequest, "This is no upload.", "Choose a file on the start page."}
	}
	k = &kept{id: newID(), when: p.now(), volts: analyze.Defaults().ReferenceVolts, prices: p.prices}
	if k.dir, err = os.MkdirTemp(p.dir, "upload-"); err != nil {
		return nil, noRoom(err)
	}
	defer func() {
		if err != nil {
			k.remove()
			k = nil
		}
	}()
	err = k.fill(form)
	switch {
	case errors.Is(err, errTooLarge) || err == nil && k.bytes() > p.largest:
		// A browser shows no answer before it has sent everything.
		io.CopyN(io.Discard, patient, 4*p.largest)
		return k, p.tooLarge()
	case err != nil:
		var said *refusal
		if !errors.As(err, &said) {
			err = &refusal{http.StatusBadRequest, "The upload broke off.", "Send it again."}
		}
		return k, err
	}
	return k, k.complete()
}

func (p *page) tooLarge() error {
	return &refusal{http.StatusRequestEntityTooLarge, fmt.Sprintf("The upload is larger than %s.", megabytes(p.largest)),
		"Pack the file with gzip (.csv.gz), record at fewer readings per second (1000 are plenty), or start threewire serve with a higher --largest."}
}

// megabytes words a size.
func megabytes(n int64) string { return strconv.FormatFloat(float64(n)/1e6, 'f', -1, 64) + " MB" }

// mostParts is more than the form has with as many captures as a picture shows.
const mostParts = plots.MaxFigures + 20

// fill takes the parts of the form as they come.
func (k *kept) fill(form *multipart.Reader) error {
	for range mostParts {
		part, err := form.NextPart()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		if err := k.take(part); err != nil {
			return err
		}
	}
	return &refusal{http.StatusBadRequest, fmt.Sprintf("The upload has more than %d files and fields.", mostParts), "Choose fewer captures on the start page, or use the command threewire check."}
}

// take takes one part of the form.
func (k *kept) take(part *multipart.Part) error {
	field := part.FormName()
	if field == "volts" {
		text, err := io.ReadAll(io.LimitReader(part, 100))
		if err != nil {
			return err
		}
		return k.supply(string(text))
	}
	switch field { // a box that is not ticked is not sent
	case "same":
		k.same = true
		return nil
	case "whole":
		k.whole = true
		return nil
	}
	name := fileName(part.FileName())
	for _, s := range slots() {
		if s.Name != field || part.FileName() == "" {
			continue
		}
		switch field {
		case "profile":
			return takeText(&k.profile, profileFile, nominal.Parse, part, name)
		case "prices":
			return takeText(&k.prices, pricesFile, cost.Parse, part, name)
		}
		return k.store(part, field, name)
	}
	return nil // an empty field, or one that is not ours
}

// supply reads the sensor's supply; an empty field leaves the default.
func (k *kept) supply(text string) error {
	if strings.TrimSpace(text) == "" {
		return nil
	}
	v, err := strconv.ParseFloat(asTyped(text), 64)
	if err != nil || !supplyVolts(v) {
		return &refusal{http.StatusUnprocessableEntity, fmt.Sprintf("“Sensor supply” is %q.", clip(text)), "Expected a positive voltage, for example 5 or 3.3. Choose the files again."}
	}
	k.volts, k.byForm = v, true
	return nil
}

// takeText reads a file that is used as it is read: a profile, or prices.
func takeText[T any](to **T, kind textFile, parse func(file string, text []byte) (*T, error), part io.Reader, name string) error {
	text, err := kind.read(part, name)
	if err == nil {
		*to, err = parse(name, text)
	}
	switch {
	case errors.Is(err, errTooLarge):
		return err
	case err != nil:
		return &refusal{http.StatusUnprocessableEntity, pageWords(err.Error()), "Correct that file, or leave it out, and choose the files again."}
	}
	return nil
}

// store writes a capture to the upload's folder.
func (k *kept) store(part io.Reader, slot, name string) error {
	f, err := os.CreateTemp(k.dir, slot+"-")
	if err != nil {
		return noRoom(err)
	}
	h := sha256.New()
	from := &readErrors{r: part}
	n, err := io.Copy(io.MultiWriter(f, h), from)
	if err = errors.Join(err, f.Close()); err != nil {
		if from.err != nil {
			return from.err
		}
		return noRoom(err)
	}
	k.files = append(k.files, upload{slot: slot, name: name, path: f.Name(), size: n, sum: [32]byte(h.Sum(nil))})
	return nil
}

// complete tells whether the files can be judged together.
func (k *kept) complete() error {
	order := slots()
	slices.SortStableFunc(k.files, func(a, b upload) int {
		at := func(u upload) int { return slices.IndexFunc(order, func(s slot) bool { return s.Name == u.slot }) }
		// Browsers give several files in no order of their own; check is given them by
		// name, as a shell does, and goes by their clocks where all have one.
		return cmp.Or(at(a)-at(b), natural(a.name, b.name))
	})
	now := 0
	seen := map[[32]byte]string{}
	names := map[string]bool{}
	for i := range k.files {
		u := &k.files[i]
		if u.slot == "capture" || u.slot == "free" {
			now++
		}
		if first, ok := seen[u.sum]; ok && u.size > 0 {
			return &refusal{http.StatusUnprocessableEntity, fmt.Sprintf("%s and %s are the same recording:", first, u.name), "one capture is no second piece of evidence. Choose another file, or leave one out."}
		}
		seen[u.sum] = u.name
		// Loggers call every file the same.
		for label := u.name; names[u.name]; {
			u.name = fmt.Sprintf("%s (%s)", label, u.slot)
			label += "'"
		}
		names[u.name] = true
	}
	if err := k.named().swapped(); err != nil {
		return &refusal{http.StatusUnprocessableEntity, pageWords(err.Error()) + ".", "Choose each file for what it is of."}
	}
	if len(k.files) > plots.MaxFigures {
		return &refusal{http.StatusUnprocessableEntity, fmt.Sprintf("These are %d captures; the page takes %d.", len(k.files), plots.MaxFigures), "Choose fewer, or use the command threewire check."}
	}
	if now == 0 {
		return &refusal{http.StatusUnprocessableEntity, "No capture was chosen.", "Choose the CSV file that the scope or the logger saved."}
	}
	return nil
}

// fileName is the name of an uploaded file for messages and downloads: without
// folders of any system, without what no screen shows, and not endless.
func fileName(name string) string {
	name = name[strings.LastIndexAny(name, `/\`)+1:]
	name = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) || r == unicode.ReplacementChar {
			return -1
		}
		return r
	}, name)
	name = strings.TrimSpace(name)
	if r := []rune(name); len(r) > 100 {
		ext := []rune(filepath.Ext(name))
		ext = ext[:min(len(ext), 10)]
		name = string(r[:100-len(ext)]) + string(ext)
	}
	if strings.Trim(name, ".-") == "" {
		return "capture.csv"
	}
	return name
}

// noRoom is the answer to an upload that could not be stored.
func noRoom(err error) error {
	if at := new(os.PathError); errors.As(err, &at) {
		err = at.Err // the name of the temporary file means nothing to the user
	}
	return &refusal{http.StatusInsufficientStorage, fmt.Sprintf("The upload could not be stored: %v.", err), "Make room in the folder for temporary files, or start threewire serve with TMPDIR set to a folder with more room."}
}

// patientReader gives an upload time as long as it moves, until ctx is done.
type patientReader struct {
	ctx context.Context
	r   io.Reader
	rc  *http.ResponseController
}

func (p *patientReader) Read(b []byte) (int, error) {
	if err := p.ctx.Err(); err != nil {
		return 0, err
	}
	now := time.Now()
	// Only a test's recorder has no deadlines.
	p.rc.SetReadDeadline(now.Add(stallTime))
	p.rc.SetWriteDeadline(now.Add(writeTime))
	return p.r.Read(b)
}

// boundReader fails beyond left bytes.
type boundReader struct {
	r    io.Reader
	left int64
}

func (b *boundReader) Read(p []byte) (int, error) {
	if b.left < 0 {
		return 0, errTooLarge
	}
	n, err := b.r.Read(p)
	if b.left -= int64(n); b.left < 0 {
		return 0, errTooLarge
	}
	return n, err
}

// readErrors remembers what went wrong at the reading end of a copy.
type readErrors struct {
	r   io.Reader
	err error
}

func (e *readErrors) Read(p []byte) (int, error) {
	n, err := e.r.Read(p)
	if err != nil && err != io.EOF {
		e.err = err
	}
	return n, err
}
