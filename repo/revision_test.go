package repo

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestResolveAgreesWithRevParse(t *testing.T) {
	b, _ := forked(t, false)
	b.day++
	b.git("merge", "-q", "-m", "Merge side", "side")
	b.git("tag", "plain", "HEAD~1")
	b.git("tag", "-a", "-m", "An annotated one", "noted", "side")
	b.git("tag", "-a", "-m", "A tag of a tag", "twice", "noted")
	b.git("branch", "both-names", "side")
	b.git("tag", "both-names", "main")
	b.git("branch", "deep/er/name", "side")
	b.git("update-ref", "refs/remotes/origin/far", "side")
	b.git("symbolic-ref", "refs/remotes/origin/HEAD", "refs/remotes/origin/far")
	id := b.git("rev-parse", "HEAD")
	b.git("pack-refs", "--all")
	specs := []string{
		"HEAD", "@", "main", "side", "plain", "noted", "twice", "both-names", "deep/er/name", "heads/side", "refs/heads/side",
		"tags/noted", "origin/far", "origin", "HEAD~1", "HEAD~", "HEAD^", "HEAD^1", "HEAD^2", "HEAD^2~1", "HEAD~1^0", "main^^",
		"HEAD^{commit}", "noted^{}", "noted^{commit}~1", "twice~1", id, id[:7], id[:5], strings.ToUpper(id[:9]), id[:10] + "~1",
		"@{0}", "HEAD@{1}", ":/On the side", "HEAD^{/First}", "HEAD^-",
		"nothing", "HEAD~9", "HEAD^3", "HEAD^{tree}", "HEAD:a.txt", "0000000", strings.Repeat("1", 40), "-x", "--all", "a..b", "HEAD~x", "^", "~1", "a b",
	}
	for who, r := range b.both() {
		for _, spec := range specs {
			want, wantErr := b.try("rev-parse", "--verify", "--quiet", "--end-of-options", spec+"^{commit}")
			c, err := r.Resolve(spec)
			if wantErr != nil || spec[0] == '-' {
				assert.ErrorIs(t, err, ErrUnknownRevision, "%s %q", who, spec)
				if err != nil {
					assert.Contains(t, err.Error(), `"`+spec+`"`, who)
				}
				continue
			}
			lines := strings.Split(strings.TrimSpace(want), "\n") // git also warns of double names
			if assert.NoError(t, err, "%s %q", who, spec) {
				assert.Equal(t, lines[len(lines)-1], c.ID, "%s %q", who, spec)
			}
		}
	}
}

func TestHeadMayBeDetached(t *testing.T) {
	b := newBox(t)
	pieces(b)
	b.git("checkout", "-q", "HEAD~1")
	for who, r := range b.both() {
		assert.Equal(t, "", r.Branch(), who)
		c, err := r.Head()
		require.NoError(t, err)
		assert.Equal(t, b.git("rev-parse", "HEAD"), c.ID, who)
	}
}

// The stored commit says what `git log` says; one author has a time zone of
// half an hour, and names that need care.
func TestCommitFields(t *testing.T) {
	b := newBox(t)
	b.write("a", "a")
	b.git("add", ".")
	b.git("commit", "-q", "--author=Zoë O'Neil <zoe@example.org>", "--date=1600000000 -0330", "-m",
		"Take in\nthe waist\n\nIt gaped.\n\nDoes: something")
	for who, r := range b.both() {
		c, err := r.Head()
		require.NoError(t, err)
		assert.Equal(t, b.git("log", "-1", "--format=%H|%h|%an|%ae|%aI|%cn|%cI|%s"), strings.Join([]string{
			c.ID, c.Short(), c.Author.Name, c.Author.Email, c.Author.When.Format(time.RFC3339),
			c.Committer.Name, c.Committer.When.Format(time.RFC3339), c.Subject(),
		}, "|"), who)
		assert.Equal(t, b.git("log", "-1", "--format=%B"), strings.TrimSuffix(c.Message, "\n")+"\n", who)
		assert.Equal(t, r.At(c).Label(), c.Short())
	}
}

func TestTagsByCommit(t *testing.T) {
	b := newBox(t)
	pieces(b)
	first, second := b.git("rev-parse", "HEAD~1"), b.git("rev-parse", "HEAD")
	b.git("tag", "mock-up-2")
	b.git("tag", "-a", "-m", "Cut in calico", "mock-up-1", "HEAD~1")
	b.git("tag", "again", "HEAD~1")
	b.git("tag", "a-tree", "HEAD^{tree}")
	for _, pack := range []bool{false, true} {
		if pack {
			b.git("pack-refs", "--all")
		}
		for who, r := range b.both() {
			tags, err := r.Tags()
			require.NoError(t, err)
			assert.Equal(t, map[string][]string{first: {"again", "mock-up-1"}, second: {"mock-up-2"}}, tags, who)
		}
	}
}

func TestMergeBaseAgreesWithGit(t *testing.T) {
	b, _ := forked(t, false)
	b.git("checkout", "-q", "--orphan", "alone")
	b.commit("Another start")
	for who, r := range b.both() {
		for _, pair := range [][2]string{{"main", "side"}, {"side", "main"}, {"main", "main"}, {"main~1", "side"}} {
			c, err := r.MergeBase(pair[0], pair[1])
			require.NoError(t, err, who)
			assert.Equal(t, b.git("merge-base", pair[0], pair[1]), c.ID, who)
		}
		_, err := r.MergeBase("main", "alone")
		assert.ErrorIs(t, err, ErrNoMergeBase, who)
		_, err = r.MergeBase("main", "nobody")
		assert.ErrorIs(t, err, ErrUnknownRevision, who)
	}
}

func TestGitErrorHoldsWhatGitSaid(t *testing.T) {
	b := newBox(t)
	r := b.open()
	_, err := r.Git("log", "nobody")
	var failed *GitError
	require.True(t, errors.As(err, &failed))
	assert.Equal(t, 128, failed.Code)
	assert.Contains(t, err.Error(), "git log: fatal: ambiguous argument 'nobody'")
	out, err := r.GitInput("hello\n", "hash-object", "--stdin")
	require.NoError(t, err)
	assert.Equal(t, "ce013625030ba8dba906f756967f9e9ca394464a\n", out) // git's manual, "Git Objects"
	path, version, ok := GitAvailable()
	assert.True(t, ok)
	assert.FileExists(t, path)
	assert.Regexp(t, `^\d+\.\d+`, version)
}
