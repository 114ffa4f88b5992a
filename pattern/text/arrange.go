package text

import (
	"math"
	"reflect"

	"seamkeep/pattern"
)

// step is one record in the order of writing: a record of the file, one that
// is to be in it, or both.
type step struct {
	from *docUnit
	now  int // index in edit.now; -1 where the record goes
}

// apply writes the file with the new records in the places of the old ones.
func (e *edit) apply() []byte {
	t := &typist{}
	w := &editWriter{e: e, t: t, parts: map[part]bool{head: true}}
	for _, u := range e.was {
		w.parts[u.part] = true
	}
	t.leads(e.doc.version.leads, "")
	t.put(e.doc.version.raw)
	steps, placed := e.steps()
	before, after := e.placeFresh(placed)
	w.fresh(after[-1])
	for _, s := range steps {
		if s.now < 0 {
			w.gone(s.from)
			continue
		}
		w.fresh(before[s.now])
		w.write(s.now)
		w.fresh(after[s.now])
	}
	t.leads(e.doc.tail, "")
	return t.bytes()
}

// steps lists the records of the file in its order. Where corners and edges
// come in another order than before, the whole outline stands where its first
// record stood; placed holds what is in the list already.
func (e *edit) steps() (list []step, placed map[int]bool) {
	placed = map[int]bool{}
	inOrder := e.outlineInOrder()
	var ring []step
	for i, u := range e.now {
		if u.part == outline && !inOrder {
			ring = append(ring, step{e.from[i], i})
			placed[i] = true
		}
	}
	for _, u := range e.doc.units {
		i, kept := e.to[u]
		switch {
		case !kept:
			list = append(list, step{u, -1})
		case !placed[i]:
			list = append(list, step{u, i})
			placed[i] = true
		}
		if e.was[u.key].part == outline {
			list = append(list, ring...)
			ring = nil
		}
	}
	return list, placed
}

// outlineInOrder tells whether the corners and edges that stay come in the
// order of the file.
func (e *edit) outlineInOrder() bool {
	last := -1
	for _, u := range e.doc.units {
		if i, kept := e.to[u]; kept && e.now[i].part == outline {
			if i < last {
				return false
			}
			last = i
		}
	}
	return true
}

// placeFresh finds where new records go: after their predecessor in canonical
// order, -1 being the first record of the file; a corner or edge before the first
// of the outline goes before its successor.
func (e *edit) placeFresh(placed map[int]bool) (before, after map[int][]int) {
	before, after = map[int][]int{}, map[int][]int{}
	anchor := -1
	for i, u := range e.now {
		switch {
		case placed[i]:
			anchor = i
		case u.part == outline && (anchor < 0 || e.now[anchor].part != outline) && e.nextPlaced(i, placed) >= 0:
			next := e.nextPlaced(i, placed)
			before[next] = append(before[next], i)
		default:
			after[anchor] = append(after[anchor], i)
		}
	}
	return before, after
}

func (e *edit) nextPlaced(i int, placed map[int]bool) int {
	for ; i < len(e.now) && e.now[i].part == outline; i++ {
		if placed[i] {
			return i
		}
	}
	return -1
}

// editWriter writes the steps of an edit.
type editWriter struct {
	e     *edit
	t     *typist
	parts map[part]bool // blocks that the file has
}

// fresh writes new records; the first of a block has a blank line above it.
func (w *editWriter) fresh(list []int) {
	for _, i := range list {
		u := w.e.now[i]
		if !w.parts[u.part] {
			w.parts[u.part] = true
			w.t.gap()
		}
		w.t.fresh(u)
	}
}

// gone keeps the comments of a record that goes.
func (w *editWriter) gone(u *docUnit) {
	for _, l := range u.loose(0, false) {
		if l == "" {
			w.t.want = true
		} else {
			w.t.put(l)
		}
	}
}

// write writes a record: as it stood where it says the same, else line by line.
func (w *editWriter) write(i int) {
	from, now := w.e.from[i], w.e.now[i]
	switch {
	case from == nil:
		w.t.fresh(now)
	case w.e.same(i):
		for _, l := range from.lines {
			w.raw(l)
		}
	case len(w.e.was[from.key].lines) != len(from.lines):
		w.t.rewrite(from, now)
	default:
		w.lines(from, w.e.was[from.key].lines, now.lines)
	}
}

func (w *editWriter) raw(l docLine) {
	w.t.leads(l.leads, "")
	w.t.put(l.raw)
}

func (w *editWriter) lines(from *docUnit, was, now []string) {
	at := 0
	for _, h := range diffLines(was, now) {
		for range h.same {
			w.raw(from.lines[at])
			at++
		}
		for k, l := range h.added {
			if k < len(h.removed) {
				w.t.lines(from.lines[at+k], l)
			} else {
				w.t.put(l)
			}
		}
		at += len(h.removed)
		if extra := len(h.removed) - len(h.added); extra > 0 {
			lost := &docUnit{lines: from.lines[at-extra : at]}
			for _, c := range lost.loose(0, false) {
				if c != "" {
					w.t.put("  " + c)
				}
			}
		}
	}
}

// canonical writes the new records in canonical order with every comment.
func (e *edit) canonical(version string) []byte {
	t := &typist{tidy: true}
	t.lines(e.doc.version, version)
	for _, u := range e.doc.units {
		if _, kept := e.to[u]; !kept {
			t.leads(u.loose(0, false), "")
		}
	}
	for i, u := range e.now {
		if e.from[i] != nil {
			t.rewrite(e.from[i], u)
		} else {
			t.fresh(u)
		}
	}
	t.leads(e.doc.tail, "")
	return t.bytes()
}

// followOutline turns the outline of p so that it begins where old does, as
// far as it has the corner or edge: where a ring begins has no meaning.
func followOutline(old, p *pattern.Piece) *pattern.Piece {
	if len(p.Corners) != len(p.Edges) {
		return p
	}
	for i := range old.Corners {
		first := p.CornerIndex(old.Corners[i].Name)
		if first < 0 {
			first = p.EdgeIndex(old.Edges[i].Name)
		}
		if first < 0 {
			continue
		}
		turned := *p
		turned.Corners = append(append([]pattern.Corner(nil), p.Corners[first:]...), p.Corners[:first]...)
		turned.Edges = append(append([]pattern.Edge(nil), p.Edges[first:]...), p.Edges[:first]...)
		return &turned
	}
	return p
}

// roundNumbers rounds every number of a model to what its text says.
func roundNumbers(model any) { roundValue(reflect.ValueOf(model)) }

func roundValue(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			roundValue(v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			roundValue(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			roundValue(v.Field(i))
		}
	case reflect.Float64:
		if f := math.Round(float64(v.Float()*1000)) / 1000; v.CanSet() {
			v.SetFloat(f)
		}
	}
}
