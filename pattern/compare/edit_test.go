package compare_test

import (
	"fmt"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// full is a garment in which every field of the model holds something, so that
// a field that edits forget shows.
func full(t testing.TB) *pattern.Garment {
	g := sample(t, "waistcoat--04-half-move")
	g.Cords = []pattern.LevelNum{{Level: "waist", Value: 4}}
	g.Calibrate = []pattern.LevelNum{{Level: "waist", Value: -1}, {Level: "bust", Value: -3}}
	g.Tolerances = []pattern.Tolerance{{Kind: "seam", Value: 2, Warn: pattern.Some(1)}, {Kind: "turn", Value: 5}}
	g.Give = pattern.Some(2)
	g.Rough, g.RequireClaims = true, true
	g.Seams[0].Eases = []pattern.Ease{{Amount: 3, From: "bust", To: "waist"}}
	g.Seams[1].Second[0].From, g.Seams[1].Second[0].To = "bust", "waist"
	g.Eyelets = []pattern.Fastening{{Closure: "front", Count: pattern.Some(15), Margin: pattern.Some(10)}}
	g.Hooks = []pattern.Fastening{{Closure: "left", Count: pattern.Some(7), Margin: pattern.Some(10)}}
	g.Buttons = []pattern.Fastening{{Closure: "back", From: "bust", Pitch: pattern.Some(25)}}
	g.Wanted = []pattern.Wanted{{Closure: "front", Level: "bust", Min: 28, Max: 36}}
	g.Allowances = []pattern.Allowance{{Value: 12}, {Target: pattern.Target{Name: "hem"}}}
	g.Joins = []pattern.Join{{Target: pattern.Target{Name: "hem"}, Kind: "fold"}}
	g.Clearances = []pattern.Clearance{{Kind: "bone", Value: 9}}
	g.Seams[0].Within, g.Seams[0].Warn = pattern.Some(2.5), pattern.Some(2)
	g.Accepted = []pattern.Accepted{{ID: "seam.near", Subject: "front-side-front", Amount: 1.3, Reason: "pressed flat"}}
	p := g.Pieces[0]
	p.Was, p.Grain, p.NoLevels = "spine", &pattern.Grain{To: curve.Pt(0, 100)}, true
	p.Cloths = []pattern.Cloth{{Name: "canvas", Count: 1, Cut: pattern.OnFold, Fold: pattern.Mention{Name: "back"}}}
	p.Levels = []pattern.Level{{Name: "bust", Y: 150}}
	p.Notches = []pattern.Notch{{Name: "waist", Edge: pattern.Mention{Name: "front"}, On: pattern.Spot{Kind: pattern.AtLevel, Level: "waist"}}}
	p.Marks = []pattern.Mark{{Kind: pattern.Bone, Name: "b1", Width: pattern.Some(7), Segs: []pattern.Seg{{To: curve.Pt(0, 90)}}}}
	return g
}

var place = reflect.TypeFor[diag.Place]()

// TestEveryFieldOfTheModelIsEdited changes each field of the model in turn,
// found by reflection, so that a field added later is tested too.
func TestEveryFieldOfTheModelIsEdited(t *testing.T) {
	g := full(t)
	for _, owner := range []func(*pattern.Garment) reflect.Value{
		func(g *pattern.Garment) reflect.Value { return reflect.ValueOf(g).Elem() },
		func(g *pattern.Garment) reflect.Value { return reflect.ValueOf(g.Pieces[0]).Elem() },
	} {
		kind := owner(g).Type()
		for i := range kind.NumField() {
			f := kind.Field(i)
			if f.Type == place || f.Name == "Pieces" {
				continue
			}
			if kind.Name() == "Piece" && (f.Name == "Corners" || f.Name == "Edges" || f.Name == "Name") {
				continue // an outline lives by both, a name is whose it is; the property below changes them
			}
			t.Run(kind.Name()+"."+f.Name, func(t *testing.T) {
				changed := pattern.Clone(g)
				require.False(t, owner(changed).Field(i).IsZero(), "the sample garment has nothing here")
				owner(changed).Field(i).SetZero()
				require.False(t, pattern.Equal(g, changed))
				assert.True(t, pattern.Equal(changed, compare.Apply(g, compare.Edits(g, changed))))
				assert.True(t, pattern.Equal(g, compare.Apply(changed, compare.Edits(changed, g))))
			})
		}
	}
}

// mutate changes some things of a model at random: values, the order of lists,
// what they hold. The result need not make sense.
func mutate(t *rapid.T, v reflect.Value, odds int) {
	if v.Type() == place {
		return
	}
	hit := func() bool { return rapid.IntRange(0, odds).Draw(t, "hit") == 0 }
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			mutate(t, v.Elem(), odds)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			mutate(t, v.Field(i), odds)
		}
	case reflect.Slice:
		n := v.Len()
		for i := range n {
			mutate(t, v.Index(i), odds)
		}
		if n > 1 && hit() {
			i, j := rapid.IntRange(0, n-1).Draw(t, "i"), rapid.IntRange(0, n-1).Draw(t, "j")
			reflect.Swapper(v.Interface())(i, j)
		}
		if n > 0 && hit() {
			at := rapid.IntRange(0, n-1).Draw(t, "drop")
			v.Set(reflect.AppendSlice(v.Slice(0, at), v.Slice(at+1, n)))
		}
	case reflect.String:
		if hit() {
			v.SetString(v.String() + rapid.SampledFrom([]string{"-x", "-y"}).Draw(t, "word"))
		}
	case reflect.Float64:
		if hit() {
			v.SetFloat(v.Float() + float64(rapid.IntRange(-3, 3).Draw(t, "add")))
		}
	case reflect.Bool:
		if hit() {
			v.SetBool(!v.Bool())
		}
	case reflect.Int:
		if hit() {
			v.SetInt(v.Int() + 1)
		}
	}
}

