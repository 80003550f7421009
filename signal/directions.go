package signal

import "strings"

// polarityWords gives the drive's sign as words. The sign convention is the
// word's own (open = forward = +1); analysis finds out which way the feedback
// runs.
var polarityWords = signsOf(map[float64]string{
	+1: "forward|forwards|fwd|fw|for|f|open|opening|opened|extend|extending|ext|+|pos|positive|plus|cw|clockwise|up|upward|upwards|hot|hotter|heat|heating|warm|warmer|right|out|fresh|increase|inc|raise|1|+1|↑|→|>|>>|a+|b-|+a|a>b|a->b|a→b|a to b|a high|on+|" +
		"vor|vorwärts|vorwaerts|auf|öffnen|oeffnen|offen|rechts|hoch|rauf|ausfahren|wärmer|waermer|heiß|heiss|zu heiß|mehr|positiv|" +
		"avant|ouvrir|ouvert|ouverture|ouvre|chaud|haut|monter|montée|montee|droite|sortir|sortie|horaire|" +
		"adelante|abrir|abre|abierto|abriendo|apertura|caliente|arriba|subir|derecha|extender|horario|" +
		"avanti|apri|apre|aprire|aperto|apertura|caldo|su|destra|estendere|orario|" +
		"vooruit|omhoog|openen|warmer|" +
		"abrindo|avançar|otwórz|otworz|otwiera|otwieranie|nahoru|otevřít|otevírá|otevírání|öppna|öppnar|åbn|åbne|åpne|auki|avaa|aç|açık|açılıyor|ileri|nyit|открыть|открывает|вперед|вперёд|вверх|開|正転|正转",
	-1: "reverse|reversed|reversing|rev|rv|r|backward|backwards|back|bwd|close|closing|closed|shut|shutting|retract|retracting|ret|-|neg|negative|minus|ccw|acw|counterclockwise|counter-clockwise|anticlockwise|anti-clockwise|down|downward|downwards|cold|colder|cool|cooler|cooling|left|in|recirc|recirculate|decrease|dec|lower|-1|↓|←|<|<<|b+|a-|+b|b>a|b->a|b→a|b to a|b high|on-|dn|dwn|" +
		"rück|rückwärts|rueck|rueckwaerts|zurück|zurueck|zu|schließen|schliessen|geschlossen|links|ab|runter|einfahren|kalt|kälter|kaelter|weniger|negativ|" +
		"arrière|arriere|fermer|fermé|ferme|fermeture|froid|bas|descendre|descente|gauche|rentrer|rentrée|antihoraire|" +
		"atrás|atras|cerrar|cierra|cerrado|cerrando|cierre|frío|frio|abajo|bajar|izquierda|retraer|" +
		"indietro|chiudi|chiude|chiudere|chiuso|chiusura|freddo|giù|giu|sinistra|antiorario|" +
		"achteruit|omlaag|sluiten|dicht|" +
		"fecha|fechar|fechando|recuar|zamknij|zamyka|zamykanie|dolů|zavřít|zavírá|zavírání|stäng|stänga|stänger|luk|lukke|lukk|kiinni|sulje|kapa|kapat|kapalı|kapanıyor|geri|zár|закрыть|закрывает|назад|вниз|閉|逆転|反转",
	0: "stop|stopped|stopping|off|brake|braking|coast|coasting|idle|idling|hold|holding|none|halt|rest|resting|at rest|standby|stby|neutral|0|zero|free|floating|float|park|parked|still|steady|wait|pause|--|" +
		"aus|stopp|bremse|bremsen|ruhe|stillstand|halten|leerlauf|" +
		"arrêt|arret|arrêté|arreter|arrêter|repos|frein|" +
		"parar|parado|paro|detener|detenido|reposo|freno|" +
		"fermo|fermare|ferma|riposo|spento|" +
		"uit|stil|rust|" +
		"dur|durdu|стоп|停止|停",
})

// letterWords are single letters that say a direction under a header that
// says so; elsewhere they may be anything. Which sign a letter has does not
// matter, only that both letters of a pair differ: F and R, L and R, H and L,
// H and C, O and C, U and D, V and R, A and Z.
var letterWords = signsOf(map[float64]string{
	+1: "f|l|c|u|v|a|e|k|g",
	-1: "r|h|o|d|z|w",
	0:  "s|n|x|b|0",
})

// onOff words belong to a column that says only whether there is drive.
var onOffWords = map[string]float64{
	"on": 1, "high": 1, "true": 1, "yes": 1, "run": 1, "running": 1, "h": 1, "ein": 1, "hi": 1, "active": 1, "ja": 1, "oui": 1,
	"off": 0, "low": 0, "false": 0, "no": 0, "stop": 0, "l": 0, "aus": 0, "lo": 0, "inactive": 0, "stopped": 0, "nein": 0, "non": 0,
}

// carriers are words that may stand beside a word of direction without
// changing it: "motor off", "DRIVE_OPEN".
var carriers = wordSet("move|moving|drive|driving|driven|motor|run|running|turn|turning|rotate|go|flap|door|cmd|command|direction|dir|to|towards|actuator|output|fahren|klappe|antrieb")

func signsOf(groups map[float64]string) map[string]float64 {
	m := map[string]float64{}
	for v, words := range groups {
		for w := range strings.SplitSeq(words, "|") {
			m[w] = v
		}
	}
	return m
}

// polarity reads a word of direction; loose spelling is forgiven.
func polarity(t []byte) (float64, bool) {
	if len(t) == 0 || len(t) > 32 || isNumeral(t) {
		return 0, false
	}
	s := strings.ToLower(strings.Trim(utf8String(t), " .!"))
	if v, ok := polarityWords[s]; ok {
		return v, true
	}
	if len(s) < 4 || s[0] < 'A' && s[0] != '(' { // most cells are numbers
		return 0, false
	}
	return phrase(s)
}

// isNumeral tells what is plainly a number and no sign, as most cells are: digits from the
// first place or the second to the last, of more places than a 1 with its sign.
func isNumeral(t []byte) bool {
	if len(t) < 3 || t[0] == '.' || t[len(t)-1] == '.' {
		return false
	}
	for _, c := range t {
		if (c < '0' || c > '9') && c != '.' && c != '-' && c != '+' {
			return false
		}
	}
	return true
}

// phrase reads words of direction among carriers, when all of them agree.
// Short words mean too many things in a phrase: "in position" is no
// direction.
func phrase(s string) (v float64, ok bool) {
	for w := range strings.SplitSeq(normal(s), " ") {
		if carriers[w] {
			continue
		}
		x, known := polarityWords[w]
		if !known || len(w) < 4 && !anyOf(w, "fwd", "rev", "cw", "ccw", "off", "up", "pos", "neg") || ok && x != v {
			return 0, false
		}
		v, ok = x, true
	}
	return v, ok
}

// polarity reads a word of direction as the column's header allows.
func (c *planCol) polarity(t []byte) (float64, bool) {
	if c.dashRest && len(t) == 1 && t[0] == '-' {
		return 0, true
	}
	if len(t) == 1 {
		if v, ok := c.letters[strings.ToLower(string(t))]; ok {
			return v, true
		}
	}
	if c.direction && c.letters == nil && len(t) == 1 {
		if v, ok := letterWords[strings.ToLower(string(t))]; ok {
			return v, true
		}
	}
	return polarity(t)
}
