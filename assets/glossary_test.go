package assets_test

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/assets/manual"
	"pinphase.org/pinphase/timing/language"
)

// A rule is a wording that must not come back: the words, as whole words in small
// letters, why they are no good, and the wordings in which they are.
type rule struct {
	words, why, but string
}

// rules hold each language to the glossary in translations/README.md.
var rules = map[string][]rule{
	"en": {
		{words: `asked for|asks for injection`, why: "injection is commanded"},
		{words: `lands?|landed|landing`, why: "injection starts"},
		{words: `lights`, why: "fuel ignites; lamps light"},
		{words: `light-off`, why: "fuel ignition"},
		{words: `stands`, why: "a crankshaft is at an angle, an entry is there", but: `stands (proud|alone|out)`},
		{words: `told`, why: "errors are shown, angles read, things told apart are distinguished", but: `cannot be told|can be told`},
		{words: `anew|aslant`, why: "archaic: again, tilted"},
		{words: `mend|mended`, why: "engines are repaired"},
		{words: `is no|are no`, why: "a Germanism: is not a", but: `there is no|that is no fault|that are no teeth`},
		{words: `put in|put it in|put into`, why: "gears are fitted, numbers entered"},
		{words: `take away|takes away|take it away|take it out|take it back|takes it back`, why: "remove, undo, restore"},
		{words: `throw it away`, why: "discard"},
		{words: `in 100`, why: "per cent everywhere"},
		{words: `from memory`, why: "not checked against the source"},
		{words: `common practice`, why: "a rule of thumb; an assumption"},
		{words: `we|us|our`, why: "the program is nobody", but: `1 us`},
		{words: `controller`, why: "ECU, as the trade says"},
		{words: `makers?|maker's`, why: "manufacturer"},
		{words: `crank`, why: "crankshaft; a crank is a handle", but: `crank (degrees?|angles?|radius|sensor wheels?|teeth|tooth|channel|throws)|crank and cam(shaft)? sensor|crank_\pL+|slider-crank|crank[–-]cam|to crank|do not crank|crank with (a|the)`},
		{words: `cam`, why: "camshaft; a cam is one lobe", but: `cam (degrees?|sensor wheels?|edges?|tooth|teeth|channel)|crank and cam sensor|\pL*_?cam_\pL+|crank[–-]cam`},
		{words: `wrist-?pin|gudgeon`, why: "piston pin"},
		{words: `(dowel|keyway|throw) radius|radius of the (dowel|keyway|throw)`, why: "distance to the shaft axis, crank radius"},
		{words: `companions?|companion cylinders?`, why: "paired cylinders"},
		{words: `dial indicator`, why: "dial gauge"},
		{words: `timing tape`, why: "degree tape; the other sounds like a belt"},
		{words: `claim sheet`, why: "measurement report"},
		{words: `how surely|sure enough`, why: "with what uncertainty; certain enough"},
		{words: `hardly likely|not likely|as good as`, why: "very unlikely, unlikely, almost"},
		{words: `tooth numbers`, why: "tooth counts"},
		{words: `turned over`, why: "fitted back to front; an engine is turned over"},
		{words: `exchanged wires|crossed wires`, why: "wires swapped"},
		{words: `supposed|supposing|suppose`, why: "what if"},
	},
	"de": {
		{words: `keilnut|keilnuten`, why: "nimmt einen Keil auf; hier sitzt eine Passfeder: Passfedernut"},
		{words: `kurbelrad(s|es)?|kurbelräder\pL*|nockenrad(s|es)?|nockenräder\pL*`, why: "Kurbelwellenrad, Nockenwellenrad; das Geberrad ist ein anderes"},
		{words: `kurbelz[aä]hn\pL*|nockenz[aä]hn\pL*`, why: "Zahn des Geberrads oder des Zahnrads"},
		{words: `kurbel`, why: "eine Handkurbel; die Kurbelwelle ist gemeint", but: `kurbel- (und|bis)( zur)? nockenwelle`},
		{words: `nocken`, why: "die einzelne Erhebung; die Nockenwelle ist gemeint"},
		{words: `dämpfers?`, why: "allein ein Stoßdämpfer: Drehschwingungsdämpfer"},
		{words: `steuerzeitenband|steuerzeitenbands`, why: "klingt nach Zahnriemen: Gradband"},
		{words: `steuerzeit`, why: "Steuerzeiten, und der Einspritzbeginn gehört nicht dazu"},
		{words: `verdichtungsdruck\pL*`, why: "Kompression, Kompressionsdruckprüfer"},
		{words: `bolzenversatz`, why: "Desachsierung"},
		{words: `zyklus`, why: "Arbeitsspiel"},
		{words: `\pL*tippen|tippt`, why: "eingeben"},
		{words: `marke|marken|\pL*marken`, why: "Markierung"},
		{words: `partner\pL*`, why: "Parallelzylinder"},
		{words: `geberradfehler\pL*|nockenwellenfehler\pL*|korrelationsfehler\pL*`, why: "ein Messwert hat eine Abweichung: Versatz, Korrelationsabweichung"},
		{words: `zündkarte|zündungsseite`, why: "Zündkennfeld, Selbstzündung"},
		{words: `stirnseite`, why: "jede Endfläche: vorderes Ende"},
		{words: `ausstoß|verdichtung, arbeit`, why: "die Takte stehen im Infinitiv"},
		{words: `von 100`, why: "Prozent", but: `von 100 reparierten motoren`},
		{words: `gedächtnis`, why: "nicht an der Quelle geprüft"},
		{words: `übliche praxis|gängige praxis`, why: "Erfahrungswert"},
		{words: `zahn daneben|zähne daneben`, why: "um Zähne versetzt"},
		{words: `zurücknehmen|wegnehmen|herausnehmen`, why: "wiederherstellen, entfernen"},
		{words: `fällt`, why: "die Einspritzung beginnt"},
		{words: `versuchsweise`, why: "durchgespielt"},
	},
	"es": {
		{words: `levas?`, why: "un solo lóbulo; se trata del árbol de levas", but: `[aá]rbol(es)? de levas`},
		{words: `bancadas?`, why: "lleva un cojinete; los cilindros están en bancos", but: `cojinetes? de bancada`},
		{words: `calados?`, why: "solo de los engranajes y del árbol de levas", but: `marcas? de calado|[aá]rbol de levas (está|esté|queda)? ?(bien |mal |correctamente )?calado|calado del [aá]rbol de levas|calado de los engranajes|calado el [aá]rbol de levas|se comprobó: está bien calado`},
		{words: `atrasad[oa]s?`, why: "retrasado"},
		{words: `damper`, why: "amortiguador de vibraciones"},
		{words: `parej[oa]s?|por parejas`, why: "cilindros gemelos, de dos en dos"},
		{words: `pedidas?|pide la inyección`, why: "ordenada, consigna"},
		{words: `de memoria`, why: "sin cotejar con la fuente"},
		{words: `práctica común`, why: "regla práctica"},
		{words: `antes o tarde|demasiado antes`, why: "adelantado o retrasado, demasiado pronto"},
		{words: `chavetas? cortad[oa]s?`, why: "una chaveta se cizalla"},
		{words: `desboca\pL*`, why: "un motor se embala"},
		{words: `se ha corrido|corrid[oa]s?`, why: "vulgar: se ha deslizado"},
		{words: `cruces? por cero`, why: "paso por cero"},
		{words: `flancos? delanter[oa]s?`, why: "flanco de entrada"},
		{words: `ordenador\pL*`, why: "equipo, que se entiende en todas partes"},
		{words: `de cada 100`, why: "por ciento"},
		{words: `rueda dentada|rueda de cigüeñal|rueda del cigüeñal`, why: "rueda fónica"},
		{words: `dientes de error`, why: "dientes de desfase"},
		{words: `reclamaci\pL*`, why: "informe de medición", but: `y la reclamación: una pieza`},
		{words: `a saber`, why: "significa «es decir»: observaciones"},
		{words: `con qué seguridad|bastante segur[oa]`, why: "incertidumbre, certeza"},
		{words: `retirarlo`, why: "descartarlo o recuperarlo"},
		{words: `rpm de arranque`, why: "régimen de arranque"},
		{words: `délo`, why: "delo"},
		{words: `salvo múltiplos|salvo 360\pL*`, why: "salvo es excepto: más o menos múltiplos"},
	},
}

