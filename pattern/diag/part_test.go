package diag_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"seamkeep/pattern/diag"
)

func TestPartsAreHeldAgainstEachOtherPlaceByPlace(t *testing.T) {
	var x diag.Problem
	x.AddPart("b.hem", 3)
	x.AddPart("a.hem", 2)
	x.AddPart("b.hem", 1)
	assert.Equal(t, []diag.Part{{At: "a.hem", Amount: 2}, {At: "b.hem", Amount: 4}}, x.Parts)

	before := []diag.Part{{At: "a.hem", Amount: 5}, {At: "c.hem", Amount: 1}}
	assert.Equal(t, []diag.Part{{At: "b.hem", Amount: 4}}, diag.Worse(before, x.Parts, 0.05), "a gain at one place makes no room at another")
	assert.Equal(t, []diag.Part{{At: "c.hem", Amount: 1}}, diag.Gone(before, x.Parts))
	assert.Empty(t, diag.Worse(x.Parts, x.Parts, 0))
	assert.Empty(t, diag.Gone(x.Parts, x.Parts))
}

func TestAFindingIsNoWorseWhereNoneOfItsPlacesIs(t *testing.T) {
	of := func(amount float64, parts ...diag.Part) diag.Problem {
		return diag.Problem{Amount: amount, Parts: parts}
	}
	a := of(9, diag.Part{At: "a.hem", Amount: 5}, diag.Part{At: "b.hem", Amount: 4})
	assert.True(t, of(9.08, diag.Part{At: "a.hem", Amount: 5.04}, diag.Part{At: "b.hem", Amount: 4.04}).NoWorse(a, 0.05))
	assert.False(t, of(8, diag.Part{At: "a.hem", Amount: 2}, diag.Part{At: "b.hem", Amount: 6}).NoWorse(a, 0.05))
	assert.True(t, of(9.05).NoWorse(of(9), 0.05))
	assert.False(t, of(9.06).NoWorse(of(9), 0.05))
}
