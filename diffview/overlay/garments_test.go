package overlay

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// waistcoat is the file of the sample: the sides of its pieces as points from
// hem to top, straight between them. The garment is invented.
type waistcoat struct {
	Levels, Body, Reduce        [][2]any
	Thickness, Overlap, Stretch float64
	Versions                    map[string]map[string]struct{ Front, Back [][2]float64 }
}

func readWaistcoat(t require.TestingT) waistcoat {
	data, err := os.ReadFile(filepath.Join("testdata", "waistcoat.json"))
	require.NoError(t, err)
	var w waistcoat
	require.NoError(t, json.Unmarshal(data, &w))
	return w
}

func (w waistcoat) body() *pattern.Body { return &pattern.Body{Name: "ringer", Girths: nums(w.Body)} }

func nums(list [][2]any) []pattern.LevelNum {
	var out []pattern.LevelNum
	for _, n := range list {
		out = append(out, pattern.LevelNum{Level: n[0].(string), Value: n[1].(float64)})
	}
	return out
}

// garment builds one version.
func (w waistcoat) garment(t require.TestingT, version string) *pattern.Garment {
	g := &pattern.Garment{
		Name: "waistcoat", Title: "Midsummer waistcoat", Half: pattern.LeftHalf, Body: "ringer",
		Thickness: pattern.Some(w.Thickness), Reduce: nums(w.Reduce),
		Closures: []pattern.Closure{
			{Name: "front", Kind: pattern.Lacing, Edges: []pattern.Ref{{Piece: "front", Edge: "front"}}},
			{Name: "back", Kind: pattern.ButtonClosure, Edges: []pattern.Ref{{Piece: "button-stand", Edge: "back"}}, Overlap: pattern.Some(w.Overlap)},
		},
		Options: []pattern.PieceOption{{Piece: "gusset", Stretch: pattern.Some(w.Stretch), Of: pattern.Some(60)}},
	}
	for _, l := range w.Levels {
		g.Levels = append(g.Levels, pattern.Level{Name: l[0].(string), Y: l[1].(float64)})
	}
	names := []string{"front", "side-front", "underarm", "gusset", "side-back", "back", "button-stand"}
	for i, name := range names {
		sides, ok := w.Versions[version][name]
		require.True(t, ok, "%s of %s", name, version)
		g.Around = append(g.Around, pattern.Mention{Name: name})
		g.Pieces = append(g.Pieces, panel(name, sides.Front, sides.Back))
		if i > 0 {
			g.Seams = append(g.Seams, pattern.Seam{
				Name:  names[i-1] + "-" + name,
				First: []pattern.Ref{{Piece: names[i-1], Edge: "back"}}, Second: []pattern.Ref{{Piece: name, Edge: "front"}},
			})
		}
	}
	g.SortPieces()
	return g
}

// panel draws a piece from its two sides, listed from hem to top.
func panel(name string, front, back [][2]float64) *pattern.Piece {
	pt := func(p [2]float64) curve.Point { return curve.Pt(p[0], p[1]) }
	side := func(list [][2]float64) []pattern.Seg {
		var out []pattern.Seg
		for i := 1; i < len(list); i++ {
			out = append(out, pattern.Seg{To: pt(list[i]), ToCorner: i == len(list)-1})
		}
		return out
	}
	down := make([][2]float64, len(front))
	for i := range front {
		down[len(front)-1-i] = front[i]
	}
	a, b := pt(back[len(back)-1]), pt(down[0])
	p := &pattern.Piece{
		Name: name, Cloths: []pattern.Cloth{{Name: "canvas", Count: 1, Cut: pattern.Pair}},
		Grain: &pattern.Grain{From: curve.Pt((a.X+b.X)/2, -60), To: curve.Pt((a.X+b.X)/2, 110)},
		Corners: []pattern.Corner{
			{Name: "top-front", At: b}, {Name: "hem-front", At: pt(front[0])},
			{Name: "hem-back", At: pt(back[0])}, {Name: "top-back", At: a},
		},
		Edges: []pattern.Edge{
			{Name: "front", Segs: side(down)}, {Name: "hem"}, {Name: "back", Segs: side(back)},
			{Name: "top", Segs: []pattern.Seg{{
				Curve: true, ToCorner: true,
				H1: curve.Pt(a.X+(b.X-a.X)*0.35, a.Y+(b.Y-a.Y)*0.15-2), H2: curve.Pt(a.X+(b.X-a.X)*0.65, b.Y+(a.Y-b.Y)*0.05),
			}}},
		},
		Notches: []pattern.Notch{
			{Name: "waist", Edge: pattern.Mention{Name: "front"}, On: pattern.Spot{Kind: pattern.AtLevel, Level: "waist"}},
			{Name: "waist", Edge: pattern.Mention{Name: "back"}, On: pattern.Spot{Kind: pattern.AtLevel, Level: "waist"}},
		},
	}
	return round3(p)
}

