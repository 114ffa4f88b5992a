package step

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// longest is more than a step with an amount at each of twenty levels needs, in bytes.
const longest = 2000

// Parse reads a step. at is the place of the text's first character. The first
// fault is told, and the Step is then the zero value. No name is looked up: Check
// does that.
func Parse(text string, at diag.Place) (Step, diag.List) {
	p := &parser{}
	if len(text) > longest {
		p.fail(LongFault, at, fmt.Sprintf("found a step of %d bytes", len(text)), fmt.Sprintf("expected at most %d", longest))
		return Step{}, p.problems
	}
	p.words, p.end = diag.Words(text, at)
	verb := p.next()
	f, known := formOf(verb.Text)
	if !known {
		p.unknownVerb(verb)
		return Step{}, p.problems
	}
	p.form = f
	s := Step{Place: verb.Place, Verb: f.verb}
	for _, slot := range f.slots {
		p.slot(&s, slot)
	}
	if w := p.peek(); w.Text != "" && !p.failed() {
		p.fail(FormFault, w.Place, fmt.Sprintf("found %q", w.Text), "expected nothing more: "+f.usage())
	}
	if !p.failed() {
		p.sound(s)
	}
	if p.failed() {
		return Step{}, p.problems
	}
	return s, nil
}

type parser struct {
	form     form
	words    []diag.Word
	at       int
	end      diag.Place
	problems diag.List
}

func (p *parser) failed() bool { return len(p.problems) > 0 }

func (p *parser) fail(id string, at diag.Place, found, expected string, hint ...string) {
	if !p.failed() {
		p.problems = diag.List{{ID: id, Severity: diag.Error, Place: at, Found: found, Expected: expected, Hint: strings.Join(hint, "\n")}}
	}
}

// peek gives the current word, one without text at the end.
func (p *parser) peek() diag.Word {
	if p.at < len(p.words) {
		return p.words[p.at]
	}
	return diag.Word{Place: p.end}
}

func (p *parser) next() diag.Word {
	w := p.peek()
	if w.Text != "" {
		p.at++
	}
	return w
}

// take goes past a keyword if it stands there.
func (p *parser) take(keyword string) bool {
	if p.peek().Text != keyword {
		return false
	}
	p.at++
	return true
}

func found(w diag.Word) string {
	if w.Text == "" {
		return "found the end of the step"
	}
	return fmt.Sprintf("found %q", w.Text)
}

func (p *parser) unknownVerb(w diag.Word) {
	if w.Text == "" {
		p.fail(VerbFault, w.Place, "found no step", "expected one of "+strings.Join(Verbs(), ", "))
		return
	}
	hint := ""
	if near := diag.Nearest(strings.ToLower(w.Text), Verbs()); near != "" {
		hint = "did you mean " + near + "?"
	}
	p.fail(VerbFault, w.Place, found(w), "expected one of "+strings.Join(Verbs(), ", "), hint)
}

func (p *parser) slot(s *Step, t slot) {
	if p.failed() {
		return
	}
	if t.word != "" && !p.take(t.word) {
		if !t.optional {
			p.fail(FormFault, p.peek().Place, found(p.peek()), "expected "+t.usage()+": "+p.form.usage())
		}
		return
	}
	switch t.kind {
	case target:
		p.target(s)
	case amounts:
		*t.list(s) = p.amounts(strings.Contains(t.label, "CORNER"))
	case size, percent, degrees:
		*t.number(s) = p.number(t.kind == degrees)
		*t.set(s) = !p.failed()
	case sharing:
		p.sharing(s)
	case beside:
		p.beside(s)
	case mover:
		if s.Both = p.take("both"); !s.Both {
			s.Piece = p.name("a piece of the seam, or both")
		}
	case point:
		t.point(s).X = p.number(true)
		t.point(s).Y = p.number(true)
	default:
		*t.name(s) = p.name(noun(t.kind))
	}
}

// noun names a kind of names in words.
func noun(k kind) string {
	return map[kind]string{seamName: "a seam", pieceName: "a piece", runName: "a run", closureName: "a closure",
		levelName: "a level", cornerName: "a corner", newName: "a new name"}[k]
}

// name reads a name.
func (p *parser) name(what string) string {
	w := p.next()
	p.checkName(w, w.Text, what)
	return w.Text
}

func (p *parser) checkName(w diag.Word, name, what string) {
	fault := found(w)
	if why := pattern.NameFault(name); w.Text == "" || w.Text == "," || numeric(w.Text) {
		p.fail(FormFault, w.Place, fault, "expected "+what+": "+p.form.usage())
	} else if why != "" {
		p.fail(NameFault, w.Place, fmt.Sprintf("the name %q %s", name, why), "expected "+what+": "+p.form.usage())
	}
}

