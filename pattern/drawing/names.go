package drawing

import (
	"fmt"
	"regexp"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

var (
	// ids and layer labels that a drawing program made up
	madeUpID    = regexp.MustCompile(`^(path|rect|g|svg|use|layer|polygon|circle|ellipse)[-_]?[0-9][0-9_-]*$`)
	madeUpLayer = regexp.MustCompile(`(?i)^layer[ _-]*[0-9]*$`)
	// what is not the sewing line
	cutLine = regexp.MustCompile(`\b(cut ?lines?|cutting|seam ?allowances?|allowances?)\b`)
	wordGap = regexp.MustCompile(`[^\pL\pN]+`)
)

// named gives each ring its title and its name as a piece. The layer's label
// stands first where it has one closed path only; else the path's own label, its
// id, the layer's label with a number.
func (r *reader) named(rings []*ring) {
	inLayer := map[*layer]int{}
	for _, g := range rings {
		inLayer[g.layer]++
	}
	used := map[string]bool{}
	for _, g := range rings {
		g.title, g.name = pick(g, inLayer[g.layer] == 1)
		if g.title == "" {
			g.title, g.name = "Piece", "piece"
		}
		free := g.name
		for i := 2; used[free]; i++ {
			free = withNumber(g.name, i)
		}
		if free != g.name {
			r.probs = append(r.probs, diag.Problem{
				ID: "drawing.name", Severity: diag.Warning, Place: g.place, Subject: free,
				Found:    fmt.Sprintf("%s would be a second piece %s; it is called %s", g.kind(), g.name, free),
				Expected: "a label or a layer of its own for each piece",
				Hint:     "a duplicated path keeps its label: give each its own in the drawing program",
			})
		}
		used[free], g.name = true, free
	}
}

// pick gives the first text that yields a name.
func pick(g *ring, alone bool) (title, name string) {
	var texts []string
	own := []string{g.label}
	if !madeUpID.MatchString(g.id) {
		own = append(own, g.id)
	}
	switch {
	case g.layer == nil:
		texts = append(own, g.id)
	case alone && !madeUpLayer.MatchString(g.layer.label):
		texts = append([]string{g.layer.label}, own...)
	default:
		texts = append(own, g.layer.label)
	}
	for _, t := range append(texts, g.id) {
		if n := pieceName(t); n != "" {
			return clean(t), n
		}
	}
	return "", ""
}

// kind names the path in a message.
func (g *ring) kind() string { return titled("path", g.label, g.id) }

// plainLetters spells the letters of European alphabets in a to z. Letters of
// others have no plain spelling: the path's id serves then.
var plainLetters = strings.NewReplacer(
	"à", "a", "á", "a", "â", "a", "ã", "a", "ä", "a", "å", "a", "ą", "a", "æ", "ae",
	"ç", "c", "ć", "c", "č", "c", "ď", "d", "ð", "d", "è", "e", "é", "e", "ê", "e", "ë", "e", "ę", "e", "ě", "e",
	"ì", "i", "í", "i", "î", "i", "ï", "i", "ı", "i", "ł", "l", "ñ", "n", "ń", "n", "ň", "n",
	"ò", "o", "ó", "o", "ô", "o", "õ", "o", "ö", "o", "ø", "o", "ő", "o", "œ", "oe", "ř", "r",
	"ś", "s", "š", "s", "ş", "s", "ß", "ss", "ť", "t", "þ", "th", "ù", "u", "ú", "u", "û", "u", "ü", "u", "ů", "u", "ű", "u",
	"ý", "y", "ÿ", "y", "ź", "z", "ż", "z", "ž", "z",
)

// pieceName makes a name of a label: "Front panel" gives front-panel. Empty
// where no letter or digit of it can stand in a name.
func pieceName(label string) string {
	var b strings.Builder
	gap := false
	for _, c := range plainLetters.Replace(strings.ToLower(clean(label))) {
		if c >= 'a' && c <= 'z' || c >= '0' && c <= '9' {
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			b.WriteRune(c)
			gap = false
		} else {
			gap = true
		}
	}
	name := b.String()
	if name != "" && isDigit(name[0]) {
		name = "piece-" + name
	}
	name = cutTo(name, pattern.MaxName)
	if name != "" && pattern.NameFault(name) != "" { // a word kept for itself
		name = "piece-" + name
	}
	return name
}

func cutTo(name string, n int) string {
	if len(name) > n {
		name = strings.TrimRight(name[:n], "-")
	}
	return name
}

// withNumber adds a number to a name, within the length that a name may have.
func withNumber(name string, i int) string {
	tail := fmt.Sprintf("-%d", i)
	return cutTo(name, pattern.MaxName-len(tail)) + tail
}

// cutLabel gives the label, id or layer that calls a ring something else than
// its sewing line, or "".
func (g *ring) cutLabel() string {
	texts := []string{g.label, g.id}
	if g.layer != nil {
		texts = append(texts, g.layer.label, g.layer.id)
	}
	for _, t := range texts {
		if cutLine.MatchString(strings.ToLower(wordGap.ReplaceAllString(t, " "))) {
			return clean(t)
		}
	}
	return ""
}
