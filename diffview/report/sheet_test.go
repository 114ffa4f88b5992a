package report_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/diffview/report"
	"seamkeep/pattern/material"
	"seamkeep/pattern/sheet"
	"seamkeep/pattern/text"
)

func TestTheSheetDocumentKeepsToItsSchema(t *testing.T) {
	s := readSchema(t, "sheet")
	folder, problems := text.Load(os.DirFS("../../testdata/patterns/waistcoat--03-gusset"), ".")
	require.False(t, problems.HasErrors())
	for _, name := range []string{"a4", "letter", "a0", "roll:914"} {
		paper, err := sheet.ParsePaper(name)
		require.NoError(t, err)
		lists := []sheet.List{report.CuttingList(material.CuttingOf(folder.Garment, material.Version{}))}
		made, err := sheet.New(folder.Garment, sheet.Options{Paper: paper, Lists: lists})
		require.NoError(t, err)
		s.accepts(t, report.SheetJSON(made), name)
	}
	assert.Empty(t, s.unseen(), "in the schema, but never written")
}
