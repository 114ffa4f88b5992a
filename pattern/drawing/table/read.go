package table

import (
	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// Bounds of a table.
const (
	maxBytes    = 1 << 20
	maxRows     = 20_000
	maxProblems = 100
)

// Narrowest is the least width of a piece, and the least height, in mm: what is
// smaller has an edge that no one can sew.
const Narrowest = 0.5

// largest is the size of the largest number of a pattern file, mm.
const largest = 100_000

// Table is what a table of widths says.
type Table struct {
	Pieces []*pattern.Piece // in the order of the table
	Levels []pattern.Level  // of the garment, in the order of the table
}

// Read makes pieces of a table of widths, a CSV file (RFC 4180) with the
// separator comma, semicolon or tab. Its first row names the columns, in any
// order:
//
//	piece   the piece; empty: the one of the row above
//	level   a level of the garment; "top" and "hem" are the piece's own ends and
//	        no levels; empty: a point of the outline that is no level
//	height  above the waist, below it negative
//	width   of the piece there, on the sewing line
//	front   x of the front edge there; may be missing: the width lies half on
//	        each side of x = 0. A piece gives it in every row or in none
//
// A column may name its unit, "width (cm)" or "width cm"; without one it is mm.
// Numbers have up to three decimals of a mm; the decimal comma is known where
// the separator is another. Names are made of what stands there: "Side front"
// gives side-front, with the title "Side front". Rows of a piece may stand in any
// order. Lines that begin with # are left out.
//
// Each piece has the corners top-front, hem-front, hem-back, top-back and the
// edges front, hem, back, top, with straight lines from height to height, so that
// its width at each level is exactly that of the table. At a level on its top
// edge a piece counts no width: a warning says so.
//
// All problems of the file are reported with line and column; where one is an
// error there is no table. The path is only told.
func Read(path string, src []byte) (*Table, diag.List) {
	r := &reader{path: path, src: src}
	r.read()
	if !r.problems.HasErrors() {
		r.build()
	}
	r.problems.Sort()
	if r.problems.HasErrors() {
		return nil, r.problems
	}
	return &r.table, r.problems
}
