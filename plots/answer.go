package plots

import "threewire/analyze"

// narrow is the width, in type sizes, below which a page has one column.
const narrow = 45

// headlines head a picture: the verdict, and on the answer to an exercise the truth
// before it. On a narrow page the two take a line each, on an exercise whatever is known:
// the answer lies over it.
func (d *drawing) headlines(narrow bool) ([]string, analyze.Fault) {
	verdict, fault := d.verdict()
	if verdict == "" {
		return nil, fault
	}
	if !d.exercise() {
		return []string{verdict}, fault
	}
	truth, finds := d.fig.Truth.headline(), "The program finds: "+shortVerdict(&d.fig.Report.Verdict)
	if d.fig.Truth != nil {
		fault = d.fig.Truth.Fault
	}
	switch {
	case truth == "" && !narrow:
		return []string{finds}, fault
	case truth == "":
		return []string{finds, "The truth is not known here"}, fault
	case !narrow:
		return []string{truth + ". " + finds}, fault
	}
	return []string{truth, finds}, fault
}

// headline is the truth in short; empty where it is not known.
func (t *Truth) headline() string {
	if t == nil {
		return ""
	}
	return "Truth: " + t.Fault.String() + " (" + t.Name + ")"
}

// truly is the truth in full under the panels of an answer; without one, that what stands
// there is not it.
func (d *drawing) truly() []string {
	switch {
	case !d.o.Answer || d.panels[0] == Contact:
		return nil
	case d.fig.Truth == nil:
		return []string{"The truth is not known here: all that is marked is what the program finds."}
	}
	return []string{plain("In truth: " + d.fig.Truth.Text)}
}

// answered is the answer in a small cell: the truth, and what the program finds.
func (f *Figure) answered() string {
	finds := ""
	if f.Report != nil {
		finds = shortVerdict(&f.Report.Verdict)
	}
	if f.Truth == nil {
		return "program: " + finds
	}
	if f.Report != nil && f.Report.Verdict.Conclusion == f.Truth.Fault {
		finds = "agrees, " + percent(f.Report.Verdict.Probability)
	}
	return f.Truth.Name + " (" + f.Truth.Fault.String() + "); program: " + finds
}
