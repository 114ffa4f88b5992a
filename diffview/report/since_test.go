package report_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/diffview/report"
	"seamkeep/pattern/claim"
)

// keptList holds what is kept, what slipped and what cannot be told.
func keptList(t testing.TB) []*claim.Kept {
	girth := &claim.Kept{Claim: claims(t, "Keeps", "girth", 6), Dir: ".", Since: "straps (fb87f65)"}
	girth.Move("gusset (df5fef4)", []claim.Drift{{Label: "at bust", By: -16, Declared: true}, {Label: "at waist", By: -15.6, Declared: true}})
	girth.Move("seam-move (1416271)", []claim.Drift{{Label: "at bust", By: 0.3}, {Label: "at waist"}})
	top := &claim.Kept{Claim: claims(t, "Keeps", "length back.top", 7), Dir: ".", Since: "gusset (df5fef4)"}
	top.Move("gusset (df5fef4)", []claim.Drift{{By: 0.4}})
	top.Move("seam-move (1416271)", []claim.Drift{{By: 0.35}})
	seam := &claim.Kept{Claim: claims(t, "Keeps", "seam side-back-back", 8), Dir: ".", Since: "seam-move (1416271)"}
	seam.Move("seam-move (1416271)", []claim.Drift{{Label: "side-back.back", By: -6, Declared: true}, {Label: "back.front", By: -6, Declared: true}})
	gap := &claim.Kept{Claim: claims(t, "Keeps", "gap front", 9), Dir: ".", Since: "seam-move (1416271)"}
	gap.Move("seam-move (1416271)", []claim.Drift{{Label: "at bust", Unknown: "no measures of a body", NoBody: true}})
	went := &claim.Kept{Claim: claims(t, "Keeps", "width strap at waist", 10), Dir: ".", Since: "straps (fb87f65)"}
	went.Move("seam-move (1416271)", []claim.Drift{{Label: "at waist", Unknown: "there is no piece", Gone: true}})
	return []*claim.Kept{girth, top, seam, gap, went}
}

func keptText(t require.TestingT, list []*claim.Kept, width int) string {
	var b bytes.Buffer
	text := report.Text{W: &b, Width: width}
	text.Kept(list)
	require.NoError(t, text.Err)
	return b.String()
}

func TestWhatIsKeptIsToldInWords(t *testing.T) {
	assert.Equal(t, `ok      girth, since straps (fb87f65): +0.30 at bust at most, apart from -16.00
          at bust that notes declare
FAILED  length back.top, since gusset (df5fef4): +0.75, more than 0.5
      moved     +0.40 gusset (df5fef4), +0.35 seam-move (1416271)
ok      seam side-back-back, since seam-move (1416271): unchanged, apart from
          -6.00 on side-back.back that notes declare
unknown gap front, since seam-move (1416271): cannot be told: in seam-move
          (1416271): no measures of a body
ok      width strap at waist, since straps (fb87f65): unchanged, until seam-move
          (1416271), where it went
`, keptText(t, keptList(t), 80))
	assert.Contains(t, keptText(t, nil, 80), "no note keeps anything")
}

func TestTheSinceDocumentKeepsToItsSchema(t *testing.T) {
	s := readSchema(t, "since")
	s.accepts(t, report.SinceJSON("mock-up-1", 2, keptList(t)), "some")
	s.accepts(t, report.SinceJSON("mock-up-1", 0, nil), "none")
	assert.Empty(t, s.unseen(), "in the schema, but never written")
}
