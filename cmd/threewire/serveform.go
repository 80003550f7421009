package main

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"threewire/signal"
)

// reading is how a person says that a file is to be read. The zero value
// leaves it to the program.
type reading struct {
	columns []chosen
	rate    string // as typed
}

// chosen is what is chosen for one column.
type chosen struct {
	number int    // from 1
	role   string // flag of the role; empty leaves it to the program
	factor string // as typed; empty is none
}

// of is what is chosen for column n.
func (r *reading) of(n int) chosen {
	for _, c := range r.columns {
		if c.number == n {
			return c
		}
	}
	return chosen{number: n}
}

// mostColumns is as many as the form shows.
const mostColumns = 64

// readingOf reads the form. Fields that are not ours are passed over.
func readingOf(form url.Values) reading {
	r := reading{rate: strings.TrimSpace(form.Get("rate"))}
	for n := 1; n <= mostColumns; n++ {
		c := chosen{number: n, role: form.Get(fmt.Sprintf("role-%d", n)), factor: strings.TrimSpace(form.Get(fmt.Sprintf("factor-%d", n)))}
		if c.role != "" || c.factor != "" {
			r.columns = append(r.columns, c)
		}
	}
	return r
}

// options are those that the same choices give on the command line.
func (r *reading) options(source string) (signal.Options, error) {
	fs := pflag.NewFlagSet("page", pflag.ContinueOnError)
	rf := addReadFlags(fs)
	wrong := func(format string, a ...any) (signal.Options, error) {
		return signal.Options{}, fmt.Errorf("%s: %s", source, fmt.Sprintf(format, a...))
	}
	taken := map[string]int{}
	for _, c := range r.columns {
		if role, ok := roleByFlag(c.role); c.role != "" && (!ok || role == signal.Unused) {
			return wrong("column %d: %q is no choice of the form", c.number, clip(c.role))
		}
		if first := taken[c.role]; c.role != "" && first > 0 {
			return wrong("columns %d and %d are both chosen as “%s”: choose it for one of them", first, c.number, labelOf(c.role))
		}
		taken[c.role] = c.number
		if c.role != "" {
			fs.Set(c.role, strconv.Itoa(c.number)) // any text is a column's name
		}
		if c.factor == "" {
			continue
		}
		if _, err := strconv.ParseFloat(asTyped(c.factor), 64); err != nil {
			return wrong("column %d: the factor is %q, expected a number, for example 10 for a probe that divides by 10", c.number, clip(c.factor))
		}
		if c.role == "" {
			return wrong("column %d has a factor: choose also what it is", c.number)
		}
		fs.Set("scale", c.role+"="+asTyped(c.factor))
	}
	if r.rate != "" {
		if err := fs.Set("rate", asTyped(r.rate)); err != nil {
			return wrong("“Readings per second” is %q, expected a number, for example 500", clip(r.rate))
		}
	}
	return rf.options(source)
}

func labelOf(flag string) string {
	for _, r := range roleNames {
		if r.flag == flag {
			return r.label
		}
	}
	return flag
}

// columnsView is the form for the columns of one file.
type columnsView struct {
	ID      string
	File    int
	Name    string // of the file
	What    string // label of its slot
	Message string // why it is asked; empty when the user came by himself
	Lines   []string
	Columns []columnView
	More    int // columns beyond those shown
	Rate    string
	Known   bool // the file has times
}

func (v *columnsView) title() string {
	return "Which column is what?"
}

type columnView struct {
	Number      int
	Name, Range string
	Now         string // what it is taken for, and why
	Factor      string
	Choices     []choice
}

type choice struct {
	Value, Label string
	Chosen       bool
}

// newColumnsView fills the form with the columns found and what is chosen.
func newColumnsView(k *kept, file int, message string, l *signal.Layout) *columnsView {
	u := &k.files[file]
	v := &columnsView{ID: k.id, File: file, Name: u.name, What: slotLabel(u.slot), Message: message, Rate: u.reading.rate, Known: l.Time.Source != "none"}
	for _, line := range layoutLines(l) {
		v.Lines = append(v.Lines, strings.TrimPrefix(line, l.Source+": "))
	}
	for i, c := range l.Columns {
		if i == mostColumns {
			v.More = len(l.Columns) - mostColumns
			break
		}
		is := u.reading.of(c.Number)
		cv := columnView{Number: c.Number, Name: c.Name, Factor: is.factor, Now: c.Role, Choices: []choice{{"", "leave it to the program", is.role == ""}}}
		switch {
		case c.Role == signal.Unused.String() && (c.Reason == "" || c.Reason == "no role"):
			cv.Now = "not used"
		case c.Role == signal.Unused.String():
			cv.Now = "not used (" + c.Reason + ")"
		default:
			cv.Now = fmt.Sprintf("%s (%s)", c.Role, c.Reason)
		}
		if c.Min != nil && c.Max != nil {
			cv.Range = fmt.Sprintf("%s to %s %s", short(c.Min), short(c.Max), unitWithScale(&c))
		}
		for _, r := range roleNames {
			cv.Choices = append(cv.Choices, choice{r.flag, r.label, is.role == r.flag})
		}
		v.Columns = append(v.Columns, cv)
	}
	return v
}

