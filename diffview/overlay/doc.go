// Package overlay draws what differs between two versions of a garment as one
// SVG picture at full size: each changed piece with the line before and the
// line after, what it gained and lost, and the figures that belong to it.
//
// Everything drawn comes from a compare.Change. The way through the files: a
// figure (figure.go) is one piece with its areas (areas.go, chains.go), tags and
// callouts (labels.go); figures are set in rows (rows.go); under them stand
// blocks of words and tables (stack.go, tables.go, garment.go) and the strip
// charts (strip.go, detail.go). sheet.go puts all of it on one sheet, and ink.go
// holds the visual code. Lengths are in mm, areas in mm2.
package overlay
