package step

import (
	"slices"
	"strings"

	"seamkeep/pattern/curve"
)

// kind is what a slot of a form holds.
type kind int

const (
	seamName kind = iota
	pieceName
	runName
	closureName
	levelName
	cornerName
	newName
	target  // PIECE.EDGE or RUN
	amounts // mm at places
	size    // mm, not negative
	degrees // with a sign
	percent // not negative
	sharing // share N:N, share N or only PIECE
	beside  // above or below a level
	mover   // PIECE or both
	point   // x y
)

// slot is one part of a form: perhaps a keyword, then a value.
type slot struct {
	word     string // the keyword before the value, or ""
	kind     kind
	optional bool // only with a keyword, or where the kind brings its own
	label    string
	name     func(*Step) *string
	list     func(*Step) *[]Amount
	number   func(*Step) *float64
	set      func(*Step) *bool // tells whether an optional number is there; nil: it always is
	point    func(*Step) *curve.Point
}

// form is the grammar of one verb and what proves it.
type form struct {
	verb     string
	about    string
	slots    []slot
	examples []string
	prove    func(*proof, Step)
}

func named(word string, k kind, label string, f func(*Step) *string) slot {
	return slot{word: word, kind: k, label: label, name: f}
}

// maybe is a seam that may be left out.
func maybe(word string, f func(*Step) *string) slot {
	return slot{word: word, kind: seamName, optional: true, label: "SEAM", name: f}
}

func seamOf(s *Step) *string    { return &s.Seam }
func pieceOf(s *Step) *string   { return &s.Piece }
func closureOf(s *Step) *string { return &s.Closure }
func levelOf(s *Step) *string   { return &s.Level }
func runOf(s *Step) *string     { return &s.Run }
func newOf(s *Step) *string     { return &s.New }
func otherOf(s *Step) *string   { return &s.Other }

func amountsAt(word, places string, f func(*Step) *[]Amount) slot {
	return slot{word: word, kind: amounts, label: "MM [at " + places + " {, MM at " + places + "}]", list: f}
}

func stepAmounts(s *Step) *[]Amount { return &s.Amounts }

func numbered(word string, k kind, label string, optional bool) slot {
	return slot{word: word, kind: k, label: label, optional: optional,
		number: func(s *Step) *float64 { return &s.Number.Value }, set: func(s *Step) *bool { return &s.Number.Set }}
}

func theSeam() slot  { return named("", seamName, "SEAM", seamOf) }
func thePiece() slot { return named("", pieceName, "PIECE", pieceOf) }

func atLevels() slot { return amountsAt("", "LEVEL", stepAmounts) }
func atJoints() slot { return amountsAt("", "SEAM|CORNER", stepAmounts) }

func theTarget() slot { return slot{kind: target, label: "PIECE.EDGE|RUN"} }

func theSharing() slot {
	return slot{kind: sharing, optional: true, label: "share N:N|only PIECE"}
}

// forms lists all verbs in the order of the page.
func forms() []form {
	return slices.Concat(atSeams(), ofLines(), ofPieces())
}

func atSeams() []form {
	return []form{
		{"take-in", "cloth taken out at a seam, both sides together", []slot{theSeam(), atLevels(), theSharing()}, []string{
			"take-in side-front-underarm 10 at waist, 4 at high-hip",
			"take-in side-back-back 6 share 1:2",
			"take-in side-back-back 6 at waist only back",
		}, proveTakeIn},
		{"let-out", "cloth let out at a seam, both sides together", []slot{theSeam(), atLevels(), theSharing()}, []string{
			"let-out side-front-underarm 12 at low-hip",
			"let-out front-side-front 4 at bust, 2.5 at under-bust share 30:70",
		}, proveLetOut},
		{"move-seam", "width leaves the neighbour and arrives on PIECE", []slot{theSeam(), atLevels(), named("to", pieceName, "PIECE", pieceOf)}, []string{
			"move-seam side-back-back 14 at bust, 10 at under-bust, 6 at waist, 8 at high-hip, 10 at low-hip to side-back",
			"move-seam front-side-front 5 to front",
		}, proveMoveSeam},
		{"inset", "another cloth let in at a seam: NAME is the new piece, out what is cut away there, cut how wide NAME is cut", []slot{
			named("", newName, "NAME", newOf), named("at", seamName, "SEAM", seamOf), amountsAt("out", "LEVEL", stepAmounts),
			amountsAt("cut", "LEVEL", func(s *Step) *[]Amount { return &s.Cut }),
			{word: "stretch", kind: percent, optional: true, label: "PERCENT",
				number: func(s *Step) *float64 { return &s.Stretch.Value }, set: func(s *Step) *bool { return &s.Stretch.Set }},
		}, []string{
			"inset gusset at underarm-side-back out 60 cut 52",
			"inset gusset at underarm-side-back out 60 at bust, 30 at waist cut 52 at bust, 26 at waist stretch 15",
		}, proveInset},
		{"true", "both sides made to agree by moving corners along the seam", []slot{theSeam(),
			{word: "move", kind: mover, optional: true, label: "PIECE|both", name: pieceOf}}, []string{
			"true side-front-underarm move underarm",
			"true side-back-back move both",
			"true side-back-back",
		}, proveTrue},
		{"join", "two pieces made one along a seam", []slot{theSeam(), named("into", newName, "NAME", newOf)}, []string{
			"join back-button-stand into back",
		}, proveJoin},
		{"overlap", "the overlap of a closure changed, and the cloth with it, so that the girth stays", []slot{
			named("", closureName, "CLOSURE", closureOf), numbered("to", size, "MM", false)}, []string{
			"overlap back to 30",
		}, proveOverlap},
	}
}

