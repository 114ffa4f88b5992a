package text

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// Each folder of testdata/broken-folders is a pattern folder with a file
// "want": the file, line, column and id of every problem.
func TestBrokenFoldersAreReportedAtTheirPlaces(t *testing.T) {
	wants, err := filepath.Glob("testdata/broken-folders/*/want")
	require.NoError(t, err)
	require.NotEmpty(t, wants)
	for _, w := range wants {
		dir := filepath.Base(filepath.Dir(w))
		t.Run(dir, func(t *testing.T) {
			want, err := os.ReadFile(w)
			require.NoError(t, err)
			_, problems := Load(os.DirFS("testdata/broken-folders"), dir)
			got := strings.ReplaceAll(placesAndIDs(problems, dir), dir+":", ".:")
			assert.Equal(t, string(want), got, "%s", messages(problems))
		})
	}
}

func TestUnknownNamesComeWithTheNearestKnownOne(t *testing.T) {
	_, problems := Load(os.DirFS("testdata/broken-folders"), "names")
	all := messages(problems)
	for _, near := range []string{`nearest: "back"`, `nearest: "back.side"`, `nearest: "waist"`, `nearest: "front"`, `nearest: "side"`, `nearest: "c"`} {
		assert.Contains(t, all, near)
	}
}

func TestFindListsFoldersWithAGarmentFile(t *testing.T) {
	file := &fstest.MapFile{Data: []byte("x")}
	fsys := fstest.MapFS{
		"root.garment": file, "b/x.garment": file, "a/deep/in/y.garment": file, "a/pieces/p.piece": file,
		".git/z.garment": file, "c/.hidden/w.garment": file, "two/a.garment": file, "two/b.garment": file,
		strings.Repeat("d/", 17) + "far.garment": file,
	}
	found, err := Find(fsys)
	require.NoError(t, err)
	assert.Equal(t, []string{".", "a/deep/in", "b", "two"}, found)

	_, err = Find(os.DirFS(filepath.Join(t.TempDir(), "missing")))
	assert.ErrorIs(t, err, fs.ErrNotExist)
}

// withIDs is a tree whose files have ids, and counts how often each is opened.
type withIDs struct {
	fstest.MapFS
	ids    map[string]string
	opened map[string]int
}

func (w withIDs) ID(path string) (string, bool) { id, ok := w.ids[path]; return id, ok }

func (w withIDs) Open(name string) (fs.File, error) {
	if KindOf(name) != "" {
		w.opened[name]++
	}
	return w.MapFS.Open(name)
}

func TestLoaderReadsAFileOfOneIDOnce(t *testing.T) {
	fsys := withIDs{fstest.MapFS{}, map[string]string{"a.garment": "1", "pieces/front.piece": "2"}, map[string]int{}}
	fsys.MapFS["a.garment"] = &fstest.MapFile{Data: []byte("seamkeep garment 1\nwhole\n")}
	piece, err := os.ReadFile("testdata/broken-folders/two-seams/pieces/front.piece")
	require.NoError(t, err)
	fsys.MapFS["pieces/front.piece"] = &fstest.MapFile{Data: piece}
	fsys.MapFS["pieces/back.piece"] = &fstest.MapFile{Data: piece}

	l := NewLoader()
	first, problems := l.Load(fsys, ".")
	require.Empty(t, problems)
	count := fsys.opened["pieces/front.piece"]
	second, problems := l.Load(fsys, ".")
	require.Empty(t, problems)
	assert.Equal(t, count, fsys.opened["pieces/front.piece"])
	assert.Greater(t, fsys.opened["pieces/back.piece"], count, "without an id it is read again")
	assert.Same(t, first.Garment.Piece("front"), second.Garment.Piece("front"))
	assert.NotSame(t, first.Garment, second.Garment)

	fsys.ids["pieces/front.piece"] = "3"
	fsys.MapFS["pieces/front.piece"] = &fstest.MapFile{Data: []byte("seamkeep piece 1\n")}
	_, problems = l.Load(fsys, ".")
	require.Len(t, problems, 1)
	assert.Equal(t, IDRecordMissing, problems[0].ID)
}

// sized is a tree in which one file says that it is huge, and must not be opened.
type sized struct {
	fstest.MapFS
	t *testing.T
}

type hugeInfo struct{ fs.FileInfo }

func (hugeInfo) Size() int64 { return 1<<20 + 1 }

func (s sized) Stat(name string) (fs.FileInfo, error) {
	info, err := s.MapFS.Stat(name)
	if err == nil && KindOf(name) == PieceFile {
		return hugeInfo{info}, nil
	}
	return info, err
}

func (s sized) Open(name string) (fs.File, error) {
	assert.NotEqual(s.t, PieceFile, KindOf(name), "opened a file that is too large")
	return s.MapFS.Open(name)
}

func TestLoadAsksForTheSizeBeforeReading(t *testing.T) {
	fsys := sized{fstest.MapFS{
		"v/a.garment":          {Data: []byte("seamkeep garment 1\nwhole\n")},
		"v/pieces/front.piece": {Data: []byte("seamkeep piece 1\n")},
	}, t}
	_, problems := Load(fsys, "v")
	require.Len(t, problems, 1)
	assert.Equal(t, IDSize, problems[0].ID)
	assert.Equal(t, "v/pieces/front.piece", problems[0].Place.File)
}

func TestLoadFollowsNoLinks(t *testing.T) {
	fsys := fstest.MapFS{
		"a.garment":      {Data: []byte("seamkeep garment 1\nwhole\n")},
		"pieces/l.piece": {Data: []byte("../../secret"), Mode: fs.ModeSymlink},
	}
	_, problems := Load(fsys, ".")
	require.Len(t, problems, 1)
	assert.Equal(t, IDFileKind, problems[0].ID)
}

func TestLoadOfAMissingFolderIsAProblem(t *testing.T) {
	f, problems := Load(fstest.MapFS{}, "nowhere")
	assert.Nil(t, f.Garment)
	require.Len(t, problems, 1)
	assert.Equal(t, IDFileUnreadable, problems[0].ID)
	assert.Equal(t, diag.Error, problems[0].Severity)
}

func TestCheckNamesWorksOnAModelWithoutItsTexts(t *testing.T) {
	f, _ := Load(os.DirFS("testdata/broken-folders"), "names")
	problems := CheckNames(f.Garment)
	want, err := os.ReadFile("testdata/broken-folders/names/want")
	require.NoError(t, err)
	assert.Len(t, problems, strings.Count(string(want), "\n"))
	assert.Empty(t, CheckNames(&pattern.Garment{}))
}
