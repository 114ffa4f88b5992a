package overlay

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// mostFaults is how many sentences of what is wrong a picture's head holds.
const mostFaults = 6

// farthestOut is the largest coordinate that is drawn, mm: what the pen can
// write leaves room for it anywhere on a sheet.
const farthestOut = 4e5

// cannotDraw says why a piece cannot be drawn at full size; "" where it can. A
// piece larger than compare.Span would make a sheet that nothing can show.
func cannotDraw(p *pattern.Piece) string {
	if p == nil {
		return ""
	}
	if n, m := len(p.Corners), len(p.Edges); n != m || n == 0 {
		return plural(n, "corner", "corners") + " and " + plural(m, "edge", "edges") + " make no outline"
	}
	ring := p.Outline()
	for _, s := range ring {
		for _, q := range []curve.Point{s.P0, s.P1, s.P2, s.P3} {
			if !(max(math.Abs(q.X), math.Abs(q.Y)) <= farthestOut) { // NaN too
				return "its numbers are too large"
			}
		}
	}
	return tooLarge(ring.Bounds())
}

// tooLarge says why nothing of this size or at this place is drawn.
func tooLarge(b curve.Box) string {
	if size := max(b.Width(), b.Height()); size > compare.Span {
		return fmt.Sprintf("it is %.1f m large", size/1000)
	}
	return ""
}

// shown gives a change of a piece without the versions that cannot be drawn, and
// why they are not. Where the two lie so far apart that one sheet cannot hold
// both, the later one is drawn.
func shown(p compare.PieceChange) (out compare.PieceChange, why [2]string) {
	out = p
	why = [2]string{cannotDraw(p.Before), cannotDraw(p.After)}
	both := curve.EmptyBox()
	for i, q := range []*pattern.Piece{p.Laid(), p.After} {
		if q != nil && why[i] == "" {
			both = both.Union(q.Outline().Bounds())
		}
	}
	if why[0] == "" && !both.Empty() && tooLarge(both) != "" {
		why[0] = fmt.Sprintf("it lies %.1f m away", max(both.Width(), both.Height())/1000)
	}
	if why == ([2]string{}) {
		return out, why
	}
	out.Edges = append([]compare.EdgeChange(nil), p.Edges...)
	for i := range out.Edges {
		e := &out.Edges[i]
		if why[0] != "" {
			e.Before = nil
		}
		if why[1] != "" {
			e.After = nil
		}
	}
	if why[0] != "" {
		out.Before = nil
	}
	if why[1] != "" {
		out.After = nil
	}
	return out, why
}

// faultLines say what is wrong with either version and what the picture leaves
// out for it: "before: side-back: edge hem crosses edge top at 54.4 -4.0; no
// areas are shown". With a piece's name only what concerns that one.
func faultLines(c *compare.Change, only string) []string {
	var out []string
	told := map[string]bool{}
	say := func(after bool, piece, why, so string) {
		version := "before"
		if after {
			version = "after"
		}
		told[version+" "+piece] = true
		text := version + ": "
		if piece != "" {
			text += piece + ": "
		}
		text += strings.ReplaceAll(why, " -", " "+minus)
		if so != "" {
			text += "; " + so
		}
		out = append(out, text)
	}
	for _, f := range c.Faults {
		if only == "" || f.Piece == "" || concerns(c, only, f.Piece) {
			say(f.After, f.Piece, f.Why, consequence(c, f))
		}
	}
	for _, p := range c.Pieces {
		if only != "" && p.Name != only || p.Status == compare.Unchanged && only == "" {
			continue
		}
		_, why := shown(p)
		for i, w := range why {
			if version := [2]string{"before", "after"}[i]; w != "" && !told[version+" "+p.Name] {
				say(i == 1, p.Name, w, notDrawn)
			}
		}
	}
	if n := len(out); n > mostFaults {
		out = append(out[:mostFaults], fmt.Sprintf("and %d more faults", n-mostFaults))
	}
	return out
}

const (
	notDrawn = "it is not drawn"
	noAreas  = "no areas are shown"
)

// concerns tells whether a fault's piece is the one of that name, or became it.
func concerns(c *compare.Change, name, piece string) bool {
	for _, p := range c.Pieces {
		if p.Name == name {
			if piece == name {
				return true
			}
			for _, was := range p.Was {
				if was == piece {
					return true
				}
			}
		}
	}
	return false
}

// consequence says what a picture leaves out because of a fault.
func consequence(c *compare.Change, f compare.Fault) string {
	for _, p := range c.Pieces {
		if f.Piece == "" || p.Name != f.Piece {
			continue
		}
		s, why := shown(p)
		switch i := map[bool]int{true: 1}[f.After]; {
		case why[i] != "":
			return notDrawn
		case s.Before != nil && s.After != nil && s.Moved:
			if areas := changedAreas(s.Laid(), s.After); areas.unsure && len(areas.gained)+len(areas.lost) == 0 {
				return noAreas
			}
		}
	}
	return ""
}

// faulty tells whether an outline of the piece has no area that means anything.
func (f *figure) faulty() bool {
	for i, p := range []*pattern.Piece{f.change.Before, f.change.After} {
		if f.hides(i) || p != nil && crooked(p.Outline()) {
			return true
		}
	}
	return false
}

// withoutAreas drops what only pictures with areas need say.
func withoutAreas(lines []string) []string {
	for i := range lines {
		lines[i] = strings.TrimSuffix(lines[i], "; "+noAreas)
	}
	return lines
}

// faultsOf says what is wrong with one version alone.
func faultsOf(g *pattern.Garment) []string {
	lines := faultLines(compare.Garments(nil, g, compare.Options{}), "")
	out := lines[:0]
	for _, l := range lines {
		if l = strings.TrimPrefix(l, "after: "); l != "it has no pieces" { // the picture itself says that
			out = append(out, l)
		}
	}
	return out
}

// faulty writes sentences of what is wrong into a picture's head, k times as
// large as on a page.
func (s *stack) faulty(lines []string, k float64) {
	if len(lines) == 0 {
		return
	}
	s.space(1.5 * k)
	for _, line := range lines {
		s.para(line, style{Size: 4.2 * k, Bold: true}, 3)
	}
}

// levelOn gives the height of a level on a piece; false too where that is no
// height that can be drawn.
func levelOn(g *pattern.Garment, p *pattern.Piece, name string) (float64, bool) {
	y, ok := g.LevelOn(p, name)
	return y, ok && math.Abs(y) <= farthestOut
}
