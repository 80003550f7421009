package signal

import (
	"strings"
	"sync"
	"unicode"
)

// roleWords give the roles their names in headers, in several languages.
// They are looked up as whole words of a header text that was lower-cased
// and cut at everything that is no letter, at changes of case and between
// letters and digits. The first group that matches wins, so that "motor
// current" is a current and "sensor supply" a reference.
var roleWords = []struct {
	role  Role
	words string // separated by |; several words must all be there, in order
}{
	{Unused, "target|set point|setpoint|set|desired|demand|soll|sollwert|consigne|consigna|error|temperature|temp|temperatur|température|temperatura|temperatuur|humidity|pressure|flow|speed|velocity|velocidad|rpm|gnd|ground|masse|tierra|temp|trigger|pwm freq|battery temp|light|sun|noise"},
	{Current, "current|curr|strom|stromaufnahme|courant|corriente|corrente|stroom|prąd|prad|amps|amp|ampere|amperes|i mot|i motor|imot|motor i|mot i|drive i|i drive|shunt|ström|strøm|virta|proud|i mtr|imtr|courant moteur|clamp|zange|stromzange|pince|pinza|current a"},
	{Reference, "reference|ref|vref|v ref|referenz|référence|referencia|riferimento|referentie|referens|referencja|sensor supply|sensor v|pot supply|sensor voltage supply|sensor feed|vsens|pot feed|track supply|5 v|5 v ref|5 v supply|v 5|plus 5 v|excitation"},
	{Supply, "supply|battery|batt|bat|vbat|vbatt|ubat|ubatt|v bat|u bat|vsup|v supply|versorgung|versorgungs spannung|versorgungs|bordnetz|batterie|alimentation|alimentación|alimentacion|batería|bateria|alimentazione|voeding|accu|batteri|akku|zasilanie|akumulator|matning|12 v|12 v supply|b plus|ignition|ign|vin|mains|rail|feed|kl 30|kl 15"},
	{LeadA, "lead a|motor a|drive a|mot a|m a|m plus|a lead|a motor|a motor lead|a leg|a wire|a terminal|wire a|leg a|output a|out a|pin a|terminal a|phase a|motor plus|motor pos|lead plus|lead 1|motor 1|wire 1|leg 1|out 1|output 1|drive 1|terminal 1|m 1|mot 1|motor lead a|motor lead 1|motor high|leitung a|motorleitung a|motor positive|lead positive|fil a|borne a|cable a|hilo a|filo a|draad a|lead red|line a|side a|bridge a|half bridge a|node a|" + leadNames("a|1|plus|pos|p|positive|hi")},
	{LeadB, "lead b|motor b|drive b|mot b|m b|m minus|b lead|b motor|b motor lead|b leg|b wire|b terminal|wire b|leg b|output b|out b|pin b|terminal b|phase b|motor minus|motor neg|lead minus|lead 2|motor 2|wire 2|leg 2|out 2|output 2|drive 2|terminal 2|m 2|mot 2|motor lead b|motor lead 2|motor low|leitung b|motorleitung b|motor negative|lead negative|fil b|borne b|cable b|hilo b|filo b|draad b|lead black|line b|side b|bridge b|half bridge b|node b|" + leadNames("b|2|minus|neg|n|negative|lo")},
	{Feedback, "feedback|fb|fdbk|fbk|wiper|pot|potentiometer|poti|position|pos|sensor|schleifer|lagerückmeldung|rückführung|rückmeldung|rueckmeldung|stellung|istwert|lage|retour|curseur|potentiomètre|recopie|realimentación|realimentacion|cursor|posición|posicion|potenciómetro|retroazione|cursore|posizione|potenziometro|terugkoppeling|terugmelding|tilbagemelding|tilbakemelding|loper|positie|sprzężenie|suwak|potencjometr|pozycja|återkoppling|läge|geri besleme|angle|travel|sense|door position|signal pot"},
	{Polarity, "polarity|direction|dir|polarität|richtung|drehrichtung|sens|polarité|dirección|sentido|polaridad|direzione|polarità|richting|polariteit|kierunek|riktning|yön|command direction|state|command|cmd|move|motion|action|befehl|commande|orden|comando|mando|kommando|commando|polecenie|sterowanie|ansteuerung|aansturing|sturing|styrning"},
	{Drive, "drive|motor|mot|mtr|vmtr|v mtr|u mtr|motorn|silnika|vmot|umot|v motor|u motor|motor voltage|motor v|antrieb|antriebs|motor spannung|stellmotor|moteur|entraînement|accionamiento|motore|azionamento|aandrijving|silnik|napęd|drivning|actuator voltage|actuator v|actuator drive|bridge|h bridge|voltage motor|tension moteur|coil|output"},
}

// motorNouns are what the motor or one of its terminals is called.
const motorNouns = "motor|mot|mtr|moteur|motore|silnik|moottori|motor voltage|motor spannung|motor spanning|motor spänning|lead|motor lead|motor terminal|motor wire|klemme|motorklemme|motor klemme|klem|borne|borne moteur|morsetto|zacisk|fil moteur|cable motor|filo motore"

