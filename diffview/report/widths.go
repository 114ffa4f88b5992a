package report

import (
	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/measure"
)

// WidthsOptions say how the table of widths is shown.
type WidthsOptions struct {
	From, To   string // the versions, for people; JSON does not hold them
	Calibrated bool   // also the gap with what fittings showed beside the prediction
}

// bodyGrowth is the change of the body, mm, for which stretch is told.
const bodyGrowth = 10

// widths is what both the text and the document show. A version that is not there
// has nothing set.
type widths struct {
	c        *compare.Change
	versions [2]*pattern.Garment
	pieces   []pieceWidths
	sums     []compare.AtLevel // cloth all round, before the overlap is taken off
	overlap  []compare.AtLevel
	girth    []compare.AtLevel
	worn     []compare.AtLevel
	gaps     []closureTerms
	presses  [2]map[string]check.Press
	stretch  []levelStretch
	elastic  []elasticPiece
	moved    []flow
	unknown  []unknown
}

// pieceWidths is a piece at every level.
type pieceWidths struct {
	name   string
	was    []string
	status compare.Status
	round  [2]bool        // it goes round the body
	times  [2]pattern.Opt // how often its drawn width counts
	at     []compare.AtLevel
}

// closureTerms is the gap of a lacing at each level, with its terms.
type closureTerms struct {
	closure string
	levels  []gapTerms
}

type gapTerms struct {
	level string
	gaps  [2]*measure.Gap // nil: unknown
}

// levelStretch is the elastic at a level; Width 0: none.
type levelStretch struct {
	level string
	of    [2]measure.Stretch
}

// elasticPiece is a stretching piece; nil where that version has none of the name.
type elasticPiece struct {
	name string
	of   [2]*measure.Elastic
}

// unknown says why a figure is not told.
type unknown struct {
	Measure string `json:"measure"`
	Version string `json:"version"`
	Why     string `json:"why"`
}

var versionNames = [2]string{"before", "after"}

// widthsOf gathers everything. A version that is nil has no figures and no reasons.
func widthsOf(c *compare.Change) *widths {
	w := &widths{c: c, versions: [2]*pattern.Garment{c.Before, c.After}}
	for _, p := range c.Pieces {
		w.pieces = append(w.pieces, w.piece(p))
	}
	for _, level := range c.Levels {
		var sum, overlap compare.Pair
		for v, g := range w.versions {
			if g == nil {
				continue
			}
			if girth := measure.GirthAt(g, level); has(g, level) && girth.Why() == "" {
				*side(&sum, v), *side(&overlap, v) = pattern.Some(girth.Rigid+girth.Elastic), pattern.Some(girth.Overlap)
			}
		}
		w.sums = append(w.sums, compare.AtLevel{Level: level, Pair: sum})
		w.overlap = append(w.overlap, compare.AtLevel{Level: level, Pair: overlap})
		w.girth = append(w.girth, compare.AtLevel{Level: level, Pair: w.ask(measure.Measure{Kind: "girth", Level: level})})
		w.worn = append(w.worn, compare.AtLevel{Level: level, Pair: w.ask(measure.Measure{Kind: "worn", Level: level})})
	}
	for _, g := range c.Gaps {
		w.gaps = append(w.gaps, w.terms(g.Closure))
	}
	w.pressing()
	w.elastics()
	w.moved = flowsOf(w)
	return w
}

// side gives the field of a pair for a version: 0 before, 1 after.
func side(p *compare.Pair, v int) *pattern.Opt {
	if v == 0 {
		return &p.Before
	}
	return &p.After
}

func has(g *pattern.Garment, level string) bool {
	_, ok := g.Level(level)
	return ok
}

// ask answers a measure in both versions and keeps why it is unknown.
func (w *widths) ask(m measure.Measure) compare.Pair {
	var out compare.Pair
	for v, g := range w.versions {
		if g == nil {
			continue
		}
		list, err := m.Eval(measure.Input{Garment: g, Body: w.c.Body})
		switch {
		case err != nil:
			w.wonder(m.String(), v, "that version has no such level or closure")
		case len(list) == 1 && list[0].Known:
			*side(&out, v) = pattern.Some(list[0].Value)
		case len(list) == 1:
			w.wonder(m.String(), v, list[0].Why)
		}
	}
	return out
}

func (w *widths) wonder(what string, v int, why string) {
	w.unknown = append(w.unknown, unknown{what, versionNames[v], why})
}

