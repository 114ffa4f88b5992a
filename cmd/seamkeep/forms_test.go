package main

import (
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestThePageNamesEveryFieldOfTheForms(t *testing.T) {
	page, err := os.ReadFile("FORMS.md")
	require.NoError(t, err)
	for _, form := range []any{importJSON{}, scaleJSON{}, drawingJSON{}, leftJSON{}, importedJSON{}, lengthJSON{}, conflictJSON{}, proposalJSON{}} {
		typ := reflect.TypeOf(form)
		for i := range typ.NumField() {
			name, _, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ",")
			assert.Regexp(t, "[`.]"+name+"`", string(page), "%s.%s", typ.Name(), name)
		}
	}
}