// leadNames puts each of the ends behind each name of a motor.
func leadNames(ends string) string {
	var b strings.Builder
	for n := range strings.SplitSeq(motorNouns, "|") {
		for e := range strings.SplitSeq(ends, "|") {
			if b.Len() > 0 {
				b.WriteByte('|')
			}
			b.WriteString(n + " " + e)
		}
	}
	return b.String()
}

// commandWords say that a column holds what a controller wants, not what was
// measured.
var commandWords = []string{"command", "commanded", "cmd", "request", "requested", "req", "demand", "demanded", "intent", "target", "desired", "set", "setpoint", "set point", "soll", "sollwert", "befehl", "anforderung", "commande", "consigne", "demande", "orden", "comando", "consigna", "richiesta", "mando", "kommando", "commando", "polecenie", "sterowanie", "zadana", "börvärde"}

// commandBeside may stand beside such a word without making it the command
// of something else: "target direction" but not "target position".
var commandBeside = wordSet("direction|dir|polarity|richtung|dreh|drehrichtung|sens|sentido|direzione|drive|motor|mot|mtr|moteur|motore|silnika|antrieb|ansteuerung|aansturing|sturing|styrning|duty|pwm|value|actuator|controller|controls|control|ctrl|output|out|state|move|m|v|motor direction")

// isCommandName tells whether a header names the controller's intent about
// the motor's direction, in words that leave open nothing else.
func isCommandName(name string) bool {
	s := " " + normal(name) + " "
	found := false
	for _, w := range commandWords {
		if strings.Contains(s, " "+w+" ") {
			found = true
			s = strings.ReplaceAll(s, " "+w+" ", " ")
		}
	}
	if !found {
		return false
	}
	for w := range strings.FieldsSeq(s) {
		if !commandBeside[w] {
			return false
		}
	}
	return true
}

// isSetPoint tells whether a header names the command of a position.
func isSetPoint(name string) bool {
	s := normal(name)
	r, _ := headerRole(name)
	return r == Feedback && anyOf(s, commandWords...)
}

// timeWords name a time axis.
var timeWords = wordSet("time|t|zeit|temps|tiempo|tempo|tijd|czas|tid|seconds|second|sec|secs|s|elapsed|timestamp|stamp|clock|uhrzeit|heure|hora|ora|x axis|datetime|date time|milliseconds|millis|ms|micros|us|x|abscissa|relative time|rel time|sekunden|aika|čas|idő|zaman|час|время|时间|時間|epoch|unixtime|utc|datum|date|fecha|data|zeitstempel|horodatage|zeitpunkt|heure|tid|dt|msec|usec|minutes")

// indexWords name a row number.
var indexWords = wordSet("index|idx|i|n|no|nr|num|number|sample|samples|sequence|seq|point|points|pt|record|rec|row|line|id|scan|count|counter|reading|entry|nummer|messung|probe nr|muestra|échantillon|campione|sample number|sample no|reading no|data point|x|item|pos nr|lfd|lfd nr|obs|observation")

func wordSet(s string) map[string]bool {
	m := map[string]bool{}
	for w := range strings.SplitSeq(s, "|") {
		m[w] = true
	}
	return m
}

// normal brings a header text to lower-case words separated by single blanks.
func normal(s string) string {
	var b strings.Builder
	var prev rune
	for i, r := range s {
		switch {
		case r == '-' && unicode.IsLetter(prev) && i+2 < len(s) && s[i+1] == ' ' && (s[i+2]|0x20)-'a' < 26: // "Motor- voltage", not "Motor - voltage"
			b.WriteString(" minus ")
			prev = ' '
			continue
		case r == '-' && signOfEnd(s[i+1:]): // "Motor - lead", beside "Motor + lead"
			b.WriteString(" minus ")
			prev = ' '
			continue
		case r == '+' && (prev == 0 || !unicode.IsDigit(prev)):
			b.WriteString(" plus ")
			prev = ' '
			continue
		case !unicode.IsLetter(r) && !unicode.IsDigit(r):
			r = ' '
		case unicode.IsDigit(r) && unicode.IsLetter(prev), unicode.IsLetter(r) && unicode.IsDigit(prev),
			unicode.IsUpper(r) && unicode.IsLower(prev):
			b.WriteByte(' ')
		}
		b.WriteRune(unicode.ToLower(r))
		prev = r
	}
	words := strings.Fields(b.String())
	for i, w := range words {
		words[i] = parted(w)
	}
	t := strings.Join(words, " ")
	if strings.HasSuffix(strings.TrimRight(s, " )]"), "-") {
		t += " minus"
	}
	return t
}

// signOfEnd tells whether what follows a dash is one of the two ends of a motor, so
// that the dash is its sign and parts no words.
func signOfEnd(rest string) bool {
	end, ok := strings.CutPrefix(rest, " ")
	if !ok {
		return false
	}
	end = strings.ToLower(end)
	for _, w := range []string{"lead", "terminal", "wire", "pole", "leg", "side"} {
		if strings.HasPrefix(end, w) {
			return true
		}
	}
	return false
}

