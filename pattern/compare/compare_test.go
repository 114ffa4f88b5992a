package compare_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/text"
)

var levels = [...]string{"bust", "under-bust", "waist", "high-hip", "low-hip"}

// sample gives a garment that several packages share.
func sample(t testing.TB, name string) *pattern.Garment {
	t.Helper()
	folder, problems := text.Load(os.DirFS(filepath.Join("..", "..", "testdata", "patterns", name)), ".")
	require.Empty(t, problems)
	return folder.Garment
}

func ringer(t testing.TB) *pattern.Body {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("..", "..", "testdata", "patterns", "waistcoat--03-gusset", "bodies", "ringer.body"))
	require.NoError(t, err)
	b, problems := text.ReadBody("ringer.body", src)
	require.Empty(t, problems)
	return b
}

// between compares two of the shared versions.
func between(t testing.TB, before, after string) *compare.Change {
	t.Helper()
	return compare.Garments(sample(t, before), sample(t, after), compare.Options{Body: ringer(t)})
}

func pieceOf(t testing.TB, c *compare.Change, name string) compare.PieceChange {
	t.Helper()
	for _, p := range c.Pieces {
		if p.Name == name {
			return p
		}
	}
	t.Fatalf("no piece %s", name)
	return compare.PieceChange{}
}

func edgeOf(t testing.TB, c *compare.Change, piece, name string) compare.EdgeChange {
	t.Helper()
	for _, e := range pieceOf(t, c, piece).Edges {
		if e.Name == name {
			return e
		}
	}
	t.Fatalf("no edge %s.%s", piece, name)
	return compare.EdgeChange{}
}

// deltasOf gives what changed at the five levels, rounded to 1e-9.
func deltasOf(t testing.TB, list []compare.AtLevel) [5]string {
	t.Helper()
	require.Len(t, list, len(levels))
	var out [5]string
	for i, l := range list {
		require.Equal(t, levels[i], l.Level)
		d, ok := l.Delta()
		require.True(t, ok)
		out[i] = fmt.Sprintf("%+.1f", d+0)
		if out[i] == "-0.0" {
			out[i] = "+0.0"
		}
	}
	return out
}

// The maker widened side-back by 14, 10, 6, 8 and 10; back kept its width. The
// figures are differences of the coordinates in the two versions.
func TestHalfOfATwoSidedChangeShows(t *testing.T) {
	c := between(t, "waistcoat--03-gusset", "waistcoat--04-half-move")
	assert.Equal(t, [5]string{"+28.0", "+20.0", "+12.0", "+16.0", "+20.0"}, deltasOf(t, c.Girths))
	assert.Equal(t, [5]string{"+28.0", "+20.0", "+12.0", "+16.0", "+20.0"}, deltasOf(t, c.Worn))
	require.Len(t, c.Gaps, 1)
	assert.Equal(t, [5]string{"-28.0", "-20.0", "-12.0", "-16.0", "-20.0"}, deltasOf(t, c.Gaps[0].Levels))
	changed := c.ChangedPieces()
	require.Len(t, changed, 1)
	assert.Equal(t, "side-back", changed[0].Name)
	assert.Equal(t, [5]string{"+14.0", "+10.0", "+6.0", "+8.0", "+10.0"}, deltasOf(t, changed[0].Widths))
	back := edgeOf(t, c, "side-back", "back")
	assert.Equal(t, compare.Changed, back.Status)
	for i, want := range []float64{14, 10, 6, 8, 10} {
		assert.Equal(t, levels[i], back.AtLevels[i].Level)
		assert.InDelta(t, want, back.AtLevels[i].Distance, 1e-9)
	}
	assert.Equal(t, "out", back.Largest.Direction)
	assert.InDelta(t, 14, back.Largest.Distance, 0.02, "square to the edge, which is upright there to 2 degrees")
	assert.Equal(t, compare.Unchanged, edgeOf(t, c, "side-back", "front").Status)
	for _, s := range c.Seams {
		d, _ := s.Difference.Delta()
		if s.Name == "side-back-back" {
			assert.InDelta(t, 1.03, d, 0.006)
			assert.InDelta(t, 0.53, s.Worst.After.Value, 0.006)
			continue
		}
		assert.Zero(t, d, s.Name)
	}
}

