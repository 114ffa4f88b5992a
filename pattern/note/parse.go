package note

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
)

// The ids of the problems of a note's lines.
const (
	UnseenFault = "note.unseen"      // a line of ours where git sees no trailer
	NearFault   = "note.near-miss"   // a key that is nearly one of ours, or in another case
	NameFault   = "note.name"        // an alteration without a name, or with an odd one
	EmptyFault  = "note.empty"       // a line that says nothing
	FirstFault  = "note.above-first" // a line above the first alteration
	OrderFault  = "note.order"       // claims of several groups that cannot be added
	FoldFault   = "note.fold"        // lines in a message that git throws away
)

// Parse reads a message. trailers are those that git sees in it, in order, with
// their lines; the message may still hold git's comments, beginning with "#".
//
// Every "Alteration:" opens a group. Lines of ours in a note that names no
// alteration form one group without a name, with a warning: a claim that git shows
// is measured, whoever wrote it. Above the first of several lines "Alteration:"
// a line belongs to nobody, and guessing could weaken a claim (a Keeps yields to
// another group's Changes), so there it is an error.
//
// A line that begins with one of our words and is none of the trailers is an
// error; the hint of the first such problem is the mended message. Keys count in
// any case, as with git; another case, and a key that is nearly one of ours, are
// warnings. Other keys are left alone. Claims of one group that contradict each
// other are errors. The note is never nil and holds all that could be read; the
// problems are sorted, and are in File.
func Parse(message string, trailers []Trailer) (*Note, diag.List) {
	l := layOut(message)
	p := &parser{l: l, note: &Note{}}
	p.text(trailers)
	for _, t := range trailers {
		word, _ := ours(t.Key)
		p.named = p.named || word == keyAlteration
	}
	for _, t := range trailers {
		p.trailer(t)
	}
	slices.SortStableFunc(p.note.Others, func(a, b Trailer) int { return a.Line - b.Line })
	p.unseen(message, trailers)
	p.nearMisses(trailers)
	p.unnamed()
	for _, g := range p.note.Groups {
		p.problems = append(p.problems, claim.Contradictions(g.Claims)...)
	}
	if p.note.Fold.Kind == "fixup!" && len(p.note.Groups) > 0 {
		p.warn(FoldFault, p.note.Groups[0].Place, "found lines of a note in a fixup! message",
			"expected them in a squash! message or in the note of "+fmt.Sprintf("%q", p.note.Fold.Target),
			"git throws the message of a fixup! away when it folds it in")
	}
	p.problems.Sort()
	return p.note, p.problems
}

type parser struct {
	l        layout
	note     *Note
	problems diag.List
	named    bool // some alteration is named
	above    bool // the group is one above the first Alteration
}

func (p *parser) fail(id string, at diag.Place, found, expected, hint string) {
	p.problems = append(p.problems, diag.Problem{ID: id, Severity: diag.Error, Place: at, Found: found, Expected: expected, Hint: hint})
}

func (p *parser) warn(id string, at diag.Place, found, expected, hint string) {
	p.problems = append(p.problems, diag.Problem{ID: id, Severity: diag.Warning, Place: at, Found: found, Expected: expected, Hint: hint})
}

// text reads subject and body: all lines that are neither comments nor trailers.
func (p *parser) text(trailers []Trailer) {
	l := p.l
	in := map[int]bool{}
	for _, t := range trailers {
		if t.Line < 1 || t.Line > l.end {
			continue
		}
		for i, next := t.Line-1, l.until(t.Line-1, l.end); i < next; i++ {
			in[i] = true
		}
	}
	block, isTrailers := l.block()
	var subject []string
	var body strings.Builder
	for i, line := range l.lines[:min(l.divider, l.text)] {
		switch {
		case line[0] == '#' || in[i]:
		case isTrailers && i >= block && i < l.end && strings.HasPrefix(line, picked):
			p.note.Others = append(p.note.Others, Trailer{Value: strings.Trim(line, spaces), Line: i + 1, Column: 1})
		case i < l.title:
			subject = append(subject, strings.Fields(line)...)
		default:
			body.WriteString(strings.TrimRight(line, spaces) + "\n")
		}
	}
	p.note.Subject = strings.Join(subject, " ")
	p.note.Body = strings.Trim(body.String(), "\n")
	p.note.Fold = FoldOf(p.note.Subject)
}

