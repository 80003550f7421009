package analyze

import "testing"

// What an obstacle leaves of the travel is swept from the stop to where the shaft stands,
// time and again: that is a jam, however evenly it goes to and fro. A control that turns
// over about the same place without a stand hunts.
func TestSweepsToAnObstacleAreNoHunting(t *testing.T) {
	t.Parallel()
	const at = 3.0 // V, 37 % of the travel below the high stop
	for _, stand := range []float64{0.5, 0} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.noise, d.dt = 0.01, 0.01
			way := (d.hi - d.lo) / d.rate
			d.run(0, 0.5)
			for range 2 {
				d.run(12, way+0.4).run(-12, way+0.4)
			}
			d.run(12, way+0.4)
			d.block = func(d *draft, dir float64) bool { return dir < 0 && d.x < at }
			for range 5 {
				d.run(-12, (d.hi-at)/d.rate+stand).run(12, (d.hi-at)/d.rate+stand)
			}
			got, v := look(t, d.run(0, 0.5))
			jam, hunting := finding(got, Jam), finding(got, Hunting)
			if stand > 0 && (jam == nil || hunting != nil || v.Conclusion != DoorMechanism) {
				t.Errorf("seed %d, obstacle: %s", seed, say(got, v))
			}
			if stand == 0 && (hunting == nil || v.Conclusion == DoorMechanism) {
				t.Errorf("seed %d, turned over under way: %s", seed, say(got, v))
			}
		}
	}
}
