package drawing

import (
	"sort"

	"seamkeep/pattern/curve"
)

// net is lines and the places where their ends meet.
type net struct {
	lines []*line
	ends  [][2]int // of each line, the numbers of the places of its start and its end
	nodes [][]int  // of each place, the ends that meet there: 2*line, +1 for its end
	off   []bool   // lines that cannot be part of a ring
	count []int    // of each place, the ends of the other lines
	asked []bool   // places that are branches
}

// newNet finds which ends meet, within meets.
func newNet(lines []*line) *net {
	n := &net{lines: lines, ends: make([][2]int, len(lines)), off: make([]bool, len(lines))}
	root := meeting(lines)
	number := map[int]int{}
	for e := range root {
		k, ok := number[root[e]]
		if !ok {
			k = len(n.nodes)
			number[root[e]] = k
			n.nodes = append(n.nodes, nil)
			n.count = append(n.count, 0)
		}
		n.nodes[k] = append(n.nodes[k], e)
		n.ends[e/2][e%2] = k
		n.count[k]++
	}
	n.asked = make([]bool, len(n.nodes))
	return n
}

// meeting gives each end (2*line, +1 for its end) the number of one end of those
// that meet there.
func meeting(lines []*line) []int {
	ends := sortedEnds(lines)
	root := make([]int, len(ends))
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for i, a := range ends {
		for j := i - 1; j >= 0 && j >= i-maxNear && a.at.X-ends[j].at.X <= meets; j-- {
			if a.at.Dist(ends[j].at) <= meets {
				root[find(a.end)] = find(ends[j].end)
			}
		}
	}
	for e := range root {
		root[e] = find(e)
	}
	return root
}

// maxNear is how many neighbours of an end are looked at.
const maxNear = 64

// ending is an end of a line, and where it lies.
type ending struct {
	end int
	at  curve.Point
}

// sortedEnds gives the ends of lines from left to right.
func sortedEnds(lines []*line) []ending {
	ends := make([]ending, 2*len(lines))
	for e := range ends {
		ends[e] = ending{e, endOf(lines[e/2].path, e%2 == 1)}
	}
	sort.Slice(ends, func(i, j int) bool {
		a, b := ends[i], ends[j]
		if a.at.X != b.at.X {
			return a.at.X < b.at.X
		}
		if a.at.Y != b.at.Y {
			return a.at.Y < b.at.Y
		}
		return a.end < b.end
	})
	return ends
}

func endOf(p curve.Path, end bool) curve.Point {
	if end {
		return p.End()
	}
	return p.Start()
}

// live gives the ends at a place of lines that may still be part of a ring.
func (n *net) live(k int) []int {
	var out []int
	for _, e := range n.nodes[k] {
		if !n.off[e/2] {
			out = append(out, e)
		}
	}
	return out
}

// prune takes away the lines that lead nowhere: one of their ends meets nothing,
// or only such lines.
func (n *net) prune() {
	var loose []int
	for k := range n.nodes {
		if n.count[k] == 1 {
			loose = append(loose, k)
		}
	}
	for len(loose) > 0 {
		k := loose[len(loose)-1]
		loose = loose[:len(loose)-1]
		if n.count[k] != 1 {
			continue
		}
		i := n.live(k)[0] / 2
		n.off[i] = true
		for _, k := range n.ends[i] {
			if n.count[k]--; n.count[k] == 1 {
				loose = append(loose, k)
			}
		}
	}
}

// branches lists the places at which more than two ends meet.
func (n *net) branches() []int {
	var out []int
	for k := range n.nodes {
		if n.count[k] > 2 {
			out = append(out, k)
		}
	}
	return out
}

// at gives the lines at a place; a line both of whose ends are there twice.
func (n *net) at(k int) []*line {
	var out []*line
	for _, e := range n.live(k) {
		out = append(out, n.lines[e/2])
	}
	return out
}

// place is the middle of the ends that meet.
func (n *net) place(k int) curve.Point {
	var sum curve.Point
	for _, e := range n.nodes[k] {
		sum = sum.Add(endOf(n.lines[e/2].path, e%2 == 1))
	}
	return sum.Mul(1 / float64(len(n.nodes[k])))
}

// component gives the lines that hang together with a place.
func (n *net) component(k int) []*line {
	var out []*line
	for stack := []int{k}; len(stack) > 0; {
		k, stack = stack[len(stack)-1], stack[:len(stack)-1]
		if n.asked[k] {
			continue
		}
		n.asked[k] = true
		for _, e := range n.live(k) {
			out = append(out, n.lines[e/2])
			stack = append(stack, n.ends[e/2][0], n.ends[e/2][1])
		}
	}
	return out
}

// rings walks the lines that close, in the order in which they were drawn.
func (n *net) rings() []*strand {
	var out []*strand
	for i, l := range n.lines {
		if n.off[i] || l.done {
			continue
		}
		s := &strand{}
		for e := 2 * i; !n.off[e/2]; {
			s.add(n.lines[e/2], e%2 == 1)
			n.off[e/2] = true
			for _, f := range n.nodes[n.ends[e/2][1-e%2]] {
				if f/2 != e/2 && !n.off[f/2] {
					e = f
					break
				}
			}
		}
		s.close()
		out = append(out, s)
	}
	return out
}

// add walks on along a line, backwards if so told.
func (s *strand) add(l *line, backwards bool) {
	p := l.path
	if backwards {
		p = p.Reverse()
	}
	s.lines = append(s.lines, l)
	s.extend(p)
}

func (s *strand) extend(p curve.Path) {
	p = append(curve.Path(nil), p...)
	if n := len(s.path); n > 0 {
		s.path[n-1], p[0] = meet(s.path[n-1], p[0])
	}
	s.path = append(s.path, p...)
}

func (s *strand) close() {
	n := len(s.path) - 1
	s.path[n], s.path[0] = meet(s.path[n], s.path[0])
}
