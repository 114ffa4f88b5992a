package repo

import (
	"regexp"
	"strings"
)

// Trailer is one "Key: value" line at the end of a message.
type Trailer struct{ Key, Value string }

// Trailers finds the trailers of a message exactly as
// `git interpret-trailers --parse` prints them with git's default settings:
//
// They stand in the last paragraph, which must not be the first of the message.
// All its lines are trailers, or at least a quarter of them and one of those
// that git itself writes ("Signed-off-by: ", "(cherry picked from commit "). A line
// that begins with white space continues the one above it and is joined to it
// by one space. Lines that begin with "#" count for nothing, and neither does
// what follows a scissors line or a line "---".
//
// The rules are those of git 2.39 (documentation of git-interpret-trailers, and
// git's behaviour), bytes are kept as they are. Text without trailers gives none.
// A stored message holds no NUL; should one come, the text ends before it.
func Trailers(message string) []Trailer {
	message, _, _ = strings.Cut(message, "\x00")
	end := trailerEnd(message[:patchStart(message)], message)
	start := trailerStart(message, end)
	var out []Trailer
	for _, line := range unwrapped(message[start:end]) {
		sep := separator(line)
		if sep < 1 || line[0] == '#' {
			continue
		}
		out = append(out, Trailer{
			Key:   strings.Trim(line[:sep], gitSpace),
			Value: joined(line[sep+1:]),
		})
	}
	return out
}

// gitSpace is what git takes for white space; tab stops and form feeds are not
// in it.
const gitSpace = " \t\n\r"

func isGitSpace(c byte) bool { return strings.IndexByte(gitSpace, c) >= 0 }

// byteAt gives the byte at i, and 0 past the end.
func byteAt(s string, i int) byte {
	if i < len(s) {
		return s[i]
	}
	return 0
}

// patchStart finds the line "---" behind which a mailed patch begins.
func patchStart(s string) int {
	for at := 0; at < len(s); at = nextLine(s, at) {
		if strings.HasPrefix(s[at:], "---") && isGitSpace(byteAt(s, at+3)) {
			return at
		}
	}
	return len(s)
}

// nextLine gives the start of the line behind the one that at lies in.
func nextLine(s string, at int) int {
	if i := strings.IndexByte(s[at:], '\n'); i >= 0 {
		return at + i + 1
	}
	return len(s)
}

// trailerEnd cuts off what is not text: everything behind a scissors line, and
// comments, empty lines and an old-style list of conflicts at the end.
func trailerEnd(s, whole string) int {
	cutoff := scissors(s, whole)
	comments, conflicts := 0, false // where the run of comments at the end begins
	for at := 0; at < cutoff; at = nextLine(s, at) {
		switch {
		case s[at] == '#' || s[at] == '\n':
			if comments == 0 {
				comments = at
			}
		case strings.HasPrefix(s[at:], "Conflicts:\n"):
			conflicts = true
			if comments == 0 {
				comments = at
			}
		case conflicts && s[at] == '\t':
		case comments > 0:
			comments, conflicts = 0, false
		}
	}
	if comments > 0 {
		return comments
	}
	return cutoff
}

// scissors finds git's line for "ignore everything below".
func scissors(s, whole string) int {
	const line = "# ------------------------ >8 ------------------------\n"
	if strings.HasPrefix(whole, line) {
		return 0
	}
	if i := strings.Index(whole, "\n"+line); i >= 0 {
		return min(i+1, len(s))
	}
	return len(s)
}

// titleEnd finds the end of the first paragraph, which holds no trailers.
func titleEnd(s string) int {
	at := 0
	for ; at < len(s); at = nextLine(s, at) {
		if s[at] != '#' && isBlank(s[at:]) {
			break
		}
	}
	return at
}

func isBlank(line string) bool {
	i := 0
	for i < len(line) && line[i] != '\n' && isGitSpace(line[i]) {
		i++
	}
	return i == len(line) || line[i] == '\n'
}

// lastLine gives the start of the last line of s, -1 where s is empty.
func lastLine(s string) int {
	if len(s) < 2 {
		return len(s) - 1
	}
	return strings.LastIndexByte(s[:len(s)-1], '\n') + 1
}

