package report

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// Change writes what differs between two versions: sentences first, then the
// edges and figures of the pieces that changed.
func (t *Text) Change(c *compare.Change, from, to string) {
	g := c.After
	if g == nil {
		g = c.Before
	}
	t.Para(fmt.Sprintf("%s: %s -> %s", titleOf(g), from, to), "  ")
	t.line("")
	for _, s := range c.Sentences() {
		t.Para(s, "  ")
	}
	changed := c.ChangedPieces()
	if len(changed) > 0 {
		t.line("")
		t.edges(changed)
	}
	t.figures(c, changed)
}

func (t *Text) edges(changed []compare.PieceChange) {
	var names []string
	for _, p := range changed {
		for _, e := range p.Edges {
			names = append(names, p.Name+"."+e.Name)
		}
	}
	col := min(widest(8, names), max(8, t.width()-46))
	t.printf("%s %8s %8s %8s   %s", pad("edge", col), "before", "after", "change", "moved most")
	for _, p := range changed {
		for _, e := range p.Edges {
			t.edge(p.Name+"."+e.Name, e, col)
		}
	}
}

func (t *Text) edge(name string, e compare.EdgeChange, col int) {
	if e.Lies() {
		t.row("", 0, name, col, fmt.Sprintf(" %8.1f %8s %8s", e.Length.After.Value, "=", ""), e.Phrase())
		return
	}
	change := ""
	if d, ok := e.Length.Delta(); ok {
		change = signed(d, 1)
	}
	t.row("", 0, name, col, fmt.Sprintf(" %8s %8s %8s", cell(e.Length.Before.Set, e.Length.Before.Value),
		cell(e.Length.After.Set, e.Length.After.Value), change), movedMost(e))
}

func movedMost(e compare.EdgeChange) string {
	switch {
	case !e.Redrawn():
		return string(e.Status)
	case e.Largest.Distance < compare.Seen && max(e.Before.Start().Dist(e.After.Start()), e.Before.End().Dist(e.After.End())) < compare.Seen:
		return "less than 0.05"
	case e.Largest.Distance < compare.Seen:
		return "only at its ends"
	}
	text := fmt.Sprintf("%s %.1f at %s", e.Largest.Direction, e.Largest.Distance, e.Largest.At)
	if e.Other.Distance >= compare.Seen {
		text += fmt.Sprintf(", %s %.1f at %s", e.Other.Direction, e.Other.Distance, e.Other.At)
	}
	return text
}

func cell(set bool, v float64) string {
	if !set {
		return "-"
	}
	return fmt.Sprintf("%.1f", v)
}

func (t *Text) figures(c *compare.Change, changed []compare.PieceChange) {
	t.line("")
	for _, p := range changed {
		if len(p.Widths) > 0 {
			t.Para("width "+p.Name+": "+pairs(p.Widths), "  ")
		}
	}
	t.GirthAndGap(c)
	var seams []string
	for _, s := range c.Seams {
		if s.Difference.Differs(0.005) {
			seams = append(seams, fmt.Sprintf("%s %s -> %s", s.Name, cell2(s.Difference.Before.Set, s.Difference.Before.Value), cell2(s.Difference.After.Set, s.Difference.After.Value)))
		}
	}
	if len(seams) > 0 {
		t.Para("seams, first side less second: "+strings.Join(seams, ", "), "  ")
	}
}

// GirthAndGap writes girth and predicted gap at each level, before and after.
func (t *Text) GirthAndGap(c *compare.Change) {
	if len(c.Girths) > 0 {
		t.Para("girth: "+pairs(c.Girths), "  ")
	}
	for _, g := range c.Gaps {
		if len(g.Levels) > 0 {
			t.Para("gap "+g.Closure+": "+pairs(g.Levels), "  ")
		}
	}
}

func cell2(set bool, v float64) string {
	if !set {
		return "-"
	}
	return signed(v, 2)
}

// pairs lists figures per level: one where nothing changed, else both.
func pairs(levels []compare.AtLevel) string {
	var parts []string
	for _, l := range levels {
		parts = append(parts, l.Level+" "+bothAs(l.Pair, cell, " -> "))
	}
	return strings.Join(parts, ", ")
}

type jsonEdge struct {
	Name   string    `json:"name"`
	Was    []string  `json:"was"`
	Status string    `json:"status"`
	Length [2]number `json:"length"`
	Moved  jsonMoved `json:"moved"`
}

type jsonMoved struct {
	Max       number            `json:"max"`
	Direction string            `json:"direction"`
	At        string            `json:"at"`
	Other     *jsonMove         `json:"other"`
	Levels    map[string]number `json:"levels"`
}

// jsonMove is the largest movement the other way.
type jsonMove struct {
	Max       number `json:"max"`
	Direction string `json:"direction"`
	At        string `json:"at"`
}

