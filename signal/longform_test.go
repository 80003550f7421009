package signal

import (
	"fmt"
	"strings"
	"testing"
)

// melted is a file with the readings of one channel below those of the other, of which
// row writes one.
func melted(r rec, head, between string, row func(name string, t, x float64) string) string {
	return head + r.rows(func(i int, t, d, v float64) string { return row("drive", t, d) }) + between +
		r.rows(func(i int, t, d, v float64) string { return row("feedback", t, v) })
}

// pairOf writes the two readings of an instant as a row each.
func pairOf(r rec, row func(i int, name string, t, x float64) string) string {
	return r.rows(func(i int, t, d, v float64) string {
		return row(i, "drive", t, d) + "\n" + row(i, "feedback", t, v)
	})
}

var longShapes = []shape{
	{name: "time, channel, value", text: func(r rec) string {
		return "time,channel,value\n" + pairOf(r, func(_ int, n string, t, x float64) string { return fmt.Sprintf("%.3f,%s,%.3f", t, n, x) })
	}},
	{name: "no header", text: func(r rec) string {
		return pairOf(r, func(_ int, n string, t, x float64) string { return fmt.Sprintf("%.3f,%s,%.3f", t, n, x) })
	}},
	{name: "names without a role, and in turn", o: Options{Roles: map[Role]string{Drive: "XR7", Feedback: "Qb"}}, text: func(r rec) string {
		name := map[string]string{"drive": "XR7", "feedback": "Qb"}
		return "t;id;y\n" + r.rows(func(i int, t, d, v float64) string {
			a, b := fmt.Sprintf("%.3f;XR7;%.3f", t, d), fmt.Sprintf("%.3f;%s;%.3f", t, name["feedback"], v)
			if i%2 == 1 {
				a, b = b, a
			}
			return a + "\n" + b
		})
	}},
	{name: "a unit in each row, in two sizes", text: func(r rec) string {
		return "timestamp,channel,value,unit\n" + pairOf(r, func(i int, n string, t, x float64) string {
			if i > 5 && i%7 < 3 {
				return fmt.Sprintf("%.3f,%s,%.0f,mV", t, n, x*1000)
			}
			return fmt.Sprintf("%.3f,%s,%.3f,V", t, n, x)
		})
	}},
	{name: "decimal commas and stamps of the clock", start: "2031-05-17T23:59:58Z", text: func(r rec) string {
		return "Zeit;Kanal;Wert (mV)\n" + pairOf(r, func(_ int, n string, t, x float64) string {
			return fmt.Sprintf("%s;%s;%s", stampOf(t).Format("02.01.2006 15:04:05.000"), n, comma(fmt.Sprintf("%.1f", x*1000)))
		})
	}},
	{name: "date and time of day", start: "2031-05-17T23:59:58Z", text: func(r rec) string {
		return "date\ttime\tsignal\tvalue\n" + pairOf(r, func(_ int, n string, t, x float64) string {
			return stampOf(t).Format("2006-01-02\t15:04:05.000") + fmt.Sprintf("\t%s\t%.3f", n, x)
		})
	}},
	{name: "runs of spaces, name first, a number of the row", text: func(r rec) string {
		n := 0
		return "channel no. time value\n" + pairOf(r, func(i int, name string, t, x float64) string {
			n++
			return fmt.Sprintf("%-9s %6d  %8.3f  %7.3f", name, n, t, x)
		})
	}},
	{name: "words of the drive", polarity: true, text: func(r rec) string {
		return "time,channel,value\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%.3f,direction,%s\n%.3f,feedback,%.3f", t, word(d, "open", "close", "stop"), t, v)
		})
	}},
	{name: "preamble, remarks, blank lines, head again, other channels", text: func(r rec) string {
		return "\"Pocket logger, 3 channels\"\nMode,Auto\n\n\"time\",\"channel\",\"value\"\n" + r.rows(func(i int, t, d, v float64) string {
			s := fmt.Sprintf("\"%.3f\",\"drive\",\"%.3f\"\n\"%.3f\",\"cabin, left\",\"21.5\"\n\"%.3f\",\"feedback\",\"%.3f\"", t, d, t, t, v)
			switch i {
			case 50:
				s = "# noon\n" + s
			case 90:
				s += "\n"
			case 120:
				s = "\"time\",\"channel\",\"value\"\n" + s
			}
			return s
		})
	}},
	{name: "one channel below the other, named in each row", text: func(r rec) string {
		return melted(r, "time,variable,value\n", "", func(n string, t, x float64) string { return fmt.Sprintf("%.3f,%s,%.3f", t, n, x) })
	}},
	{name: "one channel below the other under headings", text: func(r rec) string {
		return melted(r, "Logger 5\nChannel: drive\ntime_s,value_mV\n", "\nChannel: feedback\ntime_s,value_mV\n", func(_ string, t, x float64) string { return fmt.Sprintf("%.3f,%.0f", t, x*1000) })
	}},
	{name: "one channel below the other under its own names", text: func(r rec) string {
		return melted(r, "Time;drive (V)\n", "Time;feedback (V)\n", func(_ string, t, x float64) string { return comma(fmt.Sprintf("%.3f;%.3f", t, x)) })
	}},
	{name: "one channel below the other under a line with its name", text: func(r rec) string {
		return melted(r, "[drive]\n", "[feedback]\n", func(_ string, t, x float64) string { return fmt.Sprintf("%.3f,%.3f", t, x) }) + "end of export\n"
	}},
}

