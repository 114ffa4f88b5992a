package note

import "strings"

// Mend moves all lines that begin with one of our words, with those that
// continue them, into one block at the end of the text, where git sees them as
// trailers: behind other people's trailers if there are some, before a line "---",
// scissors, and the comments that git puts at the end. Their order stays.
//
// All other lines stay byte for byte and in order; of blank lines those go that
// a moved paragraph leaves doubled. Where no text is left, the name of the
// alteration becomes the subject, since trailers in a first paragraph do not count.
// A message whose lines are already in such a block, or that has none, is
// returned as it is, so mending twice is mending once.
func Mend(message string) string {
	if layOut(message).settled() {
		return message
	}
	message, behindNUL := cutNUL(message)
	if !strings.HasSuffix(message, "\n") {
		message += "\n" // an open last line could become a divider when closed later
	}
	l := layOut(message)
	if l.settled() {
		return message + behindNUL
	}
	var own, tail []string
	head := l.without(0, l.end, &own)
	behind := l.without(l.end, l.text, &own)
	tail = append(behind, l.lines[l.text:]...)
	head = trimBlank(head)
	if !anyText(head) {
		head = append(head, subjectFor(own)+"\n")
	}
	rest := layOut(strings.Join(head, ""))
	var b strings.Builder
	write := func(lines []string) {
		for _, line := range lines {
			b.WriteString(line)
			if !strings.HasSuffix(line, "\n") {
				b.WriteByte('\n')
			}
		}
	}
	write(head)
	if _, proper := rest.block(); !proper || rest.end < len(rest.lines) {
		b.WriteByte('\n')
	}
	write(own)
	b.WriteString(strings.Join(tail, ""))
	b.WriteString(behindNUL)
	return b.String()
}

// cutNUL parts a message before a NUL, where it ends for git.
func cutNUL(message string) (text, rest string) {
	if at := strings.IndexByte(message, 0); at >= 0 {
		return message[:at], message[at:]
	}
	return message, ""
}

// settled tells whether all our lines stand in a block of trailers.
func (l layout) settled() bool {
	start, proper := l.block()
	for i := range l.lines[:l.text] {
		if _, is := l.ours(i); is && (!proper || i < start || i >= l.end) {
			return false
		}
	}
	return true
}

// without gives the lines from..to that are not ours, and adds ours to own.
func (l layout) without(from, to int, own *[]string) []string {
	var rest []string
	for i := from; i < to; {
		if _, is := l.ours(i); !is {
			rest = append(rest, l.lines[i])
			i++
			continue
		}
		next := l.until(i, to)
		*own = append(*own, l.lines[i:next]...)
		i = next
		if len(rest) == 0 || isBlank(rest[len(rest)-1]) {
			for i < to && isBlank(l.lines[i]) {
				i++
			}
		}
	}
	return rest
}

func trimBlank(lines []string) []string {
	for len(lines) > 0 && isBlank(lines[len(lines)-1]) {
		lines = lines[:len(lines)-1]
	}
	return lines
}

func anyText(lines []string) bool {
	for _, line := range lines {
		if line[0] != '#' && !isBlank(line) {
			return true
		}
	}
	return false
}

// noSubject stands where nobody gave a subject.
const noSubject = "(no subject)"

// subjectFor makes a subject of the first alteration named.
func subjectFor(own []string) string {
	for _, line := range own {
		key, value, _ := keyOf(line)
		if word, _ := ours(key); word == keyAlteration && joined(value) != "" {
			return subjectLine(joined(value))
		}
	}
	return noSubject
}
