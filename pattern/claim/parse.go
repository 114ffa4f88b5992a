package claim

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// maxValue is the greatest length of a value in bytes.
const maxValue = 16384

// Parse reads the value of a note's line. The key is Changes, Keeps or Only, in
// any case, as git compares the keys of trailers. at is the place of the value's
// first character. A Keeps with commas gives a claim for each measure, and a
// tolerance belongs to the measure before it. No name is looked up: Check does
// that. Every problem of the value is told; claims without a problem are given
// even where others have one.
func Parse(key, value string, at diag.Place) ([]Claim, diag.List) {
	p := &parser{}
	kind, known := kindOf(key)
	switch {
	case !known:
		p.fail(KeyFault, at, fmt.Sprintf("found %q", key), "expected Changes, Keeps or Only", nearest(key, []string{"Changes", "Keeps", "Only"}))
		return nil, p.problems
	case len(value) > maxValue:
		p.fail(LongFault, at, fmt.Sprintf("found %d bytes", len(value)), fmt.Sprintf("expected at most %d", maxValue), "")
		return nil, p.problems
	}
	words, end := diag.Words(value, at)
	switch {
	case len(words) == 0:
		p.fail(EmptyFault, at, "found nothing behind "+string(kind), "expected "+usage(kind), "")
	case kind == Changes:
		p.changes(words, end)
	case kind == Keeps:
		for _, it := range items(words, end) {
			p.keeps(it)
		}
	default:
		p.only(words, end)
	}
	return p.claims, p.problems
}

func kindOf(key string) (Kind, bool) {
	for _, k := range Kinds() {
		if strings.EqualFold(key, string(k)) {
			return k, true
		}
	}
	return "", false
}

// usage gives the form of the value of a kind.
func usage(k Kind) string {
	switch k {
	case Changes:
		return "a measure and its change, such as girth waist +24 or gap front to 34"
	case Keeps:
		return "measures with commas between them, such as girth waist, girth bust"
	}
	return "pieces with commas between them, such as side-front, underarm"
}

func nearest(word string, known []string) string {
	if near := diag.Nearest(strings.ToLower(word), known); near != "" {
		return "did you mean " + near + "?"
	}
	// a word that differs only by capitals is at no distance from the known one
	if low := strings.ToLower(word); low != word && slices.Contains(known, low) {
		return "did you mean " + low + "?"
	}
	return ""
}

type parser struct {
	claims   []Claim
	problems diag.List
}

func (p *parser) fail(id string, at diag.Place, found, expected, hint string) {
	p.problems = append(p.problems, diag.Problem{ID: id, Severity: diag.Error, Place: at, Found: found, Expected: expected, Hint: hint})
}

// changes reads MEASURE (+N | -N | to N) [within T].
func (p *parser) changes(words []diag.Word, end diag.Place) {
	for _, w := range words {
		if w.Text == "," {
			p.fail(AmountFault, w.Place, "found a comma", "expected one measure with one amount",
				"give each change its own line, and write a fraction with a point: +1.5")
			return
		}
	}
	c, it, ok := p.within(Claim{Kind: Changes}, item{words, end})
	if !ok {
		return
	}
	c, it, ok = p.amount(c, it)
	if ok && p.measure(&c, it) {
		p.claims = append(p.claims, c)
	}
}

// keeps reads MEASURE [within T].
func (p *parser) keeps(it item) {
	c, it, ok := p.within(Claim{Kind: Keeps}, it)
	if !ok {
		return
	}
	if n := len(it.words); n > 1 && numeric(it.words[n-1].Text) {
		p.fail(AmountFault, it.words[n-1].Place, fmt.Sprintf("found the amount %q", it.words[n-1].Text), "expected a measure that stays as it was",
			"write Changes: in place of Keeps: where it does not")
		return
	}
	if p.measure(&c, it) {
		p.claims = append(p.claims, c)
	}
}

