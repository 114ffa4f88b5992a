package judge_test

import (
	"fmt"
	"path"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/hooks/judge"
	"seamkeep/pattern/diag"
	"seamkeep/repo"
)

// vest is a garment of two panels that are sewn along one seam; each figure may
// be changed by a version.
type vest struct {
	frontWidth, sideWidth float64 // mm at the waist
	sideTop               float64 // height of the side's front corner; 100 matches the front
	tolerance             float64
}

var matching = vest{frontWidth: 100, sideWidth: 80, sideTop: 100, tolerance: 1.5}

func (v vest) files(dir string) map[string][]byte {
	panel := func(width, top float64) string {
		return fmt.Sprintf("seamkeep piece 1\n\ncorner tf 0 %g\nedge front\ncorner hf 0 -100\nedge hem\ncorner hb %g -100\nedge back\ncorner tb %g 100\nedge top\n",
			top, width, width)
	}
	return map[string][]byte{
		path.Join(dir, "vest.garment"): []byte(fmt.Sprintf("seamkeep garment 1\nhalf left\nbody ringer\ntolerance seam %g\nlevel waist 0\n"+
			"around front side\nseam front-side front.back side.front\nclosure front lacing front.front\n", v.tolerance)),
		path.Join(dir, "pieces/front.piece"): []byte(panel(v.frontWidth, 100)),
		path.Join(dir, "pieces/side.piece"):  []byte(panel(v.sideWidth, v.sideTop)),
	}
}

// history is a repository in which tests keep versions.
type history struct {
	t       *testing.T
	dir     string
	builder *repo.Builder
	count   int
}

func newHistory(t *testing.T) *history {
	dir := t.TempDir()
	b, err := repo.Create(dir, "main")
	require.NoError(t, err)
	return &history{t: t, dir: dir, builder: b}
}

func (h *history) keep(message string, files map[string][]byte, parents ...string) string {
	h.count++
	id, err := h.builder.Commit(repo.NewCommit{
		Branch: fmt.Sprintf("b%d", h.count), Parents: parents, Message: message, Files: files,
		Author: repo.Person{Name: "Ines", Email: "ines@example.org", When: time.Unix(1770000000+int64(h.count), 0)},
	})
	require.NoError(h.t, err)
	return id
}

// snapshots opens versions by id; "" is the empty one.
func (h *history) snapshots(ids ...string) []*repo.Snapshot {
	r, err := repo.OpenWith(h.dir, repo.Options{IgnoreEnvironment: true})
	require.NoError(h.t, err)
	h.t.Cleanup(func() { r.Close() })
	out := make([]*repo.Snapshot, len(ids))
	for i, id := range ids {
		out[i] = r.EmptySnapshot()
		if id != "" {
			out[i], err = r.Snapshot(id)
			require.NoError(h.t, err)
		}
	}
	return out
}

func (h *history) judge(before, after string, change func(*judge.Request)) *judge.Verdict {
	s := h.snapshots(before, after)
	q := judge.Request{Before: s[0], After: s[1]}
	if change != nil {
		change(&q)
	}
	v, err := judge.Commit(q)
	require.NoError(h.t, err)
	return v
}

func ids(list diag.List) []string {
	out := []string{}
	for _, x := range list {
		if x.Severity != diag.Note {
			out = append(out, x.Severity.String()+" "+x.Address())
		}
	}
	return out
}

func TestOnlyFoldersThatACommitChangesAreJudged(t *testing.T) {
	h := newHistory(t)
	bad := matching
	bad.sideTop = 90
	files := bad.files("old")
	first := h.keep("first", files)
	for name, data := range matching.files("new") {
		files[name] = data
	}
	second := h.keep("second", files, first)
	v := h.judge(first, second, nil)
	require.Len(t, v.Folders, 1)
	assert.Equal(t, "new", v.Folders[0].Dir)
	assert.False(t, v.Refused(), "the old folder is as wrong as it was")
	v = h.judge("", second, nil)
	require.Len(t, v.Folders, 2, "against nothing both are new")
	assert.True(t, v.Refused())
}

