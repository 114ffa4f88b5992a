package describe

import (
	"fmt"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
)

// Accept carries out proposals on a copy of the garment that they were made for,
// in the order of their numbers: those named, or, where which is nil, all that
// are no questions (Proposal.Choice 0). Names that were not accepted are not
// needed: a seam accepted alone then holds the edges' old names.
//
// It writes nothing over: an error says which number there is not, which two
// answer one question, or which proposal the garment no longer has room for; a
// nil garment comes with it.
//
// kept is the version kept last, or nil: parts that it has remember the names
// that they have there, so that a comparison knows them again.
func Accept(g *pattern.Garment, ps []Proposal, which []int, kept *pattern.Garment) (*pattern.Garment, error) {
	chosen, err := choose(ps, which)
	if err != nil {
		return nil, err
	}
	c := pattern.Clone(g)
	if c == nil {
		c = &pattern.Garment{}
	}
	c.SortPieces()
	refused, err := named(c, ps, chosen, kept)
	if err != nil {
		return nil, err
	}
	for _, p := range chosen {
		if err := apply(c, p.Change, refused); err != nil {
			return nil, fmt.Errorf("proposal %d cannot be accepted: %w", p.Number, err)
		}
	}
	return c, nil
}

// has tells whether a version has the part under its old name.
func has(kept *pattern.Garment, n alter.NewName) bool {
	if kept == nil {
		return false
	}
	p := kept.Piece(n.Piece)
	return p != nil && (n.Corner && p.CornerIndex(n.Old) >= 0 || !n.Corner && p.EdgeIndex(n.Old) >= 0)
}

// named gives the edges and corners their names, and
// tells which names of edges were refused: PIECE.NEW -> old.
func named(g *pattern.Garment, ps, chosen []Proposal, kept *pattern.Garment) (refused map[string]string, err error) {
	refused = map[string]string{}
	accepted := map[int]bool{}
	var list []alter.NewName
	for _, p := range chosen {
		accepted[p.Number] = true
		for _, n := range p.Change.Names {
			n.KeepWas = has(kept, n)
			list = append(list, n)
		}
	}
	for _, p := range ps {
		for _, n := range p.Change.Names {
			if !n.Corner && !accepted[p.Number] {
				refused[n.Piece+"."+n.New] = n.Old
			}
		}
	}
	c, problem := alter.Rename(g, list)
	if problem != nil {
		return nil, fmt.Errorf("the names cannot be accepted: %s", problem.Message())
	}
	*g = *c
	return refused, nil
}

// choose gives the proposals of the numbers, in order.
func choose(ps []Proposal, which []int) ([]Proposal, error) {
	byNumber := map[int]Proposal{}
	var numbers []int
	for _, p := range ps {
		byNumber[p.Number] = p
		if which == nil && p.Choice == 0 {
			numbers = append(numbers, p.Number)
		}
	}
	for _, n := range which {
		if _, ok := byNumber[n]; !ok {
			return nil, fmt.Errorf("there is no proposal %d; they are numbered 1 to %d", n, len(ps))
		}
		numbers = append(numbers, n)
	}
	sort.Ints(numbers)
	answers := map[int]int{}
	var out []Proposal
	for i, n := range numbers {
		if i > 0 && n == numbers[i-1] {
			continue
		}
		p := byNumber[n]
		if other, twice := answers[p.Choice]; p.Choice != 0 && twice {
			return nil, fmt.Errorf("proposals %d and %d answer the same question; accept one", other, n)
		}
		answers[p.Choice] = n
		out = append(out, p)
	}
	return out, nil
}

