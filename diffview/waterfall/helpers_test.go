package waterfall

import (
	"bufio"
	"bytes"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"seamkeep/cmd/seamkeep/demo"
	"seamkeep/pattern"
	"seamkeep/pattern/text"
)

// story gives the demo's versions on the way from the first to the last, or to the
// one of that name, and its body.
func story(t testing.TB, until string) ([]Version, *pattern.Body) {
	list, err := demo.Versions()
	require.NoError(t, err)
	byName := map[string]demo.Version{}
	for _, v := range list {
		byName[v.Name] = v
	}
	var out []Version
	for name := until; name != ""; name = byName[name].Parent {
		out = append([]Version{version(t, byName[name])}, out...)
	}
	name, src := demo.Body()
	b, problems := text.ReadBody(name, src)
	require.Empty(t, problems)
	return out, b
}

func version(t testing.TB, v demo.Version) Version {
	fsys := fstest.MapFS{}
	for name, src := range v.Files {
		fsys[name] = &fstest.MapFile{Data: src}
	}
	folder, problems := text.Load(fsys, ".")
	require.Empty(t, problems, v.Name)
	out := Version{Short: v.Name[:4], Garment: folder.Garment}
	lines := bufio.NewScanner(bytes.NewReader([]byte(v.Message)))
	for lines.Scan() {
		if out.Subject == "" {
			out.Subject = lines.Text()
		}
		if name, ok := strings.CutPrefix(lines.Text(), "Alteration: "); ok {
			out.Note = name
		}
	}
	return out
}
