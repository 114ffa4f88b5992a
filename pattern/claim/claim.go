package claim

import (
	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// Kind is the word of a note's line that a claim stands on.
type Kind string

// The kinds of claims, as a note writes them.
const (
	Changes Kind = "Changes" // one measure is another one than before
	Keeps   Kind = "Keeps"   // measures are what they were
	Only    Kind = "Only"    // no other piece changed
)

// Kinds lists the words that a claim begins with.
func Kinds() []Kind { return []Kind{Changes, Keeps, Only} }

// Garment is the word that stands for the garment file among the pieces of an
// Only claim.
const Garment = "garment"

// Claim is one checkable sentence of a note.
type Claim struct {
	Place   diag.Place      // of its first word in the message
	Kind    Kind            // which of the fields below are set depends on it
	Measure measure.Measure // of Changes and Keeps; without a level it means every level
	By      pattern.Opt     // of Changes: +N or -N, in the unit of the measure
	To      pattern.Opt     // of Changes: "to N", in the unit of the measure
	Within  pattern.Opt     // the tolerance that the note gives
	Pieces  []string        // of Only; may hold Garment
	Follows string          // the line of the note that it follows from; empty where it is written itself
}

// Source gives the line that a maker finds in the note: the claim, or what it
// follows from.
func (c Claim) Source() string {
	if c.Follows != "" {
		return c.Follows
	}
	return c.Line()
}

// Tolerance gives how far the measured figure may lie from the claimed one, in
// the unit of the measure: what the note gives, else what DefaultTolerance says.
func (c Claim) Tolerance() float64 { return c.Within.Or(DefaultTolerance(c.Measure.Kind)) }

// DefaultTolerance gives the tolerance of claims on a kind of measure, in its
// unit. Girths and gaps add up the roundings of a dozen widths and are read off
// a tape: 1 mm. One row of buttons adds up its pitch a dozen times, so that may
// be off by 0.1 mm only. An area may be off by 100 mm2, as an edge of 200 mm is
// that lies 0.5 mm further out. Common practice, no source.
func DefaultTolerance(measureKind string) float64 {
	switch measureKind {
	case "girth", "worn", "gap":
		return 1
	case "area":
		return 100
	case "pitch":
		return 0.1
	case "count":
		return 0
	}
	return 0.5 // mm of a width, a length, a walk, an overlap; degrees of a turn
}

// Result is what became of a claim when it was measured.
type Result struct {
	Claim    Claim
	OK       bool     // it is true; never where Unknown says that it cannot be told
	Claimed  string   // in words, with the figures
	Measured string   // in words, with the figures
	Where    []string // of an untrue claim: where the difference sits, most telling first, at most MaxWhere
	Notes    []string // what does not make it untrue: pieces named that did not change, levels left out
	Unknown  string   // why it cannot be told; empty where it can
	NoBody   bool     // it cannot be told only because no measures of a body are here
}

// MaxWhere is the greatest number of sentences that tell where a difference sits.
const MaxWhere = 3

// The ids of problems.
const (
	KeyFault     = "claim.key"         // no word that a claim begins with
	EmptyFault   = "claim.empty"       // nothing is claimed
	LongFault    = "claim.long"        // more text than a claim can need
	MeasureFault = "claim.measure"     // no measure
	AmountFault  = "claim.amount"      // no amount, or not one
	WithinFault  = "claim.within"      // no tolerance
	PieceFault   = "claim.piece"       // no name of a piece
	UnknownName  = "claim.unknown"     // a name that neither version has
	Contradicts  = "claim.contradicts" // two claims that cannot both be true
	Untrue       = "claim.untrue"
	Untold       = "claim.untold" // it cannot be measured
	UnclaimedID  = "claim.unclaimed"
)
