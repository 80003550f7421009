package signal

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"
)

// More ways to write a capture, each met or likely somewhere.
var oddShapes = []shape{
	{name: "units row in parentheses, blank line, decimal comma", text: func(r rec) string {
		return "Zeit;Kanal A;Kanal B\n(ms);(V);(mV)\n\n" + r.rows(func(i int, t, d, v float64) string {
			return comma(fmt.Sprintf("%.8f;%.8f;%.8f", t*1000, d, v*1000))
		})
	}},
	{name: "scan number, clock with colon before the milliseconds, channel numbers", text: func(r rec) string {
		return "Scan,Time,101 <DRIVE> (VDC),102 <WIPER> (VDC)\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%d,%s,%+.6E,%+.6E", i+1, strings.Replace(stampOf(t).Format("01/02/2006 15:04:05.000"), ".", ":", 1), d, v)
		})
	}, start: "2031-05-17T23:59:58Z"},
	{name: "milliseconds in a column of their own", text: func(r rec) string {
		return "Date;Time;ms;Drive;Feedback\n" + r.rows(func(i int, t, d, v float64) string {
			s := stampOf(t)
			return fmt.Sprintf("%s;%d;%.1f;%.3f", s.Format("02.01.2006;15:04:05"), s.Nanosecond()/1e6, d, v)
		})
	}, start: "2031-05-17T23:59:58Z"},
	{name: "stamp broken by a comma before the milliseconds", text: func(r rec) string {
		return "time,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return strings.Replace(stampOf(t).Format("2006-01-02 15:04:05.000"), ".", ",", 1) + fmt.Sprintf(",%g,%g", d, v)
		})
	}, start: "2031-05-17T23:59:58Z"},
	{name: "stamp of two words between blanks, one name", text: func(r rec) string {
		return "Timestamp Drive Feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return stampOf(t).Format("2006-01-02 15:04:05.000") + fmt.Sprintf(" %g %g", d, v)
		})
	}, start: "2031-05-17T23:59:58Z"},
	{name: "row numbers without a name", text: func(r rec) string {
		return "\"time\" \"drive\" \"feedback\"\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("\"%d\" %g %g %g", i+1, t, d, v) })
	}},
	{name: "row numbers with an empty name", text: func(r rec) string {
		return ",time,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%d,%g,%g,%g", i, t, d, v) })
	}},
	{name: "elapsed clock", text: func(r rec) string {
		return "Elapsed,Drive,Feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("0:%02d:%06.3f,%g,%g", int(t)/60, math.Mod(t, 60), d, v)
		})
	}},
	{name: "minutes and seconds", text: func(r rec) string {
		return "Elapsed,Drive,Feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%02d:%06.3f,%g,%g", int(t)/60, math.Mod(t, 60), d, v)
		})
	}},
	{name: "labels in every cell", text: func(r rec) string {
		return r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("t:%.3f,drive:%g,fb:%g", t, d, v) })
	}},
	{name: "labels with equals signs", text: func(r rec) string {
		return r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("ms=%.0f motor=%g pot=%g", t*1000, d, v) })
	}},
	{name: "hexadecimal counts", text: func(r rec) string {
		return "ms,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%.0f,%g,0x%04X", t*1000, d, int(math.Round(v*1000)))
		})
	}, vFactor: 1000, vUnit: "counts"},
	{name: "exponents with D", text: func(r rec) string {
		return r.rows(func(i int, t, d, v float64) string {
			return strings.ReplaceAll(fmt.Sprintf(" %.8e  %.8e  %.8e", t, d, v), "e", "D")
		})
	}},
	{name: "header cells broken over lines", text: func(r rec) string {
		return "Time,\"Drive\n(mV)\",\"Feedback\n(V)\"\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%.3f,%g,%g", t, d*1000, v) })
	}},
	{name: "text marks of spreadsheets", text: func(r rec) string {
		return "time,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("=\"%.3f\",'%g,=\"%g\"", t, d, v) })
	}},
	{name: "signals named in brackets", text: func(r rec) string {
		return "time\tV(drive)\tV(wiper)\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%.15e\t%.6e\t%.6e", t, d, v) })
	}},
	{name: "ISO basic form", text: func(r rec) string {
		return "stamp,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return stampOf(t).Format("20060102T150405.000Z") + fmt.Sprintf(",%g,%g", d, v)
		})
	}, start: "2031-05-17T23:59:58Z"},
	{name: "nanoseconds and a zone", text: func(r rec) string {
		return "stamp,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return stampOf(t).In(time.FixedZone("", 7200)).Format("2006-01-02T15:04:05.000000000-07:00") + fmt.Sprintf(",%g,%g", d, v)
		})
	}, start: "2031-05-17T23:59:58Z"},
	{name: "epoch nanoseconds", text: func(r rec) string {
		return "time,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%d,%g,%g", stampOf(t).UnixNano(), d, v) })
	}, start: "2031-05-17T23:59:58Z"},
	{name: "spreadsheet days", text: func(r rec) string {
		return "Date,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%.10f,%g,%g", 25569+float64(stampOf(0).Unix())/86400+t/86400, d, v)
		})
	}, start: "skip", tol: 0.01},
	{name: "interval written as a clock", text: func(r rec) string {
		return "Logging interval,00:00:00.02\n\ndrive,feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%g,%g", d, v) })
	}},
	{name: "rate with prefix", text: func(r rec) string {
		return "Sampling rate: 0.05 kSa/s\nDrive;Feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%g;%g", d, v) })
	}},
	{name: "preamble in every channel's column", text: func(r rec) string {
		return "Name,,Drive,Wiper\nUnits,,V,V\nSampling interval,,0.02,0.02\nRange,,20,5\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf(",%g,%g,%g", t, d, v) })
	}},
	{name: "a remark column filled now and then", text: func(r rec) string {
		return "time,drive,feedback,remark\n" + r.rows(func(i int, t, d, v float64) string {
			s := ""
			if i%90 == 3 {
				s = "\"clicks, then rests\""
			}
			return fmt.Sprintf("%g,%g,%g,%s", t, d, v, s)
		})
	}},
	{name: "leads as logic levels", text: func(r rec) string {
		return "time,in1,in2,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%g,%s,%s,%g", t, word(d, "HIGH", "LOW", "LOW"), word(d, "LOW", "HIGH", "LOW"), v)
		})
	}, polarity: true},
	{name: "leads as 0 and 1", text: func(r rec) string {
		return "time,in1,in2,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%g,%s,%s,%g", t, word(d, "1", "0", "0"), word(d, "0", "1", "0"), v)
		})
	}, polarity: true},
	{name: "drive as signed duty cycle", text: func(r rec) string {
		return "time,drive (%),feedback (V)\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%g,%s,%g", t, word(d, "100", "-100", "0"), v) })
	}, polarity: true},
	{name: "duty cycle and direction", text: func(r rec) string {
		return "time,pwm,dir,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%g,%g,%s,%g", t, math.Abs(d)/12*255, word(d, "1", "0", "1"), v)
		})
	}, polarity: true},
	{name: "volts and direction in words", text: func(r rec) string {
		return "time,motor voltage,direction,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%g,%g,%s,%g", t, math.Abs(d), word(d, "open", "close", "open"), v)
		})
	}},
	{name: "enable line and direction", text: func(r rec) string {
		return "time,enable,direction,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%g,%s,%s,%g", t, word(d, "on", "on", "off"), word(d, "up", "down", "up"), v)
		})
	}, polarity: true},
	{name: "numbered directions", text: func(r rec) string {
		return "time,direction,feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%g,%s,%g", t, word(d, "1", "2", "0"), v) })
	}, polarity: true},
	{name: "a preamble longer than the first look", text: func(r rec) string {
		var b strings.Builder
		for i := range 4000 {
			fmt.Fprintf(&b, "setting %d,%d\nnote,free text %d\n%d,%d\n%d,%d\n", i, i*i, i, i, 7, i+1, 9)
		}
		return b.String() + "time,drive,feedback\n" + r.rows(plainRow)
	}},
	{name: "blank line after each row", text: func(r rec) string {
		return "time,drive,feedback\n\n" + strings.ReplaceAll(r.rows(plainRow), "\n", "\r\r\n\n")
	}},
	{name: "tail of zero bytes", text: func(r rec) string {
		return "time,drive,feedback\n" + r.rows(plainRow) + strings.Repeat("\x00", 3000)
	}},
	{name: "end mark of old systems", text: func(r rec) string { return "time,drive,feedback\n" + r.rows(plainRow) + "\x1a" }},
	{name: "infinity signs", text: func(r rec) string {
		return "time;drive;feedback\n" + r.rows(func(i int, t, d, v float64) string {
			s := comma(fmt.Sprintf("%.3f", v))
			if i%70 == 5 {
				s = []string{"∞", "-∞"}[i/70%2]
			}
			return comma(fmt.Sprintf("%.3f;%g;", t, d)) + s
		})
	}},
	{name: "micro sign read wrongly on the way", text: func(r rec) string {
		return "Time (Âµs),Drive (V),Feedback (V)\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%.0f,%g,%g", t*1e6, d, v) })
	}},
	{name: "micro sign in Latin-1", text: func(r rec) string {
		return "Time (\xb5s),Drive (V),Feedback (V)\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%.0f,%g,%g", t*1e6, d, v) })
	}},
	{name: "stamps before an arrow", text: func(r rec) string {
		return r.rows(func(i int, t, d, v float64) string {
			return stampOf(t).Format("15:04:05.000") + fmt.Sprintf(" -> %g,%g", d, v)
		})
	}},
	{name: "stamps in square brackets", text: func(r rec) string {
		return r.rows(func(i int, t, d, v float64) string {
			return stampOf(t).Format("[2006-01-02 15:04:05.000]") + fmt.Sprintf(",%g,%g", d, v)
		})
	}, start: "2031-05-17T23:59:58Z"},
	{name: "a trailing line of totals", text: func(r rec) string {
		return "time,drive,feedback\n" + r.rows(plainRow) + "Average,0.0,2.5\nMaximum,12.0,4.0\n"
	}},
	{name: "named units in words", text: func(r rec) string {
		return "Time in seconds;Drive in Volts;Feedback in Millivolts\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%g;%g;%g", t, d, v*1000) })
	}},
	{name: "names above units above ranges", text: func(r rec) string {
		return "Time,Drive,Feedback\ns,V,V\n,±20,±5\n" + r.rows(plainRow)
	}},
	{name: "plus and minus leads", text: func(r rec) string {
		return "time,M+,M-,pot\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%g,%g,%g,%g", t, max(d, 0), max(-d, 0), v) })
	}},
	{name: "many columns of no use", text: func(r rec) string {
		return "time,GPS lat,outside temp (°C),drive,light (lx),feedback,speed (km/h),state\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%g,51.%04d,%.1f,%g,%d,%g,0,ready", t, i%7, 20+t/10, d, 300+i%9, v)
		})
	}},
}

