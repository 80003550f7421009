package main

import (
	"bytes"
	"context"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io"
	"log"
	"net/http"
	"slices"
	"sync"
	"time"

	"threewire/analyze"
	"threewire/analyze/cost"
	"threewire/fixtures"
	"threewire/plots"
	"threewire/signal"
)

//go:embed page
var pageFiles embed.FS

// page is the local page.
type page struct {
	dir     string // of the uploads
	largest int64  // bytes of one upload
	report  plots.ReportOptions
	prices  *cost.Prices // of every upload that brings none; may be nil
	log     *log.Logger
	now     func() time.Time
	looks   map[string]*template.Template
	keep    *keeper
	work    chan struct{} // places for reading, judging and drawing
	uploads chan struct{} // places for uploads
	under   sync.WaitGroup
	examine func(ctx context.Context, path string, stdin io.Reader, so signal.Options, opt analyze.Options) (*analyze.Parts, error)
}

// parseLooks reads the templates: each stands in the common frame.
func parseLooks() map[string]*template.Template {
	out := map[string]*template.Template{}
	for _, name := range []string{"start", "result", "columns", "message", "exercise"} {
		out[name] = template.Must(template.ParseFS(pageFiles, "page/frame.html", "page/"+name+".html"))
	}
	return out
}

// routes are all that the page answers.
func (p *page) routes() http.Handler {
	m := http.NewServeMux()
	m.HandleFunc("GET /{$}", func(w http.ResponseWriter, r *http.Request) { p.start(w, http.StatusOK, nil) })
	m.HandleFunc("POST /{$}", p.check)
	m.HandleFunc("GET /prices.txt", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/plain; charset=utf-8")
		io.WriteString(w, fixtures.ShopPrices())
	})
	m.HandleFunc("GET /exercise", p.anyExercise)
	m.HandleFunc("GET /exercise/{number}", p.exercise)
	m.HandleFunc("GET /exercise/{number}/{file}", p.exerciseFile)
	m.HandleFunc("GET /result/{id}", p.result)
	m.HandleFunc("GET /result/{id}/columns/{file}", p.showColumns)
	m.HandleFunc("POST /result/{id}/columns/{file}", p.takeColumns)
	m.HandleFunc("GET /result/{id}/{output}", p.output)
	for _, f := range []struct{ name, kind string }{{"page.css", "text/css"}, {"page.js", "text/javascript"}, {"icon.svg", "image/svg+xml"}} {
		m.HandleFunc("GET /"+f.name, func(w http.ResponseWriter, r *http.Request) {
			b, err := pageFiles.ReadFile("page/" + f.name)
			if err != nil {
				panic(err) // it was embedded
			}
			w.Header().Set("Content-Type", f.kind+"; charset=utf-8")
			w.Write(b)
		})
	}
	m.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		p.refuse(w, r, errNothing)
	})
	return m
}

// errNothing is the answer to a wrong address.
var errNothing = &refusal{http.StatusNotFound, "There is nothing at this address.", "Begin at the start page."}

// frame is what every page has.
type frame struct {
	Title string
	Body  any
}

// show writes a page whole or not at all.
func (p *page) show(w http.ResponseWriter, status int, look string, body interface{ title() string }) {
	var b bytes.Buffer
	if err := p.looks[look].ExecuteTemplate(&b, "frame", frame{body.title(), body}); err != nil {
		panic(err)
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	w.Write(b.Bytes())
}

// startView is the start page.
type startView struct {
	Wrong     *refusal // what was wrong with the upload before
	First     slot
	More      []slot
	Supply    string // V, the default
	Rate      string // rows a second that are good
	Steps     []string
	Cautions  []string
	Largest   int64
	LargestIs string
}

func (v *startView) title() string { return "Check a door actuator" }

func (p *page) start(w http.ResponseWriter, status int, wrong *refusal) {
	s := slots()
	usual := analyze.UsualSituation()
	plan, err := analyze.PlanCapture(usual, analyze.Defaults().Limits)
	if err != nil {
		panic(err) // it is what plan assumes
	}
	p.show(w, status, "start", &startView{Wrong: wrong, First: s[0], More: s[1:],
		Supply: num(usual.Reference), Rate: num(usual.Rate), Steps: plan.Steps, Cautions: plan.Cautions,
		Largest: p.largest, LargestIs: megabytes(p.largest)})
}

// What and Todo are for the template.
func (e *refusal) What() string  { return e.what }
func (e *refusal) Todo() string  { return e.todo }
func (e *refusal) title() string { return e.what }

// message is a page with nothing but a message.
func (p *page) message(w http.ResponseWriter, status int, what, todo string) {
	p.show(w, status, "message", &refusal{status, what, todo})
}

// refuse answers with what went wrong.
func (p *page) refuse(w http.ResponseWriter, r *http.Request, err error) {
	var said *refusal
	switch {
	case errors.As(err, &said):
		p.message(w, said.status, said.what, said.todo)
	case errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded):
		p.message(w, http.StatusServiceUnavailable, "The page is being closed, or the request was given up.", "Start threewire serve again.")
	default:
		p.log.Printf("%s %s: %v", r.Method, r.URL.Path, err)
		p.message(w, http.StatusInternalServerError, "That did not work: "+pageWords(err.Error())+".", "The page goes on working.")
	}
}

