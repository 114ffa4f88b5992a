package claim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
)

func TestWhatIsKeptAddsUp(t *testing.T) {
	k := &claim.Kept{Claim: parse(t, "Keeps: length back.top within 1")[0]}
	for range 20 { // twenty times 0.1 is 2
		k.Move("v", []claim.Drift{{By: 0.1}})
	}
	assert.False(t, k.OK())
	assert.InDelta(t, 2, k.Figures[0].By, 1e-9)
	assert.Len(t, k.Figures[0].Shares, 20)

	k = &claim.Kept{Claim: parse(t, "Keeps: length back.top within 1")[0]}
	k.Move("v", []claim.Drift{{By: 0.9}, {By: 40, Declared: true}})
	assert.True(t, k.OK(), "what a note declares is set aside")
	k.Narrow(parse(t, "Keeps: length back.top")[0])
	assert.False(t, k.OK(), "another note keeps it to 0.5")
	k.Narrow(parse(t, "Keeps: length back.top within 5")[0])
	assert.False(t, k.OK(), "a wider tolerance loosens nothing")
}

func TestWhatIsKeptAndCannotBeTold(t *testing.T) {
	k := &claim.Kept{Claim: parse(t, "Keeps: gap front")[0]}
	k.Move("a", []claim.Drift{{Label: "at bust", Unknown: "no body", NoBody: true}})
	assert.True(t, k.OK(), "bodies are private")
	k.Move("b", []claim.Drift{{Label: "at bust", Unknown: "front is no lacing"}})
	assert.False(t, k.OK())
	assert.Contains(t, k.Unknown, "in b: ")
	k.Move("c", []claim.Drift{{Label: "at bust", Unknown: "gone", Gone: true}})
	assert.Equal(t, "c", k.Until)
	k.Move("d", []claim.Drift{{Label: "at bust", By: 99}})
	assert.Empty(t, k.Figures[0].By, "what went is followed no more")
}

// What is kept of a piece or an edge goes by its name of today.
func TestLaterNames(t *testing.T) {
	before := story(t)["gusset"].garment
	after := pattern.Clone(before)
	p := after.Piece("strap")
	p.Name, p.Was = "band", "strap"
	after.SortPieces()
	c := compare.Garments(before, after, compare.Options{})
	assert.Equal(t, "area band", claim.Later(c, parse(t, "Keeps: area strap")[0]).Measure.String())
	assert.Equal(t, "girth", claim.Later(c, parse(t, "Keeps: girth")[0]).Measure.String())
}