func TestLongShapes(t *testing.T) {
	for _, rows := range []int{400, 9000} { // within the head that settles the shape, and beyond
		r := newRec(rows, 0.02)
		for _, s := range longShapes {
			t.Run(fmt.Sprint(s.name, " ", rows), func(t *testing.T) {
				for _, block := range []int{0, 100} {
					if block > 0 && rows > 400 {
						continue
					}
					s.o.block = block
					tr, err := Read(strings.NewReader(s.text(r)), s.o)
					if err != nil {
						t.Fatalf("%v\n%s", err, s.text(r)[:200])
					}
					checkShape(t, tr, r, s)
					if !hasNote(tr, "long") {
						t.Error("it is not said")
					}
				}
			})
		}
	}
}

// Tables with text beside their readings stay what they are.
func TestTextIsNoChannel(t *testing.T) {
	r := newRec(400, 0.02)
	for _, s := range []shape{
		{name: "words of the drive", polarity: true, text: func(r rec) string {
			return "time,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
				return fmt.Sprintf("%.3f,%s,%.3f", t, word(d, "up", "down", "stop"), v)
			})
		}},
		{name: "words of the drive without names", polarity: true, text: func(r rec) string {
			return r.rows(func(i int, t, d, v float64) string {
				return fmt.Sprintf("%.3f,%s,%.3f", t, word(d, "open", "close", "off"), v)
			})
		}},
		{name: "under the name of a channel", polarity: true, text: func(r rec) string {
			return "time,signal,value\n" + r.rows(func(i int, t, d, v float64) string {
				return fmt.Sprintf("%.3f,%s,%.3f", t, word(d, "up", "down", "stop"), v)
			})
		}},
		{name: "with a coarse clock", polarity: true, tol: 1e6, start: "skip", text: func(r rec) string {
			return "time,direction,feedback\n" + r.rows(func(i int, t, d, v float64) string {
				return fmt.Sprintf("%s,%s,%.3f", stampOf(t).Format("15:04:05.0"), word(d, "up", "down", "stop"), v)
			})
		}},
		{name: "a remark that changes in every row", text: func(r rec) string {
			return "time,channel,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
				return fmt.Sprintf("%.3f,%s,%.2f,%.3f", t, []string{"drive", "feedback"}[i%2], d, v)
			})
		}},
		{name: "names of runs", text: func(r rec) string {
			return "time,name,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
				return fmt.Sprintf("%.3f,left %d,%.2f,%.3f", t, i/100, d, v)
			})
		}},
		{name: "a unit beside each", text: func(r rec) string {
			return "time,drive,unit,feedback,unit\n" + r.rows(func(i int, t, d, v float64) string {
				return fmt.Sprintf("%.3f,%.2f,V,%.3f,V", t, d, v)
			})
		}},
	} {
		t.Run(s.name, func(t *testing.T) {
			tr, err := Read(strings.NewReader(s.text(r)), s.o)
			if err != nil {
				t.Fatal(err)
			}
			if hasNote(tr, "long") {
				t.Fatal("taken for one reading a row")
			}
			if s.start != "skip" {
				checkShape(t, tr, r, s)
			}
		})
	}
	// What has no drive but words that nobody knows, or pieces of one recording, is refused
	// for what it is.
	for _, c := range []struct{ name, text, want string }{
		{"unknown words, events by the second", "time,mode,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("12:00:%02d,%s,%.3f", i/7, []string{"zig", "zag", "zog"}[i*i%7%3], v)
		}), `holds the words "zig", "zag", "zog", of which "zig", "zag", "zog" are no known directions`},
		{"pieces in rows", melted(r, "time,name,value\n", "", func(n string, t, x float64) string {
			return fmt.Sprintf("%.3f,run %d,%.3f", t, len(n)%4, x)
		}), "drive"},
		{"pieces under headings", melted(r, "Segment 1\ntime,feedback\n", "Segment 2\ntime,feedback\n", func(n string, t, x float64) string {
			return fmt.Sprintf("%.3f,%.3f", t, x)
		}), "no motor drive"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read(strings.NewReader(c.text), Options{})
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}

// Without times the rows of one instant cannot be told.
func TestLongWithoutTimes(t *testing.T) {
	r := newRec(60, 0.02)
	_, err := Read(strings.NewReader("channel,value\n"+r.rows(func(i int, t, d, v float64) string {
		return fmt.Sprintf("drive,%g\nfeedback,%g", d, v)
	})), Options{Rate: 100})
	if err == nil || !strings.Contains(err.Error(), "one reading per row") {
		t.Errorf("got %v", err)
	}
}