// piece measures a piece at every level, in each version under the name that it
// has there.
func (w *widths) piece(p compare.PieceChange) pieceWidths {
	out := pieceWidths{name: p.Name, was: p.Was, status: p.Status}
	for v, piece := range [2]*pattern.Piece{p.Before, p.After} {
		g := w.versions[v]
		if piece == nil || g == nil {
			continue
		}
		for _, m := range g.Around {
			out.round[v] = out.round[v] || m.Name == piece.Name
		}
		out.times[v] = pattern.Some(measure.Times(g, piece))
	}
	for _, level := range w.c.Levels {
		at := compare.AtLevel{Level: level}
		for v, piece := range [2]*pattern.Piece{p.Before, p.After} {
			g := w.versions[v]
			if piece == nil || g == nil {
				continue
			}
			if mm, ok := measure.Width(g, piece, level); ok {
				*side(&at.Pair, v) = pattern.Some(mm)
			} else {
				w.wonder("width "+piece.Name+" at "+level, v, "piece "+piece.Name+" has no level "+level)
			}
		}
		out.at = append(out.at, at)
	}
	return out
}

func (w *widths) terms(closure string) closureTerms {
	out := closureTerms{closure: closure}
	for _, level := range w.c.Levels {
		at := gapTerms{level: level}
		w.ask(measure.Measure{Kind: "gap", Closure: closure, Level: level}) // for the reasons
		for v, g := range w.versions {
			if g == nil || g.Closure(closure) == nil || !has(g, level) {
				continue
			}
			if gap, ok := measure.GapAt(g, w.c.Body, g.Closure(closure), level); ok {
				at.gaps[v] = &gap
			}
		}
		out.levels = append(out.levels, at)
	}
	return out
}

// values gives the gap itself at each level.
func (c closureTerms) values() []compare.AtLevel {
	return c.each(func(_ int, g measure.Gap) float64 { return g.Value() })
}

// each gives a figure of the gap at each level, in both versions.
func (c closureTerms) each(of func(v int, g measure.Gap) float64) []compare.AtLevel {
	var out []compare.AtLevel
	for _, l := range c.levels {
		at := compare.AtLevel{Level: l.level}
		for v, g := range l.gaps {
			if g != nil {
				*side(&at.Pair, v) = pattern.Some(of(v, *g))
			}
		}
		out = append(out, at)
	}
	return out
}

func (w *widths) pressing() {
	for v, g := range w.versions {
		w.presses[v] = map[string]check.Press{}
		if g == nil {
			continue
		}
		for _, p := range check.Presses(g, w.c.Body) {
			w.presses[v][p.Level] = p
		}
		for _, level := range w.c.Levels {
			if _, ok := w.presses[v][level]; !ok {
				w.wonder("percent "+level, v, whyNoPercent(g, w.c.Body, level))
			}
		}
	}
}

func whyNoPercent(g *pattern.Garment, b *pattern.Body, level string) string {
	_, known := b.Girth(level)
	switch {
	case !has(g, level):
		return "that version has no level " + level
	case b == nil:
		return "no body here: the body's measures are not in this folder"
	case !known:
		return "body " + b.Name + " has no girth at " + level
	}
	return measure.GirthAt(g, level).Why()
}

// presses tells whether the garment is smaller than the body anywhere.
func (w *widths) pressesAt(v int) bool {
	for _, p := range w.presses[v] {
		if p.Tight() {
			return true
		}
	}
	return false
}

func (w *widths) elastics() {
	for v, g := range w.versions {
		if g == nil {
			continue
		}
		for _, e := range measure.Elastics(g) {
			w.elasticPiece(w.nameNow(e.Piece, v)).of[v] = &e
		}
	}
	for _, level := range w.c.Levels {
		at := levelStretch{level: level}
		for v, g := range w.versions {
			if g != nil {
				at.of[v] = measure.StretchAt(g, level)
			}
		}
		w.stretch = append(w.stretch, at)
	}
}

// nameNow gives the later name of a piece.
func (w *widths) nameNow(name string, v int) string {
	for _, p := range w.c.Pieces {
		if v == 0 && p.Before != nil && p.Before.Name == name {
			return p.Name
		}
	}
	return name
}

func (w *widths) elasticPiece(name string) *elasticPiece {
	for i := range w.elastic {
		if w.elastic[i].name == name {
			return &w.elastic[i]
		}
	}
	w.elastic = append(w.elastic, elasticPiece{name: name})
	return &w.elastic[len(w.elastic)-1]
}
