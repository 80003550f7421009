package analyze

// A shaft that is slower one way all along asks its tests another question than one that
// stands or slows somewhere: is it a load that takes the speed, or the motor.

// slowerOneWay tells whether the capture shows a coupled shaft that is slower one way.
func (c *Capture) slowerOneWay() bool { return !c.Free && c.shows(UnevenWays) }

// waysOutcomes gives what a test can show of a shaft that is slower one way, nil where
// that is what it shows of any. A motor's brushes or gears stay with it off the door and
// make it no load; a door that drags, or a sound one's weight or spring, stays behind, and
// is a load, which takes current (n = n0 (1 - I/Is)). Fewer volts one way go with the plug.
func waysOutcomes(test string) []outcome {
	switch test {
	case runItFree:
		return []outcome{
			{"the free run is as fast both ways", shown{.97, .9, .07, .96, .1}},
			{"the free run is slower that way too", shown{.03, .1, .93, .04, .9}},
		}
	case logCurrent:
		return []outcome{
			{"it draws more the slower way, by what the slowing takes", shown{.95, .9, .1, .95, .1}},
			{"it draws no more the slower way", shown{.05, .1, .9, .05, .9}},
		}
	}
	return nil
}

// askWays gives the tests the outcomes for a shaft that is slower one way, where nothing
// stands besides.
func askWays(tests []trial, captures []*Capture) {
	slower := false
	for _, c := range captures {
		if c.stands() {
			return
		}
		slower = slower || c.slowerOneWay()
	}
	for i := range tests {
		if o := waysOutcomes(tests[i].name); slower && o != nil {
			tests[i].outcomes = o
		}
	}
}