// excused are texts that may say what is forbidden, with the reason.
var excused = map[string]string{}

// pending are the folders whose texts are still to be changed.
var pending = []string{}

// TestGlossary: no text says a thing by a word that the glossary has another for.
func TestGlossary(t *testing.T) {
	found, err := source()
	if err != nil {
		t.Fatal(err)
	}
	held := map[string]string{} // each text, and where it stands
	for _, s := range found.said {
		if hasWords(s.text) && !isPending(s.at) {
			held[s.text] = s.at
		}
	}
	for _, code := range language.Codes {
		translations := map[string]string{}
		if code != "en" {
			translations = read(t, "translations/"+code+".json")
		}
		for _, r := range rules[code] {
			says := r.finder()
			for text, at := range held {
				said := text
				if code != "en" {
					said = translations[text]
				}
				if m := says(said); m != "" && excused[text] == "" {
					t.Errorf("%s: %s: %q says %q: %s", code, at, text, m, r.why)
				}
			}
		}
	}
	for text := range excused {
		if _, ok := held[text]; !ok {
			t.Errorf("nothing says the excused %q", text)
		}
	}
}

// finder returns what finds the rule's words in a text; "" where they are not in it.
func (r rule) finder() func(said string) string {
	forbidden := regexp.MustCompile(`(?i)(?:^|[^\pL\d])(` + r.words + `)(?:$|[^\pL\d])`)
	allowed := regexp.MustCompile(`(?i)` + r.but)
	return func(said string) string {
		said = place.ReplaceAllString(said, "…")
		if r.but != "" {
			said = allowed.ReplaceAllString(said, "…")
		}
		if m := forbidden.FindStringSubmatch(said); m != nil {
			return m[1]
		}
		return ""
	}
}

