package again

import (
	"fmt"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// Status says what a drawing does to the piece that is kept.
type Status string

// The outcomes of Merge.
const (
	New       Status = "new"       // nothing is kept yet: the caller makes the piece
	Changed   Status = "changed"   // the piece takes something from the drawing
	Moved     Status = "moved"     // the drawing lies elsewhere on its sheet, and says what the piece says
	Unchanged Status = "unchanged" // the drawing says what the piece says
	Kept      Status = "kept"      // the piece was changed since; the drawing was not, or yields
)

// Outcome says what Merge found. Edges bear the names of the piece as it is
// kept, or of the drawing's base where that lacks them.
type Outcome struct {
	Status  Status
	Report  Report     // the drawing laid on its base; on the piece as it is kept where the base is not known
	Drawing []string   // edges changed in the drawing since the base, and not alike in the pattern
	Pattern []string   // edges changed in the pattern since the base, and not alike in the drawing
	Both    []Conflict // edges changed in both, and not alike
}

// Conflict is what was changed in both the drawing and the pattern.
type Conflict struct {
	Edge    string  // the first edge of the stretch
	Drawing float64 // mm by which the drawing moved the line at most
	Pattern float64 // mm by which the pattern did
}

// Merge brings a drawing into a piece in three ways: base is the piece that the
// drawing was made from (as last exported or imported; nil: not known), now the
// piece as it is kept (nil: none). base and now are compared edge by edge with
// the drawing:
//
//   - a drawing that did not change since base leaves now alone, whatever now is,
//     so that a stale drawing undoes nothing;
//   - an edge that only one side changed is that side's;
//   - an edge that both changed to the same line is now's;
//   - an edge that both changed otherwise is an Error, with both amounts, unless
//     Options.Take picks a side. Take decides nothing else.
//
// Names, comments and all that a drawing does not show are now's. Marks and the
// grain are merged alike, each by itself. An unknown base is an Error unless the
// drawing says what now says, or Take picks a side for the whole outline.
//
// The piece is never one of the arguments, and nil as with Lay or where now is
// nil. Where the list has an Error it must not be written.
func Merge(base, now *pattern.Piece, d Drawn, o Options) (*pattern.Piece, Outcome, diag.List) {
	if now == nil {
		return nil, Outcome{Status: New}, nil
	}
	onNow := lay(now, d, o, nil)
	if onNow.piece == nil {
		return nil, Outcome{Status: Kept, Report: onNow.report}, onNow.problems
	}
	if onNow.report.Same() {
		return onNow.piece, Outcome{Status: o.whereItLies(onNow), Report: onNow.report}, onNow.problems
	}
	if base == nil {
		return unknownBase(now, onNow, o)
	}
	if pattern.EqualPieces(base, now) {
		return onNow.piece, Outcome{Status: Changed, Report: onNow.report, Drawing: onNow.touched()}, onNow.problems
	}
	onBase := lay(base, d, o, now)
	out := Outcome{Status: Kept, Report: onBase.report}
	if onBase.piece == nil {
		return nil, out, onBase.problems
	}
	if onBase.report.Same() {
		return pattern.Clone(now), out, onBase.problems
	}
	m := newMerging(base, now, onBase, o)
	m.out = out
	piece := m.merge()
	if !pattern.EqualPieces(piece, now) {
		m.out.Status = Changed
	}
	return piece, m.out, m.problems
}

// whereItLies tells whether the sheet has the piece where the drawing says.
func (o Options) whereItLies(y *laying) Status {
	if o.At == nil {
		return Unchanged
	}
	put := inverse(y.report.Fit).Affine()
	for _, c := range y.piece.Corners {
		if put.Apply(c.At).Dist(c.At.Add(*o.At)) > 10*Noise(y.piece) {
			return Moved
		}
	}
	return Unchanged
}

// touched lists the edges whose line the drawing changed, added or took away.
func (y *laying) touched() []string {
	var out []string
	out = append(out, y.report.Changed...)
	out = append(out, y.report.New.Edges...)
	return append(out, y.report.Gone.Edges...)
}

func unknownBase(now *pattern.Piece, y *laying, o Options) (*pattern.Piece, Outcome, diag.List) {
	out := Outcome{Status: Changed, Report: y.report, Drawing: y.touched()}
	switch o.Take {
	case TakeDrawing:
		return y.piece, out, y.problems
	case TakePattern:
		out.Status = Kept
		return pattern.Clone(now), out, nil
	}
	what := words(out.Drawing)
	if what == "" {
		what = words(append(append(append([]string(nil), y.report.Redrawn...), y.report.New.Marks...), y.report.Gone.Marks...))
	}
	out.Status = Kept
	y.add(now, "unknown-version", diag.Error, "", fmt.Sprintf(
		"the drawing is of an unknown version: it differs in %s, and nothing says which of the two is newer", what),
		"a drawing that names the version that it was exported from",
		"--take drawing takes its whole outline, --take pattern leaves the piece as it is")
	return pattern.Clone(now), out, y.problems
}