func TestOddShapes(t *testing.T) {
	r := newRec(400, 0.02)
	for _, s := range oddShapes {
		t.Run(s.name, func(t *testing.T) {
			tr, err := Read(strings.NewReader(s.text(r)), s.o)
			if err != nil {
				t.Fatalf("%v\n%s", err, s.text(r)[:200])
			}
			checkShape(t, tr, r, s)
		})
	}
}

// Shapes that cannot be read are refused with the reason.
func TestRefusedShapes(t *testing.T) {
	r := newRec(60, 0.02)
	for _, c := range []struct{ name, text, want string }{
		{"decimal commas between commas", "time,drive,feedback\n" + strings.ReplaceAll(r.rows(plainRow), ".", ","), "commas stand for the decimal mark"},
		{"one series broken into rows", "SERIES, 360 samples, 40 sps\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%+.4e\t%+.4e\t%+.4e\t%+.4e\t%+.4e\t%+.4e", v, v+0.001, v+0.002, v+0.003, v+0.004, v+0.005)
		}), "pieces of one series"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read(strings.NewReader(c.text), Options{})
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}

// An arrow within a cell is text of that cell, wherever it comes.
func TestArrowAmongEvents(t *testing.T) {
	r := newRec(6000, 0.02) // more than the head that settles the shape
	tr := mustRead(t, "time,drive,feedback,event\n"+r.rows(func(i int, t, d, v float64) string {
		event := ""
		if i == 5500 {
			event = "key on -> off"
		}
		return fmt.Sprintf("%s,%g,%g,%s", stampOf(t).Format("15:04:05.000"), d, v, event)
	}), Options{})
	if tr.Rows != 6000 {
		t.Errorf("%d rows", tr.Rows)
	}
}

// A blank inside a cell, of a date and its time or of a name, parts no cells
// where tabs do.
func TestBlanksBetweenTabs(t *testing.T) {
	var b strings.Builder
	b.WriteString("Time stamp\tMotor A\tMotor B\tPot wiper\n\tV\tV\tV\n")
	for i := range 400 {
		fmt.Fprintf(&b, "%s\t%d\t%d\t%.4f\n", time.Date(2031, 5, 17, 23, 59, 0, i%10*1e8, time.UTC).Add(time.Duration(i/10)*time.Second).Format("2006-01-02 15:04:05.000"), 12*(i/100%2), 0, 1+float64(i%40)/20)
	}
	tr, err := Read(strings.NewReader(b.String()), Options{})
	if err != nil {
		t.Fatal(err)
	}
	var roles []Role
	for _, c := range tr.Columns {
		roles = append(roles, c.Role)
	}
	if want := []Role{TimeRole, LeadA, LeadB, Feedback}; !slices.Equal(roles, want) {
		t.Errorf("roles %v, want %v", roles, want)
	}
}
