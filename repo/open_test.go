package repo

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pieces fills a box with two commits of a small folder.
func pieces(b *box) {
	b.write("coat/garment.txt", "name coat\n")
	b.write("coat/front.txt", "corner a 0 0\n")
	b.write("readme", "hello\n")
	b.commit("Draft the coat")
	b.write("coat/front.txt", "corner a 0 5\n")
	b.write("coat/back.txt", "corner b 1 1\n")
	b.commit("Lower the neck")
}

// Each kind of repository must give the ids that git itself lists, for HEAD and
// for the index, whoever reads it.
func TestKindsOfRepository(t *testing.T) {
	kinds := []struct {
		name    string
		make    func(t *testing.T) *box
		library bool // readable without a git process
	}{
		{"plain", func(t *testing.T) *box { b := newBox(t); pieces(b); return b }, true},
		{"packed", func(t *testing.T) *box { b := newBox(t); pieces(b); b.git("gc", "-q"); return b }, true},
		{"packed with a commit graph and a pack of packs", func(t *testing.T) *box {
			b := newBox(t)
			pieces(b)
			b.git("repack", "-adq", "--write-midx")
			b.git("commit-graph", "write", "--reachable")
			return b
		}, true},
		{"linked worktree", func(t *testing.T) *box {
			b := newBox(t)
			pieces(b)
			side := filepath.Join(realPath(t.TempDir()), "side")
			b.git("worktree", "add", "-q", "-b", "side", side, "HEAD~1")
			c := b.at(side)
			c.write("coat/side.txt", "x\n")
			c.commit("On the side")
			return c
		}, true},
		{"worktreeConfig", func(t *testing.T) *box {
			b := newBox(t)
			pieces(b)
			b.git("config", "extensions.worktreeConfig", "true")
			return b
		}, true},
		{"shallow", func(t *testing.T) *box {
			b := newBox(t)
			pieces(b)
			to := filepath.Join(realPath(t.TempDir()), "clone")
			b.git("clone", "-q", "--depth=1", "file://"+b.dir, to)
			return b.at(to)
		}, true},
		{"alternates, absolute", func(t *testing.T) *box {
			b := newBox(t)
			pieces(b)
			to := filepath.Join(realPath(t.TempDir()), "clone")
			b.git("clone", "-q", "--shared", b.dir, to)
			return b.at(to)
		}, true},
		{"alternates, relative, packed", func(t *testing.T) *box {
			b := newBox(t)
			pieces(b)
			b.git("gc", "-q")
			to := filepath.Join(b.dir, "clone")
			b.git("clone", "-q", "--shared", b.dir, to)
			c := b.at(to)
			c.write(".git/objects/info/alternates", "../../../.git/objects\n")
			c.write("new.txt", "x\n")
			c.commit("In the clone")
			return c
		}, true},
		{"index version 4", func(t *testing.T) *box {
			b := newBox(t)
			pieces(b)
			b.git("update-index", "--index-version=4")
			return b
		}, true},
		{"untracked cache", func(t *testing.T) *box {
			b := newBox(t)
			pieces(b)
			b.git("update-index", "--force-untracked-cache")
			b.git("status")
			return b
		}, true},
		{"split index", func(t *testing.T) *box {
			b := newBox(t)
			pieces(b)
			b.git("update-index", "--split-index")
			b.write("coat/sleeve.txt", "x\n")
			b.git("add", ".")
			return b
		}, false},
		{"sparse checkout", func(t *testing.T) *box {
			b := newBox(t)
			pieces(b)
			b.git("sparse-checkout", "set", "--no-cone", "/readme")
			return b
		}, true},
		{"sparse index", func(t *testing.T) *box {
			b := newBox(t)
			pieces(b)
			b.write("vest/front.txt", "v\n")
			b.commit("A vest")
			b.git("sparse-checkout", "set", "--cone", "--sparse-index", "vest")
			return b
		}, false},
		{"sha256", func(t *testing.T) *box {
			b := newBox(t, "--object-format=sha256")
			pieces(b)
			return b
		}, false},
		{"partial clone", func(t *testing.T) *box {
			b := newBox(t)
			pieces(b)
			b.git("config", "uploadpack.allowFilter", "true")
			b.git("config", "uploadpack.allowAnySHA1InWant", "true")
			to := filepath.Join(realPath(t.TempDir()), "clone")
			b.git("clone", "-q", "--no-checkout", "--filter=blob:none", "file://"+b.dir, to)
			c := b.at(to)
			c.git("read-tree", "HEAD")
			return c
		}, false},
		{"replaced commit", func(t *testing.T) *box {
			b := newBox(t)
			pieces(b)
			old := b.git("rev-parse", "HEAD~1")
			b.git("replace", old, b.git("commit-tree", "-m", "Another start", "HEAD^{tree}"))
			return b
		}, true},
	}
	for _, k := range kinds {
		t.Run(k.name, func(t *testing.T) {
			b := k.make(t)
			for who, r := range b.both() {
				if who == "as chosen" {
					defer func() { assert.Equal(t, k.library, usesLibrary(r), "read by the library alone") }()
				}
				assert.Equal(t, b.dir, r.Root(), who)
				s := snap(t, r, "HEAD")
				assert.Equal(t, b.tree("HEAD"), ids(t, s), who)
				assert.Equal(t, b.staged(), ids(t, snap(t, r, "index")), who)
				sameContent(t, b, s)
				assertLog(t, b, r, "HEAD")
			}
		})
	}
}