// trailerStart reads the last paragraph upwards and decides whether it is made
// of trailers. It gives end where it is not.
func trailerStart(message string, end int) int {
	title := titleEnd(message[:end])
	trailers, others, pending := 0, 0, 0 // pending: continue a line not yet met
	gitOwn, onlySpaces := false, true
	for at := lastLine(message[:end]); at >= title; at = lastLine(message[:at]) {
		line := message[at:]
		switch {
		case line[0] == '#':
			others += pending
			pending = 0
			continue
		case isBlank(line):
			if onlySpaces {
				continue
			}
			others += pending
			if gitOwn && trailers*3 >= others || trailers > 0 && others == 0 {
				return nextLine(message, at)
			}
			return end
		}
		onlySpaces = false
		switch {
		case strings.HasPrefix(line, "Signed-off-by: "), strings.HasPrefix(line, "(cherry picked from commit "):
			trailers++
			pending, gitOwn = 0, true
		case separator(line) >= 1 && !isGitSpace(line[0]):
			trailers++
			pending = 0
		case isGitSpace(line[0]):
			pending++
		default:
			others += 1 + pending
			pending = 0
		}
	}
	return end
}

// separator finds the colon behind a key of letters, digits and hyphens, which
// may be followed by blanks; -1 where the line has none.
func separator(line string) int {
	blank := false
	for i := range len(line) {
		switch c := line[i]; {
		case c == ':':
			return i
		case !blank && (c == '-' || c >= '0' && c <= '9' || c|0x20 >= 'a' && c|0x20 <= 'z'):
		case i > 0 && (c == ' ' || c == '\t'):
			blank = true
		default:
			return -1
		}
	}
	return -1
}

// unwrapped splits a block into trailers, each with the lines that continue it.
func unwrapped(block string) []string {
	var out []string
	open := false // the last one is a trailer, which may go on
	for line := range strings.Lines(block) {
		if open && isGitSpace(line[0]) {
			out[len(out)-1] += line
			continue
		}
		out = append(out, line)
		open = separator(line) >= 1
	}
	return out
}

// joined puts a value on one line.
func joined(value string) string {
	var b strings.Builder
	for value = strings.Trim(value, gitSpace); value != ""; {
		line, rest, more := strings.Cut(value, "\n")
		b.WriteString(line)
		if value = strings.TrimLeft(rest, gitSpace); more {
			b.WriteByte(' ')
		}
	}
	return strings.Trim(b.String(), gitSpace)
}

// FormatTrailers composes a message whose trailers Trailers reads back: the
// subject on one line, the body as it is, the trailers as a paragraph of their own.
// A value of several lines is put on one. Lines of the body that would end the
// text ("---", scissors) are indented. Trailers without a valid key (letters,
// digits, hyphens) are left out; an empty subject becomes "(no subject)", since
// trailers in a first paragraph do not count.
func FormatTrailers(subject, body string, trailers []Trailer) string {
	subject = strings.Join(strings.Fields(subject), " ")
	if subject == "" {
		subject = "(no subject)"
	}
	var b strings.Builder
	b.WriteString(text(subject) + "\n")
	body = strings.Trim(strings.ReplaceAll(body, "\x00", ""), gitSpace)
	if body != "" {
		b.WriteString("\n" + text(body) + "\n")
	}
	key := regexp.MustCompile(`^[A-Za-z0-9-]+$`)
	first := true
	for _, t := range trailers {
		if !key.MatchString(t.Key) {
			continue
		}
		if first {
			b.WriteString("\n")
			first = false
		}
		line := t.Key + ": " + joined(strings.ReplaceAll(t.Value, "\x00", ""))
		if line != "Conflicts: " { // bare, it would begin a list of conflicts
			line = strings.TrimRight(line, " ")
		}
		b.WriteString(line + "\n")
	}
	return b.String()
}

// text indents lines that would end a message.
func text(s string) string {
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		if strings.HasPrefix(l+"\n", "---") && isGitSpace((l + "\n")[3]) || strings.HasPrefix(l, "# -----") {
			lines[i] = " " + l
		}
	}
	return strings.Join(lines, "\n")
}
