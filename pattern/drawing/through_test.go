package drawing

import (
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/vector"
)

// Result is what a drawing file holds, for tests of the whole way.
type Result struct {
	// Pieces are in the order of the file. Each has its recorded edge lengths
	// rounded to 0.001 mm and measured to 1e-6 mm.
	Pieces []*pattern.Piece
	// Sources tells of each piece, in the same order, where it comes from.
	Sources []Source
	// Skipped is what was seen and is no outline, in the order of the file.
	Skipped []Skipped
}

// Source is the element that a piece was made from.
type Source struct {
	Place diag.Place
	ID    string // its id, as written
	Label string // its own label, as written
	Layer string // label of the layer or group that holds it alone, as written
	// Width and Height of the box round the outline, in mm, to be held against
	// a tape measure; exact but for the rounding of the points to 0.001.
	Width, Height float64
}

// Skipped is an element that became no piece.
type Skipped struct {
	Place     diag.Place
	ID, Label string
	Why       string // finishes the sentence "the element ..."
}

// Read reads an SVG drawing: vector.Read and Recognise in one. The name is the
// file's, for places only. The Result is never nil. A caller that finds an Error
// in the list should write nothing.
func Read(name string, src []byte, o Options) (*Result, diag.List) {
	d, probs := vector.Read(name, src, vector.Options{})
	res := &Result{}
	for _, s := range d.Skipped {
		res.Skipped = append(res.Skipped, Skipped{Place: s.Place, ID: clean(s.ID), Label: clean(s.Label), Why: s.Why})
	}
	if len(d.Items) == 0 && probs.HasErrors() {
		return res, probs
	}
	sheet, more := Recognise(d, o)
	probs = append(probs, more...)
	probs.Sort()
	for i := range sheet.Pieces {
		p := &sheet.Pieces[i]
		res.Pieces = append(res.Pieces, p.Piece)
		res.Sources = append(res.Sources, Source{Place: p.Place, ID: p.ID, Label: p.Label, Layer: p.Layer, Width: p.Width, Height: p.Height})
		for _, l := range p.Lines {
			if l.What != OutlineLine {
				res.Skipped = append(res.Skipped, Skipped{Place: l.Place, ID: l.ID, Why: "is taken for a " + string(l.What) + " of piece " + p.Name})
			}
		}
	}
	for _, l := range sheet.Left {
		res.Skipped = append(res.Skipped, Skipped{Place: l.Place, ID: l.ID, Label: l.Label, Why: l.Why})
	}
	sort.SliceStable(res.Skipped, func(i, j int) bool {
		a, b := res.Skipped[i].Place, res.Skipped[j].Place
		return a.Line < b.Line || a.Line == b.Line && a.Column < b.Column
	})
	return res, probs
}
