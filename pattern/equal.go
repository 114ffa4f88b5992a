package pattern

import (
	"reflect"
	"sort"

	"seamkeep/pattern/diag"
)

// Equal tells whether two garments say the same. Places do not matter, nor
// does the order of records where it has no meaning, nor at which corner an
// outline begins. Two nil garments are equal.
func Equal(a, b *Garment) bool {
	if a == nil || b == nil {
		return a == b
	}
	return reflect.DeepEqual(plainGarment(a), plainGarment(b))
}

// EqualPieces tells whether two pieces say the same; see Equal. A piece that two
// versions share, as a loader gives it, costs nothing.
func EqualPieces(a, b *Piece) bool {
	if a == nil || b == nil || a == b {
		return a == b
	}
	return reflect.DeepEqual(plainPiece(a), plainPiece(b))
}

// EqualBodies tells whether two bodies say the same; see Equal.
func EqualBodies(a, b *Body) bool {
	if a == nil || b == nil {
		return a == b
	}
	x, y := Clone(a), Clone(b)
	clearPlaces(reflect.ValueOf(x))
	clearPlaces(reflect.ValueOf(y))
	for _, list := range [][]LevelNum{x.Girths, y.Girths, x.Moves, y.Moves} {
		sortBy(list, func(n LevelNum) string { return n.Level })
	}
	return reflect.DeepEqual(x, y)
}

// Same tells whether two records, or lists of records, say the same wherever
// they stand. nil is no record.
func Same(a, b any) bool { return same(reflect.ValueOf(a), reflect.ValueOf(b)) }

// same compares without copying. An empty list and no list say the same, and
// what two versions share is not looked into.
func same(a, b reflect.Value) bool {
	if !a.IsValid() || !b.IsValid() { // no record at all
		return a.IsValid() == b.IsValid()
	}
	if a.Type() != b.Type() {
		return false
	}
	if a.Type() == placeType {
		return true
	}
	switch a.Kind() {
	case reflect.Pointer:
		if a.IsNil() || b.IsNil() || a.Pointer() == b.Pointer() {
			return a.Pointer() == b.Pointer()
		}
		return same(a.Elem(), b.Elem())
	case reflect.Slice:
		if a.Len() != b.Len() {
			return false
		}
		if a.Pointer() == b.Pointer() {
			return true
		}
		for i := range a.Len() {
			if !same(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Struct:
		for i := range a.NumField() {
			if !same(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	}
	return a.Equal(b)
}

// Clone copies a model value deeply, so that an alteration can change the copy.
func Clone[T any](v *T) *T {
	if v == nil {
		return nil
	}
	return deepCopy(reflect.ValueOf(v)).Interface().(*T)
}

func plainGarment(g *Garment) *Garment {
	c := Clone(g)
	clearPlaces(reflect.ValueOf(c))
	sortBy(c.Tolerances, func(t Tolerance) string { return t.Kind })
	sortBy(c.Levels, func(l Level) string { return l.Name })
	sortBy(c.Options, func(o PieceOption) string { return o.Piece })
	for _, l := range [][]LevelNum{c.Cords, c.Reduce, c.Calibrate} {
		sortBy(l, func(n LevelNum) string { return n.Level })
	}
	sortBy(c.Seams, func(s Seam) string { return s.Name })
	for i := range c.Seams {
		sortBy(c.Seams[i].Eases, func(e Ease) string { return e.From + " " + e.To })
	}
	sortBy(c.Runs, func(r Run) string { return r.Name })
	sortBy(c.Closures, func(x Closure) string { return x.Name })
	sortBy(c.Buttons, func(f Fastening) string { return f.Closure })
	sortBy(c.Eyelets, func(f Fastening) string { return f.Closure })
	sortBy(c.Hooks, func(f Fastening) string { return f.Closure })
	sortBy(c.Wanted, func(w Wanted) string { return w.Closure + " " + w.Level })
	sortBy(c.Allowances, func(a Allowance) string { return a.Target.String() })
	sortBy(c.Joins, func(j Join) string { return j.Target.String() })
	sortBy(c.Clearances, func(x Clearance) string { return x.Kind })
	sortBy(c.Accepted, Accepted.Address)
	for i := range c.Accepted {
		sortBy(c.Accepted[i].Parts, func(p diag.Part) string { return p.At })
	}
	sortBy(c.Pieces, func(p *Piece) string { return p.Name })
	for i, p := range c.Pieces {
		c.Pieces[i] = plainPiece(p)
	}
	return c
}

func plainPiece(p *Piece) *Piece {
	c := Clone(p)
	clearPlaces(reflect.ValueOf(c))
	sortBy(c.Cloths, func(x Cloth) string { return x.Name })
	sortBy(c.Levels, func(l Level) string { return l.Name })
	sortBy(c.Notches, func(n Notch) string { return n.Edge.Name + " " + n.Name })
	sortBy(c.Marks, func(m Mark) string { return string(m.Kind) + " " + m.Name })
	for i := range c.Edges {
		if s := c.Edges[i].Segs; len(s) == 1 && !s[0].Curve {
			c.Edges[i].Segs = nil // one line to the corner says what no segment says
		}
	}
	if len(c.Corners) == len(c.Edges) && len(c.Corners) > 0 {
		first := 0
		for i := range c.Corners {
			if c.Corners[i].Name < c.Corners[first].Name {
				first = i
			}
		}
		c.Corners = append(c.Corners[first:len(c.Corners):len(c.Corners)], c.Corners[:first]...)
		c.Edges = append(c.Edges[first:len(c.Edges):len(c.Edges)], c.Edges[:first]...)
	}
	return c
}

func sortBy[T any](list []T, key func(T) string) {
	sort.SliceStable(list, func(i, j int) bool { return key(list[i]) < key(list[j]) })
}

var placeType = reflect.TypeOf(diag.Place{})

func clearPlaces(v reflect.Value) {
	if v.Type() == placeType {
		v.SetZero()
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			clearPlaces(v.Elem())
		}
	case reflect.Slice:
		if v.Len() == 0 {
			v.SetZero() // an empty list and no list say the same
		}
		for i := range v.Len() {
			clearPlaces(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			clearPlaces(v.Field(i))
		}
	}
}

func deepCopy(v reflect.Value) reflect.Value {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return v
		}
		c := reflect.New(v.Type().Elem())
		c.Elem().Set(deepCopy(v.Elem()))
		return c
	case reflect.Slice:
		if v.IsNil() {
			return v
		}
		c := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		for i := range v.Len() {
			c.Index(i).Set(deepCopy(v.Index(i)))
		}
		return c
	case reflect.Struct:
		c := reflect.New(v.Type()).Elem()
		for i := range v.NumField() {
			c.Field(i).Set(deepCopy(v.Field(i)))
		}
		return c
	}
	return v
}
