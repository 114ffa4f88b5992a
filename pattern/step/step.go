package step

import (
	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// Step is one alteration. Which fields are set depends on the verb: see Forms.
type Step struct {
	Place   diag.Place // of the verb
	Verb    string
	Seam    string
	Piece   string // the piece that the step is about, that receives, or that alone moves
	Edge    string // of Piece, where the target is one edge
	Run     string // where the target is a run
	Closure string
	Level   string
	Part    string // "above" or "below" Level
	Corner  string // of Piece
	Both    bool   // the corners of both sides move

	Start, End string // seams where a part of the run begins and ends; empty: the run's own end

	Amounts []Amount
	Cut     []Amount    // of an inset: the width of the piece let in
	Share   [2]float64  // how the amounts are parted between the two sides; zeros: by halves
	Number  pattern.Opt // mm; degrees of a pivot, anticlockwise
	Stretch pattern.Opt // percent in use

	From, To   curve.Point // of a split, in the piece's frame
	New, Other string      // pieces that come to be
	NewSeam    string
}

// Amount is mm at a place: a level, a seam, a corner, or PIECE.CORNER. Without a
// place it is meant everywhere, and is the only one.
type Amount struct {
	Place diag.Place // of the name in At, or of the number where there is none
	MM    float64    // never negative
	At    string
}

// whole gives the amount that is meant everywhere.
func whole(list []Amount) (float64, bool) {
	if len(list) == 1 && list[0].At == "" {
		return list[0].MM, true
	}
	return 0, false
}

// The ids of problems.
const (
	VerbFault   = "step.verb"    // no step begins so
	FormFault   = "step.form"    // a word that cannot stand there, or is wanting
	AmountFault = "step.amount"  // no number, or not one that can be meant
	NameFault   = "step.name"    // no name
	LongFault   = "step.long"    // more text than a step can need
	UnknownName = "step.unknown" // a name that the garment does not have
	PlaceFault  = "step.place"   // the step cannot be made there
)