// Both halves of the move: what one piece gains the other gives, at every level.
func TestBothHalvesKeepTheGirth(t *testing.T) {
	c := between(t, "waistcoat--03-gusset", "waistcoat--06-seam-move")
	assert.Equal(t, [5]string{"+0.0", "+0.0", "+0.0", "+0.0", "+0.0"}, deltasOf(t, c.Girths))
	assert.Equal(t, [5]string{"+14.0", "+10.0", "+6.0", "+8.0", "+10.0"}, deltasOf(t, pieceOf(t, c, "side-back").Widths))
	assert.Equal(t, [5]string{"-14.0", "-10.0", "-6.0", "-8.0", "-10.0"}, deltasOf(t, pieceOf(t, c, "back").Widths))
	front := edgeOf(t, c, "back", "front")
	assert.Equal(t, "in", front.Largest.Direction)
	assert.Equal(t, "bust", front.Largest.At)
	for _, name := range []string{"front", "side-front", "underarm", "gusset", "button-stand"} {
		assert.Equal(t, compare.Unchanged, pieceOf(t, c, name).Status, name)
	}
}

func TestPiecesThatCameAndWent(t *testing.T) {
	c := between(t, "waistcoat--01-base", "waistcoat--03-gusset")
	assert.Equal(t, compare.Added, pieceOf(t, c, "gusset").Status)
	var order []string
	for _, p := range c.Pieces {
		order = append(order, p.Name)
	}
	assert.Equal(t, []string{"front", "side-front", "underarm", "gusset", "side-back", "back", "button-stand"}, order, "round the body")
	for _, e := range pieceOf(t, c, "gusset").Edges {
		assert.Equal(t, compare.Added, e.Status)
		assert.False(t, e.Length.Before.Set)
	}
	back := between(t, "waistcoat--03-gusset", "waistcoat--01-base")
	gone := pieceOf(t, back, "gusset")
	assert.Equal(t, compare.Removed, gone.Status)
	assert.Nil(t, gone.After)
	assert.InDelta(t, 52*280, gone.Area.Before.Value, 1e-9)
	assert.False(t, gone.Area.After.Set)
	for _, e := range gone.Edges {
		assert.Equal(t, compare.Removed, e.Status)
	}
}

func TestAGarmentAgainstNone(t *testing.T) {
	g := sample(t, "waistcoat--03-gusset")
	first := compare.Garments(nil, g, compare.Options{Body: ringer(t)})
	assert.True(t, first.Any())
	assert.Len(t, first.ChangedPieces(), 7)
	assert.Equal(t, []string{"the first version: 7 pieces"}, first.Sentences())
	for _, l := range first.Girths {
		assert.False(t, l.Before.Set)
		assert.True(t, l.After.Set)
	}
	gone := compare.Garments(g, nil, compare.Options{})
	assert.True(t, gone.Any())
	for _, p := range gone.Pieces {
		assert.Equal(t, compare.Removed, p.Status)
	}
	assert.NotContains(t, gone.Sentences(), "girth unchanged", "there is none any more")
	none := compare.Garments(nil, nil, compare.Options{})
	assert.False(t, none.Any())
	assert.Equal(t, []string{"nothing changed"}, none.Sentences())
}

func TestFirstLevelsAreNoUnchangedGirth(t *testing.T) {
	a, b := sample(t, "waistcoat--03-gusset"), sample(t, "waistcoat--03-gusset")
	a.Levels = nil
	assert.NotContains(t, compare.Garments(a, b, compare.Options{}).Sentences(), "girth unchanged")
}

func reverse[T any](list []T) {
	for i, j := 0, len(list)-1; i < j; i, j = i+1, j-1 {
		list[i], list[j] = list[j], list[i]
	}
}

func TestLevelsComeInTheOrderOfTheLaterVersion(t *testing.T) {
	a, b := sample(t, "waistcoat--03-gusset"), sample(t, "waistcoat--03-gusset")
	b.Levels = []pattern.Level{{Name: "low-hip", Y: -100}, {Name: "knee", Y: -500}, {Name: "rib", Y: 80}, {Name: "bust", Y: 160}}
	c := compare.Garments(a, b, compare.Options{})
	assert.Equal(t, []string{"low-hip", "knee", "rib", "bust", "under-bust", "waist", "high-hip"}, c.Levels)
	assert.False(t, c.Girths[1].After.Set, "no piece reaches the knee")
	assert.False(t, c.Girths[2].Before.Set, "a level that is new")
	assert.True(t, c.Girths[2].After.Set)
	assert.False(t, c.Girths[5].After.Set, "a level that went")
}

