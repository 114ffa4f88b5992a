package compare

import (
	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// Status says what became of a piece, an edge or a part of a piece.
type Status string

// The ways in which a piece, an edge or a part of a piece can differ.
const (
	Unchanged Status = "unchanged"
	Changed   Status = "changed"
	Added     Status = "added"
	Removed   Status = "removed"
	Renamed   Status = "renamed" // nothing but its name changed
	Split     Status = "split"   // one of several that one became
	Joined    Status = "joined"  // one that several became
	Moved     Status = "moved"   // a piece moved or turned as a whole; a corner, notch or mark lies elsewhere
)

// Still is the movement, in mm, below which a point has not moved: files round
// to 0.001.
const Still = 0.001

// Pair is a figure before and after; either may be unknown.
type Pair struct{ Before, After pattern.Opt }

// Delta is after less before; false where one of them is unknown.
func (p Pair) Delta() (float64, bool) {
	return p.After.Value - p.Before.Value, p.Before.Set && p.After.Set
}

// Differs tells whether the figure changed by more than eps, appeared or went.
func (p Pair) Differs(eps float64) bool {
	d, ok := p.Delta()
	if !ok {
		return p.Before.Set != p.After.Set
	}
	return d > eps || d < -eps
}

// AtLevel is a figure at a level, before and after.
type AtLevel struct {
	Level string
	Pair
}

// Change is all that differs between two versions of a garment.
type Change struct {
	Before, After *pattern.Garment // nil where that version has no garment
	Body          *pattern.Body    // whose measures gaps were predicted with; nil: none known
	Levels        []string         // of either version, in the order of the later one
	Pieces        []PieceChange    // round the body first, then by name; the unchanged ones too
	Girths        []AtLevel
	Worn          []AtLevel
	Gaps          []ClosureGaps
	Seams         []SeamChange
	Records       []string // what else changed in the garment file, in words
	Edits         []Edit   // every record that differs, exactly: Apply(Before, Edits) equals After
	Faults        []Fault  // what is wrong with either version, so that figures mean little
}

// ClosureGaps is the predicted gap of a lacing at each level where the body's
// girth is known.
type ClosureGaps struct {
	Closure string
	Levels  []AtLevel
}

// SeamChange is a seam's walk before and after.
type SeamChange struct {
	Name       string
	Difference Pair // first side less second less ease
	Worst      Pair // greatest difference of a segment, by size
	Lengths    [2]Pair
}

// PieceChange is what became of a piece.
type PieceChange struct {
	Name          string
	Was           []string // the names that it had, where they differ
	Status        Status
	Before, After *pattern.Piece // nil where it was added, removed, split off or joined
	Moved         bool           // some point of its outline moved by more than Still
	Fit           curve.Rigid    // lays the earlier version on the later one; none unless it moved as a whole
	Shift         float64        // mm that the middle of a piece moved as a whole went
	Gained, Lost  pattern.Opt    // mm2 of cloth, the earlier version laid on the later one
	Deviation     pattern.Opt    // greatest distance between the outlines, mm (Hausdorff)
	Edges         []EdgeChange   // in outline order of the later version, removed ones last
	Parts         []PartChange   // corners, notches, then marks, each in the order of the later version, removed ones last
	Area          Pair
	Widths        []AtLevel
	Records       []string // marks, notches and other records that changed, in words
}

// EdgeChange is what became of an edge.
type EdgeChange struct {
	Name          string
	Was           []string // the names that it had, where they differ
	Status        Status
	Length        Pair
	Before, After curve.Path     // of an edge that was split off: the part of the old one that lay there
	Movement      curve.Movement // sideways, against the old edge extended
	Largest       Move
	Other         Move        // the largest the other way; none where that is not over Still
	AtLevels      []LevelMove // in the order of the garment's levels

	redrawn bool // it lies elsewhere, or its ends do
}

// Lies tells whether the edge lies where it lay, whatever its name is now, whole,
// split or joined.
func (e EdgeChange) Lies() bool {
	switch e.Status {
	case Unchanged, Renamed, Split, Joined:
		return !e.redrawn
	}
	return false
}

// Redrawn tells whether both versions have the edge, or what it was split or
// joined from, and it no longer lies there.
func (e EdgeChange) Redrawn() bool {
	switch e.Status {
	case Changed, Split, Joined:
		return !e.Lies()
	}
	return false
}

// LevelMove is how far an edge moved along a level line, in mm, positive out of
// the piece: what the width there gained on its side.
type LevelMove struct {
	Level    string
	Distance float64
}

// Move is the largest sideways movement of an edge.
type Move struct {
	Distance  float64     // mm, never negative
	Direction string      // "out" of the piece, "in", or "" where nothing moved sideways
	At        string      // the level, notch or corner next to it
	Old, New  curve.Point // where it was and where it is
}

// Any tells whether anything at all differs.
func (c *Change) Any() bool {
	if len(c.Records) > 0 {
		return true
	}
	for _, p := range c.Pieces {
		if p.Status != Unchanged {
			return true
		}
	}
	return false
}

// ChangedPieces gives the pieces that are not unchanged.
func (c *Change) ChangedPieces() []PieceChange {
	var out []PieceChange
	for _, p := range c.Pieces {
		if p.Status != Unchanged {
			out = append(out, p)
		}
	}
	return out
}
