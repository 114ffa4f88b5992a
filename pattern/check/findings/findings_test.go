package findings

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEveryPageIsWrittenAsOne(t *testing.T) {
	pages, err := read()
	require.NoError(t, err)
	require.NotEmpty(t, pages)
	for _, p := range pages {
		assert.Regexp(t, idForm, p.ID)
		assert.True(t, strings.HasSuffix(p.Title, "."), "%s: the title is a sentence", p.ID)
		assert.LessOrEqual(t, len(p.Title), 140, p.ID)
		for _, s := range []string{p.Means, p.Matters, p.Mend, p.Figure} {
			assert.NotEmpty(t, s, p.ID)
			assert.NotContains(t, s, "**", p.ID)
		}
	}
}

func TestWhatIsNoPage(t *testing.T) {
	const page = "run.kink\nA title.\n\n**Means.** M\nmore.\n\n**Matters.** A.\n**Mend.** E.\n\n**Figure.** F.\n"
	p, err := parse(page)
	require.NoError(t, err)
	assert.Equal(t, Page{"run.kink", "A title.", "M more.", "A.", "E.", "F."}, p)
	for name, section := range map[string]string{
		"no title":      strings.Replace(page, "A title.\n", "\n", 1),
		"no id":         strings.Replace(page, "run.kink", "", 1),
		"no means":      strings.Replace(page, "**Means.**", "Means.", 1),
		"no figure":     strings.Replace(page, "**Figure.** F.\n", "", 1),
		"another order": strings.Replace(strings.Replace(page, "**Mend.**", "**X.**", 1), "**Matters.**", "**Mend.**", 1),
		"a fifth":       page + "\nMore.\n",
	} {
		_, err := parse(section)
		assert.Error(t, err, name)
	}
}

func TestPagesAreFoundByID(t *testing.T) {
	p, ok := Find("seam.differs")
	require.True(t, ok)
	assert.Contains(t, p.Title, "differ")
	_, ok = Find("seam")
	assert.False(t, ok)
	assert.IsIncreasing(t, IDs())
}

var idForm = regexp.MustCompile(`^[a-z]+(-[a-z]+)*(\.[a-z]+(-[a-z]+)*)+$`)

// TestEveryIDHasAPage takes the ids from the source of the product: every text that
// has the form of an id and is no name of a file or setting.
func TestEveryIDHasAPage(t *testing.T) {
	used := idsOfSource(t)
	require.Greater(t, len(used), 50)
	pages := map[string]bool{}
	for _, id := range IDs() {
		pages[id] = true
		assert.NotEmpty(t, used[id], "the page %s is of an id that nothing uses", id)
	}
	for id, at := range used {
		assert.True(t, pages[id], "%s (%s) has no page", id, at)
	}
}

// idsOfSource gives every id that the source has as a text, with one place of it.
func idsOfSource(t *testing.T) map[string]string {
	t.Helper()
	root := filepath.Join("..", "..", "..")
	ids := map[string]string{}
	require.NoError(t, filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".") && d.Name() != "..") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for id, line := range idsIn(t, path, src) {
			ids[id] = filepath.ToSlash(path) + ":" + strconv.Itoa(line)
		}
		return nil
	}))
	return ids
}

func idsIn(t *testing.T, path string, src []byte) map[string]int {
	t.Helper()
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, src, 0)
	require.NoError(t, err)
	ids := map[string]int{}
	ast.Inspect(file, func(n ast.Node) bool {
		if _, imports := n.(*ast.ImportSpec); imports {
			return false
		}
		lit, ok := n.(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			return true
		}
		if s, err := strconv.Unquote(lit.Value); err == nil && idForm.MatchString(s) && !otherText(s) {
			ids[s] = set.Position(lit.Pos()).Line
		}
		return true
	})
	return ids
}

// otherText tells what has the form of an id and is none: settings of git and of the
// build, and names of files.
func otherText(s string) bool {
	family, last, _ := strings.Cut(s, ".")
	switch family {
	case "core", "user", "commit", "config", "extensions", "safe", "vcs", "gc", "pack":
		return s != "commit.unjudged"
	}
	switch last {
	case "svg", "json", "csv", "txt", "html", "md", "piece", "garment", "body":
		return s != "claim.piece" && s != "table.csv" && s != "table.piece"
	}
	return false
}
