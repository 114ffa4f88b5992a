package step

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// proof gathers the claims that prove a step, and what they leave open.
type proof struct {
	g      *pattern.Garment
	place  diag.Place
	claims []claim.Claim
	pieces []string          // that alone change
	file   bool              // the garment file changes
	open   []string          // what no claim says, in words
	loose  []measure.Measure // what the step changes without saying by how much
	gone   []string          // seams and pieces, as "seam NAME", that are no more
}

// prove works a step out on the garment that it alters. A step whose names do
// not exist there proves little: claims that need no earlier version.
func prove(s Step, before *pattern.Garment) *proof {
	p := &proof{g: before, place: s.Place}
	f, ok := formOf(s.Verb)
	if !ok || before == nil {
		return p
	}
	f.prove(p, s)
	p.only()
	return p
}

func widthOf(piece, level string) measure.Measure {
	return measure.Measure{Kind: "width", Piece: piece, Level: level}
}

func girthAt(level string) measure.Measure { return measure.Measure{Kind: "girth", Level: level} }

func lengthOf(piece, edge string) measure.Measure {
	return measure.Measure{Kind: "length", Piece: piece, Edge: edge}
}

func seamNamed(kind, seam string) measure.Measure { return measure.Measure{Kind: kind, Seam: seam} }

// rounded puts a number on the decimals that a note can have.
func rounded(v float64) float64 {
	v = math.Round(v*1000) / 1000
	if v == 0 {
		return 0 // no negative zero
	}
	return v
}

// by claims that a measure changes by mm, or that it stays where that is nothing.
func (p *proof) by(m measure.Measure, mm float64) {
	c := claim.Claim{Place: p.place, Kind: claim.Changes, Measure: m, By: pattern.Some(rounded(mm))}
	if c.By.Value == 0 {
		c.Kind, c.By = claim.Keeps, pattern.Opt{}
	}
	p.add(c)
}

func (p *proof) keeps(m measure.Measure) { p.by(m, 0) }

// becomes claims what a measure is afterwards.
func (p *proof) becomes(m measure.Measure, value float64, within pattern.Opt) {
	p.add(claim.Claim{Place: p.place, Kind: claim.Changes, Measure: m, To: pattern.Some(rounded(value)), Within: within})
}

// add puts a claim down, the first one on each measure.
func (p *proof) add(c claim.Claim) {
	if !slices.ContainsFunc(p.claims, func(x claim.Claim) bool { return x.Measure == c.Measure }) {
		p.claims = append(p.claims, c)
	}
}

// unproven notes what no claim says.
func (p *proof) unproven(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if !slices.Contains(p.open, text) {
		p.open = append(p.open, text)
	}
}

// touch names pieces that may change.
func (p *proof) touch(names ...string) {
	for _, n := range names {
		if n != "" && !slices.Contains(p.pieces, n) {
			p.pieces = append(p.pieces, n)
		}
	}
}

// only claims that nothing else changed, in the order round the body.
func (p *proof) only() {
	if len(p.pieces) == 0 {
		return
	}
	rank := func(name string) int {
		i := slices.IndexFunc(p.g.Around, func(m pattern.Mention) bool { return m.Name == name })
		if i < 0 {
			return len(p.g.Around)
		}
		return i
	}
	slices.SortStableFunc(p.pieces, func(a, b string) int { return rank(a) - rank(b) })
	names := slices.Clone(p.pieces)
	if p.file {
		names = append(names, claim.Garment)
	}
	p.claims = append(p.claims, claim.Claim{Place: p.place, Kind: claim.Only, Pieces: names})
}

// perLevel claims changes of one measure at levels: one claim where the change is
// the same wherever the measure can be told, else one a level.
func (p *proof) perLevel(m measure.Measure, by map[string]float64, told []string) {
	alike := len(told) > 0 && len(by) == len(told)
	for _, l := range told {
		d, ok := by[l]
		alike = alike && ok && rounded(d) == rounded(by[told[0]])
	}
	if alike {
		p.by(m, by[told[0]])
		return
	}
	for _, l := range p.g.Levels {
		if d, ok := by[l.Name]; ok {
			m.Level = l.Name
			p.by(m, d)
		}
	}
}

// girthTold lists the levels at which the girth can be told.
func (p *proof) girthTold() []string {
	var out []string
	for _, l := range p.g.Levels {
		if measure.GirthAt(p.g, l.Name).Why() == "" {
			out = append(out, l.Name)
		}
	}
	return out
}

// around tells whether a piece counts in the girth.
func (p *proof) around(piece string) bool {
	return slices.ContainsFunc(p.g.Around, func(m pattern.Mention) bool { return m.Name == piece })
}

// keepsGirth claims that the girth stays where none of the moved edges comes
// near a level; margin is how far they may move, mm.
func (p *proof) keepsGirth(moved []edgeOf, margin float64) {
	by := map[string]float64{}
	var near []string
	told := p.girthTold()
	for _, l := range told {
		if slices.ContainsFunc(moved, func(e edgeOf) bool { return p.near(e, l, margin) }) {
			near = append(near, l)
			p.loose = append(p.loose, girthAt(l))
			continue
		}
		by[l] = 0
	}
	p.perLevel(girthAt(""), by, told)
	if len(near) > 0 {
		p.unproven("the girth at %s, which the line comes near", strings.Join(near, ", "))
	}
}

// near tells whether an edge of a piece that counts in the girth comes within
// margin mm of a level.
func (p *proof) near(e edgeOf, level string, margin float64) bool {
	y, ok := p.g.LevelOn(e.piece, level)
	if !ok || !p.around(e.piece.Name) {
		return false
	}
	b := e.piece.EdgePath(e.edge).Bounds()
	return y > b.Min.Y-margin && y < b.Max.Y+margin
}

// edgeOf is an edge of a piece.
type edgeOf struct {
	piece *pattern.Piece
	edge  int
}

func (e edgeOf) name() string { return e.piece.Name + "." + e.piece.Edges[e.edge].Name }

func (e edgeOf) length() measure.Measure { return lengthOf(e.piece.Name, e.piece.Edges[e.edge].Name) }

// before and after are the neighbours in the outline.
func (e edgeOf) before() edgeOf {
	n := len(e.piece.Edges)
	return edgeOf{e.piece, (e.edge + n - 1) % n}
}

func (e edgeOf) after() edgeOf { return edgeOf{e.piece, e.piece.After(e.edge)} }

// edgesOf follows references; what is missing is left out.
func (p *proof) edgesOf(refs []pattern.Ref) []edgeOf {
	var out []edgeOf
	for _, r := range refs {
		if piece, i, ok := p.g.Edge(r); ok {
			out = append(out, edgeOf{piece, i})
		}
	}
	return out
}

func refsOf(s *pattern.Seam) []pattern.Ref { return slices.Concat(s.First, s.Second) }

// seamsAt lists the seams that an edge is sewn in.
func (p *proof) seamsAt(e edgeOf) []*pattern.Seam {
	var out []*pattern.Seam
	for i := range p.g.Seams {
		if slices.Contains(p.edgesOf(refsOf(&p.g.Seams[i])), e) {
			out = append(out, &p.g.Seams[i])
		}
	}
	return out
}

// partners names all pieces of a seam.
func partners(s *pattern.Seam) []string {
	var out []string
	for _, r := range refsOf(s) {
		out = append(out, r.Piece)
	}
	return out
}
