package main

// records are the figures of the fixed smaller version (--floors), as
// "accuracy --record" wrote them on the day of the table in DEVELOPERS.md.
func records() map[string]map[string]float64 {
	return map[string]map[string]float64{
		"narrow": {
			"component right on decidable": 0.979, // 94 of 96
			"part right on decidable":      0.979, // 94 of 96
			"right of all":                 0.970, // 160 of 165
			"false alarm on healthy":       0.000, // 0 of 65
			"component wrong at 90 %":      0.009, // 1 of 108
			"part wrong at 90 %":           0.000, // 0 of 21
			"cannot tell rightly":          0.941, // 16 of 17
			"spots found":                  0.800, // 8 of 10
			"spot edges within aim":        0.923, // 12 of 13
			"captures with a false spot":   0.018, // 2 of 114
			"jams found":                   1.000, // 2 of 2
			"jams within aim":              1.000, // 2 of 2
			"hunting found":                0.500, // 2 of 4
			"hunting frequency within aim": 1.000, // 2 of 2
			"drifting ends found":          0.750, // 3 of 4
			"drift interval covers":        1.000, // 1 of 1
			"calibration error":            0.067,
		},
		"wide": {
			"component right on decidable": 0.924, // 73 of 79
			"part right on decidable":      0.924, // 73 of 79
			"right of all":                 0.927, // 153 of 165
			"false alarm on healthy":       0.031, // 2 of 65
			"component wrong at 90 %":      0.031, // 3 of 98
			"part wrong at 90 %":           0.000, // 0 of 16
			"cannot tell rightly":          0.833, // 20 of 24
			"spots found":                  0.889, // 8 of 9
			"spot edges within aim":        0.615, // 8 of 13
			"captures with a false spot":   0.009, // 1 of 114
			"jams found":                   1.000, // 2 of 2
			"jams within aim":              1.000, // 2 of 2
			"hunting found":                0.667, // 2 of 3
			"hunting frequency within aim": 1.000, // 2 of 2
			"drifting ends found":          0.000, // 0 of 1
			"calibration error":            0.043,
		},
	}
}
