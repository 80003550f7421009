package signal

import "testing"

func TestBareNames(t *testing.T) {
	for _, tt := range []struct {
		name string
		want Role
	}{
		{"Temp door motor", Drive},
		{"Temperature door wiper", Feedback},
		{"Air temp actuator motor", Drive},
		{"Temp door position", Feedback},
		{"Pot signal 0-5V", Feedback},
		{"Wiper 5V range", Feedback},
		{"Feedback 20V/10V range", Feedback},
		{"Position, 5 V full scale", Feedback},
		{"Position (5V = hot)", Feedback},
		{"Feedback ref. to sensor ground", Feedback},
		{"Feedback vs reference ground", Feedback},
		{"Wiper to GND", Feedback},
		{"drive A-B", Drive},
		{"Motor 1 - 2", Drive},
		// what must not change
		{"Motor A", LeadA},
		{"drive B", LeadB},
		{"Motor temp", Unused},
		{"Cabin temp", Unused},
		{"Air temp sensor", Unused},
		{"Temp door temperature", Unused},
		{"Sensor ground", Unused},
		{"GND", Unused},
		{"5V", Reference},
		{"5V supply", Reference},
		{"Sensor 5V ref", Reference},
		{"Pot supply 5 V", Reference},
		{"Supply 12V", Supply},
		{"Lead A to ground", LeadA},
	} {
		if got, w := headerRole(tt.name); got != tt.want {
			t.Errorf("%q: role %v by %q, want %v", tt.name, got, w, tt.want)
		}
	}
}

func TestTemperatureDoorInVolts(t *testing.T) {
	for name, want := range map[string]Role{"Temp motor": Drive, "Temp feedback": Feedback, "Motor temp": Unused, "Temp sensor": Unused} {
		if got, _ := temperatureDoor(name); got != want {
			t.Errorf("%q: role %v, want %v", name, got, want)
		}
	}
}
