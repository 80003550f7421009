package signal

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

// busyInputs writes a control that hunts: two inputs that change every few rows,
// often enough to look like noise of one converter step.
func busyInputs(head string, row func(d int) string) string {
	var b strings.Builder
	b.WriteString(head + "\n")
	v := 2.0
	for i := range 240 {
		d := []int{1, 1, 0, -1, -1, -1, 0, 1}[i%8]
		v += 0.05 * float64(d)
		fmt.Fprintf(&b, "%.2f,%s,%.3f\n", float64(i)*0.05, row(d), v+0.001*float64(i%3))
	}
	return b.String()
}

func inTurn(d int) string { return []string{"0,1", "0,0", "1,0"}[d+1] }

// braked holds both inputs high at rest.
func braked(d int) string { return []string{"0,1", "1,1", "1,0"}[d+1] }

// Two columns of 0 and 1 that are high in turn are the drive's two inputs,
// however often they change.
func TestLogicInputs(t *testing.T) {
	for _, c := range []struct {
		head string
		row  func(int) string
	}{
		{"t,In1 (0/1),In2 (0/1),Feedback (V)", inTurn},
		{"t,IN A,IN B,Feedback (V)", inTurn},
		{"t,IN1,IN2,Feedback (V)", braked},
		{"t,x,y,Feedback (V)", inTurn},
		{"t,open_cmd,close_cmd,feedback_v", inTurn},
		{"t,motor_open,motor_close,feedback_v", func(d int) string { return []string{"OFF,ON", "OFF,OFF", "ON,OFF"}[d+1] }},
		{"t,motor_fwd,motor_rev,feedback_v", func(d int) string { return []string{"false,true", "false,false", "true,false"}[d+1] }},
	} {
		tr := mustRead(t, busyInputs(c.head, c.row), Options{})
		if !tr.DriveIsPolarity || tr.Columns[1].Role != LeadA || tr.Columns[2].Role != LeadB {
			t.Errorf("%s: read as %v %q, %v %q", c.head, tr.Columns[1].Role, tr.Columns[1].Reason, tr.Columns[2].Role, tr.Columns[2].Reason)
			continue
		}
		if tr.Drive.Mean[0] != 1 || tr.Drive.Mean[2] != 0 || tr.Drive.Mean[3] != -1 {
			t.Errorf("%s: drive %v", c.head, tr.Drive.Mean[:8])
		}
	}
}

// Where two readings are possible it asks: inputs that are high together may be an
// enable and a direction, and of three columns of 0 and 1 one is something else.
func TestLogicInputsAsk(t *testing.T) {
	third := func(d int) string { return inTurn(d) + "," + []string{"1", "0", "1"}[d+1] }
	for _, text := range []string{
		busyInputs("t,x,y,Feedback (V)", braked),
		busyInputs("t,x,y,z,Feedback (V)", third),
		busyInputs("t,open_cmd,close_cmd,Feedback (V)", braked),
	} {
		_, err := Read(strings.NewReader(text), Options{})
		var re *RoleError
		if !errors.As(err, &re) || re.Role != Drive {
			t.Errorf("got %v, want a question for the drive", err)
		}
	}
	// Names that are a pair settle it beside a third column.
	if tr := mustRead(t, busyInputs("t,IN1,IN2,limit,Feedback (V)", third), Options{}); tr.Columns[1].Role != LeadA || tr.Columns[2].Role != LeadB {
		t.Errorf("named: %v, %v", tr.Columns[1], tr.Columns[2])
	}
}
