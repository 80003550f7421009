package main

// records are the figures of the fixed smaller version (--floors), as
// "accuracy --record" wrote them on the day of the table in DEVELOPERS.md.
func records() map[string]map[string]float64 {
	return map[string]map[string]float64{
		"narrow": {
			"component right on decidable": 0.844, // 81 of 96
			"part right on decidable":      0.865, // 83 of 96
			"right of all":                 0.867, // 143 of 165
			"false alarm on healthy":       0.062, // 4 of 65
			"component wrong at 90 %":      0.100, // 3 of 30
			"part wrong at 90 %":           0.111, // 3 of 27
			"cannot tell rightly":          0.720, // 18 of 25
			"spots found":                  1.000, // 10 of 10
			"spot edges within aim":        0.688, // 11 of 16
			"captures with a false spot":   0.035, // 4 of 114
			"jams found":                   0.000, // 0 of 2
			"hunting found":                0.500, // 2 of 4
			"hunting frequency within aim": 1.000, // 2 of 2
			"drifting ends found":          0.250, // 1 of 4
			"calibration error":            0.033,
		},
		"wide": {
			"component right on decidable": 0.734, // 58 of 79
			"part right on decidable":      0.747, // 59 of 79
			"right of all":                 0.818, // 135 of 165
			"false alarm on healthy":       0.077, // 5 of 65
			"component wrong at 90 %":      0.000, // 0 of 14
			"part wrong at 90 %":           0.062, // 1 of 16
			"cannot tell rightly":          0.667, // 26 of 39
			"spots found":                  0.778, // 7 of 9
			"spot edges within aim":        0.818, // 9 of 11
			"captures with a false spot":   0.026, // 3 of 114
			"jams found":                   1.000, // 2 of 2
			"jams within aim":              1.000, // 2 of 2
			"hunting found":                1.000, // 3 of 3
			"hunting frequency within aim": 1.000, // 3 of 3
			"drifting ends found":          0.000, // 0 of 1
			"calibration error":            0.038,
		},
	}
}
