package main

import (
	"fmt"
	"path"
	"strconv"
	"strings"

	"seamkeep/diffview/report"
	"seamkeep/pattern/drawing"
	"seamkeep/pattern/drawing/again"
	"seamkeep/pattern/drawing/vector"
)

// showImport tells what each drawing holds and what becomes of it.
func (a *app) showImport(b *bringing) error {
	if b.o.json {
		return report.WriteJSON(a.out, b.asJSON())
	}
	t := a.text()
	for _, d := range b.drawings {
		if words := scaleWords(d.scale); words != "" {
			t.Para(d.file+": "+words, "  ")
		}
	}
	for _, x := range b.arrivals {
		t.Para(fmt.Sprintf("piece %s: %s, %.1f mm wide, %.1f high%s", x.called(), x.becomes(), x.drawn.Width, x.drawn.Height, x.source()), "  ")
		if edges := edgesOf(x); edges != "" {
			t.Para("  "+edges, "    ")
		}
		for _, w := range x.changes() {
			t.Para("  "+w, "    ")
		}
	}
	if len(b.levels) > 0 {
		var parts []string
		for _, l := range b.levels {
			parts = append(parts, fmt.Sprintf("%s %.1f", l.Name, l.Y))
		}
		t.Para("levels: "+strings.Join(parts, ", ")+" mm above the waist", "  ")
	}
	if len(b.arrivals) > 0 {
		t.Para("hold widths and heights against a tape measure on the drawing", "  ")
	}
	b.leftOut(t)
	b.noLongerDrawn(t)
	for _, line := range b.said {
		t.Para(line, "  ")
	}
	a.talk().Problems(b.problems)
	return t.Err
}

func scaleWords(s vector.Scale) string {
	switch s.Source {
	case vector.Sized:
		return "drawn in true size"
	case vector.Assumed:
		return "its px are taken as 96 to the inch"
	case vector.Known:
		return fmt.Sprintf("one unit is %.4g mm, by the length that is known", s.X)
	case vector.Dpi:
		return fmt.Sprintf("one unit is %.4g mm, as --dpi says", s.X)
	}
	return "" // the problems say so
}

// called is the piece's name, or the drawing's word for it.
func (x *arrival) called() string {
	if x.name != "" {
		return x.name
	}
	return x.drawn.Name
}

// becomes says what the drawing does to the piece.
func (x *arrival) becomes() string {
	if x.undecided || x.piece == nil {
		return "not brought in"
	}
	switch x.outcome.Status {
	case again.New:
		return "new"
	case again.Kept:
		return "left as it is: the drawing did not change since (to take it all the same: --take drawing --only " + x.name + ")"
	case again.Changed:
		return "changed"
	}
	return "as it is"
}

func (x *arrival) source() string {
	from := ""
	for _, n := range []string{x.drawn.Label, x.drawn.Layer, x.drawn.ID} {
		if n != "" && from == "" {
			from = fmt.Sprintf(", from %q", vector.Clean(n))
		}
	}
	if x.drawn.Joined > 0 {
		from += fmt.Sprintf(", joined of %d lines", x.drawn.Joined)
	}
	if x.by != "" {
		from += " (" + x.by + ")"
	}
	return from
}