func ofLines() []form {
	return []form{
		{"raise", "a line moved up: a neckline gains cloth, a hem loses it", []slot{theTarget(), atJoints()}, []string{
			"raise neckline 8",
			"raise front.hem 5 at hem-back",
		}, proveRaise},
		{"lower", "a line moved down: a neckline loses cloth, a hem gains it", []slot{theTarget(), atJoints()}, []string{
			"lower hem 20",
			"lower side-back.top 6 at top-back",
		}, proveLower},
		{"trim", "cloth cut away along a line, whichever end it lies at", []slot{theTarget(), atJoints()}, []string{
			"trim side-back.top 6 at top-back",
			"trim neckline 6 at side-back-back, 10 at back-button-stand, 6 at button-stand.top-back",
		}, proveTrim},
		{"level", "a run brought to the same distance from a level along every seam", []slot{
			named("", runName, "RUN", runOf), numbered("", size, "MM", false), {kind: beside, label: "above|below LEVEL", name: levelOf}}, []string{
			"level hem 112 below waist",
		}, proveLevel},
		{"smooth", "a line redrawn between its corners, at most MM away from where it was; of a run perhaps only the part from SEAM to SEAM", []slot{
			theTarget(), maybe("from", func(s *Step) *string { return &s.Start }), maybe("to", func(s *Step) *string { return &s.End }),
			numbered("within", size, "MM", true)}, []string{
			"smooth hem",
			"smooth neckline to underarm-gusset",
			"smooth hem from side-front-underarm to side-back-back within 3",
			"smooth back.top within 2",
		}, proveSmooth},
	}
}

func ofPieces() []form {
	return []form{
		{"split", "one piece made two along a straight line; the first NAME lies on the left of the way from the first point to the second", []slot{
			thePiece(), {word: "by", kind: point, label: "X Y", point: func(s *Step) *curve.Point { return &s.From }},
			{word: "to", kind: point, label: "X Y", point: func(s *Step) *curve.Point { return &s.To }},
			named("into", newName, "NAME", newOf), named("", newName, "NAME", otherOf),
			named("seam", newName, "NAME", func(s *Step) *string { return &s.NewSeam })}, []string{
			"split back by -21 0 to 23 0 into back-yoke back-skirt seam back-waist",
		}, proveSplit},
		{"pivot", "a whole piece turned about a corner, anticlockwise where DEGREES is positive", []slot{
			thePiece(), numbered("", degrees, "DEGREES", false), named("at", cornerName, "CORNER", func(s *Step) *string { return &s.Corner })}, []string{
			"pivot strap 8 at foot-front",
			"pivot strap -2.5 at foot-back",
		}, provePivot},
		{"lengthen", "a strip let in across every piece at a level", []slot{numbered("", size, "MM", false), named("at", levelName, "LEVEL", levelOf)}, []string{
			"lengthen 15 at under-bust",
		}, proveLengthen},
		{"shorten", "a strip taken out across every piece at a level", []slot{numbered("", size, "MM", false), named("at", levelName, "LEVEL", levelOf)}, []string{
			"shorten 10 at high-hip",
		}, proveShorten},
		{"mirror", "a mirrored copy of a piece as a piece of its own", []slot{thePiece(), named("into", newName, "NAME", newOf)}, []string{
			"mirror front into front-right",
		}, proveMirror},
	}
}

func formOf(verb string) (form, bool) {
	for _, f := range forms() {
		if f.verb == verb {
			return f, true
		}
	}
	return form{}, false
}

// usage writes a slot as the page has it.
func (s slot) usage() string {
	text := strings.TrimSpace(s.word + " " + s.label)
	if s.optional {
		return "[" + text + "]"
	}
	return text
}

func (f form) usage() string {
	words := []string{f.verb}
	for _, s := range f.slots {
		words = append(words, s.usage())
	}
	return strings.Join(words, " ")
}

// Form describes a verb.
type Form struct {
	Verb     string
	About    string   // what is done, in words
	Usage    string   // names in capitals; square brackets make a part optional, a bar parts alternatives
	Examples []string // as String prints them
}

// Forms lists all verbs in the order of the page for makers.
func Forms() []Form {
	var out []Form
	for _, f := range forms() {
		out = append(out, Form{f.verb, f.about, f.usage(), f.examples})
	}
	return out
}

// Verbs lists the words that a step begins with.
func Verbs() []string {
	var out []string
	for _, f := range forms() {
		out = append(out, f.verb)
	}
	return out
}
