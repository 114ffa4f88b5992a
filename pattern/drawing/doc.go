// Package drawing tells which lines of a drawing are the pieces of a pattern,
// and what stands on them.
//
// vector reads the file: lines in true mm on a page. Recognise takes those and
// gives a Sheet: outlines, with their names; marks, notches and grain on them;
// levels; and all else, each with the reason why it was left. It judges by our
// own attributes first, then by labels, ids and layers, last by shape. What could
// be meant in two ways is not guessed: it is an Error whose hint says how to
// answer.
//
// The data flows one way: items -> lines and what they are called (line.go,
// words.go) -> lines joined to rings (join.go, net.go, bridge.go, meet.go) ->
// rings that are outlines (rings.go, beside.go), their names (names.go) -> levels
// (levels.go) -> pieces (pieces.go, corners.go) -> what lies on them (marks.go,
// notches.go, grain.go).
package drawing
