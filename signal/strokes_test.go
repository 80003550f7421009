package signal

// strokes calls row for 800 readings of an actuator that is driven up, rests and is driven
// down again, twice: i is the number of the reading, drive -1, 0 or 1, and the wiper goes
// from 0.5 V to 4 V.
func strokes(row func(i int, drive, wiper float64)) {
	v := 0.5
	for i := range 800 {
		d := 0.0
		switch i % 400 / 100 {
		case 1:
			d = 1
		case 3:
			d = -1
		}
		v += 0.035 * d
		row(i, d, v)
	}
}
