package text

import (
	"fmt"

	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// Generators of models that a file can say. Their names need not refer to
// anything: reading does not ask.

func genName() *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		s := rapid.StringMatching(`[a-z][a-z0-9]{0,5}(-[a-z0-9]{1,4}){0,2}`).Draw(t, "name")
		if pattern.NameFault(s) != "" {
			return "n-" + s // a word kept for itself
		}
		return s
	})
}

func genNames(least, most int) *rapid.Generator[[]string] {
	return rapid.SliceOfNDistinct(genName(), least, most, rapid.ID[string])
}

// genNumber gives numbers as files hold them.
func genNumber(least int) *rapid.Generator[float64] {
	return rapid.Custom(func(t *rapid.T) float64 {
		return float64(rapid.IntRange(least*1000, maxNumber*1000).Draw(t, "thousandths")) / 1000
	})
}

func genText() *rapid.Generator[string] {
	return rapid.StringMatching(`[ -~éß±#"\\漢🧵]{1,12}`)
}

func genFindingID() *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		id := rapid.StringMatching(`[a-z]{1,6}(-[a-z]{1,4})?\.[a-z]{1,6}(-[a-z]{1,4})?(\.[a-z]{1,4})?`).Draw(t, "id")
		if !isFindingID(id) {
			return "seam.x" // a word kept for itself
		}
		return id
	})
}

func opt(t *rapid.T, g *rapid.Generator[float64]) pattern.Opt {
	if rapid.Bool().Draw(t, "set") {
		return pattern.Some(g.Draw(t, "value"))
	}
	return pattern.Opt{}
}

func wholeOpt(t *rapid.T, least int) pattern.Opt {
	if rapid.Bool().Draw(t, "set") {
		return pattern.Some(float64(rapid.IntRange(least, 900).Draw(t, "count")))
	}
	return pattern.Opt{}
}

func maybe(t *rapid.T, s string) string {
	if rapid.Bool().Draw(t, "there") {
		return s
	}
	return ""
}

func genPiece(name string) *rapid.Generator[*pattern.Piece] {
	return rapid.Custom(func(t *rapid.T) *pattern.Piece {
		p := &pattern.Piece{Name: name, Title: maybe(t, genText().Draw(t, "title")), Was: maybe(t, genName().Draw(t, "was"))}
		for _, cloth := range rapid.SliceOfNDistinct(genText(), 0, 3, rapid.ID[string]).Draw(t, "cloths") {
			cl := pattern.Cloth{Name: cloth, Count: rapid.IntRange(1, 9).Draw(t, "count"),
				Cut: rapid.SampledFrom([]pattern.Cut{pattern.Pair, pattern.Alike, pattern.OnFold}).Draw(t, "cut")}
			if cl.Cut == pattern.OnFold {
				cl.Fold.Name = genName().Draw(t, "fold")
			}
			p.Cloths = append(p.Cloths, cl)
		}
		if rapid.Bool().Draw(t, "grain") {
			p.Grain = &pattern.Grain{}
			drawPoint(t, &p.Grain.From.X, &p.Grain.From.Y)
			p.Grain.To.X, p.Grain.To.Y = -p.Grain.From.X, p.Grain.From.Y
			if p.Grain.From.X == 0 {
				p.Grain.To.X = 1
			}
		}
		drawOutline(t, p)
		p.NoLevels = rapid.Bool().Draw(t, "levels none")
		for _, l := range genNames(0, 3).Draw(t, "levels") {
			p.Levels = append(p.Levels, pattern.Level{Name: l, Y: genNumber(-maxNumber).Draw(t, "y")})
		}
		for _, n := range genNames(0, 4).Draw(t, "notches") {
			p.Notches = append(p.Notches, pattern.Notch{Name: n, Edge: pattern.Mention{Name: genName().Draw(t, "edge")}, On: drawSpot(t)})
		}
		for _, m := range genNames(0, 5).Draw(t, "marks") {
			p.Marks = append(p.Marks, drawMark(t, m))
		}
		return p
	})
}

func drawPoint(t *rapid.T, x, y *float64) {
	*x = genNumber(-maxNumber).Draw(t, "x")
	*y = genNumber(-maxNumber).Draw(t, "y")
}

func drawOutline(t *rapid.T, p *pattern.Piece) {
	n := rapid.IntRange(2, 6).Draw(t, "corners")
	corners, edges := genNames(n, n).Draw(t, "corners"), genNames(n, n).Draw(t, "edges")
	for i := range n {
		k := pattern.Corner{Name: corners[i], Was: maybe(t, genName().Draw(t, "was"))}
		drawPoint(t, &k.At.X, &k.At.Y)
		p.Corners = append(p.Corners, k)
		e := pattern.Edge{Name: edges[i], Length: opt(t, genNumber(0)), Was: maybe(t, genName().Draw(t, "was")), Segs: drawSegs(t, 0)}
		if last := len(e.Segs) - 1; last >= 0 {
			e.Segs[last].ToCorner = true
			e.Segs[last].To.X, e.Segs[last].To.Y = 0, 0
		}
		p.Edges = append(p.Edges, e)
	}
}

