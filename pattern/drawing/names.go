package drawing

import (
	"fmt"
	"regexp"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/vector"
)

var (
	// ids and layer labels that a drawing program made up
	madeUpID    = regexp.MustCompile(`^(path|rect|g|svg|use|layer|line|polyline|polygon|circle|ellipse|tspan|text)[-_]?[0-9][0-9_-]*$`)
	madeUpLayer = regexp.MustCompile(`(?i)^layer[ _-]*[0-9]*$`)
)

// called is what a line is called as a piece.
type called struct {
	title, name string
	how         How
	soft        bool // several may be called so: they get numbers
}

// name gives each outline its title and its name as a piece. Our own attribute
// stands first, then the name of a layer or group that holds this outline only;
// else the line's own label, its id, the layer's name with a number.
func (r *recogniser) name() {
	alone := map[string]int{}
	for _, o := range r.outlines {
		_, key := holder(o.line)
		alone[key]++
	}
	first := map[string]*outline{}
	var later []*outline
	for _, o := range r.outlines {
		layer, key := holder(o.line)
		c := r.pick(o.line, alone[key] == 1)
		if c.soft && o.over != nil { // its line to cut along may say it
			if over := r.pick(o.over, alone[key] == 1); !over.soft {
				c = over
			}
		}
		p := first[c.name]
		if p != nil && p.place == o.place && c.how != ByOwn {
			c.soft = true // another outline of one element
		}
		o.soft = c.soft
		o.drawn = Drawn{Name: c.name, Title: c.title, How: c.how, Place: o.place, Joined: o.joined}
		if layer != nil && alone[key] == 1 {
			o.drawn.Layer = clean(layerText(*layer))
		}
		switch {
		case c.soft:
			later = append(later, o)
		case p != nil:
			r.claimed(o, p)
			later = append(later, o)
		default:
			first[c.name] = o
		}
	}
	r.numbered(first, later)
}

// numbered gives the outlines that share a name each a number.
func (r *recogniser) numbered(first map[string]*outline, later []*outline) {
	count := map[string]int{}
	for _, o := range later {
		d := &o.drawn
		free := d.Name
		for first[free] != nil {
			count[d.Name]++
			free = withNumber(d.Name, count[d.Name]+1)
		}
		if free != d.Name && o.soft {
			r.warn(o.place, "drawing.name", free, fmt.Sprintf("%s would be a second piece %s; it is called %s", r.kind(o.line), d.Name, free),
				"a label or a layer of its own for each piece", "a duplicated line keeps its label: give each its own in the drawing program")
			d.How = ByNumber
		}
		first[free], d.Name = o, free
	}
}

// claimed says that two outlines claim one piece.
func (r *recogniser) claimed(o, first *outline) {
	hint := "delete one of them, or give it a name of its own in the drawing program"
	if o.drawn.How == ByOwn || first.drawn.How == ByOwn {
		hint = "duplicating in a drawing program copies our own attributes: delete the copy, or remove the attribute seamkeep:piece from it"
	}
	r.fail(o.place, "drawing.claim", o.drawn.Name,
		fmt.Sprintf("%s claims to be piece %s by its %s, and so does %s", r.kind(o.line), o.drawn.Name, o.drawn.How, r.kind(first.line)),
		"one outline for each piece", hint, diag.Related{Place: first.place, Text: "the other one, by its " + string(first.drawn.How)})
}

// claims finds ids that stand twice, and copies that kept their label.
func (r *recogniser) claims() {
	byID, byLabel := map[string]*outline{}, map[string]*outline{}
	for _, o := range r.outlines {
		for n, i := range o.items {
			it := &r.d.Items[i]
			if p := byID[it.ID]; p != nil && it.ID != "" && it.Part == 0 && !it.Clone && p != o {
				r.fail(it.Place, "drawing.claim", o.drawn.Name, fmt.Sprintf("the id %s stands twice, at %s and at %s", quoted(it.ID), r.kind(p.line), r.kind(o.line)),
					"each id once", "give one of them another id in the drawing program", diag.Related{Place: p.place, Text: "the first one"})
			} else if it.ID != "" && it.Part == 0 {
				byID[it.ID] = o
			}
			if n > 0 || it.Label == "" {
				continue
			}
			key := fmt.Sprintf("%q %d %.2f %.2f", it.Label, len(o.path), o.path.Length(1e-3), o.area/(1+o.box.Width()+o.box.Height()))
			if p := byLabel[key]; p != nil && p.drawn.How != ByOwn && o.soft {
				r.claimed(o, p)
			} else if p == nil {
				byLabel[key] = o
			}
		}
	}
}

// holder is the innermost layer or group round a line that has a name of its own
// and is not called after what its lines are; the key tells it from others.
func holder(l *line) (*vector.Layer, string) {
	var key strings.Builder
	var found *vector.Layer
	at := ""
	for i := range l.home.layers {
		layer := &l.home.layers[i]
		fmt.Fprintf(&key, "%q%q/", layer.ID, layer.Label)
		if text := layerText(*layer); text != "" && pieceName(text) != "" && layerWord(*layer).role == unsaid {
			found, at = layer, key.String()
		}
	}
	return found, at
}

// layerText is the name that a maker gave a layer or group, or "".
func layerText(l vector.Layer) string {
	if l.Label != "" && !madeUpLayer.MatchString(l.Label) {
		return l.Label
	}
	if l.Label == "" && l.ID != "" && !madeUpID.MatchString(l.ID) && !madeUpLayer.MatchString(l.ID) {
		return l.ID
	}
	return ""
}

// pick gives the first text that yields a name.
func (r *recogniser) pick(l *line, alone bool) called {
	it := r.item(l)
	own := it.Own["piece"]
	if l.home.own != nil && own == "" {
		own = l.home.own.Own["piece"]
	}
	layer, _ := holder(l)
	group := ""
	if layer != nil {
		group = layerText(*layer)
	}
	if pattern.NameFault(own) == "" {
		c := called{title: clean(group), name: own, how: ByOwn}
		if group == "" {
			c.title = own
		}
		return c
	}
	texts := []called{
		{title: group, how: ByLayer},
		{title: r.sharedLabel(l), how: ByLabel},
		{title: r.ownID(l), how: ByID},
		{title: group, how: ByLayer, soft: true},
		{title: it.Label, how: ByLabel, soft: true},
		{title: it.ID, how: ByNumber, soft: true},
	}
	if !alone {
		texts = texts[1:]
	}
	for _, c := range texts {
		c.name = pieceName(c.title)
		if w := say(c.title); !c.soft && c.how != ByLayer && (w.role == sewingRole || w.role == cutRole) {
			c.title, c.name = w.name, w.name
		}
		if c.name != "" {
			c.title = clean(c.title)
			return c
		}
	}
	return called{title: "Piece", name: "piece", how: ByNumber, soft: true}
}

// ownID is the id that a maker gave a line; of joined lines none.
func (r *recogniser) ownID(l *line) string {
	if id := r.item(l).ID; l.joined == 0 && !madeUpID.MatchString(id) {
		return id
	}
	return ""
}

// sharedLabel is the label of a line; of joined lines the one that all have.
func (r *recogniser) sharedLabel(l *line) string {
	label := r.item(l).Label
	for _, i := range l.items {
		if r.d.Items[i].Label != label {
			return ""
		}
	}
	return label
}

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
	if name != "" && name[0] >= '0' && name[0] <= '9' {
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