// round3 rounds to the three decimals that a file holds.
func round3(p *pattern.Piece) *pattern.Piece {
	for i := range p.Corners {
		p.Corners[i].At = pattern.Round(p.Corners[i].At)
	}
	for i := range p.Edges {
		for j := range p.Edges[i].Segs {
			s := &p.Edges[i].Segs[j]
			s.H1, s.H2, s.To = pattern.Round(s.H1), pattern.Round(s.H2), pattern.Round(s.To)
		}
	}
	return p
}

// clone copies what the tests change.
func clone(g *pattern.Garment) *pattern.Garment {
	c := *g
	c.Pieces = nil
	for _, p := range g.Pieces {
		q := *p
		q.Corners = append([]pattern.Corner(nil), p.Corners...)
		q.Notches = append([]pattern.Notch(nil), p.Notches...)
		q.Edges = nil
		for _, e := range p.Edges {
			e.Segs = append([]pattern.Seg(nil), e.Segs...)
			q.Edges = append(q.Edges, e)
		}
		c.Pieces = append(c.Pieces, &q)
	}
	return &c
}

// longName is a name of 64 characters, the most that a pattern allows.
func longName(letter string) string {
	return strings.Repeat(letter, 31) + "-" + strings.Repeat(letter, 32)
}

// sample is a pair of versions to draw.
type sample struct {
	name          string
	before, after *pattern.Garment
	options       Options
	piece         string // draw only this one
	unknownBody   bool   // nobody's measures are at hand
}

func (s sample) change(w waistcoat) *compare.Change {
	if s.unknownBody {
		return compare.Garments(s.before, s.after, compare.Options{})
	}
	return compare.Garments(s.before, s.after, compare.Options{Body: w.body()})
}

// samples are the pictures that the tests look at.
func samples(t require.TestingT) []sample {
	w := readWaistcoat(t)
	v := func(name string) *pattern.Garment { return w.garment(t, name) }
	o := Options{
		Title: "Midsummer waistcoat", From: "gusset (3f2a9c1)", To: "seam-move (81be0d4)",
		Note:    []string{"Move the side-back seam to the back", "the seam lay on the shoulder blade when the arms were raised; the width stays, the neighbour gives it"},
		Verdict: "claims not judged",
	}
	with := func(from, to string, note ...string) Options {
		x := o
		x.From, x.To, x.Note = from, to, note
		return x
	}
	return append([]sample{
		{"half-move", v("gusset"), v("half-move"), with("gusset (3f2a9c1)", "half-move (77d01aa)", "Widen side-back", "more room over the shoulder blade"), "", false},
		{"seam-move", v("gusset"), v("seam-move"), o, "", false},
		{"seam-move-back", v("gusset"), v("seam-move"), o, "back", false},
		{"wider-gusset", v("seam-move"), v("wider-gusset"), with("seam-move (81be0d4)", "wider-gusset (c4f9e02)", "Wider gusset", "mock-up 1: the front gap was too wide"), "", false},
		{"all-pieces", shifted(v("gusset"), 4), v("seam-move"), o, "", false},
		{"from-nothing", nil, v("gusset"), with("", "gusset (3f2a9c1)", "Bring the waistcoat in"), "", false},
		{"nothing", v("gusset"), v("gusset"), with("gusset (3f2a9c1)", "gusset (3f2a9c1)"), "", false},
		{"unchanged-piece", v("gusset"), v("seam-move"), o, "gusset", false},
	}, oddSamples(v, o)...)
}

