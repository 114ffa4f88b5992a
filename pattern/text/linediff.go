package text

import (
	"fmt"
	"strings"

	"github.com/sergi/go-diff/diffmatchpatch"
)

// maxDiffLines bounds the work of a line diff, which grows with the square of
// the number of differing lines. Beyond it, what differs counts as one change.
const maxDiffLines = 8000

// hunk is a stretch of lines: common ones, or some removed and some added.
type hunk struct{ same, removed, added []string }

// diffLines pairs the lines of two texts with a line-mode difference.
func diffLines(before, after []string) []hunk {
	start := 0
	for start < min(len(before), len(after)) && before[start] == after[start] {
		start++
	}
	end := 0
	for end < min(len(before), len(after))-start && before[len(before)-1-end] == after[len(after)-1-end] {
		end++
	}
	hunks := []hunk{{same: before[:start]}}
	hunks = append(hunks, diffMiddle(before[start:len(before)-end], after[start:len(after)-end])...)
	return append(hunks, hunk{same: before[len(before)-end:]})
}

func diffMiddle(before, after []string) []hunk {
	if len(before) == 0 || len(after) == 0 || len(before)+len(after) > maxDiffLines {
		return []hunk{{removed: before, added: after}}
	}
	d := diffmatchpatch.New()
	d.DiffTimeout = 0 // a result that does not depend on the machine's speed
	a, b, lines := d.DiffLinesToRunes(strings.Join(before, "\n")+"\n", strings.Join(after, "\n")+"\n")
	var hunks []hunk
	for _, part := range d.DiffCharsToLines(d.DiffMainRunes(a, b, false), lines) {
		texts := strings.Split(strings.TrimSuffix(part.Text, "\n"), "\n")
		n := len(hunks)
		switch {
		case part.Type == diffmatchpatch.DiffEqual:
			hunks = append(hunks, hunk{same: texts})
		case n == 0 || len(hunks[n-1].same) > 0:
			hunks = append(hunks, hunk{})
			fallthrough
		default:
			h := &hunks[len(hunks)-1]
			if part.Type == diffmatchpatch.DiffDelete {
				h.removed = append(h.removed, texts...)
			} else {
				h.added = append(h.added, texts...)
			}
		}
	}
	return hunks
}

// contextLines is how many common lines TidyDiff shows round a change.
const contextLines = 3

// TidyDiff shows what tidy would change, as the usual difference of lines:
// "-" before what goes, "+" before what comes, 3 common lines round it, each
// block headed by its line numbers. It is empty where nothing changes.
func TidyDiff(path string, before, after []byte) string {
	if string(before) == string(after) {
		return ""
	}
	var rows []diffRow
	for _, h := range diffLines(splitLines(before), splitLines(after)) {
		for sign, lines := range [3][]string{h.same, h.removed, h.added} {
			for _, l := range lines {
				rows = append(rows, diffRow{" -+"[sign], l})
			}
		}
	}
	var b strings.Builder
	fmt.Fprintf(&b, "--- %s\n+++ %s (tidy)\n", path, path)
	old, cur := 1, 1
	for i := 0; i < len(rows); {
		from, to := nextBlock(rows, i)
		for ; i < from; i++ {
			old, cur = old+1, cur+1
		}
		writeBlock(&b, rows[from:to], &old, &cur)
		i = to
	}
	return b.String()
}

type diffRow struct {
	sign byte
	text string
}

// nextBlock finds the next changed rows from i on, with their surroundings.
func nextBlock(rows []diffRow, i int) (from, to int) {
	first := i
	for first < len(rows) && rows[first].sign == ' ' {
		first++
	}
	if first == len(rows) {
		return first, first
	}
	last := first
	for k := first; k < len(rows) && k <= last+2*contextLines; k++ {
		if rows[k].sign != ' ' {
			last = k
		}
	}
	return max(i, first-contextLines), min(len(rows), last+1+contextLines)
}

func writeBlock(b *strings.Builder, rows []diffRow, old, cur *int) {
	if len(rows) == 0 {
		return
	}
	oldFrom, curFrom := *old, *cur
	for _, r := range rows {
		if r.sign != '+' {
			*old++
		}
		if r.sign != '-' {
			*cur++
		}
	}
	fmt.Fprintf(b, "@@ -%s +%s @@\n", lineRange(oldFrom, *old), lineRange(curFrom, *cur))
	for _, r := range rows {
		b.WriteByte(r.sign)
		b.WriteString(r.text)
		b.WriteByte('\n')
	}
}

// lineRange gives "line,count"; an empty range is named by the line before it.
func lineRange(from, to int) string {
	if from == to {
		return fmt.Sprintf("%d,0", from-1)
	}
	return fmt.Sprintf("%d,%d", from, to-from)
}

// splitLines cuts text into lines; a missing last line end shows as a line of
// its own, since tidy adds it.
func splitLines(src []byte) []string {
	if len(src) == 0 {
		return nil
	}
	lines := strings.Split(string(src), "\n")
	if last := len(lines) - 1; lines[last] == "" {
		return lines[:last]
	}
	lines[len(lines)-1] += " (no line end)"
	return lines
}
