package text

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// open says what a segment on the next line would belong to.
type open int

const (
	nothing  open = iota
	anEdge        // the last edge read
	aMark         // the last mark read
	skipping      // a record that could not be read
)

// maxProblems is how many problems of one file are reported: enough for any
// file that somebody wrote, and a bound on what a hostile one can cost.
const maxProblems = 1000

// reader walks over the lines of one file.
type reader struct {
	kind     Kind
	place    diag.Place // file, garment, piece; each line adds its own
	problems diag.List
	rest     string // what is still to be read

	line    int
	text    string  // the current line, without its end
	tokens  []token // its fields
	comment int     // where its comment begins in bytes; -1 for none
	counted int     // how many bytes of it column counts
	column  int
	quiet   bool // the line has a fault that makes further ones guesswork
	marked  bool // the line has at least one fault

	version bool // the first record was read
	index   map[string]int
	open    open
	faulty  map[int]bool // lines with faults
	records int
	seen    map[string]int // lines of the records so far, by key
	key     string         // key of the current record
	leads   []string       // blank lines and comments before the current line
	doc     *document

	returned bool // a carriage return was reported
	conflict bool // between the markers of a merge conflict
	theirs   bool // in the part of a conflict that is not read
}

func newReader(k Kind, file string, src []byte, doc *document) *reader {
	r := &reader{
		kind: k, rest: string(src), doc: doc, comment: -1, column: 1,
		seen: make(map[string]int, len(src)/64), faulty: map[int]bool{},
		place: diag.Place{File: file},
	}
	switch k {
	case PieceFile:
		r.place.Piece = nameOf(file, k)
	case GarmentFile:
		r.place.Garment = nameOf(file, k)
	}
	return r
}

// placeAt is a place in the current line, at bytes from its start.
func (r *reader) placeAt(at int) diag.Place {
	p := r.place
	p.Line, p.Column = r.line, r.columnAt(at)
	return p
}

// columnAt counts characters from where it counted last, since fields are read
// in order and a line may be very long.
func (r *reader) columnAt(at int) int {
	at = min(at, len(r.text))
	if at < r.counted {
		r.counted, r.column = 0, 1
	}
	r.column += utf8.RuneCountInString(r.text[r.counted:at])
	r.counted = at
	return r.column
}

// report notes a problem of the current line.
func (r *reader) report(at int, id, found, expected, hint string) {
	r.reportAt(r.placeAt(at), id, found, expected, hint)
}

func (r *reader) reportAt(at diag.Place, id, found, expected, hint string) {
	r.marked = true
	r.faulty[at.Line] = true
	if len(r.problems) >= maxProblems {
		return
	}
	r.problems = append(r.problems, diag.Problem{
		ID: id, Severity: diag.Error, Place: at, Found: "found " + found, Expected: "expected " + expected, Hint: hint,
	})
}

// bad reports a fault in the fields of a line, unless the line has a fault
// that explains it already.
func (r *reader) bad(at int, id, found, expected, hint string) {
	if !r.quiet {
		r.report(at, id, found, expected, hint)
	}
}

func (r *reader) checkName(name string) {
	if fault := pattern.NameFault(name); fault != "" {
		r.problems = append(r.problems, diag.Problem{
			ID: IDFileName, Severity: diag.Error, Place: diag.Place{File: r.place.File},
			Found: fmt.Sprintf("the file's base name %s %s", show(name), fault), Expected: "expected a name", Hint: nameHint,
		})
	}
}

// checkFile looks at size and encoding; false where it makes no sense to read.
func (r *reader) checkFile(src []byte) bool {
	r.line = 1
	if int64(len(src)) > r.kind.MaxBytes() {
		r.problems = append(r.problems, sizeProblem(r.place, r.kind, int64(len(src))))
		return false
	}
	if bytes.HasPrefix(src, []byte{0xff, 0xfe}) || bytes.HasPrefix(src, []byte{0xfe, 0xff}) {
		r.report(0, IDEncoding, "UTF-16 text", "UTF-8", "save the file as UTF-8")
		return false
	}
	if strings.HasPrefix(r.rest, "\ufeff") {
		r.report(0, IDByteOrderMark, "a byte order mark", "UTF-8 without one", "save the file as UTF-8 without a byte order mark")
		r.rest = r.rest[len("\ufeff"):]
	}
	r.line = 0
	return true
}