// oddSamples are the awkward ones: tiny moves, long names, many pieces, records.
func oddSamples(v func(string) *pattern.Garment, o Options) []sample {
	tiny := clone(v("gusset"))
	tiny.Piece("side-back").Edges[3].Segs[0].H2.Y -= 1.2
	hair := clone(v("gusset"))
	hair.Piece("side-back").Edges[3].Segs[0].H2.Y -= 0.05
	notch := clone(v("gusset"))
	p := notch.Piece("back")
	p.Notches = append(p.Notches, pattern.Notch{Name: "bust", Edge: pattern.Mention{Name: "front"}, On: pattern.Spot{Kind: pattern.AtLevel, Level: "bust"}})
	notch.Closures[1].Overlap = pattern.Some(30)
	swapped := clone(v("seam-move"))
	swapped.Pieces = append(swapped.Pieces, strap("strap"))
	swapped.SortPieces()
	gone := clone(v("gusset"))
	collar := strap("collar")
	for i := range collar.Corners {
		collar.Corners[i].At.X *= 1.5
	}
	gone.Pieces = append(gone.Pieces, collar)
	gone.SortPieces()
	long, longer := longNames(v("gusset")), longNames(v("seam-move"))
	hostile := o
	hostile.Title = `<script>alert("x")</script>` + "\x1b[31m \u202e mirrored"
	hostile.Note = []string{`"><g onload="x">`, strings.Repeat("very long words of a note & more ", 40), strings.Repeat("x", 900)}
	hostile.From, hostile.To = strings.Repeat("from ", 60), "]]>&amp;"
	return []sample{
		{"tiny", v("gusset"), tiny, o, "", false},
		{"hair", v("gusset"), hair, o, "", false},
		{"records", v("gusset"), notch, o, "", false},
		{"added-removed", gone, swapped, o, "", false},
		{"long-names", long, longer, o, "", false},
		{"many", many(v("gusset"), 0), many(v("seam-move"), 3), o, "", false},
		{"hostile", v("gusset"), v("half-move"), hostile, "", false},
		{"small-piece", buckle(0), buckle(0.8), o, "", false},
		{"own-levels", ownLevels(v("gusset")), ownLevels(v("seam-move")), o, "", false},
		{"crowded-levels", crowded(v("gusset")), crowded(v("half-move")), o, "", false},
		{"knot", wave(false), wave(true), o, "", false},
		{"marks", marked(v("gusset"), false), marked(v("gusset"), true), o, "", false},
		{"marks-and-edges", marked(v("gusset"), false), marked(v("seam-move"), true), o, "", false},
		{"thirty-eyelets", eyelets(v("gusset"), 0), eyelets(v("gusset"), 4), o, "", false},
		{"turned", v("gusset"), turnedPiece(v("gusset"), "back", 5), o, "", false},
		{"raised-levels", v("gusset"), raisedLevels(v("gusset")), o, "", false},
		{"hostile-marks", badlyNamed(marked(v("gusset"), false)), badlyNamed(marked(v("gusset"), true)), o, "", false},
	}
}

