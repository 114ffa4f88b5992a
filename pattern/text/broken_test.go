package text

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/diag"
)

// Each file of testdata/broken has a neighbour, named .want, with the place and
// id of every problem in it: to add a case, add two files.
func TestBrokenFilesAreReportedAtTheirPlaces(t *testing.T) {
	wants, err := filepath.Glob("testdata/broken/*.want")
	require.NoError(t, err)
	require.NotEmpty(t, wants)
	for _, w := range wants {
		file := strings.TrimSuffix(filepath.ToSlash(w), ".want")
		t.Run(filepath.Base(file), func(t *testing.T) {
			src, err := os.ReadFile(file)
			require.NoError(t, err)
			want, err := os.ReadFile(w)
			require.NoError(t, err)
			_, problems := readAny(file, src)
			assert.Equal(t, string(want), placesAndIDs(problems, ""), "%s", messages(problems))
			for _, p := range problems {
				assert.Equal(t, diag.Error, p.Severity)
				assert.Equal(t, file, p.Place.File)
				assert.NotEmpty(t, p.Found)
				assert.NotEmpty(t, p.Expected)
			}
			out, refused := Tidy(file, src)
			assert.Nil(t, out, "tidy leaves a broken file alone")
			assert.Len(t, refused, len(problems))
		})
	}
}

func placesAndIDs(problems diag.List, dir string) string {
	var b strings.Builder
	for _, p := range problems {
		if dir != "" {
			fmt.Fprintf(&b, "%s:", strings.TrimPrefix(p.Place.File, dir+"/"))
		}
		fmt.Fprintf(&b, "%d:%d %s\n", p.Place.Line, p.Place.Column, p.ID)
	}
	return b.String()
}

func messages(problems diag.List) string {
	var b strings.Builder
	for _, p := range problems {
		fmt.Fprintf(&b, "%s: %s: %s\n", p.Place, p.ID, p.Message())
	}
	return b.String()
}
