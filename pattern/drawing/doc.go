// Package drawing brings the outlines that a drawing program saved (SVG) into
// a pattern, at true scale.
//
// Read takes a file whose page has a size in mm (or another absolute unit) and
// gives one piece for each closed path: y up, anticlockwise from the corner
// nearest the top left, rounded to 0.001 mm, corners where the outline turns.
// What cannot be read truly is refused or listed as skipped, with the way out;
// nothing is left out in silence, and nothing outside the file is fetched.
//
// The data flows one way: bytes -> elements (read.go, element.go) -> rings in
// page mm (pathdata.go, transform.go, size.go) -> pieces (pieces.go,
// corners.go, names.go).
package drawing
