package diag_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"seamkeep/pattern/diag"
)

func at(file string, line, column int) diag.Place {
	return diag.Place{File: file, Line: line, Column: column}
}

func TestProblemsAreSortedByPlaceThenWeight(t *testing.T) {
	want := diag.List{
		{ID: "z", Severity: diag.Note, Place: diag.Place{Piece: "without a file"}},
		{ID: "b", Severity: diag.Error, Place: at("a", 0, 0)},
		{ID: "c", Severity: diag.Warning, Place: at("a", 2, 9)},
		{ID: "a", Severity: diag.Note, Place: at("a", 10, 1)},
		{ID: "z", Severity: diag.Error, Place: at("a", 10, 2)},
		{ID: "a", Severity: diag.Warning, Place: at("a", 10, 2)},
		{ID: "b", Severity: diag.Warning, Place: at("a", 10, 2), Subject: "back"},
		{ID: "b", Severity: diag.Warning, Place: at("a", 10, 2), Subject: "front"},
		{ID: "a", Severity: diag.Note, Place: at("a", 10, 2)},
		{ID: "a", Severity: diag.Error, Place: at("b", 1, 1)},
	}
	r := rand.New(rand.NewPCG(1, 1))
	for range 50 {
		got := append(diag.List{}, want...)
		r.Shuffle(len(got), func(i, j int) { got[i], got[j] = got[j], got[i] })
		got.Sort()
		assert.Equal(t, want, got)
	}
}

func TestEqualProblemsKeepTheirOrder(t *testing.T) {
	list := diag.List{{ID: "a", Found: "first"}, {ID: "a", Found: "second"}}
	list.Sort()
	assert.Equal(t, "first", list[0].Found)
}

func TestHowAPlaceIsWritten(t *testing.T) {
	for want, p := range map[string]diag.Place{
		"":                 {},
		"pieces/a.piece":   {File: "pieces/a.piece"},
		"g.garment:3":      {File: "g.garment", Line: 3},
		"g.garment:3:14":   {File: "g.garment", Line: 3, Column: 14, Piece: "back", Edge: "hem"},
		"back":             {Piece: "back"},
		"back.hem":         {Piece: "back", Edge: "hem"},
		"pieces/b.piece:9": {File: "pieces/b.piece", Line: 9, Edge: "hem"},
	} {
		assert.Equal(t, want, p.String())
	}
}

func TestAPointOnTheClothIsSetOnACopy(t *testing.T) {
	p := diag.Place{File: "pieces/back.piece", Line: 9, Piece: "back", Edge: "hem"}
	q := p.Point(-12.5, 0)
	assert.False(t, p.HasPoint)
	assert.Equal(t, diag.Place{File: "pieces/back.piece", Line: 9, Piece: "back", Edge: "hem", X: -12.5, HasPoint: true}, q)
	assert.Equal(t, p.String(), q.String(), "a point is for pictures, not for the text")
}

func TestWhatIsNoPointIsNotSet(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		assert.Equal(t, diag.Place{Piece: "back"}, diag.Place{Piece: "back"}.Point(bad, 1), "%v", bad)
		assert.Equal(t, diag.Place{Piece: "back"}, diag.Place{Piece: "back"}.Point(1, bad), "%v", bad)
	}
}

func TestAddressAndMessage(t *testing.T) {
	p := diag.Problem{ID: "seam.differs", Subject: "side-back-back", Found: "found that", Expected: "expected this"}
	assert.Equal(t, "seam.differs side-back-back", p.Address())
	assert.Equal(t, "found that; expected this", p.Message())
	assert.Equal(t, "file.missing", diag.Problem{ID: "file.missing"}.Address())
	assert.Equal(t, "found that", diag.Problem{Found: "found that"}.Message())
}

func TestBySeverity(t *testing.T) {
	list := diag.List{{ID: "a", Severity: diag.Warning}, {ID: "b"}, {ID: "c", Severity: diag.Warning}}
	assert.Equal(t, diag.List{list[0], list[2]}, list.Only(diag.Warning))
	assert.Equal(t, diag.List{list[1]}, list.Only(diag.Note))
	assert.Empty(t, list.Only(diag.Error))
	assert.False(t, list.HasErrors())
	assert.False(t, diag.List(nil).HasErrors())
	assert.True(t, append(list, diag.Problem{Severity: diag.Error}).HasErrors())
	assert.Equal(t, []string{"note", "warning", "error"}, []string{diag.Note.String(), diag.Warning.String(), diag.Error.String()})
}