// target reads PIECE.EDGE or RUN.
func (p *parser) target(s *Step) {
	w := p.next()
	piece, edge, dotted := strings.Cut(w.Text, ".")
	p.checkName(w, piece, "PIECE.EDGE or a run")
	if !dotted {
		s.Run = piece
		return
	}
	p.checkName(w, edge, "PIECE.EDGE or a run")
	s.Piece, s.Edge = piece, edge
}

// number reads a number; signs says that it may be negative.
func (p *parser) number(signs bool) float64 {
	w := p.next()
	if !numeric(w.Text) {
		p.fail(AmountFault, w.Place, found(w), "expected a number: "+p.form.usage())
		return 0
	}
	v, fault := number(w.Text, signs)
	if fault != "" {
		p.fail(AmountFault, w.Place, fault, "expected a number such as 12 or 7.5: "+p.form.usage())
	}
	return v
}

// amounts reads MM, or MM at PLACE with more of them behind commas.
func (p *parser) amounts(corners bool) []Amount {
	var out []Amount
	first := p.peek().Place
	for {
		at := p.peek().Place
		a := Amount{Place: at, MM: p.number(false)}
		if p.take("at") {
			a.Place = p.peek().Place
			a.At = p.place(corners)
		} else if len(out) > 0 || p.peek().Text == "," {
			p.fail(FormFault, p.peek().Place, found(p.peek()), "expected at and a place, since there are several amounts: "+p.form.usage())
		}
		if p.failed() {
			return nil
		}
		if slices.ContainsFunc(out, func(x Amount) bool { return x.At == a.At }) {
			p.fail(AmountFault, a.Place, "found "+a.At+" twice", "expected one amount a place")
			return nil
		}
		out = append(out, a)
		if !p.take(",") {
			break
		}
	}
	if !slices.ContainsFunc(out, func(a Amount) bool { return a.MM != 0 }) {
		p.fail(AmountFault, first, "found nothing but 0", "expected an amount that is not 0")
	}
	return out
}

// place reads where an amount is meant.
func (p *parser) place(corners bool) string {
	if !corners {
		return p.name("a level")
	}
	const what = "a seam, a corner or PIECE.CORNER"
	w := p.next()
	piece, corner, dotted := strings.Cut(w.Text, ".")
	p.checkName(w, piece, what)
	if dotted {
		p.checkName(w, corner, what)
	}
	return w.Text
}

// sharing reads share N:N, share N (percent of the first side) or only PIECE.
func (p *parser) sharing(s *Step) {
	if p.take("only") {
		s.Piece = p.name("a piece of the seam")
		return
	}
	if !p.take("share") {
		return
	}
	const expected = "expected two parts such as 1:2, the first side's first"
	w := p.next()
	a, b, two := strings.Cut(w.Text, ":")
	first, fault := number(a, false)
	second := 100 - first
	if two && fault == "" {
		second, fault = number(b, false)
	}
	switch {
	case w.Text == "" || w.Text == ",":
		p.fail(AmountFault, w.Place, found(w), expected)
	case fault != "":
		p.fail(AmountFault, w.Place, fault, expected)
	case second < 0:
		p.fail(AmountFault, w.Place, found(w), "expected at most 100 percent, or two parts such as 1:2")
	case first+second == 0:
		p.fail(AmountFault, w.Place, found(w), expected)
	}
	s.Share = [2]float64{first, second}
}

// beside reads above LEVEL or below LEVEL.
func (p *parser) beside(s *Step) {
	w := p.next()
	if w.Text != "above" && w.Text != "below" {
		p.fail(FormFault, w.Place, found(w), "expected above or below: "+p.form.usage())
		return
	}
	s.Part = w.Text
	s.Level = p.name("a level")
}

// sound tells what no single slot can see.
func (p *parser) sound(s Step) {
	switch {
	case s.Verb == "split" && s.New == s.Other:
		p.fail(NameFault, s.Place, "found "+s.New+" twice", "expected two names for the two pieces")
	case s.Verb == "split" && s.From == s.To:
		p.fail(AmountFault, s.Place, "found one point twice", "expected the two ends of the line that splits the piece")
	case s.Edge != "" && s.Start+s.End != "":
		p.fail(FormFault, s.Place, "found a part of "+s.Piece+"."+s.Edge, "expected from and to only with a run")
	case s.Start != "" && s.Start == s.End:
		p.fail(FormFault, s.Place, "found "+s.Start+" twice", "expected two seams")
	case (s.Verb == "lengthen" || s.Verb == "shorten" || s.Verb == "pivot") && s.Number.Value == 0:
		p.fail(AmountFault, s.Place, "found nothing but 0", "expected an amount that is not 0")
	}
}
