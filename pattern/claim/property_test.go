package claim_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

func mm(t *rapid.T, least, most int, label string) float64 {
	return float64(rapid.IntRange(least*1000, most*1000).Draw(t, label)) / 1000
}

// genGarment gives bodices of one to four panels that lace, with settings.
func genGarment(t *rapid.T) *pattern.Garment {
	var panels []*pattern.Piece
	for i := range rapid.IntRange(1, 4).Draw(t, "panels") {
		panels = append(panels, panel(fmt.Sprintf("p%d", i), mm(t, 60, 120, "bust"), mm(t, 60, 120, "waist"), mm(t, 60, 120, "hem")))
	}
	g := bodice(panels...)
	g.Closures = []pattern.Closure{
		{Name: "front", Kind: pattern.Lacing, Edges: []pattern.Ref{{Piece: "p0", Edge: "front"}}},
		{Name: "middle", Kind: pattern.ButtonClosure, Overlap: pattern.Some(mm(t, 0, 40, "overlap"))},
	}
	g.Buttons = []pattern.Fastening{{Closure: "middle", Pitch: pattern.Some(25), Count: pattern.Some(10)}}
	for i := 1; i < len(panels); i++ {
		g.Seams = append(g.Seams, pattern.Seam{Name: fmt.Sprintf("s%d", i),
			First: []pattern.Ref{{Piece: fmt.Sprintf("p%d", i-1), Edge: "back"}}, Second: []pattern.Ref{{Piece: fmt.Sprintf("p%d", i), Edge: "front"}}})
	}
	return g
}

// alter draws some alterations of a garment: small and large, of one side and of
// both, of pieces and of settings.
func alter(t *rapid.T, g *pattern.Garment) {
	for range rapid.IntRange(0, 4).Draw(t, "alterations") {
		p := g.Pieces[rapid.IntRange(0, len(g.Pieces)-1).Draw(t, "piece")]
		by := mm(t, -4, 12, "by") * rapid.SampledFrom([]float64{1, 0.1, 0.01}).Draw(t, "scale")
		if by = math.Round(by*1000) / 1000; math.Abs(by) <= 2*compare.Still {
			by = 0 // on the border of what counts as a movement, there and back may differ
		}
		switch rapid.SampledFrom([]string{"at", "all", "overlap", "stretch", "reduce", "level", "lost", "buttons", "panel", "rename", "raise", "none"}).Draw(t, "what") {
		case "at":
			p.Edges[2].Segs[rapid.IntRange(0, 2).Draw(t, "level")].To.X += by
		case "all":
			for i := range p.Edges[2].Segs {
				p.Edges[2].Segs[i].To.X += by
			}
			p.Corners[2].At.X += by
			p.Corners[3].At.X += by
		case "overlap":
			g.Closures[1].Overlap.Value += by
		case "stretch":
			g.Options = []pattern.PieceOption{{Piece: p.Name, Stretch: pattern.Some(math.Abs(by))}}
		case "reduce":
			g.Reduce = []pattern.LevelNum{{Level: "waist", Value: by}}
		case "level":
			g.Levels = append(g.Levels, pattern.Level{Name: fmt.Sprintf("l%d", len(g.Levels)), Y: mm(t, -300, 300, "y")})
		case "lost":
			g.Levels = g.Levels[1:]
		case "buttons":
			g.Buttons[0].Pitch.Value += by
			g.Buttons[0].Count.Value++
		case "panel":
			extra := panel(fmt.Sprintf("extra%d", len(g.Pieces)), 40+by, 40, 40)
			g.Pieces = append(g.Pieces, extra)
			g.Around = append(g.Around, pattern.Mention{Name: extra.Name})
		case "rename":
			p.NoLevels = !p.NoLevels
		case "raise":
			p.Corners[0].At.Y += by
			p.Corners[3].At.Y += by
		}
		if len(g.Levels) == 0 {
			g.Levels = append(g.Levels, pattern.Level{Name: "waist"})
		}
		g.SortPieces()
	}
}

func genChange(t *rapid.T) *compare.Change {
	a := genGarment(t)
	b := pattern.Clone(a)
	alter(t, b)
	var body *pattern.Body
	if rapid.Bool().Draw(t, "body") {
		body = &pattern.Body{Name: "b", Girths: []pattern.LevelNum{{Level: "bust", Value: 900}, {Level: "waist", Value: 700}}}
	}
	return compare.Garments(a, b, compare.Options{Body: body})
}