func drawSegs(t *rapid.T, least int) []pattern.Seg {
	var segs []pattern.Seg
	for range rapid.IntRange(least, 4).Draw(t, "segments") {
		s := pattern.Seg{Curve: rapid.Bool().Draw(t, "curve")}
		if s.Curve {
			drawPoint(t, &s.H1.X, &s.H1.Y)
			drawPoint(t, &s.H2.X, &s.H2.Y)
		}
		drawPoint(t, &s.To.X, &s.To.Y)
		segs = append(segs, s)
	}
	return segs
}

func drawSpot(t *rapid.T) pattern.Spot {
	name := genName().Draw(t, "spot")
	switch rapid.IntRange(0, 2).Draw(t, "kind") {
	case 0:
		return pattern.Spot{Kind: pattern.AtLevel, Level: name, Nearest: maybe(t, "corner-"+name)}
	case 1:
		return pattern.Spot{Kind: pattern.FromLevel, Level: name, Distance: genNumber(0).Draw(t, "distance"), Above: rapid.Bool().Draw(t, "above")}
	default:
		return pattern.Spot{Kind: pattern.FromCorner, Corner: name, Distance: genNumber(0).Draw(t, "distance")}
	}
}

func drawMark(t *rapid.T, name string) pattern.Mark {
	kind := rapid.SampledFrom(append(lineMarks(), pointMarks()...)).Draw(t, "kind")
	m := pattern.Mark{Kind: pattern.MarkKind(kind), Name: name,
		Width: opt(t, genNumber(0)), Length: opt(t, genNumber(0)), Diameter: opt(t, genNumber(0)), Angle: opt(t, genNumber(-360)),
		Only: rapid.SampledFrom([]string{"", "left", "right"}).Draw(t, "only")}
	drawPoint(t, &m.At.X, &m.At.Y)
	if m.Kind.IsLine() {
		m.Segs = drawSegs(t, 1)
		if m.Kind == pattern.Cutout {
			m.Segs = append(m.Segs, pattern.Seg{Curve: true, To: m.At})
		}
	}
	return m
}

func genGarment(name string) *rapid.Generator[*pattern.Garment] {
	return rapid.Custom(func(t *rapid.T) *pattern.Garment {
		g := &pattern.Garment{Name: name, Title: maybe(t, genText().Draw(t, "title")),
			Half: rapid.SampledFrom([]pattern.Half{pattern.LeftHalf, pattern.RightHalf, pattern.Whole}).Draw(t, "half"),
			Body: maybe(t, genName().Draw(t, "body")), Rough: rapid.Bool().Draw(t, "rough"), RequireClaims: rapid.Bool().Draw(t, "claims"),
			Thickness: opt(t, genNumber(0)), Give: opt(t, genNumber(0))}
		drawGarmentLists(t, g)
		for _, n := range genNames(0, 4).Draw(t, "seams") {
			g.Seams = append(g.Seams, drawSeam(t, n))
		}
		for _, n := range genNames(0, 3).Draw(t, "runs") {
			g.Runs = append(g.Runs, pattern.Run{Name: n, Refs: drawRefs(t, 3)})
		}
		for _, n := range genNames(0, 3).Draw(t, "closures") {
			c := pattern.Closure{Name: n, Edges: drawRefs(t, 2), Overlap: opt(t, genNumber(0)),
				Kind: rapid.SampledFrom([]string{pattern.ButtonClosure, pattern.Lacing, pattern.HookClosure, pattern.Slide}).Draw(t, "kind")}
			if c.Kind == pattern.Slide {
				c.Length = opt(t, genNumber(0))
			}
			g.Closures = append(g.Closures, c)
			g.Buttons = append(g.Buttons, drawFastening(t, n))
			g.Eyelets = append(g.Eyelets, drawFastening(t, n))
			hooks := drawFastening(t, n)
			hooks.Diameter, hooks.Thickness = pattern.Opt{}, pattern.Opt{}
			g.Hooks = append(g.Hooks, hooks)
		}
		return g
	})
}

