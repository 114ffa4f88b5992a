package again

import (
	"math"
	"sort"

	"seamkeep/pattern/curve"
)

// plan says where the corners of the next version stand on the drawn ring, which
// lies on the piece by now.
type plan struct {
	k     *kept
	l     *loop
	at    []float64 // of each old corner
	fate  []fate
	added []float64 // new corners
	cost  float64   // of the placing, to compare ways to begin
}

// fate is what became of an old corner.
type fate int

const (
	unknown fate = iota
	stands       // where it stood, within the noise
	moved        // to a joint of the ring
	slid         // to the same part of the way between its neighbours
	gone
)

func newPlan(k *kept, l *loop, lays laid) *plan {
	p := &plan{k: k, l: l, at: make([]float64, len(k.paths)), fate: make([]fate, len(k.paths))}
	p.pin(lays)
	anchors := p.anchors()
	if len(anchors) == 0 {
		return p.fromAnywhere()
	}
	for n, i := range anchors {
		p.between(i, anchors[(n+1)%len(anchors)])
	}
	return p
}

func (p *plan) anchors() []int {
	var out []int
	for i, f := range p.fate {
		if f != unknown {
			out = append(out, i)
		}
	}
	return out
}

// pin sets the corners of the edges that lie on the ring, in so far as they
// follow each other there as on the piece: the longest edge leads.
func (p *plan) pin(lays laid) {
	first := -1
	for i, on := range lays.on {
		if on && (first < 0 || p.k.lengths[i] > p.k.lengths[first]) {
			first = i
		}
	}
	if first < 0 {
		return
	}
	reached := 0.0
	for n := range lays.on {
		i := (first + n) % len(lays.on)
		if !lays.on[i] {
			continue
		}
		begins := p.l.ahead(lays.from[first], lays.from[i])
		span := p.l.ahead(lays.from[i], lays.to[i])
		if begins < reached-8*p.k.within || begins+span > p.l.total()+8*p.k.within {
			continue
		}
		reached = begins + span
		p.set(i, lays.from[i], stands)
		p.set(p.k.next(i), lays.to[i], stands)
	}
}

func (p *plan) set(i int, at float64, f fate) {
	if p.fate[i] == unknown {
		p.at[i], p.fate[i] = at, f
	}
}

// fromAnywhere places the corners where none is known: it tries each turn of the
// ring as the first sharp corner and keeps the cheapest placing.
func (p *plan) fromAnywhere() *plan {
	lead := 0
	for i := range p.k.sharp {
		if p.k.sharp[i] {
			lead = i
			break
		}
	}
	var starts []float64
	for n := range p.l.path {
		if p.l.sharp(n) && len(starts) < maxStarts {
			starts = append(starts, p.l.at[n])
		}
	}
	if len(starts) == 0 || !p.k.sharp[lead] {
		n := p.l.path.Nearest(p.k.corner(lead))
		starts = append(starts, p.l.at[n.Seg]+p.l.path[n.Seg].LengthBetween(0, n.T, lengthTol))
	}
	var best *plan
	for _, s := range starts {
		q := &plan{k: p.k, l: p.l, at: make([]float64, len(p.at)), fate: make([]fate, len(p.fate))}
		q.at[lead], q.fate[lead] = s, moved
		off := p.l.point(s).Dist(p.k.corner(lead))
		if off <= p.k.within {
			q.fate[lead] = stands
		}
		q.cost = off
		q.between(lead, lead)
		if best == nil || q.cost < best.cost {
			best = q
		}
	}
	return best
}

// item is a corner of the piece that is to be placed, or a joint inside an edge,
// which only keeps a turn of the ring from becoming a corner.
type item struct {
	corner int // -1 for a joint inside an edge
	old    curve.Point
	sharp  bool
	part   float64 // where it stood, as part of the way between the two anchors
	reach  float64 // mm within which a smooth joint may be found elsewhere
}

// spot is a place on the ring that may be a corner's.
type spot struct {
	ahead float64 // mm from the first anchor
	at    curve.Point
	turn  float64 // degrees
	sharp bool
	joint bool
}

