package drawing

import (
	"fmt"
	"math"
	"sort"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// shortTick is the length in mm below which an unlabelled line may be a tick. 15
// mm: common practice, no source.
const shortTick = 15.0

// hair is what rounding does to a gap, mm.
const hair = 1e-6

const maxLinks = 500_000

// gap is a place where two ends nearly meet.
type gap struct {
	size float64
	a, b curve.Point // page mm
	x, y *line
}

// link is two ends of lines that may belong together.
type link struct {
	e, f int // 2*line, +1 for its end
	gap  float64
}

// bridge makes rings of lines whose ends nearly meet: at once where no gap is
// wider than is to be closed, or where the lines run over each other; the others
// are kept to be told of.
func (r *recogniser) bridge(lines []*line) {
	lines = withoutTicks(lines)
	links := r.links(lines)
	used, byLine := greedy(links)
	done := make([]bool, len(lines))
	for i := range lines {
		if done[i] {
			continue
		}
		s := walk(lines, used, done, i)
		closes := !s.open || closesItself(s)
		if tooSmall(s.path) {
			continue
		}
		s.torn = torn(s, byLine, r.opt.Snap)
		switch {
		case s.torn != nil:
			s.all = lines
			r.open = append(r.open, s)
			continue
		case !closes:
			continue
		case s.widest() > max(meets, r.opt.Snap)+hair:
			r.open = append(r.open, s)
			continue
		}
		s.close()
		r.addRing(s)
	}
}

// greedy joins the nearest ends first, and lists the links of each line.
func greedy(links []link) (used map[int]int, byLine map[int][]link) {
	used, byLine = map[int]int{}, map[int][]link{}
	for _, k := range links {
		byLine[k.e/2] = append(byLine[k.e/2], k)
		if k.e/2 != k.f/2 {
			byLine[k.f/2] = append(byLine[k.f/2], k)
		}
		_, taken1 := used[k.e]
		_, taken2 := used[k.f]
		if !taken1 && !taken2 {
			used[k.e], used[k.f] = k.f, k.e
		}
	}
	return used, byLine
}

// withoutTicks drops the short lines that touch another one where that has no
// end, or where two others end: marks that stand on an outline.
func withoutTicks(lines []*line) []*line {
	var out []*line
	for _, l := range lines {
		short := max(l.box.Width(), l.box.Height()) < shortTick && l.word.role == unsaid
		if short && len(lines) <= maxLoose && touchesMiddle(l, lines) {
			continue
		}
		out = append(out, l)
	}
	return out
}

func touchesMiddle(l *line, lines []*line) bool {
	for _, q := range []curve.Point{l.path.Start(), l.path.End()} {
		ends := 0
		for _, o := range lines {
			if o == l || !o.box.Grow(meets).Overlaps(curve.Box{Min: q, Max: q}) {
				continue
			}
			switch near := o.path.Nearest(q); {
			case near.Dist > meets:
			case q.Dist(o.path.Start()) <= nearlyShut || q.Dist(o.path.End()) <= nearlyShut:
				ends++
			default:
				return true
			}
		}
		if ends > 1 {
			return true
		}
	}
	return false
}

// links finds the ends that may belong together, nearest first.
func (r *recogniser) links(lines []*line) []link {
	reach := max(nearlyShut, r.opt.Snap)
	ends, root := sortedEnds(lines), meeting(lines)
	count := map[int]int{}
	for _, k := range root {
		count[k]++
	}
	var out []link
	for i, a := range ends {
		for j := i - 1; j >= 0 && j >= i-maxNear && a.at.X-ends[j].at.X <= reach+hair; j-- {
			b := ends[j]
			if root[a.end] == root[b.end] && count[root[a.end]] > 2 {
				continue // a branch: which belong together is not known
			}
			if d := a.at.Dist(b.at); d <= reach+hair && len(out) < maxLinks && (a.end/2 != b.end/2 || loops(lines[a.end/2].path)) {
				out = append(out, link{a.end, b.end, gapOf(lines, a.end, b.end, d, reach)})
			}
		}
	}
	out = append(out, overlaps(lines)...)
	sort.SliceStable(out, func(i, j int) bool { return out[i].gap < out[j].gap })
	return out
}

// gapOf is how far two ends are from each other; 0 where their lines cross
// there.
func gapOf(lines []*line, e, f int, dist, reach float64) float64 {
	if _, _, ok := trimmed(outward(lines[e/2].path, e%2 == 1), outward(lines[f/2].path, f%2 == 1).Reverse(), reach); ok {
		return 0
	}
	return dist
}

// outward is the segment that leads to an end of a path.
func outward(p curve.Path, end bool) curve.Segment {
	if end {
		return p[len(p)-1]
	}
	return p[0].Reverse()
}

// overlaps finds the straight ends that run along each other.
func overlaps(lines []*line) []link {
	if len(lines) > maxLoose/4 {
		return nil
	}
	var out []link
	for i := range lines {
		for j := range i {
			if !lines[i].box.Overlaps(lines[j].box) {
				continue
			}
			for _, e := range []int{2 * i, 2*i + 1} {
				for _, f := range []int{2 * j, 2*j + 1} {
					if overlap(outward(lines[i].path, e%2 == 1), outward(lines[j].path, f%2 == 1).Reverse()) {
						out = append(out, link{e, f, 0})
					}
				}
			}
		}
	}
	return out
}

// walk follows the links from line i to both ends, or all round.
func walk(lines []*line, used map[int]int, done []bool, i int) *strand {
	start := 2 * i
	for e, n := start, 0; n <= len(lines); n++ { // back to where the strand begins
		f, ok := used[e]
		if !ok {
			start = e
			break
		}
		if e = f ^ 1; e == start {
			break
		}
	}
	s := &strand{open: true}
	for e := start; ; {
		done[e/2] = true
		s.lines, s.numbers = append(s.lines, lines[e/2]), append(s.numbers, e/2)
		p := lines[e/2].path
		if e%2 == 1 {
			p = p.Reverse()
		}
		s.extend(p)
		f, ok := used[e^1]
		if !ok {
			break
		}
		s.gaps = append(s.gaps, gapBetween(lines, e^1, f))
		if e = f; e == start {
			s.open = false
			break
		}
	}
	return s
}

func gapBetween(lines []*line, e, f int) gap {
	x, y := lines[e/2], lines[f/2]
	a, b := endOf(x.path, e%2 == 1), endOf(y.path, f%2 == 1)
	return gap{size: gapOf(lines, e, f, a.Dist(b), max(nearlyShut, a.Dist(b))), a: a, b: b, x: x, y: y}
}

// closesItself tells whether the ends of a strand are so near to each other,
// for its length, that they were meant to meet, and notes the gap.
func closesItself(s *strand) bool {
	a, b := s.path.End(), s.path.Start()
	d := a.Dist(b)
	if d > max(nearlyShut, min(shutMost, shutPart*s.path.Length(0.1))) {
		return false
	}
	s.gaps = append(s.gaps, gap{size: d, a: a, b: b, x: s.lines[len(s.lines)-1], y: s.lines[0]})
	return true
}

func tooSmall(p curve.Path) bool {
	box := p.Bounds()
	return box.Width() < smallest && box.Height() < smallest || min(box.Width(), box.Height()) < nearlyShut
}

func (s *strand) widest() float64 {
	w := 0.0
	for _, g := range s.gaps {
		w = max(w, g.size)
	}
	return w
}

// torn finds an end of the strand that could be closed in two ways: two other
// ends within what is to be closed, the one not plainly nearer than the other.
func torn(s *strand, byLine map[int][]link, snap float64) *link {
	near := map[int]link{}
	for _, i := range s.numbers {
		for _, k := range byLine[i] { // nearest first
			for _, e := range []int{k.e, k.f} {
				if e/2 != i || k.gap > snap+hair {
					continue
				}
				first, twice := near[e]
				switch {
				case !twice:
					near[e] = k
				case first != k && first.gap > 0 && k.gap <= 2*first.gap+hair:
					return &link{k.e ^ k.f ^ e, first.e ^ first.f ^ e, k.gap}
				}
			}
		}
	}
	return nil
}

// askTorn asks to which of two ends a line is to be joined.
func (r *recogniser) askTorn(s *strand) {
	a, b := s.torn.e, s.torn.f
	r.askWhich([]*line{s.all[a/2], s.all[b/2], s.lines[0]}, endOf(s.all[a/2].path, a%2 == 1))
	for _, l := range s.lines {
		r.leave(l, "could be joined to others in more than one way")
	}
}

// tellGaps reports the gaps of outlines that are not shut.
func (r *recogniser) tellGaps(s *strand) {
	for _, g := range s.gaps {
		if g.size <= max(meets, r.opt.Snap)+hair {
			continue
		}
		size := fmt.Sprintf("%.3f mm", g.size)
		what := r.kind(g.x) + " is open by " + size
		if g.x != g.y {
			what = fmt.Sprintf("%s and %s miss each other by %s", r.kind(g.x), r.kind(g.y), size)
		}
		r.problem(g.x.place, diag.Error, "drawing.gap", "", what+", at "+onPage(g.a), "an outline without a gap",
			fmt.Sprintf("join the ends in the drawing program, or close gaps with --snap %g; a line that is no outline needs a label that says what it is", math.Ceil(g.size*10-hair)/10),
			diag.Related{Place: g.y.place, Text: "the other end lies at " + onPage(g.b)})
	}
	for _, l := range s.lines {
		r.leave(l, fmt.Sprintf("is part of an outline that is open by %.3f mm", s.widest()))
	}
}