func drawGarmentLists(t *rapid.T, g *pattern.Garment) {
	for _, kind := range []string{"turn", "seam", "step", "notch"} {
		if rapid.Bool().Draw(t, kind) {
			g.Tolerances = append(g.Tolerances, pattern.Tolerance{Kind: kind, Value: genNumber(0).Draw(t, "value"), Warn: opt(t, genNumber(0))})
		}
	}
	for i, n := range genNames(0, 4).Draw(t, "levels") {
		g.Levels = append(g.Levels, pattern.Level{Name: n, Y: genNumber(-maxNumber).Draw(t, "y")})
		v := pattern.LevelNum{Level: n, Value: genNumber(0).Draw(t, "amount")}
		switch i {
		case 0:
			g.Cords = append(g.Cords, v)
		case 1:
			g.Reduce = append(g.Reduce, v)
		case 2:
			v.Value = -v.Value
			g.Calibrate = append(g.Calibrate, v)
		}
		g.Wanted = append(g.Wanted, pattern.Wanted{Closure: n, Level: n, Min: v.Value, Max: maxNumber})
		g.Joins = append(g.Joins, pattern.Join{Target: pattern.Target{Name: n}, Kind: rapid.SampledFrom([]string{"mitre", "square", "fold", "clip"}).Draw(t, "join")})
	}
	for _, n := range genNames(0, 4).Draw(t, "pieces") {
		g.Around = append(g.Around, pattern.Mention{Name: n})
		o := pattern.PieceOption{Piece: n, Stretch: opt(t, genNumber(0)), Tested: maybe(t, "2024-02-29"), Whole: rapid.Bool().Draw(t, "whole"),
			Apart: rapid.Bool().Draw(t, "apart"), Number: rapid.IntRange(0, 9).Draw(t, "number")}
		if o.Stretch.Set {
			o.Of = opt(t, genNumber(0))
		}
		g.Options = append(g.Options, o)
		g.Allowances = append(g.Allowances, pattern.Allowance{Target: pattern.Target{Name: n, Edge: maybe(t, "hem")}, Value: genNumber(0).Draw(t, "allowance")})
	}
	for _, kind := range []string{"cord", "bone"} {
		if rapid.Bool().Draw(t, kind) {
			g.Clearances = append(g.Clearances, pattern.Clearance{Kind: kind, Value: genNumber(0).Draw(t, "value")})
		}
	}
	drawAccepted(t, g)
}

func drawAccepted(t *rapid.T, g *pattern.Garment) {
	seen := map[string]bool{}
	for _, subject := range genNames(0, 3).Draw(t, "accepted") {
		if rapid.Bool().Draw(t, "dotted") {
			subject += "." + genName().Draw(t, "part")
		} else {
			subject = rapid.SampledFrom([]string{subject, "garment"}).Draw(t, "subject")
		}
		a := pattern.Accepted{ID: genFindingID().Draw(t, "id"), Subject: subject,
			Amount: genNumber(0).Draw(t, "amount"), Reason: genText().Draw(t, "reason")}
		for _, place := range genNames(0, 3).Draw(t, "places") {
			a.Parts = append(a.Parts, diag.Part{At: place + "." + genName().Draw(t, "corner"), Amount: genNumber(0).Draw(t, "part")})
			a.Amount = 0
		}
		if !seen[a.Address()] {
			seen[a.Address()] = true
			g.Accepted = append(g.Accepted, a)
		}
	}
}

func drawRefs(t *rapid.T, most int) []pattern.Ref {
	var refs []pattern.Ref
	for range rapid.IntRange(1, most).Draw(t, "refs") {
		r := pattern.Ref{Piece: genName().Draw(t, "piece"), Edge: genName().Draw(t, "edge")}
		if rapid.Bool().Draw(t, "span") {
			r.From, r.To = "a-"+genName().Draw(t, "from"), "b-"+genName().Draw(t, "to")
		}
		refs = append(refs, r)
	}
	return refs
}

func drawSeam(t *rapid.T, name string) pattern.Seam {
	s := pattern.Seam{Name: name, First: drawRefs(t, 3), SameWay: rapid.Bool().Draw(t, "same-way"), Mirrored: rapid.Bool().Draw(t, "mirrored")}
	if !s.Mirrored {
		s.Second = drawRefs(t, 3)
	}
	zones := rapid.IntRange(0, 2).Draw(t, "zones")
	for i := range zones {
		s.Eases = append(s.Eases, pattern.Ease{Amount: genNumber(-100).Draw(t, "ease"), From: fmt.Sprintf("z%d", i), To: fmt.Sprintf("z%d", i+1)})
	}
	if zones == 0 && rapid.Bool().Draw(t, "ease") {
		s.Eases = []pattern.Ease{{Amount: genNumber(-100).Draw(t, "ease")}}
	}
	if s.Within = opt(t, genNumber(0)); s.Within.Set {
		s.Warn = opt(t, genNumber(0))
	}
	return s
}

