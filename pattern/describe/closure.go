package describe

import (
	"fmt"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

// proposeClosures asks how the garment opens at the ends of its order that
// nothing is sewn to. Only the maker knows: a half may have a seam there too,
// sewn to its own mirror image, or a fold.
func (d *draft) proposeClosures() {
	if len(d.order) == 0 {
		return
	}
	first, last := d.order[0], d.order[len(d.order)-1]
	if d.g.Half == pattern.Whole {
		if d.opens(first.front) && d.opens(last.back) && first != last {
			d.askClosure("front", first.front.refs()[0], last.back.refs()[0])
		}
		return
	}
	if d.opens(first.front) {
		d.askClosure("front", first.front.refs()[0])
	}
	if d.opens(last.back) {
		d.askClosure("back", last.back.refs()[0])
	}
}

// opens tells whether a side is one edge that is in no seam, no closure and on no
// fold.
func (d *draft) opens(s side) bool {
	if len(s.edges) != 1 {
		return false
	}
	_, bound := d.sewn()
	for _, c := range d.g.Closures {
		for _, r := range c.Edges {
			bound[key(r)] = true
		}
	}
	for _, c := range s.piece.Cloths {
		if c.Cut == pattern.OnFold {
			bound[s.piece.Name+"."+c.Fold.Name] = true
		}
	}
	return !isBound(bound, s)
}

func (d *draft) askClosure(name string, refs ...pattern.Ref) {
	name = free(name, func(n string) bool { return d.g.Closure(n) != nil })
	where := refs[0].String()
	if len(refs) > 1 {
		where += " to " + refs[1].String()
	}
	p, i, _ := d.g.Edge(refs[0])
	length := p.EdgePath(i).Length(measure.Accuracy)
	var list []Proposal
	for _, kind := range []string{pattern.Lacing, pattern.ButtonClosure} {
		list = append(list, Proposal{
			Kind: OfClosure, Sentence: fmt.Sprintf("closure %s %s at %s, %.1f long, which nothing is sewn to", name, kind, where, length),
			Edges: refs, Change: Change{Closure: &pattern.Closure{Name: name, Kind: kind, Edges: append([]pattern.Ref{}, refs...)}},
		})
	}
	d.ask(list...)
}
