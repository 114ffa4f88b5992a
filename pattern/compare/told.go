package compare

import (
	"seamkeep/pattern/curve"
)

// told gives, in words, what the edits of the piece changed apart from its
// outline. What moved with the piece as a whole did not change, and corners,
// notches and marks are told by what became of each.
func (c *PieceChange) told(edits []Edit) []string {
	var out, edges []string
	for _, e := range edits {
		words := e.Words()
		switch e.Kind {
		case "mark", "notch", "corner":
			continue
		case "edge":
			if words != "" {
				edges = append(edges, words)
			}
			continue
		case "grain":
			if x, y := c.Before.Grain, c.After.Grain; x != nil && y != nil && c.stays(x.From, y.From) && c.stays(x.To, y.To) {
				words = ""
			}
		case "was":
			if len(c.Was) > 0 {
				words = "" // the piece's own line says it
			}
		}
		if words != "" {
			out = append(out, words)
		}
	}
	if len(edits) > 0 {
		for _, p := range c.Parts {
			if words := p.Words(); words != "" {
				out = append(out, words)
			}
		}
	}
	return append(out, edges...)
}

// stays tells whether a point of the earlier version lies, after the movement of
// the piece, where the other one does.
func (c *PieceChange) stays(p, q curve.Point) bool { return c.laidAt(p).Dist(q) <= 2*Still }
