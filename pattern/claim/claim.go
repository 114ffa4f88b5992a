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

// Garment is the word that stands among the pieces of an Only claim for the
// garment file.
const Garment = "garment"

// Claim is one checkable sentence of a note.
type Claim struct {
	Place   diag.Place      // of the value in the message
	Kind    Kind            // which fields below are set depends on it
	Measure measure.Measure // of Changes and Keeps; without a level it means every level
	By      pattern.Opt     // of Changes: +N or -N, in the unit of the measure
	To      pattern.Opt     // of Changes: "to N"
	Within  pattern.Opt     // the given tolerance; unset: Tolerance gives the one of the kind
	Pieces  []string        // of Only; may hold Garment
}

// Result is what became of a claim when it was measured.
type Result struct {
	Claim    Claim
	OK       bool     // it is true; never where Unknown says that it cannot be told
	Claimed  string   // in words, with the figures
	Measured string   // in words, with the figures
	Where    []string // sentences that tell where the difference sits, most telling first
	Unknown  string   // why it cannot be told; empty where it can
}