// edgesOf lists the edges of a new piece with their lengths, in outline order.
func edgesOf(x *arrival) string {
	if x.outcome.Status != again.New || x.piece == nil {
		return ""
	}
	const most = 24
	var parts []string
	for i, e := range x.piece.Edges {
		if i == most {
			parts = append(parts, fmt.Sprintf("and %d more", len(x.piece.Edges)-most))
			break
		}
		parts = append(parts, fmt.Sprintf("%s %.1f", e.Name, e.Length.Value))
	}
	text := "edges from the top left down: " + strings.Join(parts, ", ")
	if n := len(x.piece.Marks); n > 0 {
		text += "; " + report.Plural(n, "mark")
	}
	if n := len(x.piece.Notches); n > 0 {
		text += "; " + plural(n, "notch", "notches")
	}
	return text
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// changes says which parts the drawing changed.
func (x *arrival) changes() []string {
	if x.outcome.Status != again.Changed || x.undecided {
		return nil
	}
	var out []string
	say := func(what string, names []string) {
		if len(names) > 0 {
			out = append(out, what+": "+strings.Join(names, ", "))
		}
	}
	r := x.outcome.Report
	say("edges that the drawing changed", x.outcome.Drawing)
	say("edges that changed in the pattern and stay", x.outcome.Pattern)
	say("new", append(append([]string(nil), r.New.Edges...), r.New.Marks...))
	say("gone", append(append([]string(nil), r.Gone.Edges...), r.Gone.Marks...))
	say("marks that lie elsewhere", r.Redrawn)
	if r.By == again.ByCorners {
		out = append(out, "laid on the piece by its corners, since no edge kept its shape")
	}
	return out
}

// noLongerDrawn names pieces that a drawing had and has no more.
func (b *bringing) noLongerDrawn(t *report.Text) {
	here := map[string]bool{}
	for _, x := range b.arrivals {
		here[x.name] = true
	}
	for _, d := range b.drawings {
		var gone []string
		for _, p := range b.l.folder.Garment.Pieces {
			if _, had := b.memory.Drawings[b.p.drawingKey(d.file)][path.Join(b.p.dir, p.Name)]; had && !here[p.Name] {
				gone = append(gone, p.Name)
			}
		}
		if len(gone) > 0 {
			t.Para(fmt.Sprintf("no longer in %s, and kept in the pattern: %s", d.file, strings.Join(gone, ", ")), "  ")
		}
	}
}

// leftOut lists what became no part of a piece, by the reason, each bounded.
func (b *bringing) leftOut(t *report.Text) {
	var reasons []string
	names := map[string][]string{}
	add := func(lead, label, id, why string) {
		reason := lead + "\x00" + why
		if names[reason] == nil {
			reasons = append(reasons, reason)
		}
		name := nameOr(label, id)
		if name == "" {
			name = "an element without a name"
		} else {
			name = strconv.Quote(name)
		}
		names[reason] = append(names[reason], name)
	}
	for _, d := range b.drawings {
		for _, s := range d.skips {
			add("skipped", s.Label, s.ID, "it "+s.Why)
		}
		for _, s := range d.sheet.Left {
			add("left out", s.Label, s.ID, "the line "+s.Why)
		}
	}
	const mostReasons, mostNames = 12, 3
	for i, reason := range reasons {
		if i == mostReasons {
			t.Para(fmt.Sprintf("and for %d more reasons; --json lists all", len(reasons)-mostReasons), "  ")
			return
		}
		lead, why, _ := strings.Cut(reason, "\x00")
		list := names[reason]
		text := strings.Join(list[:min(len(list), mostNames)], ", ")
		if more := len(list) - mostNames; more > 0 {
			text += fmt.Sprintf(" and %d more", more)
		}
		t.Para(fmt.Sprintf("%s %s: %s", lead, text, why), "  ")
	}
}

func nameOr(label, id string) string {
	if label == "" {
		label = id
	}
	return vector.Clean(label)
}

// importJSON is the document seamkeep.import/1.
type importJSON struct {
	Schema   string         `json:"schema"`
	Scale    *scaleJSON     `json:"scale"` // of the only drawing; null where there are several, or none
	Drawings []drawingJSON  `json:"drawings"`
	Pieces   []importedJSON `json:"pieces"`
	Problems any            `json:"problems"`
}

type scaleJSON struct {
	MM     [2]float64         `json:"mm_per_unit"`
	Source vector.ScaleSource `json:"source"`
}

type drawingJSON struct {
	File  string     `json:"file"`
	Scale *scaleJSON `json:"scale"`
	Left  []leftJSON `json:"left"`
}

type leftJSON struct {
	ID    string `json:"id"`
	Label string `json:"label"`
	Why   string `json:"why"`
}

type importedJSON struct {
	Name      string         `json:"name"`
	From      string         `json:"from"`
	File      string         `json:"file"`
	Width     float64        `json:"width"`
	Height    float64        `json:"height"`
	Perimeter float64        `json:"perimeter"`
	Area      float64        `json:"area"`
	Edges     []lengthJSON   `json:"edges"`
	Status    again.Status   `json:"status"`
	Stale     bool           `json:"stale"` // the drawing did not change since; the piece may have
	By        drawing.How    `json:"by"`
	Conflicts []conflictJSON `json:"conflicts"`
}

type lengthJSON struct {
	Name   string  `json:"name"`
	Length float64 `json:"length"`
}

type conflictJSON struct {
	Edge    string  `json:"edge"`
	Drawing float64 `json:"drawing"`
	Pattern float64 `json:"pattern"`
}

func (b *bringing) asJSON() importJSON {
	out := importJSON{
		Schema: "seamkeep.import/1", Drawings: []drawingJSON{}, Pieces: []importedJSON{},
		Problems: report.ProblemsJSON(b.problems),
	}
	for _, d := range b.drawings {
		one := drawingJSON{File: d.file, Left: []leftJSON{}}
		if d.scale.Source != "" {
			one.Scale = &scaleJSON{[2]float64{d.scale.X, d.scale.Y}, d.scale.Source}
		}
		for _, s := range d.skips {
			one.Left = append(one.Left, leftJSON{s.ID, s.Label, s.Why})
		}
		for _, s := range d.sheet.Left {
			one.Left = append(one.Left, leftJSON{s.ID, s.Label, s.Why})
		}
		out.Drawings = append(out.Drawings, one)
	}
	if len(out.Drawings) == 1 {
		out.Scale = out.Drawings[0].Scale
	}
	for _, x := range b.arrivals {
		out.Pieces = append(out.Pieces, x.asJSON())
	}
	return out
}

func (x *arrival) asJSON() importedJSON {
	out := importedJSON{
		Name: x.called(), From: x.drawn.ID, File: x.file, Width: x.drawn.Width, Height: x.drawn.Height,
		Perimeter: x.drawn.Perimeter, Area: x.drawn.Area, Status: x.outcome.Status, By: x.drawn.How,
		Edges: []lengthJSON{}, Conflicts: []conflictJSON{},
	}
	if x.undecided || out.Status == "" {
		out.Status = "undecided" // see the problems
	}
	if out.Status == again.Kept {
		out.Status, out.Stale = again.Unchanged, true
	}
	if x.piece != nil {
		for _, e := range x.piece.Edges {
			out.Edges = append(out.Edges, lengthJSON{e.Name, e.Length.Value})
		}
	}
	for _, c := range x.outcome.Both {
		out.Conflicts = append(out.Conflicts, conflictJSON{c.Edge, c.Drawing, c.Pattern})
	}
	return out
}
