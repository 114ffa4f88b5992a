package drawing

import (
	"fmt"
	"sort"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// What makes lines one outline, in mm. Common practice, no source.
const (
	meets      = 0.05 // ends this close are one place
	nearlyShut = 1.0  // ends this close were meant to meet
	shutPart   = 0.02 // ends this part of the whole length apart, too,
	shutMost   = 10.0 // but no farther than this
	maxLoose   = 4_000
)

// strand is lines joined one after the other.
type strand struct {
	lines   []*line
	numbers []int // of the lines, among all
	all     []*line
	path    curve.Path
	gaps    []gap
	open    bool  // it has ends
	torn    *link // ends, of the lines in all, that could belong together as well
}

// join makes rings of the open lines that may be sides of an outline: first of
// those that lie in one layer or group, then of the others together.
func (r *recogniser) join() {
	byHome := map[[2]int][]*line{}
	var keys [][2]int
	for _, l := range r.lines {
		if l.closed || !mayBeSide(l.word.role) {
			continue
		}
		if max(l.box.Width(), l.box.Height()) <= meets {
			r.leave(l, "is a speck")
			continue
		}
		k := [2]int{sideClass(l), l.home.number}
		if byHome[k] == nil {
			keys = append(keys, k)
		}
		byHome[k] = append(byHome[k], l)
	}
	rest := [2][]*line{}
	for _, k := range keys {
		rest[k[0]] = append(rest[k[0]], r.joined(byHome[k])...)
	}
	for class := range rest {
		left := rest[class]
		sort.SliceStable(left, func(i, j int) bool { return left[i].items[0] < left[j].items[0] })
		r.bridge(r.joined(left))
	}
}

func mayBeSide(x role) bool { return x == unsaid || x == sewingRole || x == cutRole }

// sideClass keeps cut lines and other lines apart.
func sideClass(l *line) int {
	if l.word.role == cutRole {
		return 1
	}
	return 0
}

// joined makes rings of lines whose ends meet, and gives the lines that are
// left.
func (r *recogniser) joined(lines []*line) []*line {
	lines = r.once(lines)
	n := newNet(lines)
	n.prune()
	for _, k := range n.branches() {
		r.askBranch(n, k)
	}
	for _, s := range n.rings() {
		r.addRing(s)
	}
	var left []*line
	for _, l := range lines {
		if !l.done {
			left = append(left, l)
		}
	}
	return left
}

// once leaves lines that are drawn twice, one on the other.
func (r *recogniser) once(lines []*line) []*line {
	byBox := map[[4]int64][]*line{}
	var out []*line
	for _, l := range lines {
		k := boxKey(l.box)
		twin := (*line)(nil)
		for _, o := range byBox[k] {
			if len(byBox[k]) < 50 && twin == nil && sameLine(o.path, l.path) {
				twin = o
			}
		}
		if twin != nil {
			r.warn(l.place, "drawing.twice", "", r.kind(l)+" lies on another line like it", "each line once",
				"delete one of them in the drawing program", diag.Related{Place: twin.place, Text: "the other one"})
			r.leave(l, "lies on another line like it: that one was taken")
			continue
		}
		byBox[k] = append(byBox[k], l)
		out = append(out, l)
	}
	return out
}

func boxKey(b curve.Box) [4]int64 {
	q := func(v float64) int64 { return int64(v/0.01 + 0.5) }
	return [4]int64{q(b.Min.X), q(b.Min.Y), q(b.Max.X), q(b.Max.Y)}
}

// sameLine tells whether two lines run the same way, or each the other's way
// back, within 0.01 mm.
func sameLine(a, b curve.Path) bool {
	const within = 0.01
	return len(a) < 1000 && len(b) < 1000 && curve.Lies(a, b, within) && curve.Lies(b, a, within)
}

// addRing takes a ring in the place of the lines that it was joined of. It is
// called what the first of them is called, or what one of them is that is called
// the outline.
func (r *recogniser) addRing(s *strand) {
	first := 0
	for k, l := range s.lines {
		if l.items[0] < s.lines[first].items[0] {
			first = k
		}
	}
	lines := append(append([]*line(nil), s.lines[first:]...), s.lines[:first]...)
	ring := &line{place: lines[0].place, path: s.path, closed: true, word: lines[0].word, home: common(lines)}
	if len(lines) > 1 {
		ring.joined = len(lines)
	}
	for _, l := range lines {
		ring.items = append(ring.items, l.items...)
		l.done = true
		if l.word.role == sewingRole && ring.word.role != sewingRole {
			ring.word = l.word
		}
	}
	ring.measure()
	r.lines = append(r.lines, ring)
}

// common is the home of lines that lie in several: the layers that all share.
func common(lines []*line) *home {
	h := lines[0].home
	for _, l := range lines[1:] {
		if l.home == h {
			continue
		}
		n := 0
		for n < len(h.layers) && n < len(l.home.layers) && h.layers[n].ID == l.home.layers[n].ID && h.layers[n].Label == l.home.layers[n].Label {
			n++
		}
		h = homeOf(map[string]*home{}, h.layers[:n])
	}
	return h
}

// askBranch says that lines could be joined in more than one way.
func (r *recogniser) askBranch(n *net, k int) {
	at, lines := n.place(k), n.at(k)
	all := n.component(k)
	if len(all) == 0 {
		return // said at another place of the same lines
	}
	r.askWhich(lines, at)
	for _, l := range all {
		r.leave(l, "could be joined to others in more than one way")
	}
}

// askWhich says where ends meet that do not tell which belong together.
func (r *recogniser) askWhich(lines []*line, at curve.Point) {
	var rel []diag.Related
	seen := map[*line]bool{}
	for _, l := range lines {
		if !seen[l] && len(rel) < 6 {
			rel = append(rel, diag.Related{Place: l.place, Text: r.kind(l)})
			seen[l] = true
		}
	}
	r.fail(rel[0].Place, "drawing.join", "", fmt.Sprintf("%d ends of lines meet at %s, so that outlines could be joined in more than one way", len(lines), onPage(at)),
		"two ends at each corner of an outline",
		"put the lines of each piece into a layer or group of its own; give lines that belong to no outline a label; draw a line that two pieces share twice", rel...)
}

func onPage(p curve.Point) string {
	return fmt.Sprintf("%.3f mm from the left and %.3f from the top of the page", p.X, p.Y)
}
