package note

import (
	"strings"

	"pgregory.net/rapid"
)

// anyMessage draws text that comes close to notes and to what git treats
// specially.
func anyMessage() *rapid.Generator[string] {
	line := rapid.OneOf(
		rapid.SampledFrom([]string{
			"", "", "", "", " ", "\t", "Alteration: hip", "Because: it pulled", "Changes: girth bust +2", "keeps : girth waist", "Only: front",
			"Does: take-in side 4", "Answers: one", "Unfinished: seam.differs side", "Signed-off-by: A <a@b>", "Change-Id: I0", "Change: x", "Conflicts:", "\ta.txt",
			"(cherry picked from commit 0123)", "  more", "\tmore", "# remark", "#", " Changes: x", "---", "--- ", "----", "text", "Text: and more",
			"text here", "x\r", "Changes: a\r", "\r", "Keeps:", ": x", "É: b", "Only", strings.TrimSuffix(scissors, "\n"),
		}),
		rapid.StringOfN(rapid.SampledFrom([]rune("aB1-: \t#\r=é")), 0, 8, -1),
	)
	return rapid.Custom(func(t *rapid.T) string {
		lines := rapid.SliceOfN(line, 0, 14).Draw(t, "lines")
		if rapid.IntRange(0, 3).Draw(t, "titled") > 0 {
			lines = append([]string{"Title", ""}, lines...)
		}
		return strings.Join(lines, "\n") + rapid.SampledFrom([]string{"", "\n"}).Draw(t, "end")
	})
}

// hangsGit tells whether a scissors line stands behind a divider, over which git
// 2.39 never ends.
func hangsGit(message string) bool {
	l := layOut(message)
	return l.divider < len(l.lines) && strings.Contains(message, "# ------------------------ >8")
}