func slotLabel(name string) string {
	for _, s := range slots() {
		if s.Name == name {
			return s.Label
		}
	}
	return ""
}

// showColumns shows the form for the columns of a file.
func (p *page) showColumns(w http.ResponseWriter, r *http.Request) {
	k, file, err := p.fileOf(r)
	if err != nil {
		p.refuse(w, r, err)
		return
	}
	v, err := func() (*columnsView, error) {
		k.mu.Lock()
		defer k.mu.Unlock()
		return p.columnsForm(r.Context(), k, file)
	}()
	if err != nil {
		p.refuse(w, r, err)
		return
	}
	p.show(w, http.StatusOK, "columns", v)
}

// columnsForm makes the form, with what stands against the file as it is read
// now. The caller holds k.mu.
func (p *page) columnsForm(ctx context.Context, k *kept, file int) (*columnsView, error) {
	if k.gone {
		return nil, errNotKept
	}
	var l *signal.Layout
	message := ""
	if k.refused != nil && k.refused.file == file {
		l, message = k.refused.layout, k.refused.message
	}
	if l == nil {
		err := p.atWork(ctx, func() (err error) {
			l, err = k.files[file].inspect(ctx)
			return err
		})
		if err != nil {
			return nil, &refusal{http.StatusUnprocessableEntity, pageWords(err.Error()), "Choose another file on the start page."}
		}
	}
	return newColumnsView(k, file, message, l), nil
}

// fileOf finds the upload and the file that a path names.
func (p *page) fileOf(r *http.Request) (*kept, int, error) {
	k, _ := p.keep.get(r.PathValue("id"))
	if k == nil {
		return nil, 0, errNotKept
	}
	n, err := strconv.Atoi(r.PathValue("file"))
	if err != nil || n < 0 || n >= len(k.files) { // the number of files never changes
		return nil, 0, errNotKept
	}
	return k, n, nil
}

// takeColumns judges an upload again with other columns.
func (p *page) takeColumns(w http.ResponseWriter, r *http.Request) {
	k, file, err := p.fileOf(r)
	if err == nil {
		r.Body = http.MaxBytesReader(w, r.Body, 1<<20)
		if r.ParseForm() != nil {
			err = &refusal{http.StatusBadRequest, "The form could not be read.", "Go back and send it again."}
		}
	}
	if err != nil {
		p.refuse(w, r, err)
		return
	}
	v, err := p.choose(r.Context(), k, file, readingOf(r.PostForm))
	switch {
	case err != nil:
		p.refuse(w, r, err)
	case v != nil:
		p.show(w, http.StatusUnprocessableEntity, "columns", v)
	default:
		http.Redirect(w, r, "/result/"+k.id, http.StatusSeeOther)
	}
}

// choose judges an upload with other columns of a file. A view is the form
// again, with what is still wrong.
func (p *page) choose(ctx context.Context, k *kept, file int, is reading) (*columnsView, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	told, was := k.told, k.refused
	before := make([]reading, len(k.files))
	for i := range k.files {
		before[i] = k.files[i].reading
	}
	k.files[file].reading = is
	err := p.atWork(ctx, func() error { k.alike(ctx, file); return nil })
	var d *drawn
	if err == nil {
		d, err = p.judge(ctx, k)
	}
	if err != nil {
		k.told, k.refused = told, was
		for i := range k.files {
			k.files[i].reading = before[i]
		}
		return nil, err
	}
	p.keep.hold(k, d)
	if k.refused == nil {
		return nil, nil
	}
	return p.columnsForm(ctx, k, k.refused.file)
}

// alike gives the choices for one file to all others of the upload that have
// the same columns: they come from the same instrument. The caller holds k.mu.
func (k *kept) alike(ctx context.Context, file int) {
	names := func(i int) (out []string) {
		l, err := k.files[i].inspect(ctx)
		if err != nil {
			return nil
		}
		for _, c := range l.Columns {
			out = append(out, c.Name)
		}
		return out
	}
	if len(k.files) < 2 {
		return
	}
	own := names(file)
	for i := range k.files {
		if i != file && own != nil && slices.Equal(own, names(i)) {
			k.files[i].reading = k.files[file].reading
		}
	}
}