// One piece of those that go round lacks the levels: its girth is not told.
func TestAGirthThatCannotBeToldIsNotSet(t *testing.T) {
	a, b := sample(t, "waistcoat--03-gusset"), sample(t, "waistcoat--03-gusset")
	b.Piece(b.Around[0].Name).NoLevels = true
	c := compare.Garments(a, b, compare.Options{Body: &pattern.Body{Girths: []pattern.LevelNum{{Level: "waist", Value: 701}}}})
	for i := range c.Girths {
		assert.True(t, c.Girths[i].Before.Set && c.Worn[i].Before.Set)
		assert.False(t, c.Girths[i].After.Set || c.Worn[i].After.Set)
	}
	require.Len(t, c.Gaps, 1)
	require.Len(t, c.Gaps[0].Levels, 1)
	assert.True(t, c.Gaps[0].Levels[0].Before.Set)
	assert.False(t, c.Gaps[0].Levels[0].After.Set)
}

func TestOrderIsNoChange(t *testing.T) {
	a, b := sample(t, "waistcoat--03-gusset"), sample(t, "waistcoat--03-gusset")
	reverse(b.Seams)
	reverse(b.Levels)
	reverse(b.Reduce)
	reverse(b.Closures)
	for _, p := range b.Pieces {
		p.Corners = append(p.Corners[2:len(p.Corners):len(p.Corners)], p.Corners[:2]...)
		p.Edges = append(p.Edges[2:len(p.Edges):len(p.Edges)], p.Edges[:2]...)
		p.Edges[0].Length = pattern.Some(1) // what a file records of a length is no change of the cloth
	}
	c := compare.Garments(a, b, compare.Options{Body: ringer(t)})
	assert.False(t, c.Any(), "%v", c.Sentences())
	assert.Equal(t, []string{"nothing changed"}, c.Sentences())
}

// A file rounds to 0.001 mm; written again, no point moves by more than half of
// that each way.
func TestRoundingAgainIsNoMovement(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	a := sample(t, "waistcoat--06-seam-move")
	b := pattern.Clone(a)
	shake := func(p *curve.Point) { p.X += 0.0009 * (r.Float64() - 0.5); p.Y += 0.0009 * (r.Float64() - 0.5) }
	for _, p := range b.Pieces {
		for i := range p.Corners {
			shake(&p.Corners[i].At)
		}
		for i := range p.Edges {
			for j := range p.Edges[i].Segs {
				s := &p.Edges[i].Segs[j]
				shake(&s.H1)
				shake(&s.H2)
				shake(&s.To)
			}
		}
	}
	c := compare.Garments(a, b, compare.Options{})
	for _, p := range c.Pieces {
		assert.Equal(t, compare.Unchanged, p.Status, p.Name)
		assert.False(t, p.Moved, p.Name)
	}
	assert.Equal(t, []string{"nothing changed"}, c.Sentences())
}

