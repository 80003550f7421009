package signal

import (
	"fmt"
	"math"
)

// setDrive sets the drive of t, and what the leads stand at together, from the
// columns that tell it: both leads, a polarity with or without volts, the
// current, or one column of the drive.
func (r *reducer) setDrive(t *Trace, a *assignment, o *Options) {
	switch {
	case a.has(LeadA) && a.has(LeadB):
		r.setLeads(t, a, o)
	case a.has(Polarity) && a.has(Drive):
		t.Drive = signed(*r.inRole(Drive, a, o), *r.inRole(Polarity, a, o), r.p.cols[a.col[Drive]].unit.q == volts)
		t.DriveIsPolarity = t.Drive.Unit == ""
	case a.has(Polarity):
		t.Drive, t.DriveIsPolarity = *r.inRole(Polarity, a, o), true
		t.Drive.Unit = ""
	case a.bySign:
		t.Drive, t.DriveIsPolarity = currentSign(*t.Current, t.Time), true
		r.p.note(byCurrent, "there is no motor drive in this file: its direction is that of the current in %s; a drive without current cannot be seen", r.p.columnName(a.col[Current]))
	default:
		r.setSignedDrive(t, a, o)
	}
}

// setLeads takes the drive as lead A less lead B. Leads whose volts are unknown
// tell the polarity only.
func (r *reducer) setLeads(t *Trace, a *assignment, o *Options) {
	x, y := *r.inRole(LeadA, a, o), *r.inRole(LeadB, a, o)
	toldVolts(&x, o, LeadA, Drive)
	toldVolts(&y, o, LeadB, Drive)
	why := ""
	if !a.logicLeads() {
		for _, s := range []struct {
			lead *Series
			role Role
		}{{&x, LeadA}, {&y, LeadB}} {
			if w := r.unknownVolts(s.lead, a.col[s.role], probeFactor*rawCountsMax, o); w != "" {
				why = w
			}
		}
	}
	if !a.logicLeads() && why == "" {
		v := a.channel(a.col[Feedback]).mean
		r.probeScales(&x, &y, v, o)
		r.endLeads(&x, &y, v)
		endAtOne(&x, &y)
		endAtOne(&y, &x)
	}
	t.Drive = difference(x, y)
	if t.Drive.Unit == "V" && !a.logicLeads() && why == "" {
		t.Both = lower(x, y)
	}
	f := o.roleScale(Drive)
	if f != 1 {
		// Scaled as one: a factor for the drive applies to the difference, and what
		// divides that divides each lead. Its sign only says which lead is which.
		t.Drive = scaleSeries(t.Drive, f)
		if t.Both != nil {
			both := scaleSeries(*t.Both, math.Abs(f))
			t.Both = &both
		}
	}
	if a.logicLeads() {
		t.DriveIsPolarity, t.Drive.Unit = true, ""
	}
	if why != "" {
		t.Drive, t.DriveIsPolarity = r.relativeDrive(t.Drive, fmt.Sprintf("the leads in columns %d and %d are", a.col[LeadA]+1, a.col[LeadB]+1), why), true
	}
}

// setSignedDrive takes the drive from one column: volts, or a polarity or a duty
// under the name of a drive.
func (r *reducer) setSignedDrive(t *Trace, a *assignment, o *Options) {
	sign := a.signOnly(a.col[Drive]) && o.roleScale(Drive) == 1
	t.Drive = *r.inRole(Drive, a, o)
	if sign { // named as a drive, written as -1, 0 and 1
		t.DriveIsPolarity, t.Drive.Unit = true, ""
	}
	if t.Drive.Unit == "%" { // a signed duty cycle
		t.Drive = scaleSeries(t.Drive, 0.01)
		t.DriveIsPolarity, t.Drive.Unit = true, ""
	} else if c := &r.p.cols[a.col[Drive]]; isDuty(c) { // and one in steps of the timer
		if top := max(math.Abs(t.Drive.Stats.Min), math.Abs(t.Drive.Stats.Max)); top > 1 {
			t.Drive = scaleSeries(t.Drive, 1/top)
		}
		t.DriveIsPolarity, t.Drive.Unit = true, ""
	} else if why := r.unknownVolts(&t.Drive, a.col[Drive], rawCountsMax, o); why != "" && !t.DriveIsPolarity {
		t.Drive, t.DriveIsPolarity = r.relativeDrive(t.Drive, r.p.columnName(a.col[Drive])+" is", why), true
	}
	toldVolts(&t.Drive, o, Drive)
}