// sameContent compares each file with what git shows, and the file system with
// the rules of package fs.
func sameContent(t *testing.T, b *box, s *Snapshot) {
	t.Helper()
	var names []string
	for name := range ids(t, s) {
		data, err := s.ReadFile(name)
		require.NoError(t, err)
		assert.Equal(t, b.git("cat-file", "blob", "HEAD:"+name), strings.TrimSuffix(string(data), "\n"))
		names = append(names, name)
	}
	assert.NoError(t, fstest.TestFS(s, names...))
}

// assertLog compares all commits with git's own list.
func assertLog(t *testing.T, b *box, r *Repo, rev string, paths ...string) {
	t.Helper()
	want := strings.Fields(b.git(append([]string{"log", "--full-history", "--format=%H", rev, "--"}, paths...)...))
	list, err := r.Log(rev, paths, 0)
	require.NoError(t, err)
	got := []string{}
	for _, c := range list {
		got = append(got, c.ID)
	}
	assert.Equal(t, want, got, "%s %v", rev, paths)
}

func TestUnbornHead(t *testing.T) {
	b := newBox(t)
	b.write("front.txt", "x\n")
	b.git("add", ".")
	for who, r := range b.both() {
		c, err := r.Head()
		require.NoError(t, err, who)
		assert.Nil(t, c, who)
		assert.Equal(t, "main", r.Branch(), who)
		s, err := r.HeadSnapshot()
		require.NoError(t, err)
		assert.Empty(t, ids(t, s), who)
		assert.Equal(t, b.staged(), ids(t, snap(t, r, "index")), who)
		log, err := r.Log("", nil, 0)
		assert.NoError(t, err, who)
		assert.Empty(t, log, who)
		_, err = r.Snapshot("HEAD")
		assert.ErrorIs(t, err, ErrUnknownRevision, who)
		assert.ErrorContains(t, err, `"HEAD"`)
	}
}

func TestBareRepository(t *testing.T) {
	b := newBox(t)
	pieces(b)
	to := filepath.Join(realPath(t.TempDir()), "bare.git")
	b.git("clone", "-q", "--bare", b.dir, to)
	c := b.at(to)
	for who, r := range c.both() {
		assert.True(t, r.Bare(), who)
		assert.Equal(t, "", r.Root(), who)
		assert.Equal(t, to, r.GitDir(), who)
		assert.Equal(t, b.tree("HEAD"), ids(t, snap(t, r, "main")), who)
		_, err := r.Snapshot("work")
		assert.ErrorIs(t, err, ErrNoWorkTree, who)
		_, err = r.Snapshot("index")
		assert.ErrorIs(t, err, ErrNoWorkTree, who)
		assertLog(t, c, r, "main", "coat")
	}
}

func TestOpenLooksUpwardsAndFindsNothingOutside(t *testing.T) {
	b := newBox(t)
	pieces(b)
	r, err := OpenWith(filepath.Join(b.dir, "coat"), Options{Environ: b.env})
	require.NoError(t, err)
	defer r.Close()
	assert.Equal(t, b.dir, r.Root())
	assert.Equal(t, filepath.Join(b.dir, ".git"), r.GitDir())

	_, err = OpenWith(t.TempDir(), Options{Environ: b.env})
	assert.ErrorIs(t, err, ErrNoRepository)

	inside, err := OpenWith(filepath.Join(b.dir, ".git", "refs"), Options{Environ: b.env})
	require.NoError(t, err)
	defer inside.Close()
	assert.Equal(t, b.dir, inside.Root())
}

func TestOpenHonoursTheEnvironmentUnlessTold(t *testing.T) {
	b, other := newBox(t), newBox(t)
	pieces(b)
	other.write("else.txt", "x\n")
	other.commit("Elsewhere")
	env := append(b.env, "GIT_DIR="+filepath.Join(other.dir, ".git"), "GIT_WORK_TREE="+other.dir)

	r, err := OpenWith(b.dir, Options{Environ: env})
	require.NoError(t, err)
	defer r.Close()
	assert.Equal(t, other.dir, r.Root())
	out, err := r.Git("rev-parse", "--show-toplevel")
	require.NoError(t, err)
	assert.Equal(t, other.dir+"\n", out)

	r, err = OpenWith(b.dir, Options{Environ: env, IgnoreEnvironment: true})
	require.NoError(t, err)
	defer r.Close()
	assert.Equal(t, b.dir, r.Root())
	out, err = r.Git("rev-parse", "--show-toplevel")
	require.NoError(t, err)
	assert.Equal(t, b.dir+"\n", out, "GIT_DIR must not reach the child")
}

