package again

import (
	"fmt"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// names are those that a new corner or edge must not bear.
type names struct {
	corners, edges map[string]bool
}

// namesOf collects the names of pieces; nil ones have none.
func namesOf(pieces ...*pattern.Piece) *names {
	n := &names{corners: map[string]bool{}, edges: map[string]bool{}}
	for _, p := range pieces {
		if p == nil {
			continue
		}
		for _, c := range p.Corners {
			n.corners[c.Name] = true
		}
		for _, e := range p.Edges {
			n.edges[e.Name] = true
		}
	}
	return n
}

// free gives the first name of the letter and a number that is not in use.
func (n *names) free(used map[string]bool, letter string) string {
	for i := 1; ; i++ {
		if name := fmt.Sprintf("%s%d", letter, i); !used[name] {
			used[name] = true
			return name
		}
	}
}

// words joins names for a sentence.
func words(list []string) string {
	if n := len(list); n > 1 {
		return strings.Join(list[:n-1], ", ") + " and " + list[n-1]
	}
	return strings.Join(list, "")
}

// references keeps the records that name edges and corners true. A notch that is
// measured from a corner follows it to the part of the edge that still ends
// there; one that has lost its edge or corner is an Error.
func (y *laying) references(old *pattern.Piece) {
	p := y.piece
	for n := range p.Notches {
		y.notch(old, &p.Notches[n])
	}
	for _, c := range p.Cloths {
		if c.Cut == pattern.OnFold && p.EdgeIndex(c.Fold.Name) < 0 {
			y.add(old, "fold", diag.Error, "", fmt.Sprintf("it is cut on the fold along edge %s, which the drawing no longer has", c.Fold.Name),
				"the edge on the fold", wayOut)
		}
	}
}

// wayOut is what to do where a record has lost what it names.
const wayOut = "draw the corner again, or write in the piece's file which edge is meant and import again;\n" +
	"--take pattern leaves the piece as it is"

func (y *laying) notch(old *pattern.Piece, n *pattern.Notch) {
	p := y.piece
	if i := p.EdgeIndex(n.Edge.Name); i >= 0 && y.holds(i, n.On) {
		y.unsure(old, n)
		return
	}
	for _, part := range y.parts[n.Edge.Name] {
		if y.holds(p.EdgeIndex(part), n.On) && n.On.Kind == pattern.FromCorner && p.NotchIndex(part, n.Name) < 0 {
			n.Edge.Name = part
			return
		}
	}
	lost := "edge " + n.Edge.Name
	if p.EdgeIndex(n.Edge.Name) >= 0 {
		lost = "corner " + n.On.Corner + n.On.Nearest + " at an end of edge " + n.Edge.Name
		if c := n.On.Corner; c != "" && p.CornerIndex(c) >= 0 {
			lost = fmt.Sprintf("an edge of %.1f mm that ends at corner %s", n.On.Distance, c)
		}
	}
	x := problem(old, "notch", diag.Error, "", fmt.Sprintf("notch %s on edge %s has lost its place: the drawing has no %s",
		n.Name, n.Edge.Name, lost), "an outline that keeps what the notches are measured from", wayOut)
	if n.Place.Line > 0 {
		x.Place.File, x.Place.Line, x.Place.Column = n.Place.File, n.Place.Line, n.Place.Column
	}
	x.Place.Edge = n.Edge.Name
	y.problems = append(y.problems, x)
}

// holds tells whether a spot's corner is there for edge i, and the edge long
// enough.
func (y *laying) holds(i int, s pattern.Spot) bool {
	p := y.piece
	if i < 0 {
		return false
	}
	if s.Kind != pattern.FromCorner {
		return s.Nearest == "" || p.CornerIndex(s.Nearest) >= 0
	}
	const hair = 0.002 // mm: a file rounds to 0.001
	ends := p.Corners[i].Name == s.Corner || p.Corners[p.After(i)].Name == s.Corner
	return ends && s.Distance <= p.EdgePath(i).Length(lengthTol)+hair
}

// unsure warns where an edge was cut and the notch may belong to another part:
// where a level meets the parts is not known here.
func (y *laying) unsure(old *pattern.Piece, n *pattern.Notch) {
	parts := y.parts[n.Edge.Name]
	if len(parts) == 0 || n.On.Kind == pattern.FromCorner {
		return
	}
	y.add(old, "notch", diag.Warning, n.Edge.Name, fmt.Sprintf("notch %s stays on edge %s, from which %s was cut off",
		n.Name, n.Edge.Name, words(parts)), "a level that the edge still meets", "write the other edge in its record if it is on that one")
}

// crossing refuses an outline that crosses itself where the old one did not.
func (y *laying) crossing(old *pattern.Piece) {
	found := y.piece.Outline().SelfCrossings()
	if len(found) == 0 || len(old.Outline().SelfCrossings()) >= len(found) {
		return
	}
	at := found[0].Point
	y.add(old, "crosses", diag.Error, "", fmt.Sprintf("the new outline crosses itself at %.1f %.1f", at.X, at.Y),
		"an outline that never meets itself", "pull the lines there apart in the drawing")
}
