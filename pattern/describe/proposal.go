package describe

import (
	"seamkeep/pattern"
	"seamkeep/pattern/alter"
)

// Kind says what a proposal is about.
type Kind string

// The kinds, in the order in which they are proposed.
const (
	OfHalf    Kind = "half"
	OfNames   Kind = "names"
	OfAround  Kind = "around"
	OfSeam    Kind = "seam"
	OfRun     Kind = "run"
	OfClosure Kind = "closure"
	OfNotches Kind = "notches"
)

// Proposal is one thing that the maker may accept.
type Proposal struct {
	Number   int // from 1, in the order of the list
	Kind     Kind
	Sentence string // in the trade's words, with the figures in mm
	// Choice is 0, or the number of the first of several proposals of which at
	// most one can hold. They are questions: accepting all accepts none of them.
	Choice int
	Piece  string        // OfNames: the piece
	Edges  []pattern.Ref // the edges it is about, as they are named once all before it are accepted
	Change Change
}

// Change is what accepting a proposal writes. One field is set.
type Change struct {
	Half    pattern.Half
	Names   []alter.NewName // for edges and corners whose names a program made up
	Around  []string
	Seam    *pattern.Seam
	Run     *pattern.Run
	Closure *pattern.Closure
	Notches []NewNotch
}

// NewNotch is a notch of a pair: a new one, or, where Old is set, a better name
// for one whose name a program made up.
type NewNotch struct {
	Piece, Edge string
	Old, Name   string
	On          pattern.Spot // of a new one
}

// Hints are what is known beside the garment; the zero value knows nothing.
type Hints struct {
	// SheetX is where the middle of each piece lay on the drawing, mm from its
	// left. Where it holds all the pieces that go round, their order from left to
	// right is front to back if the lengths of their edges agree with that.
	SheetX map[string]float64
	// NotchLevels are the levels at which notches are proposed where both sides
	// of a seam cross them; nil: the waist.
	NotchLevels []string
}

// Agree is how far the lengths of two edges may differ, in mm, for a seam to be
// proposed, in the whole and on each side of the waist; a seam that is off by
// more is no guess that a tool should make. Common practice, no source.
const Agree = 5.0

// clearly is how much better than the next, in mm, an edge has to fit to be no
// question.
const clearly = 1.0
