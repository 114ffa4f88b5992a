package drawing

import (
	"regexp"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/drawing/vector"
)

// role is what a line is called.
type role int

const (
	unsaid role = iota
	sewingRole
	cutRole
	markRole
	notchRole
	levelRole
	grainRole
	aidRole        // a check square or another aid
	decorationRole // a text, a title
)

// word is what a name says of a line.
type word struct {
	role role
	kind pattern.MarkKind // of markRole
	edge string           // of a notch, from our own attribute
	name string           // "" where none is given
	opts pattern.Mark     // width, length, diameter and half, where given
	pure bool             // it says nothing else
	how  How
}

var (
	// what keeps words apart
	wordGap = regexp.MustCompile(`[^\pL\pN.]+|\.\B|\B\.`)
	// a trade word with a number, as in bone3
	numbered = regexp.MustCompile(`^([a-z]+?)([0-9]+)$`)
	number   = regexp.MustCompile(`^[0-9]+(\.[0-9]+)?$`)
)

// trade tells what a word or two of the trade call a line: plain English.
func trade(phrase string) (role, pattern.MarkKind) {
	switch phrase {
	case "seam allowance", "seam allowances", "seamallowance", "allowance", "allowances", "cut line", "cut lines", "cutline", "cutting":
		return cutRole, ""
	case "sewing line", "sewing lines", "sewing", "seam line", "seam lines", "seamline", "stitching line", "outline", "outlines":
		return sewingRole, ""
	case "check square", "test square", "scale bar", "ruler":
		return aidRole, ""
	case "button hole", "button holes", "buttonhole", "buttonholes":
		return markRole, pattern.Buttonhole
	case "button", "buttons":
		return markRole, pattern.Button
	case "bone", "bones", "boning":
		return markRole, pattern.Bone
	case "cord", "cords":
		return markRole, pattern.Cord
	case "stitch", "stitches", "stitching", "topstitch", "topstitching":
		return markRole, pattern.Stitch
	case "placement", "placements":
		return markRole, pattern.Placement
	case "cut out", "cut outs", "cutout", "cutouts":
		return markRole, pattern.Cutout
	case "eyelet", "eyelets":
		return markRole, pattern.Eyelet
	case "drill", "drills":
		return markRole, pattern.Drill
	case "notch", "notches":
		return notchRole, ""
	case "grain", "grainline", "grainlines":
		return grainRole, ""
	case "level", "levels":
		return levelRole, ""
	case "decoration", "text", "texts", "title", "label", "labels", "note", "notes":
		return decorationRole, ""
	}
	return unsaid, ""
}

// filler says nothing of its own beside a trade word.
func filler(w string) bool {
	switch w {
	case "line", "lines", "mark", "marks", "position", "positions", "hole", "holes", "channel", "channels", "of", "the", "for", "at", "arrow", "straight":
		return true
	}
	return false
}

// say tells what a name calls a line; the role is unsaid where it holds no word
// of the trade. The words beside the trade's are the name.
func say(text string) word {
	words := split(text)
	if len(words) == 0 || len(words) > 12 {
		return word{}
	}
	if w, at, n := find(words); n > 0 {
		w.rest(append(slices.Clone(words[:at]), words[at+n:]...))
		return w
	}
	if name := levelName(words); name != "" {
		return word{role: levelRole, name: name, pure: true}
	}
	return word{}
}

// find gives the trade's words in a name: two that belong together first, and
// what a placement is for before the word itself.
func find(words []string) (w word, at, n int) {
	for i := 0; i+1 < len(words); i++ {
		if r, k := trade(words[i] + " " + words[i+1]); r != unsaid {
			return word{role: r, kind: k}, i, 2
		}
	}
	for i, v := range words {
		if r, k := trade(v); r != unsaid && (n == 0 || w.kind == pattern.Placement) {
			w, at, n = word{role: r, kind: k}, i, 1
		}
	}
	return w, at, n
}

// split gives the words of a name in small letters; bone3 is bone and 3.
func split(text string) []string {
	var out []string
	for _, w := range strings.Fields(wordGap.ReplaceAllString(strings.ToLower(plainLetters.Replace(strings.ToLower(clean(text)))), " ")) {
		if m := numbered.FindStringSubmatch(w); m != nil && tradeWord(m[1]) {
			out = append(out, m[1], m[2])
			continue
		}
		out = append(out, w)
	}
	return out
}

func tradeWord(w string) bool {
	r, _ := trade(w)
	return r != unsaid
}

// rest reads the words beside the trade's: figures, which half, and the name.
func (w *word) rest(words []string) {
	var name []string
	for i := 0; i < len(words); i++ {
		next := ""
		if i+1 < len(words) {
			next = words[i+1]
		}
		switch v := words[i]; {
		case (v == "width" || v == "length" || v == "diameter") && number.MatchString(next):
			w.figure(v, next)
			i++
		case (v == "left" || v == "right") && next == "only":
			w.opts.Only = v
			i++
		case filler(v):
		default:
			name = append(name, v)
		}
	}
	w.pure = len(name) == 0 || len(name) == 1 && number.MatchString(name[0])
	switch text := strings.Join(name, "-"); {
	case w.role == levelRole && !w.pure:
		w.name = levelWord(text)
	case w.pure && len(name) == 1:
		w.name = prefix(w.role, w.kind) + name[0]
	default:
		w.name = text
	}
	w.name = partName(w.name)
}

