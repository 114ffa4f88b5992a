// Package material answers what has to be cut and bought for a garment: the
// cutting list (piece, quantity, grain, allowances) and the material list (cloth
// with a lay, bones, cords, elastic, buttons, eyelets, laces, binding).
//
// Everything is arithmetic over the model. Lengths are in mm, areas in mm2,
// angles in degrees anticlockwise; curve lengths are within measure.Accuracy.
// What cannot be told is said with its reason, never guessed silently: a figure
// that rests on common practice names it. Thread is left out, since no formula
// with a source was found.
//
// Counts are of the whole garment. The number in a cloth record is of pieces, or of
// mirrored pairs, as it stands; what is drawn on a piece of a half garment is there
// twice, and once where the piece is cut whole.
package material

import "seamkeep/pattern"

// halves tells how often what is drawn on a piece is there in the garment: twice
// in a half garment and on the fold, once where the piece is cut whole. In a whole
// garment a mirrored pair is there twice. Several layers of one cloth count once.
func halves(g *pattern.Garment, p *pattern.Piece) int {
	switch {
	case p.Folded():
		return 2
	case g.Option(p.Name).Whole:
		return 1
	case g.Half != pattern.Whole:
		return 2
	case len(p.Cloths) > 0 && p.Cloths[0].Cut == pattern.Pair:
		return 2
	}
	return 1
}

// times is halves of one mark: once where it is on one half only.
func times(g *pattern.Garment, p *pattern.Piece, m pattern.Mark) int {
	if m.Only != "" {
		return 1
	}
	return halves(g, p)
}
