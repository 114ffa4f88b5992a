package overlay

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// withRuns names neckline and hem.
func withRuns(g *pattern.Garment) *pattern.Garment {
	neck, hem := pattern.Run{Name: "neckline"}, pattern.Run{Name: "hem"}
	for _, m := range g.Around {
		neck.Refs = append(neck.Refs, pattern.Ref{Piece: m.Name, Edge: "top"})
		hem.Refs = append(hem.Refs, pattern.Ref{Piece: m.Name, Edge: "hem"})
	}
	g.Runs = []pattern.Run{neck, hem}
	return g
}

// kinks reads the turns from a strip, by "line seam".
func kinks(t *testing.T, root *node) map[string]float64 {
	out := map[string]float64{}
	for _, n := range root.with("data-joint") {
		out[n.attrs["data-line"]+" "+n.attrs["data-joint"]] = n.number(t, "data-kink")
	}
	return out
}

func TestTurnsAreThoseOfTheMeasure(t *testing.T) {
	w := readWaistcoat(t)
	for version := range w.Versions {
		g := withRuns(w.garment(t, version))
		got := kinks(t, stripOf(t, g))
		require.Len(t, got, 2*len(g.Seams))
		for i := range g.Runs {
			for k := range g.Seams {
				turn, ok := measure.TurnAt(g, &g.Runs[i], &g.Seams[k])
				require.True(t, ok)
				assert.InDelta(t, turn.Kink(), got[g.Runs[i].Name+" "+g.Seams[k].Name], 0.0005+1e-9, "three decimals")
			}
		}
		plain := kinks(t, stripOf(t, w.garment(t, version)))
		for _, s := range g.Seams {
			assert.Equal(t, got["neckline "+s.Name], plain["top "+s.Name], "without runs the corners say the same")
			assert.Equal(t, got["hem "+s.Name], plain["hem "+s.Name])
		}
	}
}

// The sample's own figures: a straight top of side-back kinks 19.6 to 19.7
// degrees at the back, a straight hem 23 to 23.5 where side-front meets underarm. Each
// turn once more from the corners' coordinates by arctangent alone.
func TestTurnsOfStraightTopsAndHems(t *testing.T) {
	w := readWaistcoat(t)
	g := w.garment(t, "seam-move")
	for _, p := range g.Pieces {
		p.Edges[3].Segs = nil // tops straight
	}
	root := stripOf(t, g)
	got := kinks(t, root)
	assert.InDelta(t, 19.71, got["top side-back-back"], 0.01)
	assert.InDelta(t, 23.53, got["hem side-front-underarm"], 0.01)
	assert.Contains(t, root.words(), fmt.Sprintf("%.1f\u00b0 out", got["top side-back-back"]))
	for i, s := range g.Seams {
		p, q := w.Versions["seam-move"][g.Around[i].Name], w.Versions["seam-move"][g.Around[i+1].Name]
		n, m := len(p.Back)-1, len(q.Front)-1
		top := 180 - angleAt(p.Back[n], p.Back[n-1], p.Front[len(p.Front)-1]) - angleAt(q.Front[m], q.Front[m-1], q.Back[len(q.Back)-1])
		hem := 180 - angleAt(p.Back[0], p.Back[1], p.Front[0]) - angleAt(q.Front[0], q.Front[1], q.Back[0])
		assert.InDelta(t, top, got["top "+s.Name], 0.01)
		assert.InDelta(t, hem, got["hem "+s.Name], 0.01)
	}
}

// angleAt gives the angle at a corner between the ways to two points, degrees.
func angleAt(corner, a, b [2]float64) float64 {
	d := math.Atan2(a[1]-corner[1], a[0]-corner[0]) - math.Atan2(b[1]-corner[1], b[0]-corner[0])
	d = math.Abs(d) * 180 / math.Pi
	return min(d, 360-d)
}

