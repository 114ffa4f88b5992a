package match_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/match"
)

func TestWhichPieceIsWhich(t *testing.T) {
	// A rectangle, and its halves cut aslant.
	body := polygon("body", 0, 0, 100, 0, 100, 300, 0, 300)
	upper := polygon("upper", 0, 180, 100, 200, 100, 300, 0, 300)
	lower := polygon("lower", 0, 0, 100, 0, 100, 200, 0, 180)
	other := polygon("other", 0, 0, 70, 10, 70, 210)
	wider := polygon("body", 0, 0, 120, 0, 120, 300, 0, 300)
	strap := polygon("strap", 0, 0, 40, 0, 35, 300, 5, 300)
	turned := mapped(strap, curve.Rotate(8*math.Pi/180))
	list := func(p ...*pattern.Piece) *pattern.Garment { return garment(p...) }
	for _, c := range []struct {
		name string
		a, b *pattern.Garment
		want []string
	}{
		{"nothing changed", list(body, other), list(body, other), []string{"same body name", "same other name"}},
		{"redrawn", list(body), list(wider), []string{"same body name"}},
		{"added and removed", list(body), list(other), []string{"added other", "removed body"}},
		{"no earlier version", nil, list(other), []string{"added other"}},
		{"no later version", list(other), nil, []string{"removed other"}},
		{"neither version", nil, nil, nil},
		{"renamed, the former name recorded, redrawn", list(body), list(was("body", called("trunk", wider))), []string{"renamed body > trunk was"}},
		{"renamed, nothing recorded", list(body, other), list(called("trunk", body), other), []string{"same other name", "renamed body > trunk shape"}},
		{"renamed, nothing recorded, begun at another corner", list(body), list(called("trunk", rotated(body, 3))), []string{"renamed body > trunk shape"}},
		{"renamed, nothing recorded, an edge split", list(body), list(called("trunk", cut(body, 1, 0.3, "x", "e7", "e8"))), []string{"renamed body > trunk shape"}},
		{"renamed and redrawn, nothing recorded", list(body), list(called("trunk", wider)), []string{"added trunk", "removed body"}},
		{"renamed by less than a step of the file", list(body), list(called("trunk", nudged(body, 0.0005))), []string{"renamed body > trunk shape"}},
		{"the names of two pieces swapped", list(body, other), list(called("other", body), called("body", other)), []string{"same body name", "same other name"}},
		{"a former name that is a name again", list(body, other), list(was("other", body), other), []string{"same body name", "same other name"}},
		{"a former name left standing by an older rename", list(was("trunk", body)), list(was("trunk", wider)), []string{"same body name"}},
		{"the former name is taken by a new piece", list(body), list(was("body", called("trunk", body)), called("body", other)), []string{"split body > body+trunk was"}},
		{"seen from the later version", list(was("body", called("trunk", wider))), list(body), []string{"renamed trunk > body was"}},

		{"renamed and moved, levels hold", list(strap), list(called("band", mapped(strap, curve.Translate(5, 0)))), []string{"added band", "removed strap"}},
		{"renamed and moved, no levels", list(freely(strap)), list(freely(called("band", mapped(strap, curve.Translate(5, 0))))), []string{"renamed strap > band shape"}},
		{"renamed and turned, no levels", list(freely(strap)), list(freely(called("band", turned))), []string{"renamed strap > band shape"}},
		{"renamed and mirrored", list(freely(other)), list(freely(called("band", mirrored(other)))), []string{"added band", "removed other"}},
		{"a moved strap is the same", list(freely(strap)), list(freely(turned)), []string{"same strap name"}},

		{"two straps that are alike, renamed", list(called("s1", strap), called("s2", strap)), list(called("t1", strap), called("t2", strap)), []string{"renamed s1 > t1 shape", "renamed s2 > t2 shape"}},
		{"two straps that are alike, one renamed", list(called("s1", strap), called("s2", strap)), list(called("s2", strap), called("t1", strap)), []string{"same s2 name", "renamed s1 > t1 shape"}},
		{"two straps that are alike, one in place", list(freely(called("s1", strap)), freely(called("s2", turned))), list(freely(called("t1", turned)), freely(called("t2", strap))), []string{"renamed s2 > t1 shape", "renamed s1 > t2 shape"}},

		{"split, recorded", list(body), list(was("body", upper), was("body", lower)), []string{"split body > lower+upper was"}},
		{"split, recorded, one part keeps the name", list(body), list(called("body", lower), was("body", upper)), []string{"split body > body+upper was"}},
		{"split in three, recorded", list(body), list(was("body", upper), was("body", lower), was("body", other)), []string{"split body > lower+other+upper was"}},
		{"split, nothing recorded", list(body, other), list(upper, lower, other), []string{"split body > lower+upper shape", "same other name"}},
		{"split, nothing recorded, one part keeps the name", list(body), list(called("body", lower), upper), []string{"split body > body+upper shape"}},
		{"split, one part redrawn, nothing recorded", list(body), list(mapped(upper, curve.Scale(1, 1.01)), lower), []string{"added lower", "added upper", "removed body"}},
		{"joined, recorded", list(upper, lower), list(was("upper", body)), []string{"joined lower+upper > body shape"}},
		{"joined, nothing recorded", list(upper, lower, other), list(body, other), []string{"joined lower+upper > body shape", "same other name"}},
		{"joined under one of the names", list(called("body", upper), lower), list(body), []string{"joined body+lower > body shape"}},
		{"one half twice is not the whole", list(body), list(polygon("x", 0, 0, 100, 0, 100, 300), polygon("y", 0, 0, 100, 0, 100, 300)), []string{"added x", "added y", "removed body"}},
		{"two that overlap are not the whole", list(body), list(polygon("x", 0, 0, 100, 0, 0, 300), polygon("y", 0, 0, 100, 0, 100, 300)), []string{"added x", "added y", "removed body"}},
	} {
		got := match.Pieces(c.a, c.b, match.Options{})
		assert.Equal(t, c.want, tellPieces(got), c.name)
	}
}