func drawFastening(t *rapid.T, closure string) pattern.Fastening {
	return pattern.Fastening{Closure: closure, From: maybe(t, genName().Draw(t, "from")), Pitch: opt(t, genNumber(0)), Diameter: opt(t, genNumber(0)),
		Thickness: opt(t, genNumber(0)), Up: wholeOpt(t, 0), Down: wholeOpt(t, 0), Count: wholeOpt(t, 1), Margin: opt(t, genNumber(0))}
}

func genBody(name string) *rapid.Generator[*pattern.Body] {
	return rapid.Custom(func(t *rapid.T) *pattern.Body {
		b := &pattern.Body{Name: name, Measured: maybe(t, "2025-12-31"), Note: maybe(t, genText().Draw(t, "note"))}
		for _, n := range genNames(0, 5).Draw(t, "levels") {
			b.Girths = append(b.Girths, pattern.LevelNum{Level: n, Value: genNumber(0).Draw(t, "girth")})
		}
		for _, n := range genNames(0, 3).Draw(t, "moving") {
			b.Moves = append(b.Moves, pattern.LevelNum{Level: n, Value: genNumber(0).Draw(t, "moves")})
		}
		return b
	})
}

func genFitting(name string) *rapid.Generator[*pattern.Fitting] {
	return rapid.Custom(func(t *rapid.T) *pattern.Fitting {
		f := &pattern.Fitting{Name: name, Date: maybe(t, "2025-12-31"), Version: maybe(t, rapid.StringMatching(`[a-zA-Z0-9._/][-a-zA-Z0-9._/]{0,9}`).Draw(t, "version")),
			Body: maybe(t, genName().Draw(t, "body"))}
		if rapid.Bool().Draw(t, "square") {
			f.Square = &pattern.Square{Across: genNumber(1).Draw(t, "across"), Along: genNumber(1).Draw(t, "along")}
		}
		for _, n := range genNames(0, 4).Draw(t, "levels") {
			f.Gaps = append(f.Gaps, pattern.FittedGap{Closure: "front", Level: n, Predicted: opt(t, genNumber(-100)), Observed: opt(t, genNumber(-100))})
			f.Pinned = append(f.Pinned, pattern.Pinned{Seam: genName().Draw(t, "seam"), Level: n, Amount: genNumber(-100).Draw(t, "pinned")})
			f.Notes = append(f.Notes, pattern.Remark{Text: genText().Draw(t, "note")})
		}
		how := rapid.SampledFrom(pattern.Hows())
		for i, text := range rapid.SliceOfNDistinct(genText(), 0, 3, func(s string) string { return s }).Draw(t, "areas") {
			f.Verdicts = append(f.Verdicts, pattern.Verdict{Of: text, How: how.Draw(t, "how")})
			f.Moved = append(f.Moved, pattern.Verdict{Of: fmt.Sprintf("%s %d", text, i), How: how.Draw(t, "how")})
		}
		return f
	})
}

// genModel gives a model of any kind and the path of its file.
func genModel() *rapid.Generator[modelFile] {
	return rapid.Custom(func(t *rapid.T) modelFile {
		switch rapid.IntRange(0, 3).Draw(t, "file") {
		case 0:
			return modelFile{"pieces/p.piece", genPiece("p").Draw(t, "piece")}
		case 1:
			return modelFile{"g.garment", genGarment("g").Draw(t, "garment")}
		case 2:
			return modelFile{"fittings/f.fitting", genFitting("f").Draw(t, "fitting")}
		default:
			return modelFile{"bodies/b.body", genBody("b").Draw(t, "body")}
		}
	})
}

type modelFile struct {
	path  string
	model any
}

// untidy writes comments, blank lines and further spaces into canonical text.
func untidy(t *rapid.T, src []byte) []byte {
	var out []byte
	n := 0
	comment := func() string {
		n++
		return fmt.Sprintf("#~~c%d %s", n, rapid.StringMatching(`[ -~é]{0,8}`).Draw(t, "comment"))
	}
	for _, l := range splitLines(src) {
		for range rapid.IntRange(0, 2).Draw(t, "above") {
			switch rapid.IntRange(0, 5).Draw(t, "what") {
			case 0:
				out = append(out, "\n"...)
			case 1:
				out = append(out, comment()+"\n"...)
			case 2:
				out = append(out, "   "+comment()+"\n"...)
			}
		}
		out = append(out, l...)
		switch rapid.IntRange(0, 5).Draw(t, "behind") {
		case 0:
			out = append(out, "   "...)
		case 1:
			out = append(out, " "+comment()...)
		}
		out = append(out, '\n')
	}
	if rapid.Bool().Draw(t, "tail") {
		out = append(out, "\n"+comment()+"\n\n"...)
	}
	return out
}
