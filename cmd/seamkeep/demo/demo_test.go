package demo

import (
	"maps"
	"path"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/text"
)

func TestTheStoryIsAGrowingTree(t *testing.T) {
	list, err := Versions()
	require.NoError(t, err)
	var told []string
	known := map[string]Version{}
	for i, v := range list {
		told = append(told, v.Name+" < "+v.Parent+" on "+v.Branch)
		assert.True(t, strings.HasSuffix(v.Email, "@example.org"), v.Email)
		assert.NotEmpty(t, v.Author)
		assert.NotEmpty(t, v.Told)
		if i > 0 {
			assert.True(t, v.When.After(list[i-1].When), v.Name)
			assert.Contains(t, known, v.Parent)
		}
		known[v.Name] = v
	}
	assert.Equal(t, []string{
		"base <  on main",
		"straps < base on main",
		"gusset < straps on main",
		"half-move < gusset on half-move",
		"undo-half-move < half-move on half-move",
		"seam-move < gusset on main",
		"wider-gusset < seam-move on main",
		"lower-back-neck < wider-gusset on main",
		"button-stand < lower-back-neck on main",
		"card-1 < button-stand on main",
	}, told)
	assert.Equal(t, "mock-up-1", known["seam-move"].Tag)
	assert.Equal(t, "card-1", known["card-1"].Tag)
	makers := map[string]bool{}
	for _, v := range list {
		makers[v.Author] = true
	}
	assert.Len(t, makers, 2)
}

func TestEachVersionChangesOnlyItsFiles(t *testing.T) {
	all := byName(t)
	for name, want := range map[string][]string{
		"straps":          {"strap"},
		"gusset":          {"gusset", "side-back", "underarm", "waistcoat"},
		"half-move":       {"side-back"},
		"undo-half-move":  {"side-back"},
		"seam-move":       {"back", "side-back"},
		"wider-gusset":    {"back", "button-stand", "front", "gusset", "side-back", "side-front", "underarm", "waistcoat"},
		"lower-back-neck": {"back", "button-stand", "side-back", "strap"},
		"button-stand":    {"button-stand", "waistcoat"},
		"card-1":          {"back", "button-stand", "front", "gusset", "side-back", "side-front", "underarm", "waistcoat"},
	} {
		v := all[name]
		assert.Equal(t, want, changed(all[v.Parent].Files, v.Files), name)
	}
	assert.Equal(t, all["gusset"].Files, all["undo-half-move"].Files)
	assert.Equal(t, []string{"underarm"}, changed(all["gusset"].Files, all["gusset"].Refused.Files))
	assert.Equal(t, []string{"back", "side-back"}, changed(all["seam-move"].Files, all["seam-move"].Refused.Files))
}

// changed lists the base names of the files that differ, without their endings. What a
// fitting showed is kept beside the pattern and is no part of it.
func changed(before, after map[string][]byte) []string {
	var out []string
	for file, src := range after {
		if text.KindOf(file) == text.FittingFile {
			continue
		}
		if was, ok := before[file]; !ok || string(was) != string(src) {
			base := path.Base(file)
			out = append(out, strings.TrimSuffix(base, path.Ext(base)))
		}
	}
	for file := range before {
		if _, ok := after[file]; !ok {
			out = append(out, "lost "+file)
		}
	}
	slices.Sort(out)
	return out
}

func TestTheCardMovesNoOutline(t *testing.T) {
	before, after := garmentOf(t, "button-stand"), garmentOf(t, "card-1")
	require.Len(t, after.Pieces, len(before.Pieces))
	for _, p := range before.Pieces {
		q := after.Piece(p.Name)
		require.NotNil(t, q, p.Name)
		assert.True(t, pattern.Same(p.Corners, q.Corners) && pattern.Same(p.Edges, q.Edges), p.Name)
	}
}

func TestFilesAreInCanonicalForm(t *testing.T) {
	for name, tree := range trees(t) {
		for _, file := range slices.Sorted(maps.Keys(tree)) {
			if text.KindOf(file) == text.KindOf("a.txt") {
				continue
			}
			tidied, problems := text.Tidy(file, tree[file])
			assert.Empty(t, problems, "%s %s", name, file)
			assert.Equal(t, string(tidied), string(tree[file]), "%s %s", name, file)
		}
		garment(t, tree) // reports whatever is wrong with it
	}
	file, src := Body()
	tidied, problems := text.Tidy(file, src)
	assert.Empty(t, problems)
	assert.Equal(t, string(tidied), string(src))
}

// A person's measures stay out of what is kept.
func TestTheBodyBelongsToNoVersion(t *testing.T) {
	for name, tree := range trees(t) {
		for file := range tree {
			assert.False(t, strings.HasSuffix(file, ".body"), "%s %s", name, file)
		}
		assert.Contains(t, string(tree[".gitignore"]), "bodies/\n", name)
		assert.Contains(t, string(tree[".gitattributes"]), "*.piece text eol=lf\n", name)
	}
	file, _ := Body()
	assert.Equal(t, "bodies/ringer.body", file)
}

func TestCallersGetTreesOfTheirOwn(t *testing.T) {
	first := byName(t)
	delete(first["straps"].Files, "waistcoat.garment")
	assert.Contains(t, byName(t)["straps"].Files, "waistcoat.garment")
	assert.Contains(t, first["gusset"].Files, "waistcoat.garment")
	_, src := Body()
	src[0] = 'X'
	_, again := Body()
	assert.Equal(t, byte('s'), again[0])
}