// Pieces that cannot be: they are matched by name and otherwise left alone.
func TestPiecesWithoutAnOutlineAreMatchedByName(t *testing.T) {
	empty := &pattern.Piece{Name: "empty"}
	flat := polygon("flat", 0, 0, 100, 0, 50, 0)
	broken := &pattern.Piece{Name: "broken", Corners: []pattern.Corner{{Name: "c"}}, Edges: []pattern.Edge{{Name: "e"}, {Name: "f"}}}
	a := garment(empty, flat, broken)
	assert.Equal(t, []string{"same broken name", "same empty name", "same flat name"}, tellPieces(match.Pieces(a, a, match.Options{})))
	b := garment(called("x", empty), called("y", flat), called("z", broken))
	assert.Equal(t, []string{"added x", "added y", "added z", "removed broken", "removed empty", "removed flat"}, tellPieces(match.Pieces(a, b, match.Options{})))
	assert.Equal(t, []string{"same e", "same f"}, tellEdges(broken, broken, match.Edges(broken, broken, match.Options{})))
}

// Above the limit renames are still found; splits are not looked for.
func TestTheLimitBoundsOnlyTheSearchForParts(t *testing.T) {
	body := polygon("body", 0, 0, 100, 0, 100, 300, 0, 300)
	left, right := polygon("left", 0, 0, 40, 0, 40, 300, 0, 300), polygon("right", 40, 0, 100, 0, 100, 300, 40, 300)
	other := polygon("other", 0, 0, 70, 10, 70, 210)
	a, b := garment(body, other), garment(left, right, called("thing", other))
	assert.Equal(t, []string{"split body > left+right shape", "renamed other > thing shape"}, tellPieces(match.Pieces(a, b, match.Options{Limit: 3})))
	assert.Equal(t, []string{"added left", "added right", "renamed other > thing shape", "removed body"}, tellPieces(match.Pieces(a, b, match.Options{Limit: 2})))
}

// A cut is one exactly where the overlay of simplefeatures (a general-purpose
// geometry library) says that the two parts cover the old piece and share no area.
func TestSplitsAgreeWithAnOverlayOfPolygons(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	splits, others := 0, 0
	for range 300 {
		between := func(lo, hi float64) float64 { return pattern.RoundLength(lo + r.Float64()*(hi-lo)) }
		w, h := between(50, 150), between(100, 400)
		l, m, k := between(20, h-20), between(20, h-20), between(-20, 20)
		old := polygon("old", 0, 0, w, 0, w, h, 0, h)
		up := polygon("up", 0, l, w/2, (l+m)/2+k, w, m, w, h, 0, h)
		low := polygon("low", 0, 0, w, 0, w, m, w/2, (l+m)/2+k, 0, l)
		switch r.IntN(4) {
		case 0: // the cut of one part lies elsewhere, of the same area or not
			low.Corners[2].At.Y += between(0.05, 3)
		case 1: // another outer corner
			up.Corners[3].At.X -= between(0.05, 3)
		}
		parts, whole := overlay(t, old, up, low)
		want := parts < 0.01 && whole < 0.01
		got := match.Pieces(garment(old), garment(up, low), match.Options{})
		assert.Equal(t, want, got[0].Fate == match.Split, "common %g, uncovered %g", parts, whole)
		if want {
			splits++
		} else {
			others++
		}
	}
	assert.Greater(t, splits, 100)
	assert.Greater(t, others, 100)
}

// overlay gives the area that two parts have in common, and the area that is
// either in the whole or in the parts, mm2.
func overlay(t *testing.T, old, up, low *pattern.Piece) (common, uncovered float64) {
	t.Helper()
	poly := func(p *pattern.Piece) geom.Geometry {
		var flat []float64
		for i := range len(p.Corners) + 1 {
			at := p.Corners[i%len(p.Corners)].At
			flat = append(flat, at.X, at.Y)
		}
		return geom.NewPolygon([]geom.LineString{geom.NewLineString(geom.NewSequence(flat, geom.DimXY))}).AsGeometry()
	}
	both, err := geom.Intersection(poly(up), poly(low))
	require.NoError(t, err)
	sum, err := geom.Union(poly(up), poly(low))
	require.NoError(t, err)
	rest, err := geom.SymmetricDifference(poly(old), sum)
	require.NoError(t, err)
	return both.Area(), rest.Area()
}