// apply writes a change other than names into a garment of our own. Edges whose new name was
// refused are found under their old one.
func apply(g *pattern.Garment, c Change, refused map[string]string) error {
	switch {
	case c.Half != "":
		if g.Half != "" {
			return fmt.Errorf("the garment says %s", g.Half)
		}
		g.Half = c.Half
	case c.Around != nil:
		return around(g, c.Around)
	case c.Seam != nil:
		return sew(g, c.Seam, refused)
	case c.Run != nil:
		r := pattern.Clone(c.Run)
		if g.Run(r.Name) != nil {
			return fmt.Errorf("there is a run %s", r.Name)
		}
		if err := find(g, refused, r.Refs); err != nil {
			return err
		}
		g.Runs = append(g.Runs, *r)
	case c.Closure != nil:
		x := pattern.Clone(c.Closure)
		if g.Closure(x.Name) != nil {
			return fmt.Errorf("there is a closure %s", x.Name)
		}
		if err := find(g, refused, x.Edges); err != nil {
			return err
		}
		g.Closures = append(g.Closures, *x)
	case c.Notches != nil:
		return mark(g, c.Notches, refused)
	}
	return nil
}

func around(g *pattern.Garment, list []string) error {
	if len(g.Around) > 0 {
		return fmt.Errorf("the garment says what goes around")
	}
	for _, name := range list {
		if g.Piece(name) == nil {
			return fmt.Errorf("there is no piece %s", name)
		}
		g.Around = append(g.Around, pattern.Mention{Name: name})
	}
	return nil
}

func sew(g *pattern.Garment, seam *pattern.Seam, refused map[string]string) error {
	s := pattern.Clone(seam)
	if g.Seam(s.Name) != nil {
		return fmt.Errorf("there is a seam %s", s.Name)
	}
	for _, refs := range [][]pattern.Ref{s.First, s.Second} {
		if err := find(g, refused, refs); err != nil {
			return err
		}
		for _, r := range refs {
			for _, other := range g.Seams {
				if holds(other.First, r) || holds(other.Second, r) {
					return fmt.Errorf("edge %s.%s is in seam %s", r.Piece, r.Edge, other.Name)
				}
			}
		}
	}
	g.Seams = append(g.Seams, *s)
	return nil
}

func holds(refs []pattern.Ref, r pattern.Ref) bool {
	for _, x := range refs {
		if x.Piece == r.Piece && x.Edge == r.Edge {
			return true
		}
	}
	return false
}

// find gives references the names that their edges have.
func find(g *pattern.Garment, refused map[string]string, refs []pattern.Ref) error {
	for i, r := range refs {
		edge, err := edgeName(g, refused, r.Piece, r.Edge)
		if err != nil {
			return err
		}
		refs[i].Edge = edge
	}
	return nil
}

func edgeName(g *pattern.Garment, refused map[string]string, piece, edge string) (string, error) {
	p := g.Piece(piece)
	if p == nil {
		return "", fmt.Errorf("there is no piece %s", piece)
	}
	if p.EdgeIndex(edge) >= 0 {
		return edge, nil
	}
	if old, ok := refused[piece+"."+edge]; ok && p.EdgeIndex(old) >= 0 {
		return old, nil
	}
	return "", fmt.Errorf("there is no edge %s.%s", piece, edge)
}

// mark adds the notches of a pair, or names them.
func mark(g *pattern.Garment, list []NewNotch, refused map[string]string) error {
	for _, n := range list {
		edge, err := edgeName(g, refused, n.Piece, n.Edge)
		if err != nil {
			return err
		}
		p := g.Piece(n.Piece)
		if p.NotchIndex(edge, n.Name) >= 0 {
			return fmt.Errorf("edge %s.%s has a notch %s", n.Piece, edge, n.Name)
		}
		if n.Old == "" {
			p.Notches = append(p.Notches, pattern.Notch{Name: n.Name, Edge: pattern.Mention{Name: edge}, On: n.On})
			continue
		}
		i := p.NotchIndex(edge, n.Old)
		if i < 0 {
			return fmt.Errorf("edge %s.%s has no notch %s", n.Piece, edge, n.Old)
		}
		p.Notches[i].Name = n.Name
	}
	return nil
}
