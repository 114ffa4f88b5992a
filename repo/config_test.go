package repo

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Settings files are written by hand; git's own reading of them is the measure.
func TestSettingsAreReadAsGitReadsThem(t *testing.T) {
	b := newBox(t)
	for name, text := range map[string]string{
		"plain":            "[core]\n\tbare = false\n\thooksPath = a/b\n",
		"comments":         "; one\n# two\n[core] # three\n\tbare = false ; four\n",
		"quoted":           "[core]\n\thooksPath = \"a b; c\"  d\n",
		"escapes":          "[core]\n\thooksPath = a\\\\b\\\"c\\t\n",
		"continued":        "[core]\n\thooksPath = a \\\n  b\n",
		"capitals":         "[CORE]\n\tHooksPath = A\n[Branch \"Main\"]\n\tRemote = o\n",
		"twice":            "[core]\n\thooksPath = a\n[core]\n\thooksPath = b\n",
		"one line":         "[core] hooksPath = a\n",
		"subsection":       "[remote \"a.b/c\"]\n\turl = x\n[branch \"we\\\"ird\\\\name\"]\n\tremote = y\n",
		"old subsection":   "[branch.main]\n\tremote = y\n",
		"empty value":      "[core]\n\thooksPath =\n",
		"no value":         "[core]\n\tbare\n",
		"carriage returns": "[core]\r\n\tbare = false\r\n\thooksPath = x\r\n",
		"byte order mark":  "\ufeff[core]\n\tbare = false\n",
		"not UTF-8":        "[user]\n\tname = Zo\xeb\n[core]\n\thooksPath = h\n",
		"empty":            "",
		"bad section name": "[alias]\n\tx = !f() { echo \"$1\"; }; f\n[core]\n\thooksPath = h\n",
	} {
		file := filepath.Join(t.TempDir(), "config")
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
		want := map[string][]string{}
		for item := range strings.SplitSeq(b.git("config", "--file", file, "--list", "-z"), "\x00") {
			if k, v, ok := strings.Cut(item, "\n"); ok {
				want[k] = append(want[k], v)
			} else if item != "" {
				want[item] = append(want[item], "true") // a key alone is true
			}
		}
		s, err := readSettings(file)
		if assert.NoError(t, err, name) {
			assert.Equal(t, want, s.values, name)
		}
	}
}

func TestDamagedSettingsNameTheLine(t *testing.T) {
	for text, line := range map[string]string{
		"[core\n": "line 1", "x = 1\n": "line 1", "[a]\n\n\tb = \"c\n": "line 3", "[a]\n\tb = \\x\n": "line 2",
		"[a \"b\n": "line 1", "[]\n": "line 1", "[a]\nb c\n": "line 2", "[a]\n\x00": "line 2",
	} {
		s := settings{values: map[string][]string{}}
		assert.ErrorContains(t, s.parse(text), line, "%q", text)
	}
}

func FuzzSettings(f *testing.F) {
	f.Add("[core]\n\tbare = false # x\n[a \"b\\\"c\"] d = \"e\" \\\n f\n")
	f.Fuzz(func(t *testing.T, text string) {
		s := settings{values: map[string][]string{}}
		if s.parse(text) == nil {
			for k := range s.values {
				if !strings.Contains(k, ".") {
					t.Fatalf("key %q from %q", k, text)
				}
			}
		}
	})
}

func TestHooksDirIsWhatGitSays(t *testing.T) {
	for name, set := range map[string]func(b *box){
		"default":          func(*box) {},
		"relative":         func(b *box) { b.git("config", "core.hooksPath", "tools/hooks") },
		"absolute":         func(b *box) { b.git("config", "core.hooksPath", filepath.Join(b.dir, "abs")) },
		"in the home":      func(b *box) { b.git("config", "core.hooksPath", "~/hooks") },
		"personal setting": func(b *box) { b.git("config", "--global", "core.hooksPath", "everywhere") },
		"of one worktree": func(b *box) {
			b.git("config", "extensions.worktreeConfig", "true")
			b.git("config", "--worktree", "core.hooksPath", "mine")
		},
	} {
		t.Run(name, func(t *testing.T) {
			b := newBox(t)
			set(b)
			want := b.git("rev-parse", "--path-format=absolute", "--git-path", "hooks")
			r := b.open()
			got, err := r.HooksDir()
			require.NoError(t, err)
			assert.Equal(t, want, got)
			got, err = r.hooksBySettings()
			require.NoError(t, err)
			assert.Equal(t, want, got, "without git")
		})
	}
}

func TestHooksDirOfALinkedWorktreeIsShared(t *testing.T) {
	b := newBox(t)
	pieces(b)
	side := filepath.Join(realPath(t.TempDir()), "side")
	b.git("worktree", "add", "-q", side)
	r := b.at(side).open()
	got, err := r.hooksBySettings()
	require.NoError(t, err)
	assert.Equal(t, filepath.Join(b.dir, ".git", "hooks"), got)
	assert.Equal(t, filepath.Join(b.dir, ".git"), r.CommonDir())
	assert.Equal(t, filepath.Join(b.dir, ".git", "worktrees", "side"), r.GitDir())
}

func TestSettingsInAnIncludedFileAreNotGuessed(t *testing.T) {
	b := newBox(t)
	b.write("more", "[core]\n\thooksPath = included\n")
	b.git("config", "include.path", filepath.Join(b.dir, "more"))
	r := b.open()
	got, err := r.HooksDir()
	require.NoError(t, err)
	assert.Equal(t, filepath.Join(b.dir, "included"), got, "by git")
	_, err = r.hooksBySettings()
	assert.ErrorIs(t, err, ErrNoGit)
}

// What git would answer is answered, wherever the setting stands: in the repository,
// beside it, in an included file, on a command line.
func TestASettingIsGitsOwn(t *testing.T) {
	b := newBox(t)
	assert.Empty(t, b.open().Setting("core.commentChar"))
	b.git("config", "--global", "core.commentChar", ";")
	assert.Equal(t, ";", b.open().Setting("core.commentChar"))
	b.git("config", "core.commentChar", "%")
	assert.Equal(t, "%", b.open().Setting("core.commentChar"))
	assert.Equal(t, "!", b.open("GIT_CONFIG_COUNT=1", "GIT_CONFIG_KEY_0=core.commentChar", "GIT_CONFIG_VALUE_0=!").Setting("core.commentChar"))
	more := filepath.Join(b.dir, "more")
	require.NoError(t, os.WriteFile(more, []byte("[core]\n\tcommentChar = @\n"), 0o600))
	b.git("config", "include.path", more)
	assert.Equal(t, b.git("config", "--get", "core.commentChar"), b.open().Setting("core.commentChar"))
	assert.Equal(t, "@", b.open().Setting("core.commentChar"))
}
