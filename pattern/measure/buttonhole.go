package measure

import "seamkeep/pattern"

// Figures of buttons and eyelets, in mm or in diameters of a button.
const (
	// Extension is how much cloth lies beyond the line of the buttons, in diameters:
	// at least 3/4 (sewing reference of trantor.is).
	Extension = 0.75
	// HolePast is how far beyond that line a horizontal buttonhole begins, mm: 1/8 in
	// (about.com Sewing, 1999); the pull of the closure lays the button there.
	HolePast = 3.175
	// HoleEase is what a hole is longer than the button's diameter where the button's
	// thickness is not recorded, mm: 1/8 in (same source).
	HoleEase = 3.175
	// EyeletsApart is the greatest distance from one eyelet to the next, mm, and
	// EyeletReach that from the edge: not more than 3 cm apart and within 15 mm of the
	// edge (zanotowane.pl/808/9480, a page of a book on medieval tailoring).
	EyeletsApart = 30.0
	EyeletReach  = 15.0
	// EyeletInset is how far inside the edge eyelets are taken to be and placed where
	// nobody says, mm: common practice, no source.
	EyeletInset = 12.0
	// HooksApart is the distance from one hook to the next, mm: 1 1/4 in, set from the
	// waist up and down (Text-Book on Domestic Art, 1911). That a row with wider spaces
	// gapes is common practice, no source.
	HooksApart = 31.75
)

// HoleLength is how long a buttonhole is, mm: diameter and thickness of the button
// together, so that a button of 1 in by 1/4 in takes one of 1 1/4 in (about.com
// Sewing, 1999).
func HoleLength(diameter float64, thickness pattern.Opt) float64 {
	return diameter + thickness.Or(HoleEase)
}