func TestASeamThatDiffersIsRefused(t *testing.T) {
	h := newHistory(t)
	bad := matching
	bad.sideTop = 98.4
	good, wrong := h.keep("good", matching.files(".")), h.keep("wrong", bad.files("."))
	assert.False(t, h.judge("", good, nil).Refused())
	v := h.judge(good, wrong, nil)
	assert.True(t, v.Refused())
	assert.Equal(t, []string{"error seam.differs front-side"}, ids(v.Problems()))
}

func TestWhatCannotBeReadIsRefusedWithItsLine(t *testing.T) {
	h := newHistory(t)
	files := matching.files(".")
	files["pieces/side.piece"] = append(files["pieces/side.piece"], "<<<<<<< ours\n"...)
	v := h.judge("", h.keep("conflict", files), nil)
	require.True(t, v.Refused())
	assert.Equal(t, "pieces/side.piece:11:1", v.Problems()[0].Place.String())
}

func TestUnfinishedFindings(t *testing.T) {
	h := newHistory(t)
	version := func(top float64) map[string][]byte {
		v := matching
		v.sideTop = top
		return v.files(".")
	}
	off3 := h.keep("off\n\nAlteration: off\nUnfinished: seam.differs front-side\n", version(97))
	same, worse, better := h.keep("same", withNote(version(97)), off3), h.keep("worse", version(96.9), off3), h.keep("better", version(97.5), off3)
	t.Run("this commit accepts exactly what its note lists", func(t *testing.T) {
		v := h.judge("", off3, func(q *judge.Request) { q.Accept = []string{"seam.differs front-side"} })
		assert.False(t, v.Refused())
		assert.Equal(t, []string{"error seam.differs front-side"}, ids(v.Folders[0].Accepted))
		v = h.judge("", off3, func(q *judge.Request) { q.Accept = []string{"seam.differs other"} })
		assert.True(t, v.Refused())
	})
	t.Run("a later commit is warned, and refused where it got worse by more than 0.05", func(t *testing.T) {
		assert.Equal(t, []string{"warning seam.differs front-side"}, ids(h.judge(off3, same, nil).Problems()))
		assert.Equal(t, []string{"warning seam.differs front-side"}, ids(h.judge(off3, better, nil).Problems()))
		assert.Equal(t, []string{"error seam.differs front-side"}, ids(h.judge(off3, worse, nil).Problems()))
	})
}

// withNote changes a file in a way that no finding sees.
func withNote(files map[string][]byte) map[string][]byte {
	files["pieces/front.piece"] = append(files["pieces/front.piece"], "# cut on the straight\n"...)
	return files
}

func TestAMergeThatBreaksASeamTellsWhoMovedWhat(t *testing.T) {
	h := newHistory(t)
	mine, yours := matching, matching
	mine.sideTop = 99 // passes alone
	yours.sideTop = 100
	base := h.keep("base", matching.files("."))
	ours := h.keep("ours", mine.files("."), base)
	theirFiles := yours.files(".")
	theirFiles["pieces/front.piece"] = []byte(strings.ReplaceAll(string(theirFiles["pieces/front.piece"]), "corner tb 100 100", "corner tb 100 101"))
	theirs := h.keep("theirs", theirFiles, base)
	together := mine.files(".")
	together["pieces/front.piece"] = theirFiles["pieces/front.piece"]
	merged := h.keep("merged", together, ours, theirs)
	assert.False(t, h.judge(base, ours, nil).Refused())
	assert.False(t, h.judge(base, theirs, nil).Refused())
	v := h.judge(ours, merged, func(q *judge.Request) {
		s := h.snapshots(ours, theirs, base)
		q.Merge = []judge.Parent{{Name: "ours", Snapshot: s[0]}, {Name: "theirs (x)", Snapshot: s[1]}}
		q.Base = s[2]
	})
	require.True(t, v.Refused())
	var told []string
	for _, r := range v.Problems().Only(diag.Error)[0].Related {
		told = append(told, r.Text)
	}
	assert.Contains(t, told, "ours: side.front 1.0 shorter")
	assert.Contains(t, told, "theirs (x): front.back 1.0 longer")
}