// TestDataKeepsToTheGlossary: the course and the explanations of words say things as the
// program does.
func TestDataKeepsToTheGlossary(t *testing.T) {
	for _, code := range language.Codes {
		files, err := fs.Glob(assets.Course, "course/*/"+code+".toml")
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: no steps of the course: %v", code, err)
		}
		for _, name := range append(files, "words/"+code+".toml") {
			from := assets.Course
			if strings.HasPrefix(name, "words/") {
				from = assets.Words
			}
			data, err := from.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range rules[code] {
				if m := r.finder()(string(data)); m != "" {
					t.Errorf("%s says %q: %s", name, m, r.why)
				}
			}
		}
	}
}

// notProse are the parts of a chapter that are typed or calculated, or name a book: blocks
// and spans of code, and links' addresses.
var notProse = regexp.MustCompile("(?s)```.*?```|`[^`]*`|\\]\\([^)]*\\)")

// TestManualKeepsToTheGlossary: the manual says things as the program does.
func TestManualKeepsToTheGlossary(t *testing.T) {
	for _, code := range language.Codes {
		for _, c := range manual.Chapters(code) {
			prose := notProse.ReplaceAllString(c.Text, "…")
			for _, r := range rules[code] {
				if m := r.finder()(prose); m != "" {
					t.Errorf("%s/%s says %q: %s", code, c.File, m, r.why)
				}
			}
		}
	}
}

func isPending(at string) bool {
	for _, folder := range pending {
		if strings.Contains(at, "/"+folder) {
			return true
		}
	}
	return false
}
