package material

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet"
)

// Between is the room left round each piece of a lay, mm: common practice, no
// source.
const Between = 10.0

// DefaultWidth is how wide a cloth is taken to be where nobody says, mm: common
// practice, no source.
const DefaultWidth = 1400.0

// MostLaid is how many pieces a lay may hold.
const MostLaid = 2000

// Lay is an estimate of the cloth that pieces need: the boxes round them, laid
// side by side on one open layer, right side up, none of them turned.
type Lay struct {
	Width  float64 // of the cloth, mm
	Length float64 // that the pieces take, mm
	Placed []Placed
	Filled float64 // part of Width times Length that the pieces cover, allowances included, 0 to 1
	Boxed  float64 // part that their boxes cover
	Why    string  // why there is no lay; the other fields are then zero
}

// Placed is the box of one piece on the cloth, from the left selvedge and the
// beginning of the length, with Between inside it on its right and far sides.
type Placed struct {
	Piece         string
	Mirrored      bool // the other one of a pair
	X, Y          float64
	Width, Height float64
}

// layBox gives the box of a piece as it is laid: of the line along which it is cut, its
// grain along the length of the cloth, unfolded where it is cut on the fold. Where its
// allowances give no such line, of its edges, each grown by its allowance.
func layBox(g *pattern.Garment, p *pattern.Piece, c Cut) curve.Box {
	const tol = 0.1
	cut, _ := sheet.Cut(g, p, tol)
	turn := curve.Rotate(-c.Grain.Or(0) * math.Pi / 180)
	box := curve.EmptyBox()
	grow := func(m curve.Affine) {
		if len(cut.Path) > 0 {
			box = box.Union(cut.Path.Transform(m).Bounds())
			return
		}
		for i, e := range c.Edges {
			if path := p.EdgePath(i); len(path) > 0 {
				box = box.Union(path.Transform(m).Bounds().Grow(e.MM))
			}
		}
	}
	grow(turn)
	if i := p.EdgeIndex(c.Fold); c.Way == pattern.OnFold && i >= 0 {
		if over, ok := mirrorIn(p.EdgePath(i)); ok {
			grow(over.Then(turn))
		}
	}
	return box
}

// mirrorIn turns a piece over the line through the ends of its fold edge.
func mirrorIn(fold curve.Path) (curve.Affine, bool) {
	if len(fold) == 0 {
		return curve.Affine{}, false
	}
	d, ok := fold.End().Sub(fold.Start()).Unit()
	if !ok {
		return curve.Affine{}, false
	}
	at := curve.Translate(-fold.Start().X, -fold.Start().Y)
	flat := curve.Rotate(-math.Atan2(d.Y, d.X))
	back, _ := at.Then(flat).Inverse()
	return at.Then(flat).Then(curve.Scale(1, -1)).Then(back), true
}

// LayOf lays the pieces of one cloth on a width. The pieces go, in three orders
// (the tallest, the largest, the widest first), each to the place nearest to the
// beginning, of those the one furthest to the left; the shortest of the three lays
// counts. It is an estimate: a person who lays the real outlines into each other
// needs less.
func LayOf(c ClothCut, width float64) Lay {
	var boxes []Placed
	covered := 0.0
	for _, cut := range c.Cuts {
		if len(boxes)+cut.Pieces > MostLaid {
			return Lay{Why: fmt.Sprintf("more than %d pieces", MostLaid)}
		}
		if cut.size.Empty() || !(cut.Area > 0) {
			return Lay{Why: fmt.Sprintf("the outline of %s is faulty", cut.Piece)}
		}
		b := Placed{Piece: cut.Piece, Width: cut.size.Width() + Between, Height: cut.size.Height() + Between}
		if b.Width > width+Between {
			return Lay{Why: fmt.Sprintf("%s is %.0f mm wide with its allowances, wider than the cloth", cut.Piece, cut.size.Width())}
		}
		for i := range cut.Pieces {
			b.Mirrored = cut.Way == pattern.Pair && i%2 == 1
			boxes = append(boxes, b)
		}
		covered += float64(cut.Pieces) * (cut.Area + cut.Allowance)
	}
	return shortest(boxes, width, covered)
}

func shortest(boxes []Placed, width, covered float64) Lay {
	best := Lay{Width: width}
	if len(boxes) == 0 {
		return best
	}
	for _, key := range []func(Placed) float64{
		func(b Placed) float64 { return b.Height },
		func(b Placed) float64 { return b.Width * b.Height },
		func(b Placed) float64 { return b.Width },
	} {
		order := slices.Clone(boxes)
		slices.SortStableFunc(order, func(a, b Placed) int { return cmp.Compare(key(b), key(a)) })
		if length := settle(order, width+Between) - Between; best.Placed == nil || length < best.Length {
			best.Placed, best.Length = order, length
		}
	}
	area := best.Width * best.Length
	best.Filled = covered / area
	for _, b := range best.Placed {
		best.Boxed += (b.Width - Between) * (b.Height - Between) / area
	}
	return best
}

// step is a stretch of the front of what is laid: from X to the next one's, it is
// laid as far as Y.
type step struct{ x, y float64 }

// settle gives each box the place nearest to the beginning, furthest to the left
// of equal ones, and gives the length that all take.
func settle(boxes []Placed, width float64) (length float64) {
	front := []step{{0, 0}}
	for i := range boxes {
		b := &boxes[i]
		b.Y = math.Inf(1)
		for k := range front {
			if y, fits := rests(front, k, b.Width, width); fits && y < b.Y {
				b.X, b.Y = front[k].x, y
			}
		}
		front = covers(front, *b, width)
		length = max(length, b.Y+b.Height)
	}
	return length
}

// rests gives how far along a box comes to lie that begins at step k.
func rests(front []step, k int, w, width float64) (y float64, fits bool) {
	right := front[k].x + w
	if right > width+1e-9 {
		return 0, false
	}
	for ; k < len(front) && front[k].x < right-1e-9; k++ {
		y = max(y, front[k].y)
	}
	return y, true
}

// covers gives the front after a box was laid.
func covers(front []step, b Placed, width float64) []step {
	right := b.X + b.Width
	out := make([]step, 0, len(front)+2)
	under := 0.0 // how far it was laid where the box ends
	for _, s := range front {
		if s.x < b.X-1e-9 {
			out = append(out, s)
		}
		if s.x <= right+1e-9 {
			under = s.y
		}
	}
	out = append(out, step{b.X, b.Y + b.Height})
	if right < width-1e-9 {
		out = append(out, step{right, under})
	}
	for _, s := range front {
		if s.x > right+1e-9 {
			out = append(out, s)
		}
	}
	return out
}
