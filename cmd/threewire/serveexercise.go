package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"threewire/analyze"
	"threewire/fixtures"
	"threewire/plots"
	"threewire/signal"
)

// mostExercises bounds the numbers of exercises, so that a trainer can say
// them aloud.
const mostExercises = 9999

// exercise is a simulated capture with its truth, and what the program says
// of it. The number fixes all of it.
type exercise struct {
	text  []byte // CSV
	truth *fixtures.Truth
	drawn *drawn
}

// newExercise makes exercise n: a fault that the capture mostly decides, picked at
// random. Of the healthy ones, of which there are many kinds, every other is
// passed over.
func (p *page) newExercise(ctx context.Context, n int) (*exercise, error) {
	r := rand.New(rand.NewPCG(uint64(n), 31205))
	list := fixtures.Faults()
	for range 20 { // few of them leave no mark at this severity
		f := list[r.IntN(len(list))]
		if fixtures.Fault(f.Name).Component() == fixtures.None && r.IntN(2) == 0 {
			continue
		}
		c, err := fixtures.Make(fixtures.Spec{Fault: fixtures.Fault(f.Name), Severity: 0.8, Seed: r.Uint64N(1 << 30)})
		if err != nil {
			return nil, err
		}
		// Most of those that a capture cannot decide are passed over: the rest make
		// "cannot tell" an answer to reckon with.
		if !c.Truth.Decidable && r.IntN(3) != 0 {
			continue
		}
		var b bytes.Buffer
		if err := c.WriteCSV(&b, ""); err != nil {
			return nil, err
		}
		t, err := signal.Read(readUntilDone{ctx, io.NopCloser(bytes.NewReader(b.Bytes()))}, signal.Options{Source: fmt.Sprintf("exercise %d", n)})
		if err != nil {
			return nil, err
		}
		m, err := analyze.Examine(t, analyze.Defaults())
		if err != nil {
			return nil, err
		}
		j := &judged{report: analyze.Judge(m), traces: []*signal.Trace{t}}
		d := newDrawn(j)
		d.figs[0].Truth = toldTruth(&c.Truth)
		return &exercise{b.Bytes(), &c.Truth, d}, nil
	}
	return nil, &refusal{http.StatusNotFound, fmt.Sprintf("There is no exercise %d.", n), "Take another one."}
}

// exercisePhone is the size of an exercise on a phone, the same for all: that of a picture
// with room for what is found would tell how much that is.
func exercisePhone() size { return size{100, 215} }

// exerciseView is the page of an exercise. Guess is empty before the answer.
type exerciseView struct {
	Number   int
	Choices  []choice
	Guess    string
	Right    bool
	Truth    string // component
	About    string
	Where    string // the truth in full
	Headline string // what the program says
	Phone    size
}

func (v *exerciseView) title() string { return fmt.Sprintf("Exercise %d", v.Number) }

// Picture is the name of the picture to show.
func (v *exerciseView) Picture() string {
	if v.Guess == "" {
		return "blank"
	}
	return "answer"
}

// anyExercise leads to one picked at random.
func (p *page) anyExercise(w http.ResponseWriter, r *http.Request) {
	http.Redirect(w, r, fmt.Sprintf("/exercise/%d", 1+rand.IntN(mostExercises)), http.StatusSeeOther)
}

// exercise shows a blank picture and asks; with a guess it shows the answer.
func (p *page) exercise(w http.ResponseWriter, r *http.Request) {
	p.withExercise(w, r, func(n int, x *exercise) (send func(), err error) {
		v := &exerciseView{Number: n, Guess: r.URL.Query().Get("guess"), Phone: exercisePhone()}
		for _, f := range append(analyze.Faults(), analyze.CannotTell) {
			v.Choices = append(v.Choices, choice{f.String(), f.String(), f.String() == v.Guess})
		}
		if !slices.ContainsFunc(v.Choices, func(c choice) bool { return c.Chosen }) {
			v.Guess = ""
		}
		name := func(component string) string {
			if component == "none" {
				return analyze.NoFault.String()
			}
			return component
		}
		v.Truth, v.About = name(x.truth.Component), x.truth.About
		v.Where = x.drawn.figs[0].Truth.Text
		v.Right = slices.Contains(rightAnswers(x.truth), v.Guess)
		v.Headline = tell(x.drawn.judged).forPage().headline()
		return func() { p.show(w, http.StatusOK, "exercise", v) }, nil
	})
}

// exerciseFile sends a picture of an exercise or its capture.
func (p *page) exerciseFile(w http.ResponseWriter, r *http.Request) {
	p.withExercise(w, r, func(n int, x *exercise) (send func(), err error) {
		text := func(kind, policy string, b []byte) func() {
			return func() {
				w.Header().Set("Content-Type", kind)
				w.Header().Set("Content-Security-Policy", policy)
				w.Write(b)
			}
		}
		o := plots.Options{Title: fmt.Sprintf("Exercise %d", n)}
		name, narrow := strings.CutSuffix(r.PathValue("file"), "-phone.svg")
		if narrow {
			s := exercisePhone()
			o.Width, o.Height = float64(s.Width), float64(s.Height)
		} else {
			name = strings.TrimSuffix(name, ".svg")
		}
		switch name {
		case "blank", "answer":
			o.Blank, o.Answer = name == "blank", name == "answer"
			var b bytes.Buffer
			err := plots.Draw(&b, "svg", x.drawn.figs, o)
			return text("image/svg+xml", outputPolicy, b.Bytes()), err
		case "capture.csv":
			w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=exercise-%d.csv", n))
			return text("text/csv", outputPolicy, x.text), nil
		}
		return nil, errNothing
	})
}

// withExercise makes the exercise that a path names and the answer to it, and
// sends it.
func (p *page) withExercise(w http.ResponseWriter, r *http.Request, answer func(n int, x *exercise) (send func(), err error)) {
	n, err := strconv.Atoi(r.PathValue("number"))
	if err != nil || n < 1 || n > mostExercises {
		p.message(w, http.StatusNotFound, "There is no such exercise.", fmt.Sprintf("They have numbers from 1 to %d. Begin at the start page.", mostExercises))
		return
	}
	var send func()
	err = p.atWork(r.Context(), func() error {
		x, err := p.newExercise(r.Context(), n)
		if err == nil {
			send, err = answer(n, x)
		}
		return err
	})
	if err != nil {
		p.refuse(w, r, err)
		return
	}
	send()
}
