package material

import (
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// List is what a garment needs.
type List struct {
	Garment  string
	Version  Version
	Cloths   []Cloth
	Bones    []Strip
	Cords    []Strip
	Elastics []Elastic
	Buttons  []Button
	Eyelets  []Eyelets
	Hooks    []Hooks
	Slides   []Slide
	Bindings []Binding
	Clear    map[pattern.MarkKind]float64 // clearance of bones and cords at each end, mm
	Cautions []string
}

// Cloth is what one cloth has to give.
type Cloth struct {
	Name      string // empty: of pieces that record none
	Pieces    int
	Area      float64 // of all pieces on their sewing lines, mm2
	Allowance float64 // the strips outside, corners left out, mm2
	Elastic   bool    // all its pieces stretch
	Lay       Lay
}

// Binding covers a run that has no allowance.
type Binding struct {
	Run    string
	Length float64 // of the run over both halves, mm
	Buy    float64 // that and a tenth: common practice, no source
}

// BindingReserve is what is bought beyond the length of a bound edge, as a part of
// it: common practice, no source.
const BindingReserve = 0.10

// Options say what a pattern does not.
type Options struct {
	Body   *pattern.Body // nil: no gap is predicted, so that a lace goes by the wanted one
	Width  float64       // of every cloth, mm; 0 means DefaultWidth
	Widths map[string]float64
}

// ListOf gives the material list.
func ListOf(g *pattern.Garment, v Version, o Options) List {
	c := CuttingOf(g, v)
	out := List{
		Garment: c.Garment, Version: v, Bones: strips(g, pattern.Bone), Cords: strips(g, pattern.Cord), Elastics: elastics(g),
		Buttons: buttons(g), Eyelets: eyelets(g, o.Body), Hooks: hooks(g), Slides: slides(g), Bindings: bindings(g),
		Clear: map[pattern.MarkKind]float64{pattern.Bone: g.Clearance(pattern.Bone), pattern.Cord: g.Clearance(pattern.Cord)},
	}
	for _, cloth := range c.Cloths {
		out.Cloths = append(out.Cloths, clothOf(g, cloth, o))
	}
	out.Cautions = uncounted(g)
	if slices.ContainsFunc(check.Presses(g, o.Body), check.Press.Tight) {
		out.Cautions = append(out.Cautions, check.Caution)
	}
	if len(out.Elastics) > 0 {
		out.Cautions = append(out.Cautions, check.ElasticCaution)
	}
	if len(out.Bones) > 0 {
		out.Cautions = append(out.Cautions, check.BoneCaution)
	}
	return out
}

func clothOf(g *pattern.Garment, c ClothCut, o Options) Cloth {
	out := Cloth{Name: c.Name, Pieces: c.Pieces, Elastic: len(c.Cuts) > 0}
	for _, cut := range c.Cuts {
		out.Area += float64(cut.Pieces) * cut.Area
		out.Allowance += float64(cut.Pieces) * cut.Allowance
		out.Elastic = out.Elastic && g.Option(cut.Piece).Stretch.Set
	}
	width, named := o.Widths[c.Name]
	switch {
	case named:
	case out.Elastic:
		out.Lay.Why = "elastic comes in a width of its own, which is not known"
		return out
	case o.Width > 0:
		width = o.Width
	default:
		width = DefaultWidth
	}
	out.Lay = LayOf(c, width)
	return out
}

// bindings lists the runs whose every edge has an allowance of 0 that is recorded:
// bound edges.
func bindings(g *pattern.Garment) []Binding {
	var out []Binding
	for _, r := range g.Runs {
		b := Binding{Run: r.Name}
		bound := len(r.Refs) > 0
		for _, ref := range r.Refs {
			p, i, ok := g.Edge(ref)
			if !ok {
				bound = false
				break
			}
			mm, from := AllowanceOn(g, ref.Piece, ref.Edge)
			bound = bound && mm == 0 && from != FromNone
			b.Length += float64(halves(g, p)) * spanLength(g, p, i, ref)
		}
		if bound {
			b.Buy = b.Length * (1 + BindingReserve)
			out = append(out, b)
		}
	}
	return out
}

// spanLength is the length of an edge, or of its span between two notches, mm.
func spanLength(g *pattern.Garment, p *pattern.Piece, edge int, ref pattern.Ref) float64 {
	m := measure.Measure{Kind: "length", Piece: ref.Piece, Edge: ref.Edge, From: ref.From, To: ref.To}
	if v, err := m.Eval(measure.Input{Garment: g}); err == nil && len(v) == 1 && v[0].Known {
		return v[0].Value
	}
	return curve.Path(p.EdgePath(edge)).Length(measure.Accuracy)
}