// trailer reads one line into its group.
func (p *parser) trailer(t Trailer) {
	word, is := ours(t.Key)
	if !is {
		p.note.Others = append(p.note.Others, t)
		return
	}
	at := diag.Place{File: File, Line: t.Line, Column: t.Column}
	if word == keyAlteration || len(p.note.Groups) == 0 {
		p.note.Groups = append(p.note.Groups, Group{Place: at})
		p.above = p.named && word != keyAlteration
	}
	if p.above {
		p.fail(FirstFault, at, "found "+word+" above the first Alteration", "expected it below the alteration that it belongs to", "")
	}
	g := &p.note.Groups[len(p.note.Groups)-1]
	entry := Entry{Place: at, Text: t.Value}
	if t.Value == "" {
		p.empty(word, at)
		return
	}
	switch word {
	case keyAlteration:
		p.name(g, entry)
	case keyBecause:
		g.Because = append(g.Because, entry)
	case keyAnswers:
		g.Answers = append(g.Answers, entry)
	case keyUnfinished:
		g.Unfinished = append(g.Unfinished, entry)
	case keyDoes:
		d, faults := readDoing(entry)
		g.Does = append(g.Does, d)
		p.problems = append(p.problems, faults...)
	default:
		claims, faults := claim.Parse(word, t.Value, at)
		g.Claims = append(g.Claims, claims...)
		p.problems = append(p.problems, faults...)
		if faults.HasErrors() {
			g.Unread = append(g.Unread, Unread{entry, word})
		}
	}
}

func (p *parser) empty(word string, at diag.Place) {
	if word == keyAlteration {
		p.fail(NameFault, at, "found no name behind Alteration", "expected one, such as Alteration: hip-release", "")
		return
	}
	p.warn(EmptyFault, at, "found nothing behind "+word, "expected what it says, or no such line", "")
}

func (p *parser) name(g *Group, e Entry) {
	g.Name = e.Text
	if fault := pattern.NameFault(e.Text); fault != "" {
		p.warn(NameFault, e.Place, fmt.Sprintf("the name %q %s", e.Text, fault), "expected a name such as hip-release", "")
	}
}

// unnamed warns of claims that no alteration bears.
func (p *parser) unnamed() {
	if len(p.note.Groups) != 1 || p.named {
		return
	}
	if g := p.note.Groups[0]; len(g.Claims)+len(g.Does)+len(g.Because) > 0 && p.note.Fold.Kind == "" {
		p.warn(NameFault, g.Place, "found a note without a name", "expected a line above it such as Alteration: hip-release", "")
	}
}

// nearMisses warns of keys that are nearly ours, among the trailers and in a
// paragraph where a line of ours stands.
func (p *parser) nearMisses(trailers []Trailer) {
	for _, t := range trailers {
		if t.Line < 1 || t.Line > len(p.l.lines) {
			p.nearMiss(t.Key, t.Line)
		}
	}
	seen := map[int]bool{}
	for _, t := range trailers {
		seen[t.Line] = true
	}
	near, start := false, 0 // near: a line of ours stands in this paragraph
	for i := 0; i <= p.l.text; i++ {
		if i < p.l.text && !isBlank(p.l.lines[i]) {
			_, is := p.l.ours(i)
			near = near || is
			continue
		}
		for ; start < i; start++ {
			if key, _, ok := keyOf(p.l.lines[start]); ok && (near || seen[start+1]) {
				p.nearMiss(key, start+1)
			}
		}
		near, start = false, i+1
	}
}

func (p *parser) nearMiss(key string, line int) {
	at := diag.Place{File: File, Line: line, Column: 1}
	if word, is := ours(key); is && word != key {
		p.warn(NearFault, at, fmt.Sprintf("found %q", key), "expected "+word, "it counts as "+word+"; write it so, for those who read it")
	} else if word := nearMiss(key); !is && word != "" {
		p.warn(NearFault, at, fmt.Sprintf("found %q, which is none of our words", key), "expected perhaps "+word, "did you mean "+word+"?")
	}
}

// Locate finds the lines of the trailers that git sees in a message, given only
// their keys and values, in order; it searches from the end, where they stand. One
// that is not there gets line 0.
func Locate(message string, seen []Trailer) []Trailer {
	l := layOut(message)
	out := append([]Trailer(nil), seen...)
	at := min(l.divider, l.text)
	for i := len(out) - 1; i >= 0; i-- {
		out[i].Line, out[i].Column = 0, 0
		for k := at - 1; k >= 0; k-- {
			key, value, ok := keyOf(l.lines[k])
			if !ok || key != out[i].Key || joined(value+strings.Join(l.lines[k+1:l.until(k, at)], "")) != out[i].Value {
				continue
			}
			out[i].Line, out[i].Column = k+1, columnOf(l.lines[k], value)
			at = k
			break
		}
	}
	return out
}

// columnOf gives the column at which the value of a line begins, or would.
func columnOf(line, value string) int {
	text := strings.TrimRight(value, spaces)
	blank := len(text) - len(strings.TrimLeft(text, spaces))
	return utf8.RuneCountInString(line[:len(line)-len(value)+blank]) + 1
}
