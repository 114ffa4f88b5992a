package report

import (
	"fmt"
	"strings"

	"seamkeep/pattern/diag"
)

// Problems writes findings: where, what, then related places and what to do,
// and a line that counts them.
func (t *Text) Problems(list diag.List) { t.problems(list, false) }

// NumberedProblems writes findings like Problems, each behind its number in the
// list, from 1, as a picture of them has it.
func (t *Text) NumberedProblems(list diag.List) { t.problems(list, true) }

func (t *Text) problems(list diag.List, numbered bool) {
	for i, p := range list {
		if i > 0 {
			t.line("")
		}
		lead := ""
		if numbered {
			lead = fmt.Sprintf("%d. ", i+1)
		}
		t.problem(p, lead)
	}
}

// problem writes a finding; lead stands before it.
func (t *Text) problem(p diag.Problem, lead string) {
	head := p.Severity.String() + ": " + p.Message() + "  [" + p.ID + "]"
	if place := p.Place.String(); place != "" {
		head = place + ": " + head
	}
	head = lead + head
	lines := Wrap(Clean(head), t.width(), "  ")
	lines[0] = strings.Replace(lines[0], p.Severity.String()+":", t.paint(colourOf(p.Severity), p.Severity.String()+":"), 1)
	for _, l := range lines {
		t.line(l)
	}
	for _, r := range p.Related {
		text := r.Text
		if place := r.Place.String(); place != "" {
			text = place + ": " + text
		}
		t.Para("  "+text, "    ")
	}
	for i, l := range strings.Split(strings.Trim(p.Hint, "\n"), "\n") {
		if l == "" {
			if i > 0 { // a paragraph of what is to be written
				t.line("")
			}
			continue
		}
		lead := "        "
		if i == 0 {
			lead = "  hint: "
		}
		t.Para(lead+l, "        ")
	}
}

func colourOf(s diag.Severity) string {
	switch s {
	case diag.Error:
		return red
	case diag.Warning:
		return yellow
	}
	return plain
}

// Count says how many findings there are: "1 error, 2 warnings".
func Count(list diag.List) string {
	e, w, n := len(list.Only(diag.Error)), len(list.Only(diag.Warning)), len(list.Only(diag.Note))
	var parts []string
	if e > 0 {
		parts = append(parts, Plural(e, "error"))
	}
	if w > 0 {
		parts = append(parts, Plural(w, "warning"))
	}
	if n > 0 {
		parts = append(parts, Plural(n, "note"))
	}
	if len(parts) == 0 {
		return "nothing to mend"
	}
	return strings.Join(parts, ", ")
}

// jsonProblem is a finding of seamkeep.check/1. The field at is mm along the
// edge, point x and y in the piece's own frame; place fields that are unknown are null.
type jsonProblem struct {
	ID       string        `json:"id"`
	Severity string        `json:"severity"`
	Subject  string        `json:"subject"`
	Amount   number        `json:"amount"`
	Found    string        `json:"found"`
	Expected string        `json:"expected"`
	Hint     string        `json:"hint"`
	Related  []jsonRelated `json:"related"`
	Parts    []jsonSpot    `json:"parts"`
	jsonPlace
}

type jsonSpot struct {
	At     string `json:"at"`
	Amount number `json:"amount"`
}

type jsonPlace struct {
	Garment string `json:"garment"`
	File    string `json:"file"`
	Line    *int   `json:"line"`
	Column  *int   `json:"column"`
	Piece   string `json:"piece"`
	Edge    string `json:"edge"`
	At      number `json:"at"`
	Point   *pair  `json:"point"`
}

// pair is x and y, mm.
type pair [2]number

type jsonRelated struct {
	jsonPlace
	Text string `json:"text"`
}

func placeOf(p diag.Place) jsonPlace {
	out := jsonPlace{Garment: p.Garment, File: p.File, Piece: p.Piece, Edge: p.Edge}
	if p.Line > 0 {
		out.Line = &p.Line
	}
	if p.Column > 0 {
		out.Column = &p.Column
	}
	if p.OnEdge {
		out.At = known(p.At)
	}
	if p.HasPoint {
		out.Point = &pair{known(p.X), known(p.Y)}
	}
	return out
}

// ProblemsJSON gives findings in the form of seamkeep.check/1.
func ProblemsJSON(list diag.List) any {
	out := []jsonProblem{}
	for _, p := range list {
		j := jsonProblem{
			ID: p.ID, Severity: p.Severity.String(), Subject: p.Subject, Amount: known(p.Amount),
			Found: p.Found, Expected: p.Expected, Hint: p.Hint, jsonPlace: placeOf(p.Place), Related: []jsonRelated{}, Parts: []jsonSpot{},
		}
		for _, part := range p.Parts {
			j.Parts = append(j.Parts, jsonSpot{part.At, known(part.Amount)})
		}
		for _, r := range p.Related {
			j.Related = append(j.Related, jsonRelated{placeOf(r.Place), r.Text})
		}
		out = append(out, j)
	}
	return out
}

// CheckJSON gives the document of check --json.
func CheckJSON(list diag.List) any {
	return struct {
		Schema   string `json:"schema"`
		Problems any    `json:"problems"`
	}{"seamkeep.check/1", ProblemsJSON(list)}
}

// Accepted says which findings a commit takes along unmended.
func (t *Text) Accepted(list diag.List) {
	for _, p := range list {
		t.Para(fmt.Sprintf("unfinished, accepted: %s (%s)", p.Address(), p.Found), "  ")
	}
}