// only reads PIECE {, PIECE}.
func (p *parser) only(words []diag.Word, end diag.Place) {
	c := Claim{Kind: Only, Place: words[0].Place}
	sound := true
	for _, it := range items(words, end) {
		name := it.text()
		fault := ""
		switch {
		case name == Garment:
		case len(it.words) == 0:
			fault = "found no name"
		case len(it.words) > 1:
			fault = fmt.Sprintf("found %q", name)
		case pattern.NameFault(name) != "":
			fault = fmt.Sprintf("the name %q %s", name, pattern.NameFault(name))
		}
		if fault == "" && slices.Contains(c.Pieces, name) {
			fault = "found " + name + " twice"
		}
		if fault != "" {
			sound = false
			p.fail(PieceFault, it.place(), fault, "expected "+usage(Only), "")
			continue
		}
		c.Pieces = append(c.Pieces, name)
	}
	if sound {
		p.claims = append(p.claims, c)
	}
}

// within takes a tolerance off the end of an item. Names begin with a letter, so
// that a number behind the word cannot be one.
func (p *parser) within(c Claim, it item) (Claim, item, bool) {
	n := len(it.words)
	if n < 2 || it.words[n-2].Text != "within" || !numeric(it.words[n-1].Text) {
		return c, it, true
	}
	last := it.words[n-1]
	v, fault := ParseNumber(last.Text, maxOf(it))
	if fault == "" && (v < 0 || last.Text[0] == '+') {
		fault = fmt.Sprintf("found %q", last.Text)
	}
	if fault != "" {
		p.fail(WithinFault, last.Place, fault, "expected a tolerance, such as within 1.5", "")
		return c, it, false
	}
	c.Within = pattern.Some(v)
	return c, item{it.words[:n-2], it.words[n-2].Place}, true
}

// amount takes +N, -N or to N off the end of an item.
func (p *parser) amount(c Claim, it item) (Claim, item, bool) {
	n := len(it.words)
	if n == 0 || !numeric(it.words[n-1].Text) {
		p.fail(AmountFault, it.end, "found no amount", "expected +24, -24 or to 24", "")
		return c, it, false
	}
	last, rest := it.words[n-1], it.words[:n-1]
	signed := last.Text[0] == '+' || last.Text[0] == '-'
	v, fault := ParseNumber(last.Text, maxOf(it))
	to := len(rest) > 0 && rest[len(rest)-1].Text == "to"
	switch {
	case fault != "":
		p.fail(AmountFault, last.Place, fault, "expected +24, -24 or to 24", "")
	case to && last.Text[0] == '+':
		p.fail(AmountFault, last.Place, fmt.Sprintf("found %q", last.Text), "expected the measure itself behind to, without a plus", "")
	case to:
		c.To = pattern.Some(v)
		return c, item{rest[:len(rest)-1], rest[len(rest)-1].Place}, true
	case !signed:
		p.fail(AmountFault, last.Place, fmt.Sprintf("found %q", last.Text), fmt.Sprintf("expected +%s, -%[1]s or to %[1]s", last.Text), "")
	default:
		c.By = pattern.Some(v)
		return c, item{rest, last.Place}, true
	}
	return c, it, false
}

// measure reads the measure that an item is.
func (p *parser) measure(c *Claim, it item) bool {
	c.Place = it.place()
	if len(it.words) == 0 {
		p.fail(MeasureFault, it.end, "found no measure", "expected "+usage(c.Kind), "")
		return false
	}
	m, err := measure.Parse(it.text())
	var fault *measure.ParseError
	if errors.As(err, &fault) {
		p.measureFault(it, fault)
		return false
	}
	for _, name := range []string{m.Level, m.Piece, m.Edge, m.From, m.To, m.Seam, m.Run, m.Closure} {
		if why := pattern.NameFault(name); name != "" && why != "" {
			p.fail(MeasureFault, it.place(), fmt.Sprintf("the name %q %s", name, why), "expected "+measure.Usage(m.Kind), "")
			return false
		}
	}
	c.Measure = m
	return true
}

func (p *parser) measureFault(it item, fault *measure.ParseError) {
	at, hint := it.end, ""
	if fault.Word <= len(it.words) {
		at = it.words[fault.Word-1].Place
	}
	switch first := it.words[0].Text; {
	case fault.Word == 1:
		hint = nearest(first, measure.Kinds())
	case fault.Word <= len(it.words) && it.words[fault.Word-1].Text == "within":
		hint = "a tolerance is a number: within 1.5"
	}
	p.fail(MeasureFault, at, "found "+fault.Found, "expected "+fault.Expected, hint)
}
