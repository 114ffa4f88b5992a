package check

import (
	"fmt"
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// marks looks at the buttons, holes or eyelets that stand at the edge of a row. Where
// none stands, none is missed: they may be yet to be placed.
func (x fastening) marks(r measure.Row) diag.List {
	kinds := []pattern.MarkKind{pattern.Button, pattern.Buttonhole}
	switch x.c.Kind {
	case pattern.Lacing:
		kinds = []pattern.MarkKind{pattern.Eyelet}
	case pattern.HookClosure:
		return nil // a hook has no mark of its own
	}
	var out diag.List
	sides := map[string]pattern.MarkKind{}
	for _, kind := range kinds {
		list := r.Standing(kind, x.rivals[r.Piece.Name], false, x.in.Tol)
		if len(list) == 0 {
			continue
		}
		if off := x.halvesElsewhere(r, kind, list); len(off) > 0 {
			out = append(out, off...)
		} else if y, bad := x.wrongHalf(r, kind, list, sides); bad {
			out = append(out, y)
		}
		if y, bad := x.short(r, kind, list); bad {
			out = append(out, y)
		}
		if y, bad := x.far(r, kind, list); bad {
			out = append(out, y)
		}
		if y, bad := x.near(r, kind, list); bad {
			out = append(out, y)
		}
	}
	return out
}

// perHalf divides eyelets of which some are of one half only into those of the left
// half and those of the right one.
func perHalf(r measure.Row, kind pattern.MarkKind, list []measure.Standing) [][]measure.Standing {
	only := func(s measure.Standing) string { return r.Piece.Marks[s.Index].Only }
	if kind != pattern.Eyelet || !slices.ContainsFunc(list, func(s measure.Standing) bool { return only(s) != "" }) {
		return [][]measure.Standing{list}
	}
	var out [][]measure.Standing
	for _, other := range []string{string(pattern.RightHalf), string(pattern.LeftHalf)} {
		part := slices.DeleteFunc(slices.Clone(list), func(s measure.Standing) bool { return only(s) == other })
		if len(part) > 0 {
			out = append(out, part)
		}
	}
	return out
}

// markPart is how bad a finding is at one mark of a row.
func markPart(r measure.Row, s measure.Standing, amount float64) diag.Part {
	return diag.Part{At: r.Piece.Name + "." + r.Piece.Marks[s.Index].Name, Amount: amount}
}

func (x fastening) markProblem(id string, r measure.Row, m *pattern.Mark, amount float64) diag.Problem {
	y := x.problem(id, amount)
	y.Place = onPiece(m.Place, r.Piece, r.Piece.Edges[r.Edge].Name).Point(m.At.X, m.At.Y)
	return y
}

// paired puts marks to the places of a row: in their order along the edge, and where a
// mark then misses its place by more than a limit, changed with another one if both
// together miss less. In a hollow of the edge what stands inside it comes in another
// order.
func (x fastening) paired(r measure.Row, list []measure.Standing, limit float64) []measure.Standing {
	const most = 50 // where so many miss, no two have changed places
	out, missed := slices.Clone(list), []int{}
	off := func(mark, place int) float64 { return r.Off(out[mark], place, x.inset(), x.in.Tol) }
	for k := range out {
		if off(k, k) > limit+slack {
			missed = append(missed, k)
		}
	}
	if len(missed) > most {
		return list
	}
	for _, k := range missed {
		for other := range out {
			if off(other, k)+off(k, other) < off(k, k)+off(other, other)-slack {
				out[k], out[other] = out[other], out[k]
			}
		}
	}
	return out
}

// halvesElsewhere is elsewhere of each half.
func (x fastening) halvesElsewhere(r measure.Row, kind pattern.MarkKind, list []measure.Standing) diag.List {
	var out diag.List
	for _, part := range perHalf(r, kind, list) {
		if y, bad := x.elsewhere(r, kind, part); bad {
			out = append(out, y)
		}
	}
	return out
}

// elsewhere tells marks of another number than recorded, or at other places; the
// tolerance is that of notches.
func (x fastening) elsewhere(r measure.Row, kind pattern.MarkKind, list []measure.Standing) (diag.Problem, bool) {
	first := &r.Piece.Marks[list[0].Index]
	if len(list) != len(r.At) && x.unequal {
		return diag.Problem{}, false // that they are not as many on both halves says more
	}
	if len(list) != len(r.At) {
		y := x.markProblem("closure.marks", r, first, math.Abs(float64(len(list)-len(r.At))))
		y.AddPart(r.Name()+"."+string(kind), y.Amount)
		y.Found = fmt.Sprintf("%d of the %ss of %s stand on %s", len(list), kind, x.c.Name, r.Name())
		y.Expected = fmt.Sprintf("%d, as the garment file records", len(r.At))
		y.Hint = x.place()
		return y, true
	}
	limit := x.in.Garment.ToleranceOf("notch")
	worst, off := 0, 0.0
	var parts []diag.Part
	list = x.paired(r, list, limit)
	for k, s := range list {
		d := r.Off(s, k, x.inset(), x.in.Tol)
		if d > limit+slack {
			parts = append(parts, markPart(r, s, d))
		}
		if d > off {
			worst, off = k, d
		}
	}
	if len(parts) == 0 {
		return diag.Problem{}, false
	}
	m := &r.Piece.Marks[list[worst].Index]
	want := r.Point(worst, x.inset().Or(list[worst].Away), x.in.Tol)
	y := x.markProblem("closure.marks", r, m, off)
	y.Found = fmt.Sprintf("%s %s of %s stands %.1f from where the records have it, %.1f %.1f", kind, m.Name, r.Piece.Name, off, want.X, want.Y)
	joinParts(&y, parts)
	if len(parts) > 1 {
		y.Found += fmt.Sprintf("; %d of %d are off", len(parts), len(list))
	}
	y.Expected = fmt.Sprintf("at most %g", limit)
	y.Hint = x.place()
	return y, true
}

func (x fastening) place() string {
	return fmt.Sprintf("seamkeep place %s %s; or write in the garment file what you want", measure.WordOf(x.c), x.c.Name)
}

// inset is how far inside the edge the marks stand, where the records tell.
func (x fastening) inset() pattern.Opt {
	if x.c.Kind == pattern.Lacing || !(x.c.Overlap.Value > 0) {
		return pattern.Opt{}
	}
	return pattern.Some(x.c.Overlap.Value / 2)
}

// wrongHalf tells buttons and holes that lie on the same half.
func (x fastening) wrongHalf(r measure.Row, kind pattern.MarkKind, list []measure.Standing, sides map[string]pattern.MarkKind) (diag.Problem, bool) {
	if kind == pattern.Eyelet || len(x.c.Edges) > 1 {
		return diag.Problem{}, false
	}
	for _, s := range list {
		m := &r.Piece.Marks[s.Index]
		other, taken := sides[m.Only]
		if m.Only == "" || taken && other != kind {
			y := x.markProblem("closure.side", r, m, float64(len(list)))
			y.Found = fmt.Sprintf("%s %s of %s stands on the half that has the %ss too", kind, m.Name, r.Piece.Name, otherKind(kind))
			if m.Only == "" {
				y.Found = fmt.Sprintf("%s %s of %s stands on both halves", kind, m.Name, r.Piece.Name)
			}
			y.Expected = "buttons on one half and their holes on the other: left only, right only"
			y.Hint = x.place()
			return y, true
		}
		sides[m.Only] = kind
	}
	return diag.Problem{}, false
}

func otherKind(k pattern.MarkKind) pattern.MarkKind {
	if k == pattern.Button {
		return pattern.Buttonhole
	}
	return pattern.Button
}

// short tells buttonholes through which the button does not go.
func (x fastening) short(r measure.Row, kind pattern.MarkKind, list []measure.Standing) (diag.Problem, bool) {
	if kind != pattern.Buttonhole || !x.f.Diameter.Set {
		return diag.Problem{}, false
	}
	needs := x.f.Diameter.Value + x.f.Thickness.Or(0)
	var worst *pattern.Mark
	var parts []diag.Part
	for _, s := range list {
		m := &r.Piece.Marks[s.Index]
		if !m.Length.Set || m.Length.Value >= needs-slack {
			continue
		}
		parts = append(parts, markPart(r, s, needs-m.Length.Value))
		if worst == nil || m.Length.Value < worst.Length.Value {
			worst = m
		}
	}
	if worst == nil {
		return diag.Problem{}, false
	}
	y := x.markProblem("closure.hole", r, worst, needs-worst.Length.Value)
	y.Found = fmt.Sprintf("buttonhole %s of %s is %g long, for a button of %g", worst.Name, r.Piece.Name, worst.Length.Value, x.f.Diameter.Value)
	joinParts(&y, parts)
	if len(parts) > 1 {
		y.Found += fmt.Sprintf("; %d are too short", len(parts))
	}
	y.Expected = fmt.Sprintf("diameter and thickness together, %g", pattern.RoundLength(measure.HoleLength(x.f.Diameter.Value, x.f.Thickness)))
	y.Hint = x.place()
	return y, true
}

// far tells eyelets that stand far from the edge: it gapes between them.
func (x fastening) far(r measure.Row, kind pattern.MarkKind, list []measure.Standing) (diag.Problem, bool) {
	if kind != pattern.Eyelet {
		return diag.Problem{}, false
	}
	worst := list[0]
	var parts []diag.Part
	for _, s := range list {
		if s.Away > worst.Away {
			worst = s
		}
		if s.Away > measure.EyeletReach+slack {
			parts = append(parts, markPart(r, s, s.Away-measure.EyeletReach))
		}
	}
	if worst.Away <= measure.EyeletReach+slack {
		return diag.Problem{}, false
	}
	m := &r.Piece.Marks[worst.Index]
	y := x.markProblem("closure.far", r, m, worst.Away-measure.EyeletReach)
	joinParts(&y, parts)
	y.Found = fmt.Sprintf("eyelet %s of %s stands %.1f from %s", m.Name, r.Piece.Name, worst.Away, r.Name())
	y.Expected = fmt.Sprintf("at most %g from the edge", measure.EyeletReach)
	y.Hint = fmt.Sprintf("seamkeep place eyelets %s --inset 12", x.c.Name)
	return y, true
}

// near tells eyelets with too little cloth between them and the edge; those outside it
// are found as marks outside.
func (x fastening) near(r measure.Row, kind pattern.MarkKind, list []measure.Standing) (diag.Problem, bool) {
	if kind != pattern.Eyelet {
		return diag.Problem{}, false
	}
	const hair = 2 * pattern.Grid // places are rounded to it
	var worst *pattern.Mark
	off, away := 0.0, 0.0
	var parts []diag.Part
	for _, s := range list {
		m := &r.Piece.Marks[s.Index]
		d := m.Diameter
		if !d.Set {
			d = x.f.Diameter
		}
		lacks := measure.EyeletRoom(d) - s.Away
		if s.Outside && s.Away > onLine || lacks <= hair {
			continue
		}
		parts = append(parts, markPart(r, s, lacks))
		if lacks > off {
			worst, off, away = m, lacks, s.Away
		}
	}
	if worst == nil {
		return diag.Problem{}, false
	}
	y := x.markProblem("closure.near", r, worst, off)
	y.Found = fmt.Sprintf("eyelet %s of %s stands %.1f from %s", worst.Name, r.Piece.Name, away, r.Name())
	joinParts(&y, parts)
	if len(parts) > 1 {
		y.Found += fmt.Sprintf("; %d stand too near to it", len(parts))
	}
	y.Expected = fmt.Sprintf("at least %g: half its diameter and %g of cloth", pattern.RoundLength(away+off), measure.EyeletClear)
	y.Hint = "seamkeep place eyelets " + x.c.Name
	return y, true
}
