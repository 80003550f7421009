package signal

import (
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"time"
)

var shapes = []shape{
	{name: "plain", text: func(r rec) string { return "time,drive,feedback\n" + r.rows(plainRow) }},
	{name: "no header", text: func(r rec) string { return r.rows(plainRow) }},
	{name: "generic names", text: func(r rec) string { return "X,CH1,CH2\n" + r.rows(plainRow) }},
	{name: "units in brackets", text: func(r rec) string {
		return "t [ms],Motor [mV],Wiper [mV]\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%.1f,%.0f,%.0f", t*1000, d*1000, v*1000)
		})
	}},
	{name: "units in parentheses", text: func(r rec) string {
		return "Time (µs), Drive (kV), Feedback (Volts)\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%.0f, %.5f, %.3f", t*1e6, d/1000, v)
		})
	}},
	{name: "names and units rows with trailing comma", text: func(r rec) string {
		return "X,CH1,CH2,\nSecond,Volt,Volt,\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%.5e,%.3e,%.4e,", t-1, d, v)
		})
	}, t0: -1},
	{name: "units as names", text: func(r rec) string { return "sec,Volt1,Volt2\n" + r.rows(plainRow) }},
	{name: "ms without a unit", text: func(r rec) string {
		return "time,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%.0f,%g,%g", t*1000, d, v) })
	}},
	{name: "millis in the name", text: func(r rec) string {
		return "time_ms,motor_v,pot_v\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%.0f,%g,%g", t*1000, d, v) })
	}},
	{name: "engineering notation", text: func(r rec) string {
		return "x-axis,1,2\nsecond,Volt,Volt\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%+.3fE-03,%+.6fE+00,%+.3fE-03", t*1000, d, v*1000)
		})
	}},
	{name: "semicolon and decimal comma", text: func(r rec) string {
		return "Zeit (s);Antrieb (V);Schleifer (V)\n" + r.rows(func(i int, t, d, v float64) string {
			return comma(fmt.Sprintf("%.3f;%.2f;%.3f", t, d, v))
		})
	}},
	{name: "thousands dot and decimal comma", text: func(r rec) string {
		return "Zeit (s);Antrieb (mV);Schleifer (mV)\n" + r.rows(func(i int, t, d, v float64) string {
			s := word(d, "12.000,0", "-12.000,0", "0,0")
			return comma(fmt.Sprintf("%.3f;", t)) + s + fmt.Sprintf(";%d.%03d,0", int(math.Round(v*1000))/1000, int(math.Round(v*1000))%1000)
		})
	}},
	{name: "tab", text: func(r rec) string {
		return "time\tdrive\tfeedback\n" + strings.ReplaceAll(r.rows(plainRow), ",", "\t")
	}},
	{name: "tab and decimal comma", text: func(r rec) string {
		return "temps\tmoteur\tcurseur\n" + r.rows(func(i int, t, d, v float64) string {
			return comma(fmt.Sprintf("%.3f\t%.2f\t%.3f", t, d, v))
		})
	}},
	{name: "runs of spaces", text: func(r rec) string {
		return r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("  %8.3f   %7.2f  %6.3f", t, d, v) })
	}},
	{name: "names in a remark", text: func(r rec) string {
		return "# bench scope\n# time drive feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%.6e %.6e %.6e", t, d, v) })
	}},
	{name: "bar", text: func(r rec) string {
		return "time|drive|feedback\n" + strings.ReplaceAll(r.rows(plainRow), ",", "|")
	}},
	{name: "all quoted", text: func(r rec) string {
		return "\"time\",\"drive\",\"feedback\"\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("\"%.3f\",\"%.2f\",\"%.3f\"", t, d, v) })
	}},
	{name: "quoted decimal commas", text: func(r rec) string {
		return "time,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return comma(fmt.Sprintf("\"%.3f\"", t)) + "," + comma(fmt.Sprintf("\"%.2f\"", d)) + "," + comma(fmt.Sprintf("\"%.3f\"", v))
		})
	}},
	{name: "sep line of spreadsheets", text: func(r rec) string {
		return "sep=;\ntime;drive;feedback\n" + strings.ReplaceAll(r.rows(plainRow), ",", ";")
	}},
	{name: "key and value preamble", text: func(r rec) string {
		return "Model,pocket logger\nRecord length,400\nSample interval,0.02\nVertical units,V\nHorizontal units,S\nTime, ,\nMode,Detail,\nCurve data,\n" + r.rows(plainRow)
	}},
	{name: "preamble beside the data", text: func(r rec) string {
		side := []string{"Record length,4.0e2", "Sample interval,2.0e-2", "Trigger,0", ",", "Source,CH1", "Vertical units,V", "Horizontal units,s", "Probe,1.0e1"}
		return r.rows(func(i int, t, d, v float64) string {
			s := ","
			if i < len(side) {
				s = side[i]
			}
			return fmt.Sprintf("%s,,   %.6f,  %.3f,  %.4f,", s, t, d, v)
		})
	}},
	{name: "start and increment over the data", text: func(r rec) string {
		return "X,CH1,CH2,Start,Increment,\nSequence,Volt,Volt,-5.0e-01,2.0e-02\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%d,%.2e,%.4e,", i, d, v) })
	}, t0: -0.5},
	{name: "interval in the preamble", text: func(r rec) string {
		return "Sample interval: 20 ms\nStart: 1.5 s\n\ndrive,feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%g,%g", d, v) })
	}, t0: 1.5},
	{name: "rate in a remark", text: func(r rec) string {
		return "# Sample rate: 50Hz\n# Date: 2031-05-17 10:00:00\ndrive,feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%g,%g", d, v) })
	}, start: "2031-05-17T10:00:00Z"},
	{name: "rate in words", text: func(r rec) string {
		return "POCKET LOGGER, 400 samples, 50 sps, 2031-05-17T10:00:00.5\ndrive,feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%g,%g", d, v) })
	}, start: "2031-05-17T10:00:00.5Z"},
	{name: "rate from the user", text: func(r rec) string {
		return "drive,feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%g,%g", d, v) })
	}, o: Options{Rate: 50}},
	{name: "index and rate from the user", text: func(r rec) string {
		return "Sample,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%d,%g,%g", i+1, d, v) })
	}, o: Options{Rate: 50}},
	{name: "index besides time", text: func(r rec) string {
		return "No.,Time,Drive,Feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%d,%.3f,%g,%g", i+1, t, d, v) })
	}},
	{name: "pairs", text: func(r rec) string {
		return "Interval,0.02,Interval,0.02\nChannel name,\"Drive\",Channel name,\"Wiper\"\nUnit,\"V\",Unit,\"V\"\n" +
			r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%g,%g,%g,%g", t, d, t, v) })
	}},
	{name: "ISO clock", text: func(r rec) string {
		return "Timestamp,Drive,Feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return stampOf(t).Format("2006-01-02T15:04:05.000Z") + fmt.Sprintf(",%g,%g", d, v)
		})
	}, start: "2031-05-17T23:59:58Z"},
	{name: "date and time in two columns", text: func(r rec) string {
		return "date,time,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return stampOf(t).Format("2006-01-02,15:04:05.000") + fmt.Sprintf(",%g,%g", d, v)
		})
	}, start: "2031-05-17T23:59:58Z"},
	{name: "time of day over midnight", text: func(r rec) string {
		return "time,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return stampOf(t).Format("15:04:05.000") + fmt.Sprintf(",%g,%g", d, v)
		})
	}},
	{name: "clock in the last column", text: func(r rec) string {
		return "Sample,Drive V ,Feedback V ,Time,\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%d,%g,%g,%s,", i+1, d, v, stampOf(t).Format("15:04:05.00"))
		})
	}},
	{name: "German clock", text: func(r rec) string {
		return "Zeitstempel;Antrieb;Rückmeldung\n" + r.rows(func(i int, t, d, v float64) string {
			return stampOf(t).Format("02.01.2006 15:04:05,000") + comma(fmt.Sprintf(";%.1f;%.3f", d, v))
		})
	}, start: "2031-05-17T23:59:58Z"},
	{name: "American clock with AM and PM", text: func(r rec) string {
		return "Date/Time,Drive,Feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return "\" " + stampOf(t).Format("01/02/2006 03:04:05.000 PM") + "\"" + fmt.Sprintf(", %g, %g", d, v)
		})
	}, start: "2031-05-17T23:59:58Z"},
	{name: "month in words", text: func(r rec) string {
		return "When,Drive,Feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return stampOf(t).Format("02-Jan-06 15:04:05.000") + fmt.Sprintf(",%g,%g", d, v)
		})
	}, start: "2031-05-17T23:59:58Z"},
	{name: "epoch seconds", text: func(r rec) string {
		return "timestamp,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%d.%03d,%g,%g", stampOf(t).Unix(), stampOf(t).Nanosecond()/1e6, d, v)
		})
	}, start: "2031-05-17T23:59:58Z"},
	{name: "epoch milliseconds", text: func(r rec) string {
		return "timestamp,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%d,%g,%g", stampOf(t).UnixMilli(), d, v) })
	}, start: "2031-05-17T23:59:58Z"},
	{name: "whole seconds repeated", text: func(r rec) string {
		return "time,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return epoch0.Add(time.Duration(math.Floor(t+1e-9))*time.Second).Format("15:04:05") + fmt.Sprintf(",%g,%g", d, v)
		})
	}, tol: 1},
	{name: "rounded times", text: func(r rec) string {
		return r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%.1f,%g,%g", t, d, v) })
	}, tol: 3},
	{name: "descending", text: func(r rec) string {
		var l []string
		for i := range r.t {
			l = append([]string{plainRow(i, r.t[i], r.d[i], r.v[i])}, l...)
		}
		return "time,drive,feedback\n" + strings.Join(l, "\n") + "\n"
	}},
	{name: "unit beside each value", text: func(r rec) string {
		return "time,drive,,feedback,\n" + r.rows(func(i int, t, d, v float64) string {
			if i%2 == 1 {
				return fmt.Sprintf("%.3f,%g,V,%.1f,mV", t, d, v*1000)
			}
			return fmt.Sprintf("%.3f,%g,V,%g,V", t, d, v)
		})
	}},
	{name: "SI suffixes", text: func(r rec) string {
		return "time,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%.0fms,%gV,%.0f mV", t*1000, d, v*1000) })
	}},
	{name: "words of polarity", text: func(r rec) string {
		return "time,motor,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%.3f,%s,%g", t, word(d, "forward", "reverse", "stop"), v)
		})
	}, polarity: true},
	{name: "signs of polarity", text: func(r rec) string {
		return "time,dir,wiper\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%.3f,%s,%g", t, word(d, "+", "-", "0"), v) })
	}, polarity: true},
	{name: "hot and cold", text: func(r rec) string {
		return "t (s);befehl;poti\n" + r.rows(func(i int, t, d, v float64) string {
			return comma(fmt.Sprintf("%.3f", t)) + ";" + word(d, "HOT", "COLD", "OFF") + ";" + comma(fmt.Sprintf("%.3f", v))
		})
	}, polarity: true},
	{name: "polarity as numbers", text: func(r rec) string {
		return "time,direction,position\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%.3f,%g,%g", t, d/12, v) })
	}, polarity: true},
	{name: "two leads", text: func(r rec) string {
		return "time,lead A,lead B,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%.3f,%g,%g,%g", t, max(d, 0), max(-d, 0), v)
		})
	}},
	{name: "two leads without names", text: func(r rec) string {
		return "s,V,V,V\n" + r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%.3f,%g,%g,%g", t, max(d, 0), max(-d, 0), v)
		})
	}},
	{name: "all channels without names", text: func(r rec) string {
		return r.rows(func(i int, t, d, v float64) string {
			return fmt.Sprintf("%.3f,%g,%.2f,%.3f,%.2f", t, v, 12.6-math.Abs(d)/40, 5.0+float64(i%3)*0.001, d)
		})
	}},
	{name: "feedback in percent", text: func(r rec) string {
		return "time (s),drive (V),position (%)\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%.3f,%g,%.3f", t, d, v*20) })
	}, vFactor: 20, vUnit: "%"},
	{name: "feedback in counts", text: func(r rec) string {
		return "time,drive,adc\n" + r.rows(func(i int, t, d, v float64) string { return fmt.Sprintf("%.3f,%g,%.0f", t, d, v*1000) })
	}, vFactor: 1000, vUnit: "counts"},
	{name: "marks and empty cells", text: func(r rec) string {
		return "time,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			s := fmt.Sprintf("%g", v)
			if i%50 == 7 {
				s = []string{"OL", "inf", "---", "", "NaN", "9.9E+37", "+OVER", "####"}[i/50%8]
			}
			return fmt.Sprintf("%.3f,%g,%s", t, d, s)
		})
	}},
	{name: "blank tail and footer", text: func(r rec) string {
		return "time,drive,feedback\n" + r.rows(plainRow) + ",,\n,,\n\n\nEnd of record\n"
	}},
	{name: "cut last line", text: func(r rec) string {
		return "time,drive,feedback\n" + r.rows(plainRow) + "99.9,1"
	}},
	{name: "remarks and a repeated header between rows", text: func(r rec) string {
		return "time,drive,feedback\n" + r.rows(func(i int, t, d, v float64) string {
			s := plainRow(i, t, d, v)
			if i == 100 {
				s = "# battery changed\n\ntime,drive,feedback\n" + s
			}
			return s
		})
	}},
	{name: "CRLF", text: func(r rec) string {
		return strings.ReplaceAll("time,drive,feedback\n"+r.rows(plainRow), "\n", "\r\n")
	}},
	{name: "CR only", text: func(r rec) string {
		return strings.ReplaceAll("time,drive,feedback\n"+r.rows(plainRow), "\n", "\r")
	}},
	{name: "byte-order mark", text: func(r rec) string { return "\ufefftime,drive,feedback\n" + r.rows(plainRow) }},
	{name: "Latin-1", text: func(r rec) string { return "Zeit,Antrieb,R\xfcckmeldung\n" + r.rows(plainRow) }},
	{name: "UTF-16LE", text: func(r rec) string {
		return inUTF16("time,drive,feedback\n"+r.rows(plainRow), binary.LittleEndian, true)
	}},
	{name: "UTF-16BE", text: func(r rec) string { return inUTF16("time,drive,feedback\n"+r.rows(plainRow), binary.BigEndian, true) }},
	{name: "UTF-16 without mark", text: func(r rec) string {
		return inUTF16("time,drive,feedback\n"+r.rows(plainRow), binary.LittleEndian, false)
	}},
	{name: "gzip", text: func(r rec) string { return inGzip("time,drive,feedback\n" + r.rows(plainRow)) }},
}
