// Package ink holds what is drawn on full-size sheets, as strokes and texts by
// layers, and writes it: as PDF, and as one SVG picture. Both writers render the
// same model, so that a sheet says the same in either.
//
// All places are mm from the lower left corner of the page, y up; angles are
// degrees, anticlockwise. Numbers are written to 0.0035 mm in PDF (two decimals
// of a point) and to 0.0005 mm in SVG. The same Book gives the same bytes.
package ink