// Two blocks laid together at the waist: by hand, one reaches 2.5 mm beyond the
// other at the top and 1.2 mm at the hem; whichever side the seam names first,
// the front panel's excess counts as positive. The sample's half move leaves its
// seam 1.03 mm off, over both ends.
func TestStepsOfASeamThatIsNotTrued(t *testing.T) {
	long, short := poly(0, 102.5, 0, -51.2, 40, -51.2, 40, 102.5), poly(0, 100, 0, -50, 40, -50, 40, 100)
	long.Name, short.Name = "long", "short"
	back, front := []pattern.Ref{{Piece: "long", Edge: "ec"}}, []pattern.Ref{{Piece: "short", Edge: "ea"}}
	for name, seam := range map[string]pattern.Seam{
		"front first": {Name: "s", First: back, Second: front},
		"back first":  {Name: "s", First: front, Second: back},
	} {
		t.Run(name, func(t *testing.T) {
			g := &pattern.Garment{Half: pattern.LeftHalf, Around: []pattern.Mention{{Name: "long"}, {Name: "short"}}, Levels: []pattern.Level{{Name: "waist"}},
				Pieces: []*pattern.Piece{long, short}, Seams: []pattern.Seam{seam}}
			root := stripOf(t, g)
			got := stepsOf(t, root, "s")
			assert.InDelta(t, 2.5, got["top"], 0.001)
			assert.InDelta(t, 1.2, got["hem"], 0.001)
			assert.Contains(t, root.words(), "step 2.5")
			assert.Contains(t, root.words(), "step 1.2")
			assert.NotContains(t, root.words(), "0.0\u00b0, step", "only what is over its tolerance is called out")
		})
	}
	w := readWaistcoat(t)
	half := stepsOf(t, stripOf(t, w.garment(t, "half-move")), "side-back-back")
	assert.InDelta(t, 1.03, half["top"]+half["hem"], 0.02)
}

// stepsOf reads the steps of a seam from a strip, by line.
func stepsOf(t *testing.T, root *node, seam string) map[string]float64 {
	out := map[string]float64{}
	for _, n := range root.with("data-joint") {
		if n.attrs["data-joint"] == seam {
			out[n.attrs["data-line"]] = n.number(t, "data-step")
		}
	}
	return out
}

// Each sewn line turns at each seam by what the callouts say: read back from the
// drawn chain, whose parts meet at the seams.
func TestSewnLineTurnsByWhatIsSaid(t *testing.T) {
	w := readWaistcoat(t)
	g := withRuns(w.garment(t, "wider-gusset"))
	root := stripOf(t, g)
	said := kinks(t, root)
	for _, line := range []string{"neckline", "hem"} {
		edge := map[string]string{"neckline": "top", "hem": "hem"}[line]
		parts := map[string]curve.Path{}
		for _, n := range root.with("data-sewn") {
			if n.attrs["data-sewn"] == line && n.attrs["data-kind"] == "run" {
				parts[n.attrs["data-of"]] = pathPoints(t, n.named("path")[0].attrs["d"])[0]
			}
		}
		require.Len(t, parts, len(g.Around))
		for i, s := range g.Seams {
			a, b := parts[g.Around[i].Name+"."+edge], parts[g.Around[i+1].Name+"."+edge]
			outward := 1.0
			if line == "neckline" { // tops run from the back to the front
				a, b = a.Reverse(), b.Reverse()
			} else {
				outward = -1
			}
			walk, problem := measure.WalkSeam(g, &s, 1e-6)
			require.Nil(t, problem)
			assert.InDelta(t, 0, a.End().Dist(b.Start()), math.Abs(walk.Difference)+math.Abs(walk.Worst().Difference)+0.002, "the corners lie together")
			in, ok := a.EndTangent()
			require.True(t, ok)
			out, ok := b.StartTangent()
			require.True(t, ok)
			turn := math.Atan2(in.Cross(out), in.Dot(out)) * 180 / math.Pi
			assert.InDelta(t, said[line+" "+s.Name], outward*turn, 0.02, "%s at %s", line, s.Name)
		}
	}
}

