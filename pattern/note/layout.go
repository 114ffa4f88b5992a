package note

import "strings"

// layout is a message cut into lines, with what git tells apart in them. The
// rules are those of git 2.39 (git-interpret-trailers).
type layout struct {
	lines   []string // each with its line end
	title   int      // the blank line that ends the first paragraph, or len(lines)
	divider int      // the line "---" behind which a mailed patch begins, or len(lines)
	text    int      // lines from here on are no text: scissors, a NUL
	end     int      // behind the last line that is neither comment nor blank, before the divider
}

const scissors = "# ------------------------ >8 ------------------------\n"

func layOut(message string) layout {
	message, _, _ = strings.Cut(message, "\x00")
	l := layout{title: -1, divider: -1, text: -1}
	for line := range strings.Lines(message) {
		at := len(l.lines)
		l.lines = append(l.lines, line)
		if l.title < 0 && isBlank(line) {
			l.title = at
		}
		if l.divider < 0 && strings.HasPrefix(line, "---") && len(line) > 3 && isSpace(line[3]) {
			l.divider = at
		}
		if l.text < 0 && line == scissors {
			l.text = at
		}
	}
	for _, at := range []*int{&l.title, &l.divider, &l.text} {
		if *at < 0 {
			*at = len(l.lines)
		}
	}
	l.end = l.findEnd()
	return l
}

// findEnd leaves out comments and blank lines at the end, and an old-style list
// of conflicts among them.
func (l layout) findEnd() int {
	cut := min(l.divider, l.text)
	end, list := cut, false
	first := -1 // where the run at the end begins
	for i, line := range l.lines[:cut] {
		switch {
		case line[0] == '#' || line[0] == '\n':
		case line == "Conflicts:\n":
			list = true
		case list && line[0] == '\t':
		default:
			first, list = -1, false
			continue
		}
		if first < 0 {
			first = i
		}
	}
	if first >= 0 {
		end = first
	}
	for end > 0 && (l.lines[end-1][0] == '#' || isBlank(l.lines[end-1])) {
		end--
	}
	return end
}

// ours gives the word of ours that line i begins with.
func (l layout) ours(i int) (string, bool) {
	key, _, ok := keyOf(l.lines[i])
	if !ok {
		return "", false
	}
	return ours(key)
}

// until gives the line behind the one at i and those that continue it.
func (l layout) until(i, limit int) int {
	for i++; i < limit && continues(l.lines[i]); i++ {
	}
	return i
}

// paragraph gives the first line of the paragraph that ends before end, which
// is not behind a blank line.
func (l layout) paragraph(end int) int {
	for end > 0 && !isBlank(l.lines[end-1]) {
		end--
	}
	return end
}

// block gives the first line of the last paragraph, and whether git takes it for
// trailers: nothing else stands in it but comments, or at least a quarter are
// trailers and one of them is git's own.
func (l layout) block() (start int, trailers bool) {
	start = l.paragraph(l.end)
	if start <= l.title || start == l.end {
		return start, false
	}
	count, others := 0, 0
	own, open := false, false // open: a line that begins with a blank continues a trailer
	for _, line := range l.lines[start:l.end] {
		_, _, key := keyOf(line)
		git := strings.HasPrefix(line, picked) || strings.HasPrefix(line, "Signed-off-by: ")
		switch {
		case line[0] == '#':
			open = false
		case key || git:
			count++
			own, open = own || git, true
		case !open || !continues(line):
			others++
			open = false
		}
	}
	return start, count > 0 && others == 0 || own && count*3 >= others
}

// picked begins a line that git itself writes among the trailers.
const picked = "(cherry picked from commit "

// keyOf splits a line at the colon behind a key: letters, digits and hyphens,
// which blanks may follow.
func keyOf(line string) (key, value string, ok bool) {
	i := 0
	for i < len(line) && (line[i] == '-' || line[i] >= '0' && line[i] <= '9' || line[i]|0x20 >= 'a' && line[i]|0x20 <= 'z') {
		i++
	}
	j := i
	for i > 0 && j < len(line) && (line[j] == ' ' || line[j] == '\t') {
		j++
	}
	if i == 0 || j == len(line) || line[j] != ':' {
		return "", "", false
	}
	return line[:i], line[j+1:], true
}

const spaces = " \t\n\r" // git's; form feeds are not among them

func isSpace(c byte) bool { return strings.IndexByte(spaces, c) >= 0 }

func isBlank(line string) bool { return strings.Trim(line, spaces) == "" }

func continues(line string) bool { return isSpace(line[0]) && !isBlank(line) }

// joined puts a value on one line as git does.
func joined(value string) string {
	var words []string
	for line := range strings.Lines(strings.Trim(value, spaces)) {
		words = append(words, strings.TrimLeft(strings.TrimSuffix(line, "\n"), spaces))
	}
	return strings.Trim(strings.Join(words, " "), spaces)
}
