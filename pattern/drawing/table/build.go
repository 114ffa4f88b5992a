package table

import (
	"fmt"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// lengthError is that of the lengths that the pieces record, before rounding, mm.
const lengthError = 1e-6

// build makes the levels and the pieces.
func (r *reader) build() {
	sort.SliceStable(r.groups, func(i, j int) bool {
		a, b := r.groups[i].place, r.groups[j].place
		return a.Line < b.Line || a.Line == b.Line && a.Column < b.Column
	})
	r.levels()
	for _, g := range r.groups {
		if r.sound(g) {
			r.table.Pieces = append(r.table.Pieces, g.piece())
		}
	}
}

// isEnd tells whether a level is the end of its piece only.
func isEnd(name string) bool { return name == "top" || name == "hem" }

// levels collects the levels, which lie at one height on all pieces.
func (r *reader) levels() {
	first := map[string]row{}
	for _, g := range r.groups {
		for _, w := range g.rows {
			if w.name == "" || isEnd(w.name) {
				continue
			}
			was, seen := first[w.name]
			if !seen {
				first[w.name] = w
				r.table.Levels = append(r.table.Levels, pattern.Level{Place: w.place, Name: w.name, Y: w.height})
				continue
			}
			if !near(was.height, w.height) {
				r.add(diag.Problem{ID: "table.level", Severity: diag.Error, Place: w.place, Subject: w.name,
					Found:    fmt.Sprintf("level %s lies at %s mm here and at %s mm in line %d", w.name, plain(w.height), plain(was.height), was.place.Line),
					Expected: "one height for a level: it is measured on the body",
					Hint:     "a piece's own ends are called top and hem; a height without a level's name may be any",
					Related:  related(was.place, "its first height")})
			}
		}
	}
	if w, ok := first["waist"]; ok && !near(w.height, 0) {
		r.failRow(w, "table.waist", fmt.Sprintf("the waist lies at %s mm", plain(w.height)), "0: heights are measured from the waist", "")
	}
}

// sound tells whether the rows of a piece make an outline; they are then in
// order, the highest first.
func (r *reader) sound(g *group) bool {
	before := len(r.problems)
	sort.SliceStable(g.rows, func(i, j int) bool { return g.rows[i].height > g.rows[j].height })
	fronts := 0
	for i, w := range g.rows {
		if w.front.Set {
			fronts++
		}
		if i > 0 && near(w.height, g.rows[i-1].height) {
			r.add(diag.Problem{ID: "table.height", Severity: diag.Error, Place: w.place, Subject: g.name,
				Found: fmt.Sprintf("piece %s has the height %s mm twice", g.name, plain(w.height)), Expected: "one row for each height",
				Related: related(g.rows[i-1].place, "the other row")})
		}
		r.ends(g, i)
	}
	if n := len(g.rows); n < 2 || g.rows[0].height-g.rows[n-1].height < Narrowest {
		r.add(diag.Problem{ID: "table.height", Severity: diag.Error, Place: g.place, Subject: g.name,
			Found: fmt.Sprintf("piece %s has no height", g.name), Expected: "at least two rows, one for its top and one for its hem"})
	}
	if fronts > 0 && fronts < len(g.rows) {
		r.add(diag.Problem{ID: "table.front", Severity: diag.Error, Place: g.place, Subject: g.name,
			Found: fmt.Sprintf("piece %s has a front in %d of its %d rows", g.name, fronts, len(g.rows)), Expected: "one in each row, or in none"})
	}
	if len(r.problems) > before {
		return false
	}
	if top := g.rows[0]; top.name != "" && !isEnd(top.name) {
		r.add(diag.Problem{ID: "table.top", Severity: diag.Warning, Place: top.place, Subject: g.name,
			Found:    fmt.Sprintf("piece %s ends at level %s: it has no cloth above it, so no width of it counts there", g.name, top.name),
			Expected: "a row above it, with the level top",
			Hint:     "leave it so where the garment ends at that level"})
	}
	return true
}

// ends reports a top or a hem that is not at its end of the piece.
func (r *reader) ends(g *group, i int) {
	w := g.rows[i]
	if w.name == "top" && i > 0 || w.name == "hem" && i < len(g.rows)-1 {
		r.add(diag.Problem{ID: "table.end", Severity: diag.Error, Place: w.place, Subject: g.name,
			Found: fmt.Sprintf("the %s of piece %s is not its outermost height", w.name, g.name), Expected: "the top above and the hem below all other rows"})
	}
}

// piece draws the outline, the rows being in order and sound.
func (g *group) piece() *pattern.Piece {
	n := len(g.rows)
	front, back := make([]curve.Point, n), make([]curve.Point, n)
	for i, w := range g.rows { // from the top down
		x := w.front.Or(pattern.RoundLength(-w.width / 2))
		front[i] = curve.Pt(x, w.height)
		back[n-1-i] = curve.Pt(pattern.RoundLength(x+w.width), w.height)
	}
	p := &pattern.Piece{Name: g.name, Title: g.title, Place: g.place,
		Corners: []pattern.Corner{
			{Name: "top-front", At: front[0]}, {Name: "hem-front", At: front[n-1]},
			{Name: "hem-back", At: back[0]}, {Name: "top-back", At: back[n-1]},
		},
		Edges: []pattern.Edge{{Name: "front", Segs: through(front)}, {Name: "hem"}, {Name: "back", Segs: through(back)}, {Name: "top"}},
	}
	p.Place.Piece = g.name
	for i := range p.Edges {
		p.Edges[i].Length = pattern.Some(pattern.RoundLength(p.EdgePath(i).Length(lengthError)))
	}
	return p
}

// through gives the lines of an edge through points, the ends being corners.
func through(pts []curve.Point) []pattern.Seg {
	var path curve.Path
	for i := 1; i < len(pts); i++ {
		path = append(path, curve.Line(pts[i-1], pts[i]))
	}
	return pattern.SegsOf(path)
}