// Whatever changed: each suggestion is true, none contradicts another, nothing
// that moved is left unnamed, and each reads as it was printed.
func TestSuggestionsAreTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := genChange(t)
		claims := claim.Suggest(c)
		for _, r := range claim.Judge(c, claims) {
			require.True(t, r.OK, "%s: %s", r.Claim.Line(), r.Measured)
			again, problems := claim.Parse(string(r.Claim.Kind), r.Claim.String(), diag.Place{})
			require.Empty(t, problems)
			require.Len(t, again, 1)
			require.Equal(t, r.Claim.Line(), again[0].Line())
		}
		require.Empty(t, claim.Contradictions(claims))
		require.Empty(t, claim.Check(c, claims))
		if c.Any() {
			require.Empty(t, claim.Unclaimed(c, claims))
		}
	})
}

// A claim is true just as far as its tolerance reaches, whatever the change: the
// expected girth is summed here from the widths that were drawn.
func TestAClaimIsTrueWithinItsToleranceOnly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		waist := mm(t, 60, 120, "waist")
		by := mm(t, -20, 20, "by")
		before := bodice(panel("front", 100, 80, 90), panel("back", 100, waist, 90))
		after := bodice(panel("front", 100, 80, 90), panel("back", 100, math.Round((waist+by)*1000)/1000, 90))
		c := compare.Garments(before, after, compare.Options{})
		within := mm(t, 0, 3, "within")
		off := mm(t, -5, 5, "off")
		x := claim.Claim{Kind: claim.Changes, Measure: measure.Measure{Kind: "girth", Level: "waist"}, By: pattern.Some(2*by + off), Within: pattern.Some(within)}
		r := claim.Judge(c, []claim.Claim{x})[0]
		require.Equal(t, math.Abs(off) <= within+1e-6, r.OK, r.Measured)
		if !r.OK && math.Abs(by) > 0.051 { // less is not told
			require.NotEmpty(t, r.Where)
		}
	})
}

// Claims on the way there, turned round, hold on the way back.
func TestTheWayBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := genChange(t)
		back := compare.Garments(c.After, c.Before, compare.Options{Body: c.Body})
		var turned []claim.Claim
		for _, x := range claim.Suggest(c) {
			if x.To.Set || x.Kind == claim.Changes && x.Measure.Kind == "seam" {
				continue
			}
			x.By.Value = -x.By.Value
			turned = append(turned, x)
		}
		for _, r := range claim.Judge(back, turned) {
			require.True(t, r.OK, "%s: %s", r.Claim.Line(), r.Measured)
		}
	})
}

// No line and no change makes the judge stumble; what it says is never empty, and
// what is not true is a problem.
func TestEveryClaimIsAnswered(t *testing.T) {
	words := []string{"girth", "worn", "gap front", "gap middle", "width p0", "width p1", "area p0", "length p0.back", "length p0.front above waist",
		"seam s1", "walk s1", "turn hem at s1", "overlap middle", "pitch middle", "count middle", "pitch front", "girth bust", "gap front at waist", "width p0 at hem", "girth nowhere"}
	rapid.Check(t, func(t *rapid.T) {
		c := genChange(t)
		var claims []claim.Claim
		for _, w := range rapid.SliceOfN(rapid.SampledFrom(words), 1, 4).Draw(t, "measures") {
			kind, tail := "Keeps", ""
			if rapid.Bool().Draw(t, "changes") {
				kind, tail = "Changes", rapid.SampledFrom([]string{" +3", " -0.5", " to 12", " to 0 within 3"}).Draw(t, "amount")
			}
			more, problems := claim.Parse(kind, w+tail, diag.Place{})
			require.Empty(t, problems)
			claims = append(claims, more...)
		}
		for _, r := range claim.Judge(c, claims) {
			require.NotEmpty(t, r.Claimed)
			require.NotEmpty(t, r.Measured)
			require.NotContains(t, r.Measured, "NaN")
			require.NotContains(t, r.Measured, "-0.0 ")
			require.LessOrEqual(t, len(r.Where), claim.MaxWhere)
			_, wrong := r.Problem()
			require.Equal(t, !r.OK, wrong)
			require.False(t, r.OK && r.Unknown != "")
		}
	})
}