// marked puts marks of every kind on three pieces; in the later version some
// moved, some are new, gone, or of another size, and a notch slid up its edge.
func marked(g *pattern.Garment, later bool) *pattern.Garment {
	g = pattern.Clone(g)
	d := func(v float64) float64 {
		if later {
			return v
		}
		return 0
	}
	p := g.Piece("back")
	p.Marks = []pattern.Mark{
		{Kind: pattern.Bone, Name: "b1", Width: pattern.Some(7), At: curve.Pt(-16+d(6), -90), Segs: []pattern.Seg{{To: curve.Pt(-16+d(6), 140)}}},
		{Kind: pattern.Bone, Name: "b2", Width: pattern.Some(7), At: curve.Pt(10, -90), Segs: []pattern.Seg{{To: curve.Pt(10, 140)}}},
		{Kind: pattern.Cord, Name: "c1", At: curve.Pt(-8, 70), Segs: []pattern.Seg{{Curve: true, H1: curve.Pt(-4, 76+d(8)), H2: curve.Pt(4, 76+d(8)), To: curve.Pt(8, 70)}}},
		{Kind: pattern.Cutout, Name: "pocket", At: curve.Pt(-14, -30), Segs: []pattern.Seg{{To: curve.Pt(6, -30-d(3))}, {To: curve.Pt(6, -50)}, {To: curve.Pt(-14, -50)}, {To: curve.Pt(-14, -30)}}},
	}
	if later {
		p.Marks[1].Width = pattern.Some(9)
		p.Marks = append(p.Marks, pattern.Mark{Kind: pattern.Drill, Name: "d1", At: curve.Pt(-4, 110)})
	}
	p = g.Piece("button-stand")
	p.Marks = []pattern.Mark{
		{Kind: pattern.Button, Name: "n1", At: curve.Pt(4, 120), Diameter: pattern.Some(18)},
		{Kind: pattern.Button, Name: "n2", At: curve.Pt(4, 80+d(5)), Diameter: pattern.Some(18)},
		{Kind: pattern.Buttonhole, Name: "h1", At: curve.Pt(-26, 120), Length: pattern.Some(20)},
		{Kind: pattern.Buttonhole, Name: "h2", At: curve.Pt(-26, 80+d(5)), Length: pattern.Some(20), Angle: pattern.Some(10)},
		{Kind: pattern.Stitch, Name: "dart", At: curve.Pt(-10, -20), Segs: []pattern.Seg{{To: curve.Pt(-10, 40)}}},
	}
	if later {
		p.Marks = p.Marks[:4]
	}
	p = g.Piece("gusset")
	p.Notches = append(p.Notches, pattern.Notch{Name: "half", Edge: pattern.Mention{Name: "front"},
		On: pattern.Spot{Kind: pattern.FromLevel, Level: "waist", Distance: 40 + d(7), Above: true}})
	return g
}

// eyelets puts thirty eyelets on the front; later each lies d lower.
func eyelets(g *pattern.Garment, d float64) *pattern.Garment {
	g = pattern.Clone(g)
	p := g.Piece("front")
	for i := range 30 {
		p.Marks = append(p.Marks, pattern.Mark{Kind: pattern.Eyelet, Name: fmt.Sprintf("e%d", i+1), At: curve.Pt(8, 150-9*float64(i)-d), Diameter: pattern.Some(5)})
	}
	return g
}

// badlyNamed gives every mark a name that a picture must not believe.
func badlyNamed(g *pattern.Garment) *pattern.Garment {
	for _, p := range g.Pieces {
		for i := range p.Marks {
			p.Marks[i].Name = fmt.Sprintf(`%d"><script>alert(1)</script>&`, i) + "\x1b[31m\u202e" + strings.Repeat("w", 90)
		}
	}
	return g
}

// turnedPiece turns a piece about its origin by degrees, with all that lies on it.
func turnedPiece(g *pattern.Garment, piece string, degrees float64) *pattern.Garment {
	g = pattern.Clone(g)
	m := curve.Rotate(degrees * math.Pi / 180)
	p := g.Piece(piece)
	for i := range p.Corners {
		p.Corners[i].At = m.Apply(p.Corners[i].At)
	}
	for i := range p.Edges {
		for j := range p.Edges[i].Segs {
			s := &p.Edges[i].Segs[j]
			s.H1, s.H2, s.To = m.Apply(s.H1), m.Apply(s.H2), m.Apply(s.To)
		}
	}
	round3(p)
	return g
}

// raisedLevels puts two levels elsewhere on one piece that changes a little.
func raisedLevels(g *pattern.Garment) *pattern.Garment {
	g = pattern.Clone(g)
	p := g.Piece("side-back")
	p.Levels = []pattern.Level{{Name: "bust", Y: 152}, {Name: "high-hip", Y: -70}}
	p.Edges[3].Segs[0].H2.Y -= 8
	return g
}

// shifted moves the tops of all pieces up and their hems sideways.
func shifted(g *pattern.Garment, d float64) *pattern.Garment {
	g = clone(g)
	for _, p := range g.Pieces {
		for i := range p.Corners {
			if p.Corners[i].At.Y > 0 {
				p.Corners[i].At.Y -= d
			}
		}
	}
	return g
}

// ownLevels gives one piece a bust of its own, so that no line serves all.
func ownLevels(g *pattern.Garment) *pattern.Garment {
	g = clone(g)
	g.Piece("back").Levels = []pattern.Level{{Name: "bust", Y: 151}, {Name: "blade", Y: 150.5}}
	return g
}

