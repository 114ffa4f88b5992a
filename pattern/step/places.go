package step

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern/curve"
)

// places tells what a step needs of the garment beyond names that exist.
func (c *checker) places() {
	switch c.s.Verb {
	case "take-in", "let-out":
		c.ofSeam(c.s.Piece)
		c.reached(c.s.Amounts)
	case "move-seam":
		c.ofSeam(c.s.Piece)
		c.twoSides()
		c.reached(c.s.Amounts)
	case "inset":
		c.reached(c.s.Amounts)
	case "true":
		c.ofSeam(c.s.Piece)
	case "raise", "lower":
		c.across()
		c.between()
	case "trim":
		c.between()
	case "smooth":
		if edges, _ := (&proof{g: c.g}).lineOf(c.s); len(edges) == 0 {
			c.fault(c.s.Place, c.s.Run+" does not run "+strings.TrimSpace(c.span()), "expected seams that it crosses, the front one first", "")
		}
	case "level":
		c.crossed()
	case "split":
		c.parted()
	case "join":
		if seam := c.g.Seam(c.s.Seam); seam != nil {
			if a, _ := (&proof{g: c.g}).twoPieces(seam); a == nil {
				c.fault(c.s.Place, "seam "+seam.Name+" does not join two pieces along one edge of each", "expected a seam that does", "")
			}
		}
	}
}

func (c *checker) ofSeam(piece string) {
	seam := c.g.Seam(c.s.Seam)
	if seam == nil || piece == "" || slices.Contains(partners(seam), piece) {
		return
	}
	c.fault(c.s.Place, fmt.Sprintf("%s is no piece of seam %s", piece, seam.Name), "expected one of "+strings.Join(partners(seam), ", "), "")
}

// twoSides: width can only move from one side to the other.
func (c *checker) twoSides() {
	seam := c.g.Seam(c.s.Seam)
	if seam == nil {
		return
	}
	if seam.Mirrored || onSide(seam.First, c.s.Piece) && onSide(seam.Second, c.s.Piece) {
		c.fault(c.s.Place, fmt.Sprintf("%s lies on both sides of seam %s", c.s.Piece, seam.Name), "expected a seam between two pieces", "take-in or let-out changes both sides alike")
	}
}

// reached: an amount at a level that the seam does not pass can be seen by nobody.
func (c *checker) reached(list []Amount) {
	seam := c.g.Seam(c.s.Seam)
	if seam == nil {
		return
	}
	sh, ok := (&proof{g: c.g}).newShift(seam.Name, list, [2]float64{1, 1})
	if !ok {
		return
	}
	var passed []string
	for _, l := range c.g.Levels {
		if sh.reaches(l.Name) {
			passed = append(passed, l.Name)
		}
	}
	if len(passed) == 0 {
		c.fault(c.s.Place, "seam "+seam.Name+" passes no level", "expected a seam that runs up and down the body", "lengthen and shorten work across pieces")
		return
	}
	for _, a := range list {
		if a.At != "" && a.MM != 0 && !slices.Contains(passed, a.At) {
			c.fault(a.Place, "seam "+seam.Name+" does not pass level "+a.At, "expected one of "+strings.Join(passed, ", "), "")
		}
	}
}

// across: what is raised or lowered runs across the body.
func (c *checker) across() {
	edges, _ := (&proof{g: c.g}).lineOf(c.s)
	for _, e := range edges {
		if _, ok := e.upper(); !ok {
			c.fault(c.s.Place, e.name()+" runs more upright than across", "expected a line that has an upper side", "trim cuts cloth away at any edge")
		}
	}
}

// between: on a run the amount at a seam between two named ones is not guessed.
func (c *checker) between() {
	if c.s.Run == "" || len(c.s.Amounts) < 2 {
		return
	}
	_, joints := (&proof{g: c.g}).lineOf(c.s)
	given := func(j joint) bool {
		return slices.ContainsFunc(c.s.Amounts, func(a Amount) bool { return j.at(a.At) })
	}
	first, last := slices.IndexFunc(joints, given), -1
	for i, j := range joints {
		if given(j) {
			last = i
		}
	}
	if first < 0 {
		return
	}
	var open []string
	for _, j := range joints[first : last+1] {
		if !given(j) && j.seam != nil && !slices.Contains(open, j.seam.Name) {
			open = append(open, j.seam.Name)
		}
	}
	if len(open) > 0 {
		c.fault(c.s.Place, "there is no amount at "+strings.Join(open, ", ")+", which lies between others", "expected one at every seam from the first named to the last", "write 0 where the line stays")
	}
}

// span tells the part of a run that the step is about.
func (c *checker) span() string {
	words := ""
	if c.s.Start != "" {
		words += " from " + c.s.Start
	}
	if c.s.End != "" {
		words += " to " + c.s.End
	}
	return words
}

// crossed: a distance along the cloth needs an edge that passes the level.
func (c *checker) crossed() {
	_, joints := (&proof{g: c.g}).lineOf(c.s)
	for _, j := range joints {
		y, ok := c.g.LevelOn(j.next.piece, c.s.Level)
		if n := len(j.next.piece.EdgePath(j.next.edge).CrossingsY(y)); !ok || n != 1 {
			c.fault(c.s.Place, fmt.Sprintf("%s does not pass level %s once", j.next.name(), c.s.Level), "expected a level that every edge at the run passes", "")
		}
	}
}

// parted: a line splits a piece where both its ends lie on the outline.
func (c *checker) parted() {
	piece := c.g.Piece(c.s.Piece)
	if piece == nil {
		return
	}
	ring := piece.Outline()
	for _, pt := range [][2]float64{{c.s.From.X, c.s.From.Y}, {c.s.To.X, c.s.To.Y}} {
		near := ring.Nearest(curve.Pt(pt[0], pt[1]))
		if !(near.Dist <= offOutline) {
			c.fault(c.s.Place, fmt.Sprintf("%s %s does not lie on the outline of %s", plain(pt[0]), plain(pt[1]), piece.Name),
				fmt.Sprintf("expected a point within %s mm of it", plain(offOutline)), fmt.Sprintf("the nearest is %s %s", plain(near.Point.X), plain(near.Point.Y)))
		}
	}
	if _, _, ok := cut(ring, c.s.From, c.s.To); !ok && len(c.problems) == 0 {
		c.fault(c.s.Place, "the line does not part "+piece.Name, "expected two points that lie apart on its outline", "")
	}
}
