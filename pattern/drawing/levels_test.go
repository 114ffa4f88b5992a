package drawing

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

func heights(s *Sheet) map[string]float64 {
	out := map[string]float64{}
	for _, l := range s.Heights {
		out[l.Name] = l.Y
	}
	return out
}

const twoPanels = `<path id="front" d="M20,100 V300 H120 V100 z"/><path id="back" d="M150,90 V290 H250 V90 z"/>`

// One long line through all pieces is enough.
func TestLevelsThroughAllPieces(t *testing.T) {
	s, probs := recognised(t, twoPanels+`<path id="waist" d="M0,200 H300"/><path id="Bust" d="M300,120 H0"/><path inkscape:label="level high hip" d="M0,260.5 H300"/>`, Options{})
	assert.Empty(t, probs)
	assert.Equal(t, map[string]float64{"waist": 0, "bust": 80, "high-hip": -60.5}, heights(s))
	require.Len(t, s.Pieces, 2)
	// y = 0 is the waist, 200 below the page's top
	assert.Equal(t, []string{"corner c1 0 100", "corner c2 0 -100", "corner c3 100 -100", "corner c4 100 100"}, records(s.Pieces[0].Piece, "corner"))
	assert.Equal(t, "corner c1 0 110", records(s.Pieces[1].Piece, "corner")[0])
	for _, p := range s.Pieces {
		assert.False(t, p.Piece.NoLevels)
		assert.Empty(t, p.Piece.Levels)
	}
	require.Len(t, s.Levels, 3)
	assert.Equal(t, []string{"front", "back"}, s.Levels[1].Pieces)
	assert.Equal(t, 80.0, s.Levels[1].Y)
	assert.Equal(t, ByLabel, s.Levels[2].How)
}

// Pieces at different heights of the page have each its own waist line.
func TestEachPieceItsOwnWaist(t *testing.T) {
	const waists = `<path id="waist" d="M30,200 H110"/><path inkscape:label="waist" d="M160,150 H240"/><path id="bust" d="M30,120 H110"/>`
	s, probs := recognised(t, twoPanels+waists+`<path inkscape:label="bust" d="M160,70.3 H240 M160,95 H240"/>`, Options{})
	require.Len(t, s.Pieces, 2)
	// back: 150 - 95 = 55 against 80 of the front; the line at 70.3 crosses nothing
	assert.Equal(t, []string{"drawing.level"}, ids(probs))
	assert.Equal(t, map[string]float64{"waist": 0, "bust": 80}, heights(s))
	assert.Equal(t, []string{"level bust 55"}, records(s.Pieces[1].Piece, "level"))
	assert.Equal(t, "corner c1 0 60", records(s.Pieces[1].Piece, "corner")[0])

	s, probs = recognised(t, twoPanels+`<path id="waist" d="M30,200 H110"/><path inkscape:label="waist" d="M160,172 H240"/><path id="bust" d="M30,120 H110"/><path inkscape:label="bust" d="M160,92.2 H240"/>`, Options{})
	assert.Empty(t, probs, "0.2 mm is the maker's hand")
	assert.Empty(t, s.Pieces[1].Piece.Levels)
}

// A yoke that ends above the waist is placed by the level that crosses it.
func TestPieceAboveTheWaist(t *testing.T) {
	s, probs := recognised(t, twoPanels+`<path id="yoke" d="M300,20 V80 H380 V20 z"/>
		<path id="waist" d="M0,200 H280"/><path id="bust" d="M0,120 H280"/><path inkscape:label="bust" d="M300,60 H380"/>`, Options{})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 3)
	assert.Equal(t, []string{"corner c1 0 120", "corner c2 0 60"}, records(s.Pieces[2].Piece, "corner")[:2])
}

func TestPieceThatNoLevelCrosses(t *testing.T) {
	s, probs := recognised(t, twoPanels+`<path id="pocket" d="M300,20 V80 H380 V20 z"/><path id="waist" d="M0,200 H400"/>`, Options{})
	assert.Empty(t, probs)
	assert.True(t, s.Pieces[2].Piece.NoLevels)
	assert.Equal(t, "corner c1 0 60", records(s.Pieces[2].Piece, "corner")[0])
}

// A skirt whose top edge lies on the waist line.
func TestLevelAlongAnEdge(t *testing.T) {
	s, probs := recognised(t, `<path id="skirt" d="M20,100.00002 V300 H120 V100.00002 z"/><path id="waist" d="M0,100 H300"/>`, Options{})
	assert.Empty(t, probs)
	assert.False(t, s.Pieces[0].Piece.NoLevels)
	assert.Equal(t, "corner c1 0 0", records(s.Pieces[0].Piece, "corner")[0])
}

func TestWaistNotDrawn(t *testing.T) {
	const bust = `<path id="bust" d="M0,120 H300"/>`
	_, probs := recognised(t, twoPanels+bust, Options{})
	errs := probs.Only(diag.Error)
	require.Len(t, errs, 1)
	assert.Equal(t, "drawing.waist", errs[0].ID)
	assert.Contains(t, errs[0].Hint, "--waist")
	s, probs := recognised(t, twoPanels+bust, Options{WaistY: pattern.Some(200)})
	assert.Empty(t, probs)
	assert.Equal(t, map[string]float64{"bust": 80}, heights(s))
	// a waist line stands above what was said of the page
	s, probs = recognised(t, twoPanels+bust+`<path id="waist" d="M0,210 H130"/>`, Options{WaistY: pattern.Some(200)})
	assert.Equal(t, "corner c1 0 110", records(s.Pieces[0].Piece, "corner")[0])
	assert.Equal(t, "corner c1 0 110", records(s.Pieces[1].Piece, "corner")[0], "from the page")
	assert.Equal(t, []string{"drawing.level"}, ids(probs), "bust is 90 above the one waist and 80 above the other")
}

func TestTwoHeightsOfOneLevel(t *testing.T) {
	_, probs := recognised(t, twoPanels+`<path id="waist" d="M0,200 H300"/><path inkscape:label="waist" d="M0,203 H130"/>`, Options{})
	errs := probs.Only(diag.Error)
	require.Len(t, errs, 1)
	assert.Equal(t, "drawing.level", errs[0].ID)
	assert.Contains(t, errs[0].Found, "two lines called waist cross piece front, 3.00 mm apart")
}

// Levels have one spelling each.
func TestNamesOfLevels(t *testing.T) {
	for label, want := range map[string]string{
		"Waistline": "waist", "waist line": "waist", "Underbust": "under-bust", "Hips": "hip", "HIPLINE": "hip", "level of the yoke": "yoke", "level_3": "level-3", "Level: Low Hip": "low-hip", "chest": "chest",
	} {
		s, probs := recognised(t, twoPanels+`<path id="waist" d="M0,200 H300"/><path inkscape:label="`+label+`" d="M0,200 H300 "/>`, Options{})
		assert.Empty(t, probs.Only(diag.Warning), label)
		require.Len(t, s.Levels, 2, label)
		assert.Equal(t, want, s.Levels[1].Name)
	}
}
