package compare

import (
	"slices"

	"seamkeep/pattern"
)

// garmentParts lists every kind of record of a garment file. A field of
// pattern.Garment that is missing here would be lost by Apply; a test counts
// them.
func garmentParts() []part[pattern.Garment] {
	type g = pattern.Garment
	level := func(n pattern.LevelNum) string { return n.Level }
	closure := func(f pattern.Fastening) string { return f.Closure }
	return []part[g]{
		one("name", func(x *g) *string { return &x.Name }),
		one("title", func(x *g) *string { return &x.Title }),
		one("half", func(x *g) *pattern.Half { return &x.Half }),
		one("body", func(x *g) *string { return &x.Body }),
		one("rough", func(x *g) *bool { return &x.Rough }),
		one("require claims", func(x *g) *bool { return &x.RequireClaims }),
		one("around", func(x *g) *[]pattern.Mention { return &x.Around }),
		one("thickness", func(x *g) *pattern.Opt { return &x.Thickness }),
		one("give", func(x *g) *pattern.Opt { return &x.Give }),
		many("tolerance", func(x *g) *[]pattern.Tolerance { return &x.Tolerances }, func(t pattern.Tolerance) string { return t.Kind }),
		many("level", func(x *g) *[]pattern.Level { return &x.Levels }, func(l pattern.Level) string { return l.Name }),
		many("piece", func(x *g) *[]pattern.PieceOption { return &x.Options }, func(o pattern.PieceOption) string { return o.Piece }),
		many("cords", func(x *g) *[]pattern.LevelNum { return &x.Cords }, level),
		many("reduce", func(x *g) *[]pattern.LevelNum { return &x.Reduce }, level),
		many("calibrate", func(x *g) *[]pattern.LevelNum { return &x.Calibrate }, level),
		many("seam", func(x *g) *[]pattern.Seam { return &x.Seams }, func(s pattern.Seam) string { return s.Name }),
		many("run", func(x *g) *[]pattern.Run { return &x.Runs }, func(r pattern.Run) string { return r.Name }),
		many("closure", func(x *g) *[]pattern.Closure { return &x.Closures }, func(c pattern.Closure) string { return c.Name }),
		many("buttons", func(x *g) *[]pattern.Fastening { return &x.Buttons }, closure),
		many("eyelets", func(x *g) *[]pattern.Fastening { return &x.Eyelets }, closure),
		many("hooks", func(x *g) *[]pattern.Fastening { return &x.Hooks }, closure),
		many("wanted gap", func(x *g) *[]pattern.Wanted { return &x.Wanted }, func(w pattern.Wanted) string { return w.Closure + " at " + w.Level }),
		many("allowance", func(x *g) *[]pattern.Allowance { return &x.Allowances }, func(a pattern.Allowance) string { return a.Target.String() }),
		many("join", func(x *g) *[]pattern.Join { return &x.Joins }, func(j pattern.Join) string { return j.Target.String() }),
		many("clearance", func(x *g) *[]pattern.Clearance { return &x.Clearances }, func(c pattern.Clearance) string { return c.Kind }),
		many("accept", func(x *g) *[]pattern.Accepted { return &x.Accepted }, pattern.Accepted.Address),
	}
}

// pieceParts lists every kind of record of a piece file, and the order of its
// outline; see garmentParts.
func pieceParts() []part[pattern.Piece] {
	return append(pieceRecordParts(), part[pattern.Piece]{kind: "order", diff: orderDiff, apply: orderApply})
}

func pieceRecordParts() []part[pattern.Piece] {
	type p = pattern.Piece
	return []part[p]{
		one("title", func(x *p) *string { return &x.Title }),
		one("was", func(x *p) *string { return &x.Was }),
		one("grain", func(x *p) **pattern.Grain { return &x.Grain }),
		one("levels", func(x *p) *bool { return &x.NoLevels }),
		many("cloth", func(x *p) *[]pattern.Cloth { return &x.Cloths }, func(c pattern.Cloth) string { return c.Name }),
		many("level", func(x *p) *[]pattern.Level { return &x.Levels }, func(l pattern.Level) string { return l.Name }),
		many("notch", func(x *p) *[]pattern.Notch { return &x.Notches }, func(n pattern.Notch) string { return n.Name + " on " + n.Edge.Name }),
		many("mark", func(x *p) *[]pattern.Mark { return &x.Marks }, func(m pattern.Mark) string { return string(m.Kind) + " " + m.Name }),
		many("corner", func(x *p) *[]pattern.Corner { return &x.Corners }, func(c pattern.Corner) string { return c.Name }),
		many("edge", func(x *p) *[]pattern.Edge { return &x.Edges }, func(e pattern.Edge) string { return e.Name }),
	}
}

// order is the sequence of an outline, which corners and edges by name lose.
type order struct{ Corners, Edges []string }

func orderOf(p *pattern.Piece) order {
	return order{
		keys(p.Corners, func(c pattern.Corner) string { return c.Name }),
		keys(p.Edges, func(e pattern.Edge) string { return e.Name }),
	}
}

// orderDiff tells the sequence of the later outline wherever carrying out the
// other edits would leave another one.
func orderDiff(a, b *pattern.Piece) []Edit {
	if pattern.Same(orderOf(a), orderOf(b)) {
		return nil // then the other edits only put new records in the place of old ones
	}
	x := pattern.Clone(a)
	for _, p := range pieceRecordParts() {
		for _, e := range p.diff(a, b) {
			p.apply(x, e)
		}
	}
	if pattern.Same(orderOf(x), orderOf(b)) {
		return nil
	}
	return []Edit{{Before: orderOf(a), After: orderOf(b)}}
}

func orderApply(p *pattern.Piece, e Edit) {
	o, ok := e.After.(order)
	if !ok {
		return
	}
	p.Corners = inOrder(p.Corners, o.Corners, func(c pattern.Corner) string { return c.Name })
	p.Edges = inOrder(p.Edges, o.Edges, func(x pattern.Edge) string { return x.Name })
}

func inOrder[T any](list []T, names []string, name func(T) string) []T {
	have := keys(list, name)
	var out []T
	for _, n := range names {
		if i := slices.Index(have, n); i >= 0 {
			out = append(out, list[i])
		}
	}
	return out
}
