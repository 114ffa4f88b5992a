package note

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamkeep/pattern/diag"
	"seamkeep/repo"
)

// seen gives the trailers that git sees in a message, with their lines. That
// repo.Trailers agrees with git on any text is proven beside it.
func seen(message string) []Trailer {
	var out []Trailer
	for _, t := range repo.Trailers(message) {
		out = append(out, Trailer{Key: t.Key, Value: t.Value})
	}
	return Locate(message, out)
}

func read(message string) (*Note, diag.List) { return Parse(message, seen(message)) }

// printed is how git prints trailers.
func printed(list []Trailer) string {
	var b strings.Builder
	for _, t := range list {
		fmt.Fprintf(&b, "%s: %s\n", t.Key, t.Value)
	}
	return b.String()
}

// git is the installed git in a folder of its own, with fixed settings.
type git struct {
	dir string
	env []string
}

func newGit(t testing.TB) *git {
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("git is not installed: these tests compare with it")
	}
	home := t.TempDir()
	config := filepath.Join(home, "gitconfig")
	require.NoError(t, os.WriteFile(config, []byte("[user]\n\tname = A Maker\n\temail = maker@example.org\n[commit]\n\tgpgsign = false\n"), 0o600))
	return &git{dir: t.TempDir(), env: []string{
		"PATH=" + os.Getenv("PATH"), "HOME=" + home, "GIT_CONFIG_GLOBAL=" + config, "GIT_CONFIG_NOSYSTEM=1",
		"LC_ALL=C", "TZ=UTC", "GIT_AUTHOR_DATE=1700000000 +0000", "GIT_COMMITTER_DATE=1700000000 +0000",
	}}
}

func (g *git) run(t require.TestingT, stdin string, args ...string) string {
	cmd := exec.Command("git", args...)
	cmd.Dir, cmd.Env, cmd.Stdin = g.dir, g.env, strings.NewReader(stdin)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "git %v: %s", args, out)
	return string(out)
}

// with adds to the environment.
func (g *git) with(env ...string) *git {
	return &git{dir: g.dir, env: append(g.env[:len(g.env):len(g.env)], env...)}
}

// parsed has git parse many messages at once: a mark is put between them.
func (g *git) parsed(t require.TestingT, messages []string) []string {
	const mark = "subject\n\nEnd-of-message: 1\n"
	dir := filepath.Join(g.dir, "messages")
	require.NoError(t, os.RemoveAll(dir))
	require.NoError(t, os.MkdirAll(dir, 0o777))
	args := []string{"interpret-trailers", "--parse"}
	for i, m := range messages {
		name, end := filepath.Join(dir, fmt.Sprint(i)), filepath.Join(dir, fmt.Sprint(i, "-end"))
		require.NoError(t, os.WriteFile(name, []byte(m), 0o600))
		require.NoError(t, os.WriteFile(end, []byte(mark), 0o600))
		args = append(args, name, end)
	}
	parts := strings.Split(g.run(t, "", args...), "End-of-message: 1\n")
	require.Len(t, parts, len(messages)+1)
	return parts[:len(messages)]
}

// ids lists problems as "id line:column".
func ids(list diag.List) []string {
	var out []string
	for _, p := range list {
		out = append(out, fmt.Sprintf("%s %d:%d", p.ID, p.Place.Line, p.Place.Column))
	}
	return out
}