// One record at a time; each must be told.
func TestEveryRecordIsTold(t *testing.T) {
	side := func(g *pattern.Garment) *pattern.Piece { return g.Piece("side-back") }
	for want, change := range map[string]func(*pattern.Garment){
		"title":                      func(g *pattern.Garment) { g.Title = "Other" },
		"half":                       func(g *pattern.Garment) { g.Half = pattern.RightHalf },
		"body":                       func(g *pattern.Garment) { g.Body = "other" },
		"rough":                      func(g *pattern.Garment) { g.Rough = true },
		"require claims":             func(g *pattern.Garment) { g.RequireClaims = true },
		"around":                     func(g *pattern.Garment) { g.Around = g.Around[1:] },
		"thickness 13 -> 14":         func(g *pattern.Garment) { g.Thickness = pattern.Some(14) },
		"thickness 13 -> none":       func(g *pattern.Garment) { g.Thickness = pattern.Opt{} },
		"give none -> 2":             func(g *pattern.Garment) { g.Give = pattern.Some(2) },
		"tolerance seam changed":     func(g *pattern.Garment) { g.Tolerances[0].Value = 2 },
		"level bust changed":         func(g *pattern.Garment) { g.Levels[0].Y++ },
		"settings of gusset changed": func(g *pattern.Garment) { g.Options[0].Stretch.Value = 20 },
		"settings of back added": func(g *pattern.Garment) {
			g.Options = append(g.Options, pattern.PieceOption{Piece: "back", Whole: true})
		},
		"cords waist added":     func(g *pattern.Garment) { g.Cords = []pattern.LevelNum{{Level: "waist", Value: 3}} },
		"reduce waist changed":  func(g *pattern.Garment) { g.Reduce[1].Value = 31 },
		"calibrate waist added": func(g *pattern.Garment) { g.Calibrate = []pattern.LevelNum{{Level: "waist", Value: 3}} },
		"seam side-back-back lost": func(g *pattern.Garment) {
			g.Seams = append(g.Seams[:4:4], g.Seams[5:]...)
		},
		"seam gusset-side-back changed": func(g *pattern.Garment) { g.Seams[3].Eases = []pattern.Ease{{Amount: 1}} },
		"run hem lost":                  func(g *pattern.Garment) { g.Runs = g.Runs[:1] },
		"overlap of back 24 -> 30":      func(g *pattern.Garment) { g.Closures[1].Overlap = pattern.Some(30) },
		"closure front changed":         func(g *pattern.Garment) { g.Closures[0].Kind = pattern.HookClosure },
		"closure back changed": func(g *pattern.Garment) { // more than its overlap
			g.Closures[1].Overlap, g.Closures[1].Edges[0].Edge = pattern.Some(30), "front"
		},
		"length of the slide of front none -> 80": func(g *pattern.Garment) { g.Closures[0].Length = pattern.Some(80) },
		"hooks front added":                       func(g *pattern.Garment) { g.Hooks = []pattern.Fastening{{Closure: "front"}} },
		"buttons back added":                      func(g *pattern.Garment) { g.Buttons = []pattern.Fastening{{Closure: "back"}} },
		"eyelets front added":                     func(g *pattern.Garment) { g.Eyelets = []pattern.Fastening{{Closure: "front"}} },
		"wanted gap front at bust added": func(g *pattern.Garment) {
			g.Wanted = []pattern.Wanted{{Closure: "front", Level: "bust", Min: 1, Max: 2}}
		},
		"allowance hem added":           func(g *pattern.Garment) { g.Allowances = []pattern.Allowance{{Target: pattern.Target{Name: "hem"}}} },
		"allowance of every edge added": func(g *pattern.Garment) { g.Allowances = []pattern.Allowance{{Value: 12}} },
		"join hem added":                func(g *pattern.Garment) { g.Joins = []pattern.Join{{Target: pattern.Target{Name: "hem"}}} },
		"clearance bone added":          func(g *pattern.Garment) { g.Clearances = []pattern.Clearance{{Kind: "bone", Value: 9}} },
		"accept seam.near hem added": func(g *pattern.Garment) {
			g.Accepted = []pattern.Accepted{{ID: "seam.near", Subject: "hem", Amount: 1.3, Reason: "pressed flat"}}
		},
		"side-back: title":                func(g *pattern.Garment) { side(g).Title = "x" },
		"side-back: was":                  func(g *pattern.Garment) { side(g).Was = "x" },
		"side-back: cloth canvas changed": func(g *pattern.Garment) { side(g).Cloths[0].Count = 2 },
		"side-back: grain":                func(g *pattern.Garment) { side(g).Grain = &pattern.Grain{To: curve.Pt(0, 1)} },
		"side-back: levels":               func(g *pattern.Garment) { side(g).NoLevels = true },
		"side-back: level waist added": func(g *pattern.Garment) {
			side(g).Levels = []pattern.Level{{Name: "waist", Y: 3}}
		},
		"side-back: notch n on back added": func(g *pattern.Garment) {
			side(g).Notches = []pattern.Notch{{Name: "n", Edge: pattern.Mention{Name: "back"}, On: pattern.Spot{Level: "bust"}}}
		},
		"side-back: bone b added": func(g *pattern.Garment) {
			side(g).Marks = []pattern.Mark{{Kind: pattern.Bone, Name: "b"}}
		},
		"side-back: corner top-front is called upper now": func(g *pattern.Garment) { side(g).Corners[0].Name = "upper" },
	} {
		a := sample(t, "waistcoat--03-gusset")
		b := pattern.Clone(a)
		change(b)
		require.False(t, pattern.Equal(a, b), want)
		c := compare.Garments(a, b, compare.Options{})
		assert.True(t, c.Any(), want)
		found := false
		for _, s := range c.Sentences() {
			found = found || s == want || s == "recorded: "+want
		}
		assert.True(t, found, "%q is not among %q", want, c.Sentences())
	}
}