// crowded has many levels close to each other and to the hem.
func crowded(g *pattern.Garment) *pattern.Garment {
	g = clone(g)
	for i := range 30 {
		g.Levels = append(g.Levels, pattern.Level{Name: "mark-" + string(rune('a'+i%26)) + string(rune('a'+i/26)), Y: -90 - 0.5*float64(i)})
	}
	return g
}

// strap is a piece without levels.
func strap(name string) *pattern.Piece {
	return &pattern.Piece{
		Name: name, NoLevels: true,
		Corners: []pattern.Corner{{Name: "a", At: curve.Pt(0, 455)}, {Name: "b"}, {Name: "c", At: curve.Pt(32, 0)}, {Name: "d", At: curve.Pt(32, 455)}},
		Edges:   []pattern.Edge{{Name: "left"}, {Name: "foot"}, {Name: "right"}, {Name: "top"}},
	}
}

// longNames gives every piece, corner, edge and level a name of 64 characters.
func longNames(g *pattern.Garment) *pattern.Garment {
	g = clone(g)
	g.Closures, g.Seams, g.Reduce, g.Options = nil, nil, nil, nil
	level := map[string]string{}
	for i := range g.Levels {
		level[g.Levels[i].Name] = longName(string(rune('m' + i)))
		g.Levels[i].Name = level[g.Levels[i].Name]
	}
	for i, p := range g.Pieces {
		p.Name = longName(string(rune('a' + i)))
		for j := range p.Edges {
			p.Edges[j].Name = longName(string(rune('s' + j)))
			p.Corners[j].Name = longName(string(rune('w' + j)))
		}
		p.Notches = nil
	}
	g.Around = nil
	g.SortPieces()
	return g
}

// many has 40 pieces: copies whose tops differ by d.
func many(g *pattern.Garment, d float64) *pattern.Garment {
	out := clone(g)
	out.Pieces, out.Seams = nil, nil
	for i := 0; i < 40; i++ {
		p := clone(shifted(g, d)).Pieces[i%len(g.Pieces)]
		p.Name += "-" + string(rune('a'+i/26)) + string(rune('a'+i%26))
		out.Pieces = append(out.Pieces, p)
	}
	out.SortPieces()
	return out
}

// buckle is a piece of 9 by 6 mm with eight edges.
func buckle(d float64) *pattern.Garment {
	p := &pattern.Piece{Name: "buckle", NoLevels: true}
	for i, q := range []curve.Point{{X: 0, Y: 4}, {X: 0, Y: 2}, {X: 2, Y: 0}, {X: 7, Y: 0}, {X: 9 + d, Y: 2}, {X: 9 + d, Y: 4}, {X: 7, Y: 6}, {X: 2, Y: 6}} {
		p.Corners = append(p.Corners, pattern.Corner{Name: "c" + string(rune('a'+i)), At: q})
		p.Edges = append(p.Edges, pattern.Edge{Name: "e" + string(rune('a'+i))})
	}
	return &pattern.Garment{Name: "belt", Half: pattern.Whole, Pieces: []*pattern.Piece{p}}
}

// wave is a block whose top is straight, or winds back and forth over where it
// was so that the two lines meet in different orders.
func wave(wound bool) *pattern.Garment {
	p := &pattern.Piece{
		Name: "block", NoLevels: true,
		Corners: []pattern.Corner{{Name: "a", At: curve.Pt(0, 100)}, {Name: "b"}, {Name: "c", At: curve.Pt(120, 0)}, {Name: "d", At: curve.Pt(120, 100)}},
		Edges:   []pattern.Edge{{Name: "left"}, {Name: "foot"}, {Name: "right"}, {Name: "top"}},
	}
	if wound { // from (120, 100) over to x = 30, back up through x = 60, down through x = 90 and home below
		for _, q := range []curve.Point{{X: 115, Y: 130}, {X: 30, Y: 130}, {X: 30, Y: 80}, {X: 60, Y: 80}, {X: 60, Y: 115}, {X: 90, Y: 115}, {X: 90, Y: 60}, {X: 10, Y: 60}} {
			p.Edges[3].Segs = append(p.Edges[3].Segs, pattern.Seg{To: q})
		}
		p.Edges[3].Segs = append(p.Edges[3].Segs, pattern.Seg{ToCorner: true})
	}
	return &pattern.Garment{Name: "block", Half: pattern.Whole, Pieces: []*pattern.Piece{p}}
}
