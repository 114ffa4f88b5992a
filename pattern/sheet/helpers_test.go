package sheet

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/text"
)

// piece makes a piece of straight edges e1, e2 ... between corners c1, c2 ...
func piece(pts ...curve.Point) *pattern.Piece {
	p := &pattern.Piece{Name: "panel"}
	for i, q := range pts {
		n := string(rune('1' + i))
		p.Corners = append(p.Corners, pattern.Corner{Name: "c" + n, At: q})
		p.Edges = append(p.Edges, pattern.Edge{Name: "e" + n})
	}
	return p
}

// bent gives edge i of a piece one cubic.
func bent(p *pattern.Piece, i int, h1, h2 curve.Point) *pattern.Piece {
	p.Edges[i].Segs = []pattern.Seg{{Curve: true, H1: h1, H2: h2, ToCorner: true}}
	return p
}

func square(size float64) *pattern.Piece {
	return piece(curve.Pt(0, 0), curve.Pt(size, 0), curve.Pt(size, size), curve.Pt(0, size))
}

func garment(p *pattern.Piece, mm float64, more ...pattern.Allowance) *pattern.Garment {
	return &pattern.Garment{Pieces: []*pattern.Piece{p},
		Allowances: append([]pattern.Allowance{{Value: mm}}, more...)}
}

func on(edge string, mm float64) pattern.Allowance {
	return pattern.Allowance{Target: pattern.Target{Name: "panel", Edge: edge}, Value: mm}
}

func join(edge string, kind JoinKind) pattern.Join {
	return pattern.Join{Target: pattern.Target{Name: "panel", Edge: edge}, Kind: string(kind)}
}

// demo is the last version of the waistcoat; each version's folder holds the files
// that it changed.
func demo(t testing.TB) *pattern.Garment {
	t.Helper()
	versions, err := filepath.Glob("../../cmd/seamkeep/demo/versions/*")
	require.NoError(t, err)
	files := fstest.MapFS{}
	for _, v := range versions {
		root := os.DirFS(filepath.Join(v, "files"))
		err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			data, err := fs.ReadFile(root, name)
			files[name] = &fstest.MapFile{Data: data}
			return err
		})
		if !errors.Is(err, fs.ErrNotExist) {
			require.NoError(t, err)
		}
	}
	folder, problems := text.Load(files, ".")
	require.False(t, problems.HasErrors(), "%v", problems)
	require.Len(t, folder.Garment.Pieces, 8)
	return folder.Garment
}
