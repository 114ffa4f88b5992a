// Package sheet prints pieces on paper at full size. It makes what is cut of what is
// sewn, draws what stands on each piece, and lays the pages and tiles out.
//
// Cut gives the cut line of a piece with its allowances, corners and notches, in the
// piece's own frame. New draws every piece (figure), packs the figures on pages, puts
// those that fit on no page on the tiles of a common area (tiling), and furnishes
// each page. The result is a book of package ink, which writes PDF and SVG, and a
// list of what lies where; its places are from the lower left corner of a page, y up.
// The same garment and options give the same book. All lengths are mm; what the
// user's pattern does not allow is a diag.Problem, or an error of New.
package sheet