func (w *word) figure(what, text string) {
	mm, _ := parseFloat(text)
	v := pattern.Some(pattern.RoundLength(mm))
	if !(v.Value > 0 && v.Value <= largest) {
		return
	}
	switch what {
	case "width":
		w.opts.Width = v
	case "length":
		w.opts.Length = v
	case "diameter":
		w.opts.Diameter = v
	}
}

// prefix begins the names that are given to parts without one.
func prefix(r role, k pattern.MarkKind) string {
	switch {
	case r == notchRole:
		return "n"
	case r == levelRole:
		return "level-"
	}
	switch k {
	case pattern.Bone, pattern.Cord, pattern.Stitch, pattern.Placement, pattern.Drill:
		return string(k[:1])
	case pattern.Cutout:
		return "cut"
	case pattern.Eyelet:
		return "eye"
	}
	return string(k) // button, buttonhole
}

// levelName gives the level that words name by themselves: the usual heights of
// the body.
func levelName(words []string) string {
	var name []string
	for _, w := range words {
		if !filler(w) {
			name = append(name, w)
		}
	}
	text := levelWord(strings.Join(name, "-"))
	switch text {
	case "bust", "high-bust", "full-bust", "under-bust", "chest", "waist", "high-waist", "low-waist", "high-hip", "hip", "low-hip", "full-hip",
		"seat", "thigh", "knee", "calf", "ankle", "biceps", "elbow", "wrist":
		return text
	}
	return ""
}

// levelWord spells the name of a level one way.
func levelWord(text string) string {
	switch text {
	case "underbust":
		return "under-bust"
	case "waistline", "bustline", "hipline", "kneeline", "chestline":
		return strings.TrimSuffix(text, "line")
	case "hips":
		return "hip"
	}
	return text
}

// partName makes a name for a mark, notch or level; "" where none can be made.
func partName(text string) string {
	if text == "" {
		return ""
	}
	name := pieceName(text)
	if rest, ok := strings.CutPrefix(name, "piece-"); ok && !strings.HasPrefix(strings.ToLower(text), "piece") {
		name = cutTo("m-"+rest, pattern.MaxName)
	}
	return name
}

// layerWord is what a layer calls its lines. Only a layer that is called nothing
// else does: "Bones" does, "Button stand" does not.
func layerWord(l vector.Layer) word {
	for _, text := range []string{l.Label, l.ID} {
		if w := say(text); w.role != unsaid && w.pure && !(w.role == levelRole && w.name != "") {
			w.how = ByLayer
			w.name = ""
			return w
		}
	}
	return word{}
}

// called tells what an item is called: by our own attribute, its label, its id,
// its layer, its class.
func (r *recogniser) called(it *vector.Item, h *home) word {
	if own := it.Own["line"]; own != "" {
		if w, ok := ownWord(own); ok {
			return w
		}
		r.warn(it.Place, "drawing.own", "", it.Title()+" has the attribute seamkeep:line "+quoted(own),
			`"outline", "mark KIND NAME", "notch EDGE NAME", "level NAME", "grain" or "check"`, "it was judged by its label and its shape instead")
	}
	if w := say(it.Label); w.role != unsaid {
		w.how = ByLabel
		return w
	}
	if !madeUpID.MatchString(it.ID) {
		if w := say(it.ID); w.role != unsaid {
			w.how = ByID
			return w
		}
	}
	w := h.inner
	if w.role == unsaid {
		if c := say(it.Class); c.role != unsaid && c.pure {
			w, w.how = c, ByLabel
		}
	}
	if w.role == markRole || w.role == notchRole || w.role == levelRole {
		w.name = givenName(it, w.role)
	}
	return w
}

// givenName is the name that a line in a layer of marks gives itself.
func givenName(it *vector.Item, r role) string {
	texts := []string{it.Label}
	if !madeUpID.MatchString(it.ID) {
		texts = append(texts, it.ID)
	}
	for _, t := range texts {
		n := partName(t)
		if r == levelRole {
			n = levelWord(n)
		}
		if n != "" {
			return n
		}
	}
	return ""
}

// ownWord reads our own attribute.
func ownWord(text string) (word, bool) {
	f := strings.Fields(text)
	w := word{how: ByOwn, pure: true}
	arg := func(i int) string {
		if i < len(f) && pattern.NameFault(f[i]) == "" {
			return f[i]
		}
		return ""
	}
	if len(f) == 0 {
		return w, false
	}
	switch {
	case f[0] == "outline" && len(f) == 1:
		w.role = sewingRole
	case f[0] == "grain" && len(f) == 1:
		w.role = grainRole
	case f[0] == "check" && len(f) == 1:
		w.role = aidRole
	case f[0] == "level" && len(f) == 2:
		w.role, w.name = levelRole, arg(1)
		return w, w.name != ""
	case f[0] == "notch" && len(f) == 3:
		w.role, w.edge, w.name = notchRole, arg(1), arg(2)
		return w, w.edge != "" && w.name != ""
	case f[0] == "mark" && len(f) >= 3:
		w.role, w.kind = markRole, pattern.MarkKind(f[1])
		w.rest(f[3:])
		w.name = arg(2)
		return w, w.name != "" && knownKind(w.kind)
	default:
		return w, false
	}
	return w, true
}

func knownKind(k pattern.MarkKind) bool {
	switch k {
	case pattern.Bone, pattern.Cord, pattern.Stitch, pattern.Placement, pattern.Cutout, pattern.Eyelet, pattern.Button, pattern.Buttonhole, pattern.Drill:
		return true
	}
	return false
}
