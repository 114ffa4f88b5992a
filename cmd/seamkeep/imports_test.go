package main

import (
	"encoding/json"
	"os/exec"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mayImport says which of our packages each package may import. The road is one
// way: bytes to text to a garment to findings and a change to a view; git and
// patterns meet in hooks/judge and here. An arrow that is not here fails.
var mayImport = map[string]string{
	"pattern/diag":            "",
	"pattern/curve":           "",
	"pattern":                 "pattern/diag pattern/curve",
	"pattern/text":            "pattern pattern/diag",
	"pattern/measure":         "pattern pattern/diag pattern/curve",
	"pattern/check":           "pattern pattern/check/findings pattern/measure pattern/diag pattern/curve",
	"pattern/check/findings":  "",
	"pattern/compare":         "pattern pattern/match pattern/measure pattern/diag pattern/curve",
	"pattern/match":           "pattern pattern/curve",
	"pattern/alter":           "pattern pattern/measure pattern/check pattern/diag pattern/curve",
	"pattern/svg":             "pattern/curve",
	"pattern/svg/browser":     "",
	"pattern/drawing":         "pattern pattern/drawing/vector pattern/diag pattern/curve",
	"pattern/drawing/vector":  "pattern/diag pattern/curve",
	"pattern/drawing/again":   "pattern pattern/match pattern/diag pattern/curve",
	"pattern/drawing/page":    "pattern pattern/svg pattern/curve",
	"pattern/drawing/handoff": "pattern pattern/drawing/page pattern/drawing/vector pattern/svg pattern/diag pattern/curve",
	"pattern/drawing/dxf":     "pattern pattern/drawing/page pattern/svg pattern/curve",
	"pattern/drawing/table":   "pattern pattern/diag pattern/curve",
	"pattern/describe":        "pattern pattern/alter pattern/measure pattern/svg pattern/curve",
	"pattern/material":        "pattern pattern/measure pattern/check pattern/sheet pattern/curve",
	"pattern/sheet":           "pattern pattern/sheet/ink pattern/measure pattern/curve pattern/diag",
	"pattern/sheet/ink":       "pattern/svg pattern/curve",
	"pattern/claim":           "pattern pattern/measure pattern/compare pattern/diag pattern/curve",
	"pattern/step":            "pattern pattern/measure pattern/claim pattern/compare pattern/diag pattern/curve",
	"pattern/note":            "pattern pattern/measure pattern/compare pattern/claim pattern/step pattern/diag",
	"diffview/waterfall":      "pattern pattern/measure pattern/svg pattern/curve pattern/diag",
	"repo":                    "",
	"diffview":                "",
	"diffview/overlay":        "pattern pattern/compare pattern/check pattern/measure pattern/svg pattern/diag pattern/curve",
	"diffview/report":         "pattern diffview/waterfall pattern/material pattern/sheet pattern/compare pattern/claim pattern/check pattern/check/findings pattern/measure pattern/svg pattern/diag pattern/curve",
	"hooks":                   "",
	"hooks/judge":             "repo pattern pattern/text pattern/alter pattern/check pattern/compare pattern/claim pattern/note pattern/step pattern/diag",
	"cmd/seamkeep/demo":       "",
	"cmd/seamkeep":            "*",
}

// onlyUser says which package alone may import a library, itself or below.
var onlyUser = map[string]string{
	"github.com/go-git/":       "repo",
	"github.com/ajstarks/svgo": "pattern/svg",
	"github.com/sergi/go-diff": "pattern/text",
	"codeberg.org/":            "pattern/sheet/ink",
	"golang.org/x/image":       "pattern/sheet/ink",
	"github.com/spf13/cobra":   "cmd/seamkeep",
}

func TestPackagesImportOnlyWhatTheMapAllows(t *testing.T) {
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports", "seamkeep/...").Output()
	require.NoError(t, err)
	seen := map[string]bool{}
	for dec := json.NewDecoder(strings.NewReader(string(out))); dec.More(); {
		var pkg struct {
			ImportPath string
			Imports    []string
		}
		require.NoError(t, dec.Decode(&pkg))
		name := strings.TrimPrefix(pkg.ImportPath, "seamkeep/")
		seen[name] = true
		allowed, listed := mayImport[name]
		if !assert.True(t, listed, "package %s is not on the map: add it here and to DEVELOPERS.md", name) {
			continue
		}
		for _, imported := range pkg.Imports {
			checkImport(t, name, allowed, imported)
		}
	}
	var gone []string
	for name := range mayImport {
		if !seen[name] {
			gone = append(gone, name)
		}
	}
	sort.Strings(gone)
	assert.Empty(t, gone, "on the map, but not in the project")
}

func checkImport(t *testing.T, name, allowed, imported string) {
	t.Helper()
	if ours, ok := strings.CutPrefix(imported, "seamkeep/"); ok {
		may := allowed == "*" || strings.Contains(" "+allowed+" ", " "+ours+" ")
		assert.True(t, may, "%s imports %s", name, ours)
		return
	}
	for library, user := range onlyUser {
		if strings.HasPrefix(imported, library) {
			assert.Equal(t, user, name, "only %s may import %s", user, library)
		}
	}
}