// Two makers each take in 10 at another panel for one fault: text merges
// cleanly and no seam is off, but the girth lost twice what either meant.
func TestAMergeThatDoublesAChangeIsNamedWithTheAmounts(t *testing.T) {
	h := newHistory(t)
	a, b, both := matching, matching, matching
	a.frontWidth, b.sideWidth = 95, 75
	both.frontWidth, both.sideWidth = 95, 75
	a.tolerance, b.tolerance, both.tolerance = 2, 1, 2
	base := h.keep("base", matching.files("."))
	ours, theirs := h.keep("ours", a.files("."), base), h.keep("theirs", b.files("."), base)
	merged := h.keep("merged", both.files("."), ours, theirs)
	body := fstest.MapFS{"bodies/ringer.body": {Data: []byte("seamkeep body 1\ngirth waist 400\n")}}
	v := h.judge(ours, merged, func(q *judge.Request) {
		s := h.snapshots(ours, theirs, base)
		q.Merge = []judge.Parent{{Name: "ours", Snapshot: s[0]}, {Name: "theirs", Snapshot: s[1]}}
		q.Base, q.Bodies = s[2], body
	})
	assert.False(t, v.Refused(), "a doubled change warns")
	told := map[string]string{}
	for _, x := range v.Problems().Only(diag.Warning) {
		text := x.Found
		for _, r := range x.Related {
			text += "; " + r.Text
		}
		told[x.ID+" "+x.Subject] = text
	}
	assert.Contains(t, told["merge.doubled girth"], "waist: -10.0 ours, -10.0 theirs, -20.0 together")
	assert.Contains(t, told["merge.doubled front"], "waist: +10.0 ours, +10.0 theirs, +20.0 together")
	assert.Equal(t, "tolerance seam was changed by ours and by theirs", told["merge.both seam"])
	assert.Len(t, told, 3)
}

// Who makes a commit is told the warnings that it brings, not those that were there.
func TestOnlyNewWarningsAreTold(t *testing.T) {
	near, nearer := matching, matching
	near.sideTop, nearer.sideTop = 98.7, 98.6 // 1.3 and 1.4 off, of 1.5
	wide := near
	wide.frontWidth += 5
	h := newHistory(t)
	first, worse, same := h.keep("first", near.files(".")), h.keep("worse", nearer.files(".")), h.keep("same", wide.files("."))
	told := func(before, after string) ([]string, int) {
		v := h.judge(before, after, func(q *judge.Request) { q.SetWarningsApart = true })
		return ids(v.Problems()), len(v.Known())
	}
	for _, c := range []struct {
		before, after string
		want          []string
		known         int
	}{
		{"", first, []string{"warning seam.near front-side"}, 0},
		{first, same, []string{}, 1},
		{first, worse, []string{"warning seam.near front-side"}, 0},
		{worse, first, []string{}, 1},
	} {
		got, known := told(c.before, c.after)
		assert.Equal(t, c.want, got)
		assert.Equal(t, c.known, known)
	}
}

func TestABodyIsReadFromItsOwnPlaceOrLeftOut(t *testing.T) {
	h := newHistory(t)
	id := h.keep("first", matching.files("."))
	v := h.judge("", id, nil)
	assert.Nil(t, v.Folders[0].Body)
	assert.False(t, v.Refused(), "a body is private and often absent")
	v = h.judge("", id, func(q *judge.Request) {
		q.Bodies = fstest.MapFS{"bodies/ringer.body": {Data: []byte("seamkeep body 1\ngirth waist nothing\n")}}
	})
	assert.Equal(t, "bodies/ringer.body:2:13", v.Problems().Only(diag.Error)[0].Place.String())
}
