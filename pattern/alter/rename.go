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
		rename := renameEdge
		if n.Corner {
			rename = renameCorner
		}
		if problem := rename(c, n.Piece, n.Old, n.New, n.KeepWas); problem != nil {
			return nil, problem
		}
	}
	return c, nil
}

// renameEdge changes a garment of our own.
func renameEdge(c *pattern.Garment, piece, old, to string, keepWas bool) *diag.Problem {
	p := c.Piece(piece)
	if p == nil {
		return unknownName("piece", piece, piece, c.Place, pieceNames(c))
	}
	i := p.EdgeIndex(old)
	if i < 0 {
		return unknownName("edge of "+piece, old, piece+"."+old, p.Place, edgeNames(p))
	}
	e := &p.Edges[i]
	if fault := unfit("edge", piece+"."+old, old, to, e.Place); fault != nil {
		return fault
	}
	if other := p.EdgeIndex(to); other >= 0 {
		return taken("edge of "+piece, piece+"."+old, to, e.Place, p.Edges[other].Place)
	}
	e.Name, e.Was = to, former(e.Was, old, to, keepWas)
	for n := range p.Notches {
		renameMention(&p.Notches[n].Edge, old, to)
	}
	for n := range p.Cloths {
		renameMention(&p.Cloths[n].Fold, old, to)
	}
	eachRef(c, func(r *pattern.Ref) {
		if r.Piece == piece && r.Edge == old {
			r.Edge = to
		}
	})
	eachTarget(c, func(t *pattern.Target) {
		if t.Name == piece && t.Edge == old {
			t.Edge = to
		}
	})
	return nil
}

// renameCorner changes a garment of our own.
func renameCorner(c *pattern.Garment, piece, old, to string, keepWas bool) *diag.Problem {
	p := c.Piece(piece)
	if p == nil {
		return unknownName("piece", piece, piece, c.Place, pieceNames(c))
	}
	i := p.CornerIndex(old)
	if i < 0 {
		return unknownName("corner of "+piece, old, piece+"."+old, p.Place, cornerNames(p))
	}
	k := &p.Corners[i]
	if fault := unfit("corner", piece+"."+old, old, to, k.Place); fault != nil {
		return fault
	}
	if other := p.CornerIndex(to); other >= 0 {
		return taken("corner of "+piece, piece+"."+old, to, k.Place, p.Corners[other].Place)
	}
	k.Name, k.Was = to, former(k.Was, old, to, keepWas)
	for n := range p.Notches {
		for _, name := range []*string{&p.Notches[n].On.Corner, &p.Notches[n].On.Nearest} {
			if *name == old {
				*name = to
			}
		}
	}
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