func sizeProblem(at diag.Place, k Kind, size int64) diag.Problem {
	at.Line, at.Column = 0, 0
	return diag.Problem{
		ID: IDSize, Severity: diag.Error, Place: at,
		Found:    fmt.Sprintf("found a file of %d bytes", size),
		Expected: fmt.Sprintf("expected at most %d for a %s file", k.MaxBytes(), k),
	}
}

// readLines gives each record line to take, by its first word; false where
// the file is of a version that cannot be read.
func (r *reader) readLines(take func(word string)) bool {
	for r.nextLine() {
		if r.tooMany() {
			return true
		}
		if len(r.tokens) == 0 {
			if !r.quiet {
				r.leads = append(r.leads, r.text)
			}
			continue
		}
		if r.inConflict() {
			continue
		}
		if r.records++; r.records > r.kind.MaxRecords() {
			r.report(0, IDSize, "more records", fmt.Sprintf("at most %d in a %s file", r.kind.MaxRecords(), r.kind), "")
			return true
		}
		if !r.version {
			r.version = true
			if !r.readVersion() {
				return false
			}
			if _, record := r.index[r.tokens[0].text]; !record {
				continue
			}
		}
		r.key = ""
		take(r.tokens[0].text)
	}
	if r.doc != nil {
		r.doc.tail = r.leads
	}
	if !r.version {
		r.line = max(r.line, 1)
		r.text, r.counted, r.column = "", 0, 1
		r.report(0, IDVersion, "no records", r.versionLine(), "the first record says what the file is")
	}
	return true
}

// tooMany tells whether to stop, and says so in place of the last problem.
func (r *reader) tooMany() bool {
	if len(r.problems) < maxProblems {
		return false
	}
	last := &r.problems[len(r.problems)-1]
	last.ID, last.Hint, last.Related = IDMany, "", nil
	last.Found = fmt.Sprintf("found at least %d problems", maxProblems)
	last.Expected = "expected fewer; the rest of the file was not read"
	return true
}

// nextLine takes the next line apart; false at the end of the file.
func (r *reader) nextLine() bool {
	if r.rest == "" {
		return false
	}
	r.text, r.rest, _ = strings.Cut(r.rest, "\n")
	r.line++
	r.quiet, r.marked, r.counted, r.column = false, false, 0, 1
	if at := strings.IndexByte(r.text, '\r'); at >= 0 {
		if !r.returned {
			r.returned = true
			r.report(at, IDReturn, "a carriage return", "lines that end with a line feed alone", "save the file with LF line ends")
		}
		r.text = strings.ReplaceAll(strings.TrimRight(r.text, "\r"), "\r", " ")
		r.counted, r.column = 0, 1
	}
	if len(r.text) > MaxLine {
		r.report(0, IDSize, fmt.Sprintf("a line of %d bytes", len(r.text)), fmt.Sprintf("at most %d", MaxLine), "break it into records")
		r.text, r.comment, r.tokens, r.quiet = "", -1, nil, true
		return true
	}
	r.checkCharacters()
	r.comment = r.lex()
	return true
}

// versionLine is the first record of a file of this kind.
func (r *reader) versionLine() string { return fmt.Sprintf("%q", versionText(r.kind)) }

func versionText(k Kind) string { return fmt.Sprintf("seamkeep %s %d", k, version) }