// TestEditsCarryOneVersionIntoTheOther is the law of the exact layer, for pairs
// of garments that need not even make sense.
func TestEditsCarryOneVersionIntoTheOther(t *testing.T) {
	base := full(t)
	rapid.Check(t, func(t *rapid.T) {
		a, b := pattern.Clone(base), pattern.Clone(base)
		odds := rapid.SampledFrom([]int{15, 100, 400}).Draw(t, "odds")
		mutate(t, reflect.ValueOf(a), odds)
		mutate(t, reflect.ValueOf(b), odds)
		a.SortPieces()
		b.SortPieces()
		before := pattern.Clone(a)
		edits := compare.Edits(a, b)
		got := compare.Apply(a, edits)
		if !pattern.Equal(b, got) {
			t.Fatalf("%d edits do not carry one into the other: %v", len(edits), edits)
		}
		if !reflect.DeepEqual(before, a) {
			t.Fatal("Apply changed the garment that it was given")
		}
		for _, e := range edits {
			_ = e.Words() // tells every edit without failing
		}
	})
}

func TestEditsOfNothing(t *testing.T) {
	g := full(t)
	assert.Empty(t, compare.Edits(nil, nil))
	assert.Empty(t, compare.Edits(g, pattern.Clone(g)))
	assert.True(t, pattern.Equal(g, compare.Apply(nil, compare.Edits(nil, g))))
	assert.Nil(t, compare.Apply(g, compare.Edits(g, nil)))
}

func TestAnEditNamesItsRecord(t *testing.T) {
	a, b := full(t), full(t)
	b.Seams[0].SameWay = !b.Seams[0].SameWay
	b.Pieces[0].Notches[0].On.Level = "bust"
	edits := compare.Edits(a, b)
	require.Len(t, edits, 2)
	assert.Equal(t, "seam "+a.Seams[0].Name+" changed", edits[0].Words())
	assert.Equal(t, fmt.Sprintf("%s: notch waist on front changed", a.Pieces[0].Name), edits[1].Piece+": "+edits[1].Words())
}