// tails are the second halves of words written as one: motorvoltage,
// Motorspannung, doorposition.
var tails = []string{"voltage", "spannung", "spanning", "spänning", "spenning", "current", "strom", "stroom", "ström", "strøm", "position", "direction", "feedback", "signal", "richtung", "supply", "drive"}

// parted puts a blank before the second half of such a word.
func parted(w string) string {
	for _, t := range tails {
		if head, ok := strings.CutSuffix(w, t); ok && len(head) >= 3 {
			return head + " " + t
		}
	}
	return w
}

// hasWords tells whether the words w stand in s as whole words, in order and
// together.
func hasWords(s, w string) bool {
	i := strings.Index(s, w)
	for i >= 0 {
		if (i == 0 || s[i-1] == ' ') && (i+len(w) == len(s) || s[i+len(w)] == ' ') {
			return true
		}
		k := strings.Index(s[i+1:], w)
		if k < 0 {
			return false
		}
		i += 1 + k
	}
	return false
}

// A rolePhrase is one of roleWords.
type rolePhrase struct {
	role   Role
	text   string
	blanks int
	order  int // in roleWords
}

// phrasesByWord are the roleWords by their first words: a header is looked up
// often, the words of a long table in every row.
var phrasesByWord = sync.OnceValue(func() map[string][]rolePhrase {
	m, n := map[string][]rolePhrase{}, 0
	for _, g := range roleWords {
		for w := range strings.SplitSeq(g.words, "|") {
			first, _, _ := strings.Cut(w, " ")
			m[first] = append(m[first], rolePhrase{g.role, w, strings.Count(w, " "), n})
			n++
		}
	}
	return m
})

// withoutLevels takes from a name the levels or the range of a column, in brackets behind
// it, as in "Drive (-1/0/1)" or "Drive [-1..1]": they number no lead.
func withoutLevels(name string) string {
	s := strings.TrimRight(name, " )]")
	at := strings.LastIndexAny(s, "([")
	if at <= 0 || s == name {
		return name
	}
	inside := strings.ReplaceAll(s[at+1:], "−", "-")
	numbers := strings.FieldsFunc(inside, func(r rune) bool { return r < '0' || r > '9' })
	if len(numbers) < 2 || !strings.Contains(inside, "-") || strings.Trim(inside, "vV-+0123456789/.,|;: ") != "" {
		return name
	}
	return strings.TrimSpace(s[:at])
}

// bestPhrase finds the phrase of roleWords that names the role in normal words. The
// most specific wins: "motor a" over "motor"; among equals the earlier group, and in it
// the earlier phrase.
func bestPhrase(s string) rolePhrase {
	var best rolePhrase
	for i := 0; i < len(s); i++ {
		if i > 0 && s[i-1] != ' ' {
			continue
		}
		rest := s[i:]
		first, _, _ := strings.Cut(rest, " ")
		for _, p := range phrasesByWord()[first] {
			if (best.text == "" || p.blanks > best.blanks || p.blanks == best.blanks && p.order < best.order) &&
				strings.HasPrefix(rest, p.text) && (len(rest) == len(p.text) || rest[len(p.text)] == ' ') {
				best = p
			}
		}
	}
	return best
}

// headerRole gives the role a header text names, with the word that did it.
func headerRole(name string) (Role, string) {
	s := bareName(normal(withoutMeaning(withoutLevels(name))))
	if s == "" {
		return Unused, ""
	}
	best := bestPhrase(s)
	// "Motor A current" is no voltage of lead A, however many of its words
	// say so.
	if best.role == LeadA || best.role == LeadB || best.role == Drive {
		for w := range strings.SplitSeq(currentWords, "|") {
			if hasWords(s, w) {
				return Current, w
			}
		}
	}
	return best.role, best.text
}

// currentWords say a current beside any name of a motor or lead.
const currentWords = "current|curr|strom|stroom|ström|strøm|courant|corriente|corrente|prąd|prad|amps|ampere|amperes|shunt"

func isTimeName(name string) bool {
	s := normal(name)
	if timeWords[s] {
		return true
	}
	for w := range strings.SplitSeq(s, " ") {
		switch w {
		case "time", "zeit", "temps", "tiempo", "tempo", "tijd", "czas", "timestamp", "elapsed", "uhrzeit", "seconds", "zeitstempel", "datetime", "clock", "時間", "时间", "время":
			return true
		}
	}
	return false
}

func isIndexName(name string) bool {
	return indexWords[normal(name)] || strings.TrimSpace(name) == "#"
}

// isLabel tells words that head a row or an axis rather than name a channel.
func isLabel(name string) bool {
	switch normal(name) {
	case "unit", "units", "name", "names", "channel", "channels", "channel name", "channel names", "label", "labels", "signal", "signal name", "x value", "title", "einheit", "kanal", "quantity", "description", "header", "source":
		return true
	}
	return false
}
