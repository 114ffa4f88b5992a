package pattern

import "seamkeep/pattern/diag"

// Opt is a number that may be absent.
type Opt struct {
	Value float64
	Set   bool
}

// Some is a number that is there.
func Some(v float64) Opt { return Opt{Value: v, Set: true} }

// Or gives the number, or def where it is absent.
func (o Opt) Or(def float64) float64 {
	if o.Set {
		return o.Value
	}
	return def
}

// Mention is a name where another part refers to it.
type Mention struct {
	Place diag.Place
	Name  string
}

// Ref names an edge of a piece, or the span of it between two of its notches.
type Ref struct {
	Place    diag.Place
	Piece    string
	Edge     string
	From, To string // notches of the edge; both empty where the whole edge is meant
}

// String gives the reference as it is written.
func (r Ref) String() string {
	s := r.Piece + "." + r.Edge
	if r.From != "" {
		s += " from " + r.From + " to " + r.To
	}
	return s
}

// Target is what an allowance or a join is for: a piece, one edge of a piece,
// or a run. The zero Target is every edge.
type Target struct {
	Place diag.Place
	Name  string // piece or run
	Edge  string // edge of the piece, or empty
}

// String gives the target as it is written.
func (t Target) String() string {
	if t.Edge != "" {
		return t.Name + "." + t.Edge
	}
	return t.Name
}
