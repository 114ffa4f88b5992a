package note

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// commit keeps a file of its own, so that no two commits meet.
func (g *git) commit(t *testing.T, name, message string) {
	require.NoError(t, os.WriteFile(filepath.Join(g.dir, name), []byte(name), 0o600))
	g.run(t, "", "add", name)
	g.run(t, message, "commit", "-q", "-F", "-")
}

const (
	hip   = "Release the hip\n\nIt pulled.\n\nStill does.\n\nAlteration: hip\nChanges: girth low-hip +24\nOnly: front\nSigned-off-by: A <a@b>\n"
	stand = "Widen the stand\n\nAlteration: stand\nChanges: overlap back +6\nOnly: button-stand, garment\nSigned-off-by: A <a@b>\n"
	bust  = "Ease the bust\n\nChanges: girth bust +4\nOnly: front\n"
)

const together3 = `Release the hip

It pulled.

Still does.

Widen the stand

Ease the bust

Alteration: hip
Changes: girth low-hip +24
Only: front
Alteration: stand
Changes: overlap back +6
Only: button-stand, garment
Alteration: ease-the-bust
Changes: girth bust +4
Only: front
Signed-off-by: A <a@b>
`

func notesOf(messages []string) []*Note {
	var out []*Note
	for _, m := range messages {
		n, _ := read(m)
		out = append(out, n)
	}
	return out
}

func TestTheMessageOfAMergeSquash(t *testing.T) {
	g := newGit(t)
	g.run(t, "", "init", "-q", "-b", "main")
	g.commit(t, "0", "start\n")
	g.run(t, "", "checkout", "-q", "-b", "side")
	for i, m := range []string{hip, stand, bust} {
		g.commit(t, fmt.Sprint(i+1), m)
	}
	g.run(t, "", "checkout", "-q", "main")
	g.run(t, "", "merge", "-q", "--squash", "side")
	squashed, err := os.ReadFile(filepath.Join(g.dir, ".git", "SQUASH_MSG"))
	require.NoError(t, err)
	assert.Empty(t, g.parsed(t, []string{string(squashed)})[0], "git sees no trailers in it")

	messages, ok := Squashed(string(squashed), "#")
	require.True(t, ok)
	assert.Equal(t, []string{hip, stand, bust}, messages)
	assert.Equal(t, together3, Compose(notesOf(messages)))

	prepared := filepath.Join(g.dir, "prepared")
	g.with("GIT_EDITOR=cp .git/COMMIT_EDITMSG prepared && true").run(t, "", "commit", "-q")
	withComments, err := os.ReadFile(prepared)
	require.NoError(t, err)
	messages, ok = Squashed(string(withComments), "#")
	assert.True(t, ok)
	assert.Len(t, messages, 3)
}

// rebase squashes by git itself and gives the message that it offers to edit.
func (g *git) rebase(t *testing.T, commentChar string) string {
	prepared := filepath.Join(g.dir, "prepared")
	g.with("GIT_SEQUENCE_EDITOR=true", `GIT_EDITOR=sh -c 'cp "$1" prepared' x`).
		run(t, "", "-c", "core.commentChar="+commentChar, "rebase", "-q", "-i", "--autosquash", "--root")
	b, err := os.ReadFile(prepared)
	require.NoError(t, err)
	return string(b)
}

func TestTheMessageOfARebase(t *testing.T) {
	for _, commentChar := range []string{"#", ";"} {
		g := newGit(t)
		g.run(t, "", "init", "-q", "-b", "main")
		g.commit(t, "1", hip)
		g.commit(t, "2", "squash! Release the hip\n\nOnly with the pocket.\n\nChanges: girth low-hip +2\nOnly: front, pocket\n")
		g.commit(t, "3", "fixup! Release the hip\n\nAlteration: lost\n")
		offered := g.rebase(t, commentChar)
		messages, ok := Squashed(offered, commentChar)
		require.True(t, ok, offered)
		require.Len(t, messages, 2, offered)
		assert.Equal(t, hip, messages[0])
		want := strings.Replace(hip, "Signed-off-by: A <a@b>\n", "Alteration: hip\nChanges: girth low-hip +2\nOnly: front, pocket\nSigned-off-by: A <a@b>\n", 1)
		want = strings.Replace(want, "Still does.", "Still does.\n\nOnly with the pocket.", 1)
		got := Compose(notesOf(messages))
		assert.Equal(t, want, got)
		n, problems := read(got)
		assert.Empty(t, problems)
		claims, problems := n.Claims(nil)
		assert.Empty(t, problems)
		assert.Equal(t, []string{"Changes: girth low-hip +26", "Only: front, pocket"}, linesOf(claims))
	}
}

func TestAnAmendTakesItsTargetsPlace(t *testing.T) {
	g := newGit(t)
	g.run(t, "", "init", "-q", "-b", "main")
	g.commit(t, "1", hip)
	g.commit(t, "2", "squash! Release the hip\n\nAnd a little more.\n")
	g.commit(t, "3", "amend! Release the hip\n\nLet out the hip\n\nWell out.\n\nAlteration: hip-out\nOnly: front\n")
	messages, ok := Squashed(g.rebase(t, "#"), "#")
	require.True(t, ok)
	got := Compose(notesOf(messages))
	assert.True(t, strings.HasPrefix(got, "Let out the hip\n") || strings.HasPrefix(got, "And a little more."), got)
	assert.Contains(t, got, "Alteration: hip-out\nOnly: front\n")
	assert.NotContains(t, got, "Alteration: hip\n")

	assert.Equal(t, "Let out the hip\n\nWell out.\n\nAlteration: hip-out\nOnly: front\n",
		Compose(notesOf([]string{hip, "amend! Release the hip\n\nLet out the hip\n\nWell out.\n\nAlteration: hip-out\nOnly: front\n"})))
}

func TestOtherMessagesAreNoSquash(t *testing.T) {
	for _, m := range []string{
		"", hip, "Squashed commit of the following:\n", "Text\nSquashed commit of the following:\n\ncommit 0123456789012345678901234567890123456789\n\n    a\n",
		"# This is the 1st commit message:\n\na\n", "# This is a combination of 2 commits.\n", "Squashed commit of the following:\n\ncommit of mine\n\n    a\n",
	} {
		messages, ok := Squashed(m, "")
		assert.False(t, ok, m)
		assert.Empty(t, messages)
	}
}

func TestComposingFewNotes(t *testing.T) {
	assert.Empty(t, Compose(nil))
	assert.Empty(t, Compose([]*Note{nil}))
	assert.Equal(t, hip, Compose(notesOf([]string{hip})))
	fixup := notesOf([]string{hip, "fixup! Release the hip\n\nAlteration: lost\n"})
	assert.Equal(t, hip, Compose(fixup))
	later := notesOf([]string{stand, hip, "amend! Release the hip\n\nOut\n\nAlteration: out\n", "fixup! Release the hip\n", "squash! Release the hip\n\nMore.\n"})
	assert.Equal(t, "Widen the stand\n\nOut\n\nMore.\n\nAlteration: stand\nChanges: overlap back +6\nOnly: button-stand, garment\nAlteration: out\nSigned-off-by: A <a@b>\n",
		Compose(later), "an amended commit is found under the subject it had")
}