// readVersion reads the first record; false where the file is newer.
func (r *reader) readVersion() bool {
	t := r.tokens
	r.checkIndent(false, "seamkeep")
	switch {
	case t[0].text != "seamkeep" || len(t) < 2 || t[0].quoted:
		r.bad(t[0].at, IDVersion, show(t[0].text), r.versionLine(), "the first record says what the file is")
	case t[1].text != string(r.kind):
		r.bad(t[1].at, IDKind, show(t[1].text), fmt.Sprintf("%q, as the file's ending says", r.kind), "")
	case len(t) < 3:
		r.bad(t[1].end, IDVersion, "no version", r.versionLine(), "")
	case newer(t[2].text):
		r.report(t[2].at, IDNewer, "version "+show(t[2].text)+", written by a newer seamkeep",
			fmt.Sprintf("version %d or older", version), "install a newer seamkeep")
		return false
	case t[2].text != strconv.Itoa(version):
		r.bad(t[2].at, IDVersion, show(t[2].text), r.versionLine(), "")
	case len(t) > 3:
		r.bad(t[3].at, IDSyntax, show(t[3].text), "the end of the record", "")
	}
	if r.doc != nil {
		r.doc.version = newDocLine(r.leads, r.text, r.comment)
	}
	r.leads = nil
	return true
}

func newer(s string) bool {
	s = strings.TrimLeft(s, "0")
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	n, err := strconv.Atoi(s)
	return s != "" && (err != nil || n > version)
}

// checkIndent makes sure that segments are indented, and nothing else is.
func (r *reader) checkIndent(segment bool, word string) {
	at := r.tokens[0].at
	switch {
	case segment && at == 0:
		r.bad(0, IDIndent, show(word)+" at the start of the line", "two spaces before it", "segments stand indented under their edge or mark")
	case !segment && at > 0:
		r.bad(at, IDIndent, "spaces before "+show(word), "the record at the start of the line", "only segments are indented")
	}
}

// inConflict reports the markers that a merge leaves, and passes over the
// other side's lines, which would only seem to say everything twice.
func (r *reader) inConflict() bool {
	marker := func(m string) bool { return strings.HasPrefix(r.text, m) }
	switch {
	case marker("<<<<<<<"):
		r.report(0, IDConflict, "the mark of a merge conflict", "one version of these lines",
			"choose or combine the two versions and remove the three marker lines")
		r.conflict, r.theirs = true, false
		return true
	case r.conflict && (marker("=======") || marker("|||||||")):
		r.theirs = true
		return true
	case r.conflict && marker(">>>>>>>"):
		r.conflict, r.theirs = false, false
		return true
	}
	return r.theirs
}

// declare gives the current record the key of something that it names, and
// reports a name that stood already.
func (c *record) declare(kind, name string) {
	c.key(kind, name, IDNameTwice, "a name that is not used yet")
}

// about gives the current record the key of something that it says something
// of, and reports a record that says it again. An empty name means the file.
func (c *record) about(kind, name string) {
	c.key(kind, name, IDRecordTwice, "this record once")
}

// key sets the key of the current record. A record whose name could not be
// read has a key of its own.
func (c *record) key(kind, name, id, expected string) {
	r := c.r
	r.key = keyOf(kind, name)
	if c.failed && name == "" {
		r.key = fmt.Sprintf("%s ?%d", kind, r.line)
		return
	}
	line, twice := r.seen[r.key]
	if !twice {
		r.seen[r.key] = r.line
		return
	}
	if r.quiet {
		return
	}
	before := len(r.problems)
	r.report(r.tokens[0].at, id, r.key+" a second time", expected, "")
	if len(r.problems) > before {
		first := r.place
		first.Line, first.Column = line, 1
		r.problems[before].Related = []diag.Related{{Place: first, Text: "first here"}}
	}
}

func keyOf(kind, name string) string {
	if name == "" {
		return kind
	}
	return kind + " " + name
}

// recordPlace is where the current record begins.
func (c *record) recordPlace() diag.Place { return c.r.placeAt(c.r.tokens[0].at) }
