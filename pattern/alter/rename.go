package alter

import (
	"fmt"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// RenamePiece gives a copy of the garment in which a piece has another name:
// the piece itself and all that refers to it in the garment file. Its file has
// to be renamed by the caller.
//
// keepWas says that the version kept last has the piece under its old name:
// then the piece remembers that name, so that a comparison knows it again.
// Without it a former name that stands there already stays. A piece that gets
// its former name back remembers none. Some former names are lost: one that
// stood there before keepWas wrote another.
//
// A problem comes back instead of a copy where there is no such piece, the new
// name is none or is that of another piece or of a run.
func RenamePiece(g *pattern.Garment, old, to string, keepWas bool) (*pattern.Garment, *diag.Problem) {
	p := g.Piece(old)
	if p == nil {
		return nil, unknownName("piece", old, old, g.Place, pieceNames(g))
	}
	if fault := unfit("piece", old, old, to, p.Place); fault != nil {
		return nil, fault
	}
	if other := g.Piece(to); other != nil {
		return nil, taken("piece", old, to, p.Place, other.Place)
	}
	if r := g.Run(to); r != nil {
		fault := taken("run", old, to, p.Place, r.Place)
		fault.ID = "name.ambiguous"
		return nil, fault
	}
	c := pattern.Clone(g)
	p = c.Piece(old)
	p.Name, p.Was = to, former(p.Was, old, to, keepWas)
	eachPieceName(c, func(name *string) {
		if *name == old {
			*name = to
		}
	})
	c.SortPieces()
	return c, nil
}

// RenameEdge gives a copy of the garment in which an edge of a piece has
// another name: the edge itself, its notches, the fold of the cloth and all that
// refers to it in the garment file. keepWas and the problems are those of
// RenamePiece.
func RenameEdge(g *pattern.Garment, piece, old, to string, keepWas bool) (*pattern.Garment, *diag.Problem) {
	return Rename(g, []NewName{{Piece: piece, Old: old, New: to, KeepWas: keepWas}})
}

// RenameCorner gives a copy of the garment in which a corner of a piece has
// another name, also where notches are measured from it. keepWas and the
// problems are those of RenamePiece.
func RenameCorner(g *pattern.Garment, piece, old, to string, keepWas bool) (*pattern.Garment, *diag.Problem) {
	return Rename(g, []NewName{{Piece: piece, Corner: true, Old: old, New: to, KeepWas: keepWas}})
}

// NewName is a part that gets another name; see Rename.
type NewName struct {
	Piece  string
	Corner bool // a corner of the piece; else an edge
	Old    string
	New    string
	// KeepWas says that the version kept last has it under its old name: then it
	// remembers that name.
	KeepWas bool
}

// Rename gives a copy of the garment in which many edges and corners have other
// names, one after the other in the order of the list; see RenameEdge.
func Rename(g *pattern.Garment, list []NewName) (*pattern.Garment, *diag.Problem) {
	c := pattern.Clone(g)
	for _, n := range list {
		p := c.Piece(n.Piece)
		var problem *diag.Problem
		switch {
		case p == nil:
			problem = unknownName("piece", n.Piece, n.Piece, c.Place, pieceNames(c))
		case n.Corner:
			problem = renameCorner(c, p, n)
		default:
			problem = renameEdge(c, p, n)
		}
		if problem != nil {
			return nil, problem
		}
	}
	return c, nil
}

// part is an edge or a corner, which may get another name.
type part struct {
	name, was *string
	place     diag.Place
}

func edgesOf(p *pattern.Piece) []part {
	out := make([]part, len(p.Edges))
	for i := range p.Edges {
		e := &p.Edges[i]
		out[i] = part{&e.Name, &e.Was, e.Place}
	}
	return out
}

func cornersOf(p *pattern.Piece) []part {
	out := make([]part, len(p.Corners))
	for i := range p.Corners {
		k := &p.Corners[i]
		out[i] = part{&k.Name, &k.Was, k.Place}
	}
	return out
}

// named finds a part; nil where there is none.
func named(parts []part, name string) *part {
	for i := range parts {
		if *parts[i].name == name {
			return &parts[i]
		}
	}
	return nil
}

// renamePart gives a part of a piece its new name; what refers to it is the caller's.
func renamePart(kind string, p *pattern.Piece, parts []part, n NewName) *diag.Problem {
	what, subject := kind+" of "+p.Name, p.Name+"."+n.Old
	k := named(parts, n.Old)
	if k == nil {
		known := make([]string, len(parts))
		for i := range parts {
			known[i] = *parts[i].name
		}
		return unknownName(what, n.Old, subject, p.Place, known)
	}
	if fault := unfit(kind, subject, n.Old, n.New, k.place); fault != nil {
		return fault
	}
	if other := named(parts, n.New); other != nil {
		return taken(what, subject, n.New, k.place, other.place)
	}
	*k.name, *k.was = n.New, former(*k.was, n.Old, n.New, n.KeepWas)
	return nil
}

// renameEdge changes a garment of our own.
func renameEdge(c *pattern.Garment, p *pattern.Piece, n NewName) *diag.Problem {
	if problem := renamePart("edge", p, edgesOf(p), n); problem != nil {
		return problem
	}
	for i := range p.Notches {
		renameMention(&p.Notches[i].Edge, n.Old, n.New)
	}
	for i := range p.Cloths {
		renameMention(&p.Cloths[i].Fold, n.Old, n.New)
	}
	eachRef(c, func(r *pattern.Ref) {
		if r.Piece == p.Name && r.Edge == n.Old {
			r.Edge = n.New
		}
	})
	eachTarget(c, func(t *pattern.Target) {
		if t.Name == p.Name && t.Edge == n.Old {
			t.Edge = n.New
		}
	})
	follow := func(name []string, family string) {
		aMark := family == "bone" || family == "cord" // PIECE.MARK
		if len(name) > 1 && name[0] == p.Name && name[1] == n.Old && !aMark {
			name[1] = n.New
		}
	}
	eachSubject(c, follow)
	eachAcceptedPlace(c, func(name []string, family string) {
		if family != "run" {
			follow(name, family)
		}
	})
	return nil
}

// renameCorner changes a garment of our own.
func renameCorner(c *pattern.Garment, p *pattern.Piece, n NewName) *diag.Problem {
	if problem := renamePart("corner", p, cornersOf(p), n); problem != nil {
		return problem
	}
	for i := range p.Notches {
		for _, name := range []*string{&p.Notches[i].On.Corner, &p.Notches[i].On.Nearest} {
			if *name == n.Old {
				*name = n.New
			}
		}
	}
	eachAcceptedPlace(c, func(name []string, family string) {
		if family == "run" && name[0] == p.Name && name[1] == n.Old {
			name[1] = n.New
		}
	})
	return nil
}

// former gives the former name to remember after a rename.
func former(was, old, to string, keepWas bool) string {
	switch {
	case was == to:
		return ""
	case keepWas:
		return old
	}
	return was
}

func renameMention(m *pattern.Mention, old, to string) {
	if m.Name == old {
		m.Name = to
	}
}

// unfit says why a name cannot be given, whoever has it.
func unfit(what, subject, old, to string, at diag.Place) *diag.Problem {
	p := &diag.Problem{Severity: diag.Error, Place: at, Subject: subject}
	if why := pattern.NameFault(to); why != "" {
		p.ID, p.Found, p.Expected = "text.name", fmt.Sprintf("the name %q %s", to, why), "a lower-case letter, then letters, digits and single hyphens"
		return p
	}
	if old == to {
		p.ID, p.Found, p.Expected = "name.twice", fmt.Sprintf("%s %s has that name already", what, subject), "another name"
		return p
	}
	return nil
}

func taken(what, subject, to string, at, other diag.Place) *diag.Problem {
	return &diag.Problem{
		ID: "name.twice", Severity: diag.Error, Place: at, Subject: subject,
		Found: fmt.Sprintf("there is %s %s named %s already", article(what), what, to), Expected: "a name that is free",
		Related: []diag.Related{{Place: other, Text: "the one that has it"}},
	}
}

func unknownName(what, name, subject string, at diag.Place, known []string) *diag.Problem {
	p := &diag.Problem{
		ID: "name.unknown", Severity: diag.Error, Place: at, Subject: subject,
		Found: fmt.Sprintf("there is no %s named %q", what, name), Expected: "the name of one that there is",
	}
	if near := diag.Nearest(name, known); near != "" {
		p.Expected += fmt.Sprintf(" (nearest: %q)", near)
	}
	return p
}

func article(what string) string {
	if what[0] == 'e' {
		return "an"
	}
	return "a"
}