func TestRelRefusesWhatLiesOutside(t *testing.T) {
	b := newBox(t)
	pieces(b)
	r := b.open()
	for path, want := range map[string]string{
		"": ".", "coat": "coat", "coat/../readme": "readme", "not/there/yet": "not/there/yet",
	} {
		got, err := r.Rel(filepath.Join(b.dir, path))
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	_, err := r.Rel(filepath.Dir(b.dir))
	assert.ErrorIs(t, err, ErrOutside)
	_, err = r.Rel(b.dir + "x/coat")
	assert.ErrorIs(t, err, ErrOutside)
	link := filepath.Join(t.TempDir(), "link")
	require.NoError(t, os.Symlink(b.dir, link))
	got, err := r.Rel(filepath.Join(link, "coat", "front.txt"))
	require.NoError(t, err)
	assert.Equal(t, "coat/front.txt", got)
	got, err = r.Rel(link)
	require.NoError(t, err)
	assert.Equal(t, ".", got)
}

func TestWithoutGitAnUnreadableFormatSaysWhatItIs(t *testing.T) {
	b := newBox(t, "--object-format=sha256")
	split := newBox(t)
	pieces(split)
	split.git("update-index", "--split-index")
	t.Setenv("PATH", t.TempDir())

	_, err := OpenWith(b.dir, Options{Environ: b.env})
	var no *UnsupportedError
	require.ErrorAs(t, err, &no)
	assert.Contains(t, no.What, "sha256")
	assert.Contains(t, no.Hint, "install git")

	r, err := OpenWith(split.dir, Options{Environ: split.env})
	require.NoError(t, err)
	defer r.Close()
	_, err = r.Snapshot("index")
	require.ErrorAs(t, err, &no)
	assert.Contains(t, no.Hint, "install git")
	_, err = r.Snapshot("HEAD")
	assert.NoError(t, err, "the rest is still readable")
}

func TestAnUnknownExtensionIsRefusedWithItsName(t *testing.T) {
	b := newBox(t)
	pieces(b)
	b.git("config", "core.repositoryformatversion", "1")
	b.git("config", "extensions.unheardOf", "yes")
	_, err := OpenWith(b.dir, Options{Environ: b.env})
	var no *UnsupportedError
	require.ErrorAs(t, err, &no)
	assert.Contains(t, no.What, "unheardof")
}

func TestSomebodyElsesRepositoryNeedsTrust(t *testing.T) {
	assert.False(t, listedSafe(nil, "/srv/a", "/home/m"))
	assert.True(t, listedSafe([]string{"/srv/a"}, "/srv/a", "/home/m"))
	assert.True(t, listedSafe([]string{"*"}, "/srv/a", "/home/m"))
	assert.False(t, listedSafe([]string{"*", ""}, "/srv/a", "/home/m"))
	assert.True(t, listedSafe([]string{"/srv/*"}, "/srv/a", "/home/m"))
	assert.False(t, listedSafe([]string{"/srv/*"}, "/srvx/a", "/home/m"))
	assert.True(t, listedSafe([]string{"~/a"}, "/home/m/a", "/home/m"))
	assert.False(t, listedSafe([]string{"/srv/b"}, "/srv/a", "/home/m"))
}

// As another user than root the program itself must refuse: it is run again
// with the rights of nobody.
func TestTheOwnerIsChecked(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Skip("only root can hand a folder to another user")
	}
	if _, err := exec.LookPath("setpriv"); err != nil {
		t.Skip("setpriv, which runs a program as another user, is not installed")
	}
	b := newBox(t)
	pieces(b)
	for p := b.dir; p != os.TempDir() && p != "/"; p = filepath.Dir(p) {
		require.NoError(t, os.Chmod(p, 0o755))
	}
	run := func(global string) string {
		self := filepath.Join(b.dir, "self.test")
		bin, err := os.ReadFile(os.Args[0])
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(self, bin, 0o755))
		cfg := filepath.Join(b.dir, "trust")
		require.NoError(t, os.WriteFile(cfg, []byte(global), 0o644))
		cmd := exec.Command("setpriv", "--reuid=65534", "--regid=65534", "--clear-groups", self)
		cmd.Dir = b.dir
		cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "HOME=" + b.dir, "GIT_CONFIG_GLOBAL=" + cfg, "REPO_TEST_AS_HOOK=1"}
		out, _ := cmd.CombinedOutput()
		return string(out)
	}
	assert.Contains(t, run(""), "git config --global --add safe.directory")
	assert.NotContains(t, run("[safe]\n\tdirectory = "+b.dir+"\n"), "safe.directory")
}