// check takes an upload, judges it and leads to its result.
func (p *page) check(w http.ResponseWriter, r *http.Request) {
	k, err := p.take(w, r)
	var said *refusal
	switch {
	case err == nil:
		http.Redirect(w, r, "/result/"+k.id, http.StatusSeeOther)
	case errors.As(err, &said):
		p.start(w, said.status, said)
	default:
		p.refuse(w, r, err)
	}
}

// take receives an upload, judges it and keeps it. Until then it has a place
// among the uploads and its room on the disk is set aside, for it may have to
// wait long before it is judged.
func (p *page) take(w http.ResponseWriter, r *http.Request) (*kept, error) {
	select {
	case p.uploads <- struct{}{}:
		defer func() { <-p.uploads }()
	default:
		return nil, &refusal{http.StatusServiceUnavailable, fmt.Sprintf("%d uploads are under way.", cap(p.uploads)), "Wait a moment and send it again."}
	}
	room := p.largest
	if r.ContentLength >= 0 { // else it is not known
		room = min(room, r.ContentLength)
	}
	if !p.keep.reserve(room) {
		return nil, &refusal{http.StatusServiceUnavailable, "As much as the page has room for is being uploaded.", "Wait a moment and send it again."}
	}
	defer p.keep.release(room)
	k, err := p.receive(w, r)
	if err == nil {
		err = p.first(r.Context(), k)
	}
	return k, err
}

// first judges a new upload and keeps it. One that is no table at all is not
// kept: no choice of columns could help it.
func (p *page) first(ctx context.Context, k *kept) (err error) {
	stays := false
	defer func() {
		if !stays {
			k.remove()
		}
	}()
	d, err := p.judgeNew(ctx, k)
	if err != nil {
		return err
	}
	stays = true
	p.keep.add(k)
	p.keep.hold(k, d)
	return nil
}

func (p *page) judgeNew(ctx context.Context, k *kept) (*drawn, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	d, err := p.judge(ctx, k)
	if no := k.refused; err == nil && no != nil && no.layout == nil {
		err = &refusal{http.StatusUnprocessableEntity, no.message, "Choose another file."}
	}
	return d, err
}

// resultView is the page of a verdict.
type resultView struct {
	*statement
	ID      string
	Kind    string // of the verdict, for its colour
	Files   []resultFile
	First   *topic   // the next test where the verdict is open: before report and picture
	Jumps   []*topic // sections worth a link at the top
	Phone   size     // of the picture on a phone
	Profile string
}

type resultFile struct {
	Number     int
	Name, What string // What is empty of what the file before is
}

// testFirst takes the next test out of the sections and puts it before them: of an open
// verdict it is what to do. The statement is kept for others, so the view gets its own.
func (v *resultView) testFirst() {
	own := *v.statement
	own.Sections = slices.Clone(own.Sections)
	v.statement = &own
	if i := slices.IndexFunc(own.Sections, func(t *topic) bool { return t.Title == testTitle }); i >= 0 {
		v.First = own.Sections[i]
		own.Sections = slices.Delete(own.Sections, i, i+1)
	}
}

func (v *resultView) title() string { return v.Name }

// LongestJob bounds the line of the report that says what was checked.
func (v *resultView) LongestJob() int { return longestJob }

// Alt says the picture in words.
func (v *resultView) Alt() string {
	return "Motor drive and feedback against time with what was found. " + v.headline()
}

// result shows the verdict, or the form where none could be reached.
func (p *page) result(w http.ResponseWriter, r *http.Request) {
	k, d := p.keep.get(r.PathValue("id"))
	if k == nil {
		p.refuse(w, r, errNotKept)
		return
	}
	told, v, err := p.state(r.Context(), k)
	// While that was waited for, other columns may have been judged.
	if again, now := p.keep.get(k.id); again == k {
		d = now
	}
	switch {
	case err != nil:
		p.refuse(w, r, err)
	case v != nil:
		p.show(w, http.StatusOK, "columns", v)
	default:
		p.verdict(w, r, k, d, told)
	}
}

// state is what came of an upload: what is told, or the form.
func (p *page) state(ctx context.Context, k *kept) (*statement, *columnsView, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.refused == nil {
		return k.told, nil, nil
	}
	v, err := p.columnsForm(ctx, k, k.refused.file)
	return nil, v, err
}

func (p *page) verdict(w http.ResponseWriter, r *http.Request, k *kept, d *drawn, told *statement) {
	d, err := p.drawnOf(r.Context(), k, d)
	if err != nil {
		p.refuse(w, r, err)
		return
	}
	v := &resultView{statement: told, ID: k.id, Phone: d.phone()}
	switch d.report.Verdict.Conclusion {
	case analyze.NoFault:
		v.Kind = "good"
	case analyze.CannotTell:
		v.Kind = "open"
	default:
		v.Kind = "fault"
	}
	for i := range k.files {
		f := resultFile{Number: i, Name: k.files[i].name}
		if i == 0 || k.files[i].slot != k.files[i-1].slot {
			f.What = slotLabel(k.files[i].slot)
		}
		v.Files = append(v.Files, f)
	}
	if k.profile != nil {
		v.Profile = fmt.Sprint(k.profile)
	}
	if v.Kind == "open" {
		v.testFirst()
	}
	for _, t := range told.Sections {
		switch t.Title {
		case testTitle, costTitle, "Cautions", readTitle:
			v.Jumps = append(v.Jumps, t)
		}
	}
	p.show(w, http.StatusOK, "result", v)
}
