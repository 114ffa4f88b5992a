package overlay

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

func eachWrong(t *testing.T, test func(t *testing.T, s wrong, root *node)) {
	for name, s := range wrongs(t) {
		t.Run(name, func(t *testing.T) { test(t, s, sound(t, name, s.picture(t))) })
	}
}

func TestGoldenPicturesOfFindings(t *testing.T) {
	for _, name := range []string{"broken", "runs"} {
		file := filepath.Join("testdata", "golden", "findings-"+name+".svg")
		got := wrongs(t)[name].picture(t)
		if *update {
			require.NoError(t, os.WriteFile(file, got, 0o644))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		sameNodes(t, readPicture(t, want), readPicture(t, got))
	}
}

func TestPicturesOfFindingsAreCalm(t *testing.T) {
	eachWrong(t, func(t *testing.T, s wrong, root *node) {
		textsAreCalm(t, root)
		linesAreOnTheSheet(t, root)
		tagsAreApart(t, root)
		assert.Contains(t, root.words(), "for looking, not for cutting")
	})
}

// tagsAreApart asserts that no number lies over another, nor over the dot of any.
func tagsAreApart(t require.TestingT, root *node) {
	var tags []rect
	var dots []curve.Point
	for _, g := range root.with("data-finding") {
		for _, e := range g.named("rect") {
			x, y := e.number(t, "x"), e.number(t, "y")
			tags = append(tags, rect{x, y, x + e.number(t, "width"), y + e.number(t, "height")})
		}
		for _, e := range g.named("circle") {
			dots = append(dots, curve.Pt(e.number(t, "cx"), e.number(t, "cy")))
		}
	}
	for i, r := range tags {
		for _, q := range tags[:i] {
			require.False(t, r.overlaps(q), "%v lies over %v", r, q)
		}
		for _, p := range dots {
			require.False(t, r.holds(p), "%v lies over the place %v", r, p)
		}
	}
}

// pinned gives where the dots of a picture lie in the frames of their pieces, y up,
// by number and piece.
func pinned(t require.TestingT, root *node) map[string][]curve.Point {
	out := map[string][]curve.Point{}
	for _, g := range root.with("data-piece") {
		for _, f := range g.with("data-finding") {
			for _, dot := range f.named("circle") {
				name := f.attrs["data-finding"] + " " + g.attrs["data-piece"]
				out[name] = append(out[name], curve.Pt(dot.number(t, "cx")-g.number(t, "data-x"), g.number(t, "data-y")-dot.number(t, "cy")))
			}
		}
	}
	return out
}

func TestEachNumberStandsOnceAtItsPoint(t *testing.T) {
	s := wrongs(t)
	for _, name := range []string{"thirty", "three-at-a-point", "buckle"} {
		got := pinned(t, readPicture(t, s[name].picture(t)))
		for i, p := range s[name].list {
			if !p.Place.HasPoint {
				assert.Empty(t, got[fmt.Sprint(i+1)+" "+p.Place.Piece], "no place, no dot")
				continue
			}
			at := got[fmt.Sprint(i+1)+" "+p.Place.Piece]
			require.Len(t, at, 1)
			assert.LessOrEqual(t, at[0].Dist(curve.Pt(p.Place.X, p.Place.Y)), 0.01, "%s %d", name, i+1)
		}
	}
	far := readPicture(t, s["far-away"].picture(t))
	assert.Len(t, pinned(t, far), 1, "what lies too far out is pointed at")
	assert.Len(t, far.with("data-finding"), 3)
}

// unbroken is a text without its spaces: lines break between words and behind hyphens.
func unbroken(s string) string { return strings.Join(strings.Fields(s), "") }

func TestFindingsAreListedOnceInOrder(t *testing.T) {
	eachWrong(t, func(t *testing.T, s wrong, root *node) {
		rows := map[string]*node{}
		for _, r := range root.with("data-row") {
			require.Nil(t, rows[r.attrs["data-row"]], "twice")
			rows[r.attrs["data-row"]] = r
		}
		require.Len(t, rows, len(s.list))
		desc := root.named("desc")[0].text
		for i, p := range s.list {
			r := rows[fmt.Sprint(i+1)]
			require.NotNil(t, r)
			assert.Equal(t, fmt.Sprint(i+1), r.named("text")[0].text)
			if strings.Contains(p.Found, "<") {
				continue // cut: its letters are looked at elsewhere
			}
			words := unbroken(r.words())
			assert.Contains(t, words, unbroken(p.Severity.String()+": "+p.Message()))
			hint, _, _ := strings.Cut(p.Hint, "\n")
			assert.Contains(t, words, unbroken(hint))
			if said := fmt.Sprintf("%d, %s: %s", i+1, p.Severity, p.Message()); !strings.HasSuffix(desc, "\u2026") || i < 30 {
				assert.Contains(t, desc, said)
			}
		}
	})
}

// The sides of side-back-back differ by 3.99, all of it above the waist, where both
// sides have their notch: that stretch is broad on both pieces.
func TestSeamsAreMarkedOnBothSides(t *testing.T) {
	s := wrongs(t)["broken"]
	root := readPicture(t, s.picture(t))
	number := ""
	for i, p := range s.list {
		if p.ID == "seam.differs" {
			number = fmt.Sprint(i + 1)
		}
	}
	got := pinned(t, root)
	for piece, edge := range map[string]string{"side-back": "back", "back": "front"} {
		require.Len(t, got[number+" "+piece], 1, piece)
		p := s.garment.Piece(piece)
		line := p.EdgePath(p.EdgeIndex(edge))
		assert.LessOrEqual(t, line.Nearest(got[number+" "+piece][0]).Dist, 0.01)
		for _, g := range root.with("data-piece") {
			if g.attrs["data-piece"] != piece {
				continue
			}
			bands := g.all(func(n *node) bool { return n.attrs["stroke-opacity"] != "" })
			require.Len(t, bands, 1)
			box := pathPoints(t, bands[0].attrs["d"])[0].Bounds()
			top := max(line.Start().Y, line.End().Y)
			assert.InDelta(t, 0, g.number(t, "data-y")-box.Max.Y, 0.01, "it begins at the waist")
			assert.InDelta(t, top, g.number(t, "data-y")-box.Min.Y, 0.01, "and goes to the top")
		}
	}
}

// The panels side by side: each kink at its corner, the line of the run from the
// first panel to the last. The origins of the panels are those that the strip says.
func TestRunsAreShownOnTheStrip(t *testing.T) {
	s := wrongs(t)["runs"]
	root := readPicture(t, s.picture(t))
	_, at := origins(t, root)
	require.Len(t, at, 7)
	dots := map[string][]curve.Point{}
	for _, f := range root.with("data-finding") {
		for _, dot := range f.named("circle") {
			n := f.attrs["data-finding"]
			dots[n] = append(dots[n], curve.Pt(dot.number(t, "cx"), dot.number(t, "cy")))
		}
	}
	for i, p := range s.list {
		for _, r := range p.Related {
			o := at[r.Place.Piece]
			want := curve.Pt(o.X+r.Place.X, o.Y-r.Place.Y)
			near := math.Inf(1)
			for _, d := range dots[fmt.Sprint(i+1)] {
				near = min(near, d.Dist(want))
			}
			assert.LessOrEqual(t, near, 0.05, "%d on %s", i+1, r.Place.Piece)
		}
	}
	assert.Len(t, dots["1"], 4, "the back corner of gusset and the front one of side-back are one place")
	assert.Len(t, root.with("data-piece"), 1, "pieces that are on the strip are not drawn again")

	words := flatWords(root)
	for i, r := range s.garment.Runs { // a turn over the tolerance stands in words on the line as it is sewn
		for k := range s.garment.Seams {
			turn, ok := measure.TurnAt(s.garment, &s.garment.Runs[i], &s.garment.Seams[k])
			require.True(t, ok)
			if kink := turn.Kink(); kink > s.garment.ToleranceOf("turn") {
				assert.Contains(t, words, fmt.Sprintf("%.1f\u00b0 out", kink), "%s at %s", r.Name, s.garment.Seams[k].Name)
			}
		}
	}
	assert.Len(t, root.all(func(n *node) bool { return n.attrs["data-sewn"] == "hem" && n.attrs["data-kind"] == "run" }), 7)

	without := wrong{s.garment, s.list[1:2]}
	assert.Empty(t, readPicture(t, without.picture(t)).with("data-panel"), "no run, no strip")
	apart := wrong{buckle(0), diag.List{{ID: "run.kink", Severity: diag.Warning, Subject: "rim", Found: "it kinks", Related: []diag.Related{{Place: diag.Place{Piece: "buckle"}.Point(0, 4)}}}}}
	assert.Len(t, pinned(t, readPicture(t, apart.picture(t))), 1, "a run off the strip stands on its piece")
}

// What is about a piece as a whole stands in its middle, in the cloth, without a dot.
func TestFindingsWithoutAPlaceStandInTheMiddle(t *testing.T) {
	p := poly(0, 300, 0, 0, 200, 0, 200, 30, 40, 30, 40, 300) // an L, whose box has its middle outside
	g := &pattern.Garment{Half: pattern.Whole, Pieces: []*pattern.Piece{p}}
	root := readPicture(t, wrong{g, diag.List{{ID: "outline.clockwise", Severity: diag.Error, Place: diag.Place{File: "pieces/block.piece"}}}}.picture(t))
	require.Len(t, root.with("data-finding"), 1)
	assert.Empty(t, pinned(t, root))
	tag, at := root.with("data-finding")[0].named("rect")[0], root.with("data-piece")[0]
	middle := curve.Pt(tag.number(t, "x")+tag.number(t, "width")/2-at.number(t, "data-x"), at.number(t, "data-y")-tag.number(t, "y")-tag.number(t, "height")/2)
	assert.LessOrEqual(t, middle.Dist(curve.Pt(20, 150)), 0.01, "%v", middle)
}

// Each kind of tag can be told from the others without its colour.
func TestGravityIsAShape(t *testing.T) {
	for _, g := range readPicture(t, wrongs(t)["thirty"].picture(t)).with("data-finding") {
		tag := g.named("rect")[0].attrs
		switch g.attrs["data-severity"] {
		case "error":
			assert.Equal(t, tag["stroke"], tag["fill"])
			assert.Empty(t, tag["stroke-dasharray"])
		case "warning":
			assert.Equal(t, "#ffffff", tag["fill"])
			assert.Empty(t, tag["stroke-dasharray"])
		default:
			assert.Equal(t, "#ffffff", tag["fill"])
			assert.NotEmpty(t, tag["stroke-dasharray"])
		}
	}
}

// WCAG 2.2, 1.4.3 and 1.4.11: 4.5 to 1 for words, 3 to 1 for signs.
func TestColourOfFindingsStandsOut(t *testing.T) {
	of := func(hex string) colour {
		var c [3]int
		_, err := fmt.Sscanf(hex, "#%02x%02x%02x", &c[0], &c[1], &c[2])
		require.NoError(t, err)
		return colour{float64(c[0]) / 255, float64(c[1]) / 255, float64(c[2]) / 255}
	}
	ratio := func(a, b string) float64 {
		x, y := of(a).luminance(), of(b).luminance()
		return (max(x, y) + 0.05) / (min(x, y) + 0.05)
	}
	assert.GreaterOrEqual(t, ratio(findColour, "#ffffff"), 4.5)
	assert.GreaterOrEqual(t, ratio(findingShades()[1].Fill, "#15181b"), 4.5, "on dark pages")
}

func TestWordsOfPicturesOfFindings(t *testing.T) {
	s := wrongs(t)
	words := func(name string) string { return flatWords(readPicture(t, s[name].picture(t))) }
	assert.Contains(t, words("nothing"), "Nothing was found: there is nothing to mend.")
	assert.Contains(t, words("nothing"), "front, side-front, underarm, gusset, side-back, back, button-stand")
	assert.Contains(t, words("thirty"), "10 errors, 10 warnings, 10 notes. Errors refuse a commit.")
	assert.Contains(t, words("thirty"), "Nothing to say about front, side-front, underarm, side-back, back, button-stand")
	assert.Contains(t, words("broken"), "About the whole garment")
	assert.Contains(t, words("unreadable"), "waistcoat.garment:3")
	assert.Contains(t, words("many-pieces"), "zeppelin (it is 200.0 m large)")
	assert.NotContains(t, words("buckle"), "Nothing to say about")

	var flood diag.List
	for range 250 {
		flood = append(flood, onPiece(diag.Warning, "back", 10, 10))
	}
	root := readPicture(t, wrong{s["nothing"].garment, flood}.picture(t))
	assert.Contains(t, flatWords(root), "250 warnings. Only the first 200 are shown.")
	assert.Contains(t, flatWords(root), "50 further findings: seamkeep check lists all of them")
	tagsAreApart(t, root)
}

func TestPicturesOfFindingsAreSafeAndSteady(t *testing.T) {
	s := wrongs(t)["hostile"]
	a := s.picture(t)
	assert.Equal(t, a, s.picture(t))
	assert.NotContains(t, string(a), "<script")
	assert.NotContains(t, string(a), "\x1b")
	assert.NotContains(t, string(a), "\u202e")
	assert.Contains(t, flatWords(readPicture(t, a)), `"><script>alert(1)</script>&`)
	var b bytes.Buffer
	require.NoError(t, Findings(&b, s.garment, s.list, Options{Prefix: "x-"}))
	assert.Contains(t, b.String(), `id="x-title"`)
	assert.Error(t, Findings(full{}, s.garment, s.list, Options{}), "a disk that is full")
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, os.ErrClosed }

// Points anywhere, on pieces and edges that may not exist: no tag lies over another,
// and each finding with a point near its piece is at it.
func TestTagsOfRandomFindings(t *testing.T) {
	w := readWaistcoat(t)
	g := withRuns(w.garment(t, "gusset"))
	near, far := rapid.Float64Range(-120, 260), rapid.SampledFrom([]float64{0, -9, 1e5, -1e300, math.NaN(), math.Inf(1)})
	rapid.Check(t, func(t *rapid.T) {
		place := func(label string) diag.Place {
			number := near
			if rapid.IntRange(0, 9).Draw(t, label+" wild") == 0 {
				number = rapid.OneOf(near, far)
			}
			return diag.Place{
				Piece: rapid.SampledFrom([]string{"back", "gusset", "side-front", "none", ""}).Draw(t, label),
				Edge:  rapid.SampledFrom([]string{"", "back", "hem", "none"}).Draw(t, label+" edge"), OnEdge: rapid.Bool().Draw(t, label+" on"), At: number.Draw(t, label+" at"),
				X: number.Draw(t, label+" x"), Y: number.Draw(t, label+" y"), HasPoint: rapid.Bool().Draw(t, label+" point"),
			}
		}
		var list diag.List
		for range rapid.IntRange(0, 25).Draw(t, "findings") {
			p := diag.Problem{
				ID: rapid.SampledFrom([]string{"mark.outside", "run.kink", "seam.differs", "x"}).Draw(t, "id"), Severity: diag.Severity(rapid.IntRange(0, 2).Draw(t, "severity")),
				Subject: rapid.SampledFrom([]string{"neckline", "back", g.Seams[2].Name, ""}).Draw(t, "subject"), Found: "found", Place: place("place"),
			}
			for range rapid.IntRange(0, 2).Draw(t, "further") {
				p.Related = append(p.Related, diag.Related{Place: place("further place")})
			}
			list = append(list, p)
		}
		root := sound(t, "random", wrong{g, list}.picture(t))
		tagsAreApart(t, root)
		got := pinned(t, root)
		for i, p := range list {
			piece := g.Piece(p.Place.Piece)
			if p.ID == "run.kink" || p.ID == "seam.differs" || piece == nil || !p.Place.HasPoint {
				continue
			}
			at, box := curve.Pt(p.Place.X, p.Place.Y), piece.Outline().Bounds()
			if at.X < box.Min.X-50 || at.X > box.Max.X+50 || at.Y < box.Min.Y-50 || at.Y > box.Max.Y+50 || at != at {
				continue
			}
			least := math.Inf(1)
			for _, q := range got[fmt.Sprint(i+1)+" "+p.Place.Piece] {
				least = min(least, q.Dist(at))
			}
			require.LessOrEqual(t, least, 0.01, "%d", i+1)
		}
	})
}

// Every way to break a piece: what the checks find of it, and findings at places
// that it no longer has, give a picture that lists them; where the piece cannot be
// drawn it says so.
func TestFindingsOnBrokenPieces(t *testing.T) {
	w := readWaistcoat(t)
	for name, s := range spoils() {
		t.Run(name, func(t *testing.T) {
			g := withRuns(w.garment(t, "gusset"))
			p := g.Piece("side-back")
			kinks := kinked(g, "neckline", [2]string{"top-back", "top-front"}, "gusset", "side-back")
			s.spoil(g, p)
			var list diag.List
			if name != "no measure" && name != "endless" { // no file holds these: the checks would print them
				list = check.Run(check.Input{Garment: g, Body: w.body()})
			}
			list = append(list, onPiece(diag.Error, "side-back", 20, 20), kinks,
				diag.Problem{ID: "seam.differs", Subject: "side-back-back", Found: "it differs"},
				diag.Problem{ID: "edge.short", Place: diag.Place{Piece: "side-back", Edge: "hem", OnEdge: true, At: 9}, Found: "it is short"})
			root := sound(t, name, wrong{g, list}.picture(t))
			tagsAreApart(t, root)
			textsAreCalm(t, root)
			assert.Len(t, root.with("data-row"), len(list))
			drawn := root.all(func(n *node) bool { return n.attrs["data-piece"] == "side-back" })
			assert.Equal(t, s.drawn, len(drawn) == 1)
			if !s.drawn && name != "no pieces" {
				assert.Contains(t, flatWords(root), "Not drawn side-back (")
			}
		})
	}
}

// A run that cannot be followed is told at its first edge, and no line is drawn of it.
func TestFindingsOfRunsThatCannotBeFollowed(t *testing.T) {
	g := wrongs(t)["thirty"].garment
	require.NotEmpty(t, g.Runs)
	run := g.Runs[0]
	for _, id := range []string{"run.broken", "run.twice", "run.turns-back"} {
		list := diag.List{{ID: id, Severity: diag.Warning, Subject: run.Name, Found: "the run breaks", Place: run.Place}}
		s := newFindingSheet(g, list)
		assert.Nil(t, s.strip, id)
		require.Len(t, s.list[0].spots, 1, id)
		assert.Equal(t, run.Refs[0], pattern.Ref{Piece: s.list[0].spots[0].piece, Edge: s.list[0].spots[0].edge}, id)
		assert.NotContains(t, s.quiet, run.Refs[0].Piece, id)
	}
}

// What a finding speaks of is not among what there is nothing to say about: further
// places, the other side, the neighbour in a kink.
func TestFindingsSpeakOfNeighbours(t *testing.T) {
	g := wrongs(t)["thirty"].garment
	p := diag.Problem{ID: "run.kink", Severity: diag.Warning, Subject: "x", Place: diag.Place{Piece: "front"},
		Found: "it turns: underarm.top meets it at 91.1, side-back.top at 114.0", Related: []diag.Related{{Place: diag.Place{Piece: "back"}}}}
	assert.Equal(t, []string{"side-front", "gusset"}, newFindingSheet(g, diag.List{p}).quiet[:2])
}
