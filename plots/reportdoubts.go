package plots

import (
	"slices"

	"threewire/analyze"
	"threewire/signal"
)

// twoRecordings says to a customer why nothing was judged, see [analyze.Capture.Apart].
const twoRecordings = "The recording is of two actuators, or the leads were changed over in between."

// doubtWords says to a customer on what the result hangs of how the data were read, where
// it does, one sentence for each kind of doubt.
func doubtWords(rep *analyze.Report) string {
	var said []string
	for _, d := range rep.Doubts() {
		say := "one point of how the recording was read is not certain."
		switch d.Code {
		case signal.ClockRestarted:
			say = "the recording was broken off and begun anew in between."
		case "probe-factor", "low-drive", "probe-asked", "too-high":
			say = "the volts were taken with a setting of the measuring probe that the recording does not confirm."
		case "earlier-table":
			say = "the file holds more readings, which were not taken in."
		case "unlike-drive", "unlike-feedback", analyze.ContraryTravel:
			say = "the wires of motor and sensor may have been changed over in the recording."
		case analyze.ConverterAssumed:
			say = "how much of the sensor's range the travel takes is not known."
		case analyze.CrossTalk:
			say = "the measuring instrument lets its channels disturb one another; that was taken off by calculation."
		case analyze.ACCoupled:
			say = "the sensor's channel seems to have been set wrongly in the recording; it must be made again."
		case "irregular", "repeated-times", "no-time", "odd-text":
			say = "times or rows of the recording are not complete."
		}
		if !slices.Contains(said, say) {
			said = append(said, say)
		}
	}
	words := ""
	for i, say := range said {
		if i == 2 { // more are not read beside a verdict
			break
		}
		words += " In doubt: " + say
	}
	return words
}
