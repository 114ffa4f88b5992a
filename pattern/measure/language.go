package measure

import (
	"fmt"
	"strings"
)

// Measure is a parsed question. Which fields are set depends on Kind.
type Measure struct {
	Kind     string
	Level    string // empty: every level
	Piece    string
	Edge     string
	From, To string // notches of a span of the edge
	Part     string // "above" or "below" Level, for length
	Seam     string
	Run      string
	Closure  string
}

// grammar says what may follow each kind. A word in capitals is a name; square
// brackets make the rest optional.
var grammar = map[string]string{
	"girth":   "[LEVEL]",
	"worn":    "[LEVEL]",
	"gap":     "CLOSURE [at LEVEL]",
	"width":   "PIECE [at LEVEL]",
	"area":    "PIECE",
	"length":  "REF [above|below LEVEL]",
	"seam":    "SEAM",
	"walk":    "SEAM",
	"turn":    "RUN [at SEAM]",
	"reach":   "RUN [at SEAM]",
	"spread":  "RUN",
	"overlap": "CLOSURE",
	"pitch":   "CLOSURE",
	"count":   "CLOSURE",
}

// Kinds lists the words that a measure begins with, in the order of the manual.
func Kinds() []string {
	return []string{"girth", "worn", "gap", "width", "area", "length", "seam", "walk", "turn", "reach", "spread", "overlap", "pitch", "count"}
}

// Usage gives the form of a measure of a kind: "gap CLOSURE [at LEVEL]".
func Usage(kind string) string { return kind + " " + grammar[kind] }

// ParseError says what is wrong with the words of a measure.
type ParseError struct {
	Text     string // the measure as given
	Word     int    // number of the word at fault, from 1
	Found    string
	Expected string
}

// Error gives the measure, found and expected in one line.
func (e *ParseError) Error() string {
	return fmt.Sprintf("measure %q, word %d: %s; expected %s", e.Text, e.Word, e.Found, e.Expected)
}

// Parse reads a measure: "girth bust", "gap front at waist", "length
// side-back.back above waist". The names are not looked up.
func Parse(text string) (Measure, error) {
	if len(text) > 1000 {
		return Measure{}, &ParseError{Text: text[:40] + "...", Word: 1, Found: fmt.Sprintf("%d characters", len(text)), Expected: "at most 1000"}
	}
	p := &parser{text: text, words: strings.Fields(text)}
	kind := p.next("the kind of a measure")
	if _, known := grammar[kind]; !known && p.err == nil {
		p.at--
		p.fail(fmt.Sprintf("%q", kind), "one of "+strings.Join(Kinds(), ", "))
	}
	m := Measure{Kind: kind}
	p.rest(&m)
	if p.err == nil && p.at < len(p.words) {
		p.fail(fmt.Sprintf("%q", p.words[p.at]), "nothing more: "+Usage(kind))
	}
	if p.err != nil {
		return Measure{}, p.err
	}
	return m, nil
}

type parser struct {
	text  string
	words []string
	at    int
	err   error
}

func (p *parser) rest(m *Measure) {
	switch m.Kind {
	case "girth", "worn":
		if p.at < len(p.words) {
			m.Level = p.next("a level")
		}
	case "gap":
		m.Closure = p.next("a closure")
		m.Level = p.after("at", "a level")
	case "width":
		m.Piece = p.next("a piece")
		m.Level = p.after("at", "a level")
	case "area":
		m.Piece = p.next("a piece")
	case "length":
		p.ref(m)
		for _, part := range []string{"above", "below"} {
			if m.Part == "" {
				if m.Level = p.after(part, "a level"); m.Level != "" {
					m.Part = part
				}
			}
		}
	case "seam", "walk":
		m.Seam = p.next("a seam")
	case "spread":
		m.Run = p.next("a run")
	case "turn", "reach":
		m.Run = p.next("a run")
		m.Seam = p.after("at", "a seam")
	case "overlap", "pitch", "count":
		m.Closure = p.next("a closure")
	}
}

func (p *parser) ref(m *Measure) {
	word := p.next("PIECE.EDGE")
	piece, edge, ok := strings.Cut(word, ".")
	if p.err == nil && (!ok || piece == "" || edge == "") {
		p.at--
		p.fail(fmt.Sprintf("%q", word), "PIECE.EDGE, such as side-back.front")
	}
	m.Piece, m.Edge = piece, edge
	if m.From = p.after("from", "a notch"); m.From != "" {
		if m.To = p.after("to", "a notch"); m.To == "" {
			p.fail(p.here(), "to NOTCH")
		}
	}
}

func (p *parser) next(what string) string {
	if p.err != nil {
		return ""
	}
	if p.at >= len(p.words) {
		p.fail("the end of the measure", what)
		return ""
	}
	p.at++
	return p.words[p.at-1]
}

// after gives the word behind a keyword that may stand there, or "".
func (p *parser) after(keyword, what string) string {
	if p.err != nil || p.at >= len(p.words) || p.words[p.at] != keyword {
		return ""
	}
	p.at++
	return p.next(what)
}

// here names what stands at the current word.
func (p *parser) here() string {
	if p.at < len(p.words) {
		return fmt.Sprintf("%q", p.words[p.at])
	}
	return "the end of the measure"
}

func (p *parser) fail(found, expected string) {
	if p.err == nil {
		p.err = &ParseError{Text: p.text, Word: p.at + 1, Found: found, Expected: expected}
	}
}

// String gives the measure as Parse reads it.
func (m Measure) String() string {
	words := []string{m.Kind}
	add := func(keyword, name string) {
		if name == "" {
			return
		}
		if keyword != "" {
			words = append(words, keyword)
		}
		words = append(words, name)
	}
	switch m.Kind {
	case "girth", "worn":
		add("", m.Level)
	case "gap":
		add("", m.Closure)
		add("at", m.Level)
	case "width":
		add("", m.Piece)
		add("at", m.Level)
	case "area":
		add("", m.Piece)
	case "length":
		add("", m.Piece+"."+m.Edge)
		add("from", m.From)
		add("to", m.To)
		add(m.Part, m.Level)
	case "seam", "walk":
		add("", m.Seam)
	case "turn", "reach", "spread":
		add("", m.Run)
		add("at", m.Seam)
	default:
		add("", m.Closure)
	}
	return strings.Join(words, " ")
}
