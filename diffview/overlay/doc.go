// Package overlay draws what differs between two versions of a garment as one
// SVG picture at full size: each changed piece with the line before and the
// line after, what it gained and lost, and the figures that belong to it.
//
// Everything drawn comes from a compare.Change. The way through the files: a
// figure (figure.go) is one piece with its areas (areas.go, chains.go), tags and
// callouts (labels.go, edgecalls.go), its marks (marks.go, marktable.go) and the
// levels that lie elsewhere in its cloth (oldlevels.go); figures are set in rows
// (rows.go); under them stand blocks of words and tables (stack.go, tables.go, garment.go) and the strip
// charts (strip.go, detail.go). sheet.go puts all of it on one sheet, and ink.go
// holds the visual code. What is wrong with a version, and what is not drawn for
// it, is worked out in faulty.go.
//
// Findings draws what is wrong with one version (findings.go): where each finding
// lies (findingspots.go), its number there (pins.go, findingink.go), the panels side
// by side for runs (findingstrip.go) and the table (findingtable.go).
//
// Three further pictures share that code. The strip (stripsheet.go) sets the
// panels side by side (beside.go, assembled.go), measures where tops and hems
// cross seams (joint.go, callouts.go, jointtable.go) and shows those lines as
// they are sewn (sewn.go). History (history.go, historyfigure.go, historylegend.go) lays all
// versions of a piece over each other; Thumbnail (thumbnail.go) is a small overview, PieceThumbnail one piece of it. Lengths
// are in mm, areas in mm2, angles in degrees.
package overlay
