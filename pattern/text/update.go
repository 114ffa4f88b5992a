package text

import (
	"errors"
	"fmt"

	"seamkeep/pattern"
)

// Update writes a model into the text that it was read from: a *pattern.Piece,
// *pattern.Garment (its file, not its pieces), *pattern.Body or *pattern.Fitting, as the
// ending of path says. Only lines that differ are rewritten; comments, blank lines,
// order and spacing of all others stay byte for byte. The comments of a removed record stay as
// lines of their own. Numbers are rounded to 0.001; lengths of edges are
// written as the model has them. An empty src gives the canonical text.
//
// The result is read again and compared with the model. An error says that src
// cannot be read or that the model says what no file can.
func Update(path string, src []byte, model any) ([]byte, error) {
	var out []byte
	err := errors.New("it is no model of a pattern file")
	switch m := model.(type) {
	case *pattern.Piece:
		out, err = update(pieceGrammar(), path, src, m)
	case *pattern.Garment:
		out, err = update(garmentGrammar(), path, src, m)
	case *pattern.Body:
		out, err = update(bodyGrammar(), path, src, m)
	case *pattern.Fitting:
		out, err = update(fittingGrammar(), path, src, m)
	}
	if err != nil {
		return nil, fmt.Errorf("write %T into %q: %w", model, path, err)
	}
	return out, nil
}

func update[M any](g grammar[M], path string, src []byte, m *M) ([]byte, error) {
	if m == nil || KindOf(path) != g.kind {
		return nil, fmt.Errorf("it needs a model and a .%s file", g.kind)
	}
	goal, err := rounded(g, path, m)
	if err != nil {
		return nil, err
	}
	if len(src) == 0 {
		return printModel(g, goal), nil
	}
	doc := &document{}
	old, problems, ok := read(g, path, src, doc)
	if !ok || problems.HasErrors() {
		return nil, fmt.Errorf("the file has to be mended first: %s: %s", problems[0].Place, problems[0].Message())
	}
	e := newEdit(doc, units(g, old), units(g, g.follow(old, goal)))
	if e.nothing() {
		return append([]byte(nil), src...), nil
	}
	if out := e.apply(); says(g, path, out, goal) {
		return out, nil
	}
	if out := e.canonical(versionText(g.kind)); says(g, path, out, goal) {
		return out, nil
	}
	return nil, errors.New("the text does not say what the model does")
}

// rounded gives the model as a file can say it.
func rounded[M any](g grammar[M], path string, m *M) (*M, error) {
	goal, problems, ok := read(g, path, printModel(g, m), nil)
	if !ok || problems.HasErrors() {
		return nil, fmt.Errorf("no file can say it: %s", problems[0].Message())
	}
	near := pattern.Clone(m)
	roundNumbers(near)
	if !g.equal(near, goal) {
		return nil, errors.New("no file can say it: it has another name, or parts that contradict each other")
	}
	return goal, nil
}

func says[M any](g grammar[M], path string, src []byte, goal *M) bool {
	m, problems, ok := read(g, path, src, nil)
	return ok && !problems.HasErrors() && g.equal(m, goal)
}

// edit is a file and the records that it is to hold.
type edit struct {
	doc  *document
	was  map[string]unit // the records that stand in the file, canonical, by key
	now  []unit
	from []*docUnit       // for each of now what it replaces; nil for a new record
	to   map[*docUnit]int // the reverse
}

func newEdit(doc *document, was, now []unit) *edit {
	e := &edit{doc: doc, was: map[string]unit{}, now: now, from: make([]*docUnit, len(now)), to: map[*docUnit]int{}}
	for _, u := range was {
		e.was[u.key] = u
	}
	old := doc.unitsByKey()
	for i, u := range now {
		if from := old[u.key]; from != nil {
			e.pair(i, from)
		}
	}
	e.pairRenamed()
	return e
}

func (e *edit) pair(i int, from *docUnit) { e.from[i], e.to[from] = from, i }

// pairRenamed pairs records that stand between the same neighbours of their
// kind, where they are as many as before.
func (e *edit) pairRenamed() {
	type gap struct{ kind, after string }
	last := map[string]string{}
	free := map[gap][]*docUnit{}
	for _, u := range e.doc.units {
		kind := e.was[u.key].kind
		if _, paired := e.to[u]; paired {
			last[kind] = u.key
		} else {
			free[gap{kind, last[kind]}] = append(free[gap{kind, last[kind]}], u)
		}
	}
	clear(last)
	fresh := map[gap][]int{}
	for i, u := range e.now {
		if e.from[i] != nil {
			last[u.kind] = u.key
		} else {
			fresh[gap{u.kind, last[u.kind]}] = append(fresh[gap{u.kind, last[u.kind]}], i)
		}
	}
	for at, list := range fresh {
		if olds := free[at]; len(olds) == len(list) {
			for k, i := range list {
				e.pair(i, olds[k])
			}
		}
	}
}

// same tells whether a record says what it said.
func (e *edit) same(i int) bool {
	if e.from[i] == nil {
		return false
	}
	was := e.was[e.from[i].key].lines
	if len(was) != len(e.now[i].lines) {
		return false
	}
	for k, l := range e.now[i].lines {
		if was[k] != l {
			return false
		}
	}
	return true
}

// nothing tells whether no record differs.
func (e *edit) nothing() bool {
	for i := range e.now {
		if !e.same(i) {
			return false
		}
	}
	return len(e.now) == len(e.doc.units) && e.outlineInOrder()
}
