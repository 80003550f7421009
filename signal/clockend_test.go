package signal

import "testing"

func TestReadClockWordsAround(t *testing.T) {
	for _, c := range []struct {
		text string
		sec  float64
		date [3]int // year, month, day; 0 none
		zone int
	}{
		{"14:03:05.120 Uhr", 50585.12, [3]int{}, 0},
		{"14:03:05.120 h", 50585.12, [3]int{}, 0},
		{"14:03:05.120 (UTC)", 50585.12, [3]int{}, 0},
		{"14:03:05.120 (UTC+2)", 50585.12, [3]int{}, 7200},
		{"2023-04-13 14:03:05.120 CEST", 50585.12, [3]int{2023, 4, 13}, 7200},
		{"2023-04-13 14:03:05.120 UTC+2", 50585.12, [3]int{2023, 4, 13}, 7200},
		{"2023-04-13T14:03:05.120-0330", 50585.12, [3]int{2023, 4, 13}, -12600},
		{"2023-04-13 14:03:05.120 +02:00", 50585.12, [3]int{2023, 4, 13}, 7200},
		{"2023-04-13T14:03:05.120Z", 50585.12, [3]int{2023, 4, 13}, 0},
		{"0 00:00:01.200", 1.2, [3]int{}, 0},
		{"1 00:00:01.200", 86401.2, [3]int{}, 0},
		{"2d 00:00:01", 172801, [3]int{}, 0},
		{"0h02m05.2s", 125.2, [3]int{}, 0},
		{"Thu Apr 13 14:03:05.120 2023", 50585.12, [3]int{2023, 4, 13}, 0},
		{"Thu Apr 13 14:03:05.120 CEST 2023", 50585.12, [3]int{2023, 4, 13}, 7200},
		{"Apr 13 2023 14:03:05", 50585, [3]int{2023, 4, 13}, 0},
		{"2023-103T14:03:05.120", 50585.12, [3]int{2023, 4, 13}, 0},
		{"2024-366 14:03:05", 50585, [3]int{2024, 12, 31}, 0},
		{"13.04.2023 14:03:05", 50585, [3]int{2023, 4, 13}, 0},
	} {
		s, ok := readClock([]byte(c.text))
		if !ok || s.sec < c.sec-1e-6 || s.sec > c.sec+1e-6 || s.zone != c.zone {
			t.Errorf("%q: read %v, %g s, zone %d; want %g s, zone %d", c.text, ok, s.sec, s.zone, c.sec, c.zone)
			continue
		}
		if c.date == [3]int{} {
			if s.hasDate {
				t.Errorf("%q: a date %v was read", c.text, s.f)
			}
			continue
		}
		if d, _ := s.days(orderDMY); d != daysFromCivil(c.date[0], c.date[1], c.date[2]) {
			t.Errorf("%q: date %v, want %v", c.text, s.f, c.date)
		}
	}
	for _, text := range []string{"14:03:05 volts", "14:03:05 (", "14:03:05 (UTC", "12 4.250", "1 234", "0h02m05.2x", "2023-400", "Thu Apr 13 14:03", "drive 14"} {
		if s, ok := readClock([]byte(text)); ok {
			t.Errorf("%q was read as a clock: %+v", text, s)
		}
	}
}