// Whatever outlines and seams a garment has, the strip is drawn and well-formed,
// and no turn is beyond a full one.
func TestStripOfAnyGarment(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := &pattern.Garment{Half: rapid.SampledFrom([]pattern.Half{pattern.LeftHalf, pattern.Whole}).Draw(t, "half")}
		if rapid.Bool().Draw(t, "levels") {
			g.Levels = []pattern.Level{{Name: "waist", Y: rapid.Float64Range(-90, 90).Draw(t, "waist")}, {Name: "bust", Y: 60}}
		}
		n := rapid.IntRange(1, 5).Draw(t, "panels")
		for i := range n {
			p := drawnPiece(t)
			p.Name = fmt.Sprintf("p%d", i)
			if rapid.IntRange(0, 9).Draw(t, "point") == 0 { // all of it one point
				for k := range p.Corners {
					p.Corners[k].At = curve.Pt(5, 5)
				}
				for k := range p.Edges {
					p.Edges[k].Segs = nil
				}
			}
			g.Pieces = append(g.Pieces, p)
			g.Around = append(g.Around, pattern.Mention{Name: fmt.Sprintf("p%d", rapid.IntRange(0, n).Draw(t, "around"))})
		}
		ref := func() []pattern.Ref {
			return []pattern.Ref{{Piece: fmt.Sprintf("p%d", rapid.IntRange(0, n).Draw(t, "piece")), Edge: rapid.SampledFrom([]string{"ea", "eb", "ec", "ed", "none"}).Draw(t, "edge")}}
		}
		for i := range rapid.IntRange(0, 6).Draw(t, "seams") {
			g.Seams = append(g.Seams, pattern.Seam{Name: fmt.Sprintf("s%d", i), First: ref(), Second: ref(), SameWay: rapid.Bool().Draw(t, "same way")})
		}
		if rapid.Bool().Draw(t, "run") {
			g.Runs = []pattern.Run{{Name: "r", Refs: append(append(ref(), ref()...), ref()...)}}
		}
		root := stripOf(t, g)
		for _, j := range root.with("data-kink") {
			require.LessOrEqual(t, math.Abs(j.number(t, "data-kink")), 540.0)
		}
	})
}

// The sewn top of the moved seam: front to gusset did not change and lies on
// itself; from there on the dashed line is each panel of the earlier version laid
// on the one before it, so its pieces keep the lengths of their edges and meet.
func TestSewnLinesShowHowTheyWere(t *testing.T) {
	w := readWaistcoat(t)
	g, h := withRuns(w.garment(t, "gusset")), withRuns(w.garment(t, "seam-move"))
	var b bytes.Buffer
	require.NoError(t, Strip(&b, compare.Garments(g, h, compare.Options{}), Options{}))
	root := readPicture(t, b.Bytes())
	old := root.with("data-sewn-before")
	require.Len(t, old, 2, "neckline and hem")
	paths := old[0].named("path")
	was := pathPoints(t, paths[len(paths)-1].attrs["d"])
	var now []curve.Path
	for _, n := range root.with("data-sewn") {
		if n.attrs["data-sewn"] == "neckline" && n.attrs["data-kind"] == "run" {
			now = append(now, pathPoints(t, n.named("path")[0].attrs["d"])...)
		}
	}
	require.Len(t, now, 7)
	length := 0.0
	for _, p := range was {
		length += p.Length(1e-4)
	}
	want := 0.0
	for _, p := range g.Pieces {
		want += p.EdgePath(3).Length(1e-4)
	}
	assert.InDelta(t, want, length, 0.01)
	for i := range 4 {
		assert.Less(t, curve.Directed(now[i], whole(was), 1e-3).Dist, 0.002, "panel %d did not change", i)
	}
	assert.Greater(t, curve.Directed(now[4], whole(was), 1e-3).Dist, 1.0, "side-back did")

	var alone bytes.Buffer
	require.NoError(t, Strip(&alone, compare.Garments(nil, g, compare.Options{}), Options{}))
	assert.Empty(t, readPicture(t, alone.Bytes()).with("data-sewn-before"))
}

func whole(paths []curve.Path) curve.Path {
	var out curve.Path
	for _, p := range paths {
		out = append(out, p...)
	}
	return out
}