// jsonPiece gives gained and lost in mm2, deviation and shift in mm, turn in
// degrees anticlockwise; they are null where they have no meaning.
type jsonPiece struct {
	Name      string               `json:"name"`
	Was       []string             `json:"was"`
	Status    string               `json:"status"`
	Gained    number               `json:"gained"`
	Lost      number               `json:"lost"`
	Deviation number               `json:"deviation"`
	Shift     number               `json:"shift"`
	Turn      number               `json:"turn"`
	Edges     []jsonEdge           `json:"edges"`
	Parts     []jsonPart           `json:"parts"`
	Area      [2]number            `json:"area"`
	Widths    map[string][2]number `json:"widths"`
	Records   []string             `json:"records"`
}

// jsonPart is a corner, a notch or a mark that differs; moved in mm is null where
// one version lacks it.
type jsonPart struct {
	Kind    string `json:"kind"`
	Name    string `json:"name"`
	Was     string `json:"was"`
	Edge    string `json:"edge"`
	WasEdge string `json:"was-edge"`
	Status  string `json:"status"`
	Moved   number `json:"moved"`
}

func partsJSON(parts []compare.PartChange) []jsonPart {
	out := []jsonPart{}
	for _, p := range parts {
		if p.Status == compare.Unchanged && p.WasEdge == "" {
			continue
		}
		j := jsonPart{Kind: p.Kind, Name: p.Name, Was: p.Was, Edge: p.Edge, WasEdge: p.WasEdge, Status: string(p.Status)}
		if p.Before >= 0 && p.After >= 0 {
			j.Moved = known(p.Distance)
		}
		out = append(out, j)
	}
	return out
}

type jsonSeamChange struct {
	Name       string       `json:"name"`
	Difference [2]number    `json:"difference"`
	Worst      [2]number    `json:"worst"`
	Lengths    [2][2]number `json:"lengths"`
}

type jsonFault struct {
	Piece   string `json:"piece"`
	Version string `json:"version"`
	Why     string `json:"why"`
}

// jsonChange is seamkeep.compare/1, as CHANGE.md and compare.schema.json beside
// this file describe it.
type jsonChange struct {
	Schema    string                          `json:"schema"`
	From      string                          `json:"from"`
	To        string                          `json:"to"`
	Faults    []jsonFault                     `json:"faults"`
	Pieces    []jsonPiece                     `json:"pieces"`
	Girths    map[string][2]number            `json:"girths"`
	Worn      map[string][2]number            `json:"worn"`
	Gaps      map[string]map[string][2]number `json:"gaps"`
	Seams     []jsonSeamChange                `json:"seams"`
	Records   []string                        `json:"records"`
	Edits     []jsonEdit                      `json:"edits"`
	Sentences []string                        `json:"sentences"`
}

// ChangeJSON gives the document of compare --json, seamkeep.compare/1.
func ChangeJSON(c *compare.Change, from, to string) any {
	doc := jsonChange{
		Schema: "seamkeep.compare/1", From: from, To: to, Faults: []jsonFault{}, Pieces: []jsonPiece{},
		Girths: byLevel(c.Girths), Worn: byLevel(c.Worn), Gaps: map[string]map[string][2]number{},
		Seams: []jsonSeamChange{}, Records: orNone(c.Records), Edits: editsJSON(c.Edits), Sentences: c.Sentences(),
	}
	for _, f := range c.Faults {
		doc.Faults = append(doc.Faults, jsonFault{f.Piece, f.Version(), f.Why})
	}
	for _, p := range c.Pieces {
		doc.Pieces = append(doc.Pieces, pieceJSON(p))
	}
	for _, g := range c.Gaps {
		doc.Gaps[g.Closure] = byLevel(g.Levels)
	}
	for _, s := range c.Seams {
		doc.Seams = append(doc.Seams, jsonSeamChange{s.Name, two(s.Difference), two(s.Worst), [2][2]number{two(s.Lengths[0]), two(s.Lengths[1])}})
	}
	return doc
}

func pieceJSON(p compare.PieceChange) jsonPiece {
	j := jsonPiece{
		Name: p.Name, Was: orNone(p.Was), Status: string(p.Status), Edges: []jsonEdge{}, Parts: partsJSON(p.Parts),
		Gained: maybe(p.Gained), Lost: maybe(p.Lost), Deviation: maybe(p.Deviation),
		Area: two(p.Area), Widths: byLevel(p.Widths), Records: orNone(p.Records),
	}
	if p.Fit != (curve.Rigid{}) {
		j.Shift, j.Turn = known(p.Shift), known(p.Fit.Angle*180/math.Pi)
	}
	for _, e := range p.Edges {
		moved := jsonMoved{Direction: e.Largest.Direction, At: e.Largest.At, Levels: map[string]number{}}
		if e.Length.Before.Set && e.Length.After.Set {
			moved.Max = known(e.Largest.Distance)
		}
		if e.Other.Distance > 0 {
			moved.Other = &jsonMove{known(e.Other.Distance), e.Other.Direction, e.Other.At}
		}
		for _, l := range e.AtLevels {
			moved.Levels[l.Level] = known(l.Distance)
		}
		j.Edges = append(j.Edges, jsonEdge{e.Name, orNone(e.Was), string(e.Status), two(e.Length), moved})
	}
	return j
}

func byLevel(levels []compare.AtLevel) map[string][2]number {
	m := map[string][2]number{}
	for _, l := range levels {
		m[l.Level] = two(l.Pair)
	}
	return m
}

func orNone(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}