// between places the corners between two that are known, and finds the new ones.
func (p *plan) between(i, j int) {
	span := p.l.ahead(p.at[i], p.at[j])
	if i == j || span == 0 && p.k.next(i) != j {
		span = p.l.total()
	}
	items := p.items(i, j)
	spots := p.spots(i, span, items)
	length := 0.0
	for e := i; ; {
		length += p.k.lengths[e]
		if e = p.k.next(e); e == j {
			break
		}
	}
	w := weights{span: span, size: math.Max(span, length), within: p.k.within}
	match, cost := align(items, spots, w)
	p.cost += cost
	for n, m := range match {
		if c := items[n].corner; m >= 0 && c >= 0 {
			f := moved
			if spots[m].at.Dist(items[n].old) <= p.k.within {
				f = stands
			}
			p.set(c, p.at[i]+spots[m].ahead, f)
		}
	}
	used := map[int]bool{}
	for _, m := range match {
		used[m] = true
	}
	for n, s := range spots {
		if s.sharp && !used[n] {
			p.added = append(p.added, p.l.wrap(p.at[i]+s.ahead))
		}
	}
	p.rest(i, j, span, items)
}

// items lists what is to be placed between two corners.
func (p *plan) items(i, j int) []item {
	var out []item
	length := 0.0
	for e := i; ; {
		for _, j := range p.k.joints[e] {
			out = append(out, item{corner: -1, old: j.at, sharp: j.sharp, reach: p.k.lengths[e] / 4})
		}
		length += p.k.lengths[e]
		c := p.k.next(e)
		if c == j {
			break
		}
		out = append(out, item{
			corner: c, old: p.k.corner(c), sharp: p.k.sharp[c], part: length,
			reach: math.Min(p.k.lengths[e], p.k.lengths[c]) / 4,
		})
		e = c
	}
	for n := range out {
		out[n].part /= length
	}
	return out
}

// spots lists the joints of the ring between two places, and where it passes
// the old places of corners.
func (p *plan) spots(i int, span float64, items []item) []spot {
	var out []spot
	start, hair := p.at[i], 4*p.k.within
	for n, seg := range p.l.path {
		if a := p.l.ahead(start, p.l.at[n]); a > hair && a < span-hair {
			out = append(out, spot{a, seg.P0, p.l.turn[n], p.l.sharp(n), true})
		}
	}
	for _, it := range items {
		if it.corner < 0 {
			continue
		}
		for _, s := range p.l.places(it.old, p.k.within) {
			a := p.l.ahead(start, s)
			if _, t := p.l.find(s); t != 0 && a > hair && a < span-hair {
				out = append(out, spot{ahead: a, at: p.l.point(s)})
			}
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].ahead < out[b].ahead })
	return out
}

// rest places the corners that no joint was found for: a smooth one stays the
// same part of the way between its neighbours, a sharp one is gone.
func (p *plan) rest(i, j int, span float64, items []item) {
	known, part := 0.0, 0.0 // the last corner placed
	for n := 0; n < len(items); n++ {
		it := items[n]
		switch {
		case it.corner < 0:
		case p.fate[it.corner] != unknown:
			known, part = p.l.ahead(p.at[i], p.at[it.corner]), it.part
		case it.sharp && p.left() > 2:
			p.fate[it.corner] = gone
		default:
			end, endPart := span, 1.0
			for _, later := range items[n+1:] {
				if later.corner >= 0 && p.fate[later.corner] != unknown && p.fate[later.corner] != gone {
					end, endPart = p.l.ahead(p.at[i], p.at[later.corner]), later.part
					break
				}
			}
			if endPart > part {
				known += (end - known) * (it.part - part) / (endPart - part)
			}
			part = it.part
			p.set(it.corner, p.at[i]+known, slid)
		}
	}
}

// left is the number of corners that are not gone.
func (p *plan) left() int {
	n := len(p.added)
	for _, f := range p.fate {
		if f != gone {
			n++
		}
	}
	return n
}
