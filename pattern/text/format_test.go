package text

import (
	"os"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// example is one complete file of FORMAT.md.
type example struct{ path, src string }

// examples gives the fenced blocks of FORMAT.md.
func examples(t testing.TB) []example {
	t.Helper()
	page, err := os.ReadFile("FORMAT.md")
	require.NoError(t, err)
	var list []example
	for _, m := range regexp.MustCompile("(?ms)^```(piece|garment|body|fitting) ([a-z-]+)\n(.*?)^```$").FindAllStringSubmatch(string(page), -1) {
		dir := map[string]string{"piece": "pieces/", "garment": "", "body": "bodies/", "fitting": "fittings/"}[m[1]]
		list = append(list, example{dir + m[2] + "." + m[1], m[3]})
	}
	require.Len(t, list, 6)
	return list
}

func TestExamplesOfTheFormatPageReadAndPrintBack(t *testing.T) {
	for _, e := range examples(t) {
		t.Run(e.path, func(t *testing.T) {
			out, problems := Tidy(e.path, []byte(e.src))
			require.Empty(t, problems)
			assert.Equal(t, e.src, string(out), "tidy, with true lengths")
			assert.Equal(t, e.src, printAgain(t, e.path, []byte(e.src)))
		})
	}
}

func TestExamplesOfTheFormatPageUseEveryRecord(t *testing.T) {
	var all strings.Builder
	for _, e := range examples(t) {
		all.WriteString(e.src)
	}
	words := append(append(pieceGrammar().words(), garmentGrammar().words()...), bodyGrammar().words()...)
	words = append(words, fittingGrammar().words()...)
	for _, w := range words {
		assert.Regexp(t, `(?m)^ *`+w+`\b`, all.String(), w)
	}
}

func TestExampleFolderOfTheFormatPageLoads(t *testing.T) {
	fsys := fstest.MapFS{}
	for _, e := range examples(t) {
		if !strings.Contains(e.path, "sampler") {
			fsys["waistcoat/"+e.path] = &fstest.MapFile{Data: []byte(e.src)}
		}
	}
	f, problems := Load(fsys, "waistcoat")
	require.Empty(t, problems)
	require.Len(t, f.Garment.Pieces, 2)
	assert.Equal(t, "front", f.Garment.Pieces[1].Name)
	assert.Len(t, f.Sources, 3, "a body is never read")
}
