package hooks

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strconv"
	"strings"
)

// scriptVersion goes up with every change of the text that script.text writes;
// testdata/scripts-N.sh holds what version N writes.
const scriptVersion = 1

// keptSuffix is added to the name of a hook that was there before ours.
const keptSuffix = ".before-seamkeep"

// hook is one hook of git that seamkeep can serve.
type hook struct {
	name     string
	standard bool // installed where the caller names no hooks
	stdin    bool // git feeds it lines on stdin (githooks(5))
	advises  bool // it stops nothing, whatever becomes of it: git runs it under --no-verify too
}

// table is the one place that lists the hooks.
func table() []hook {
	return []hook{
		{name: "pre-commit", standard: true},
		{name: "pre-merge-commit", standard: true},
		{name: "prepare-commit-msg", standard: true, advises: true},
		{name: "commit-msg", standard: true},
		{name: "post-merge", standard: true, advises: true},
		{name: "post-rewrite", standard: true, stdin: true, advises: true},
		{name: "pre-push", stdin: true},
		{name: "pre-receive", stdin: true},
		{name: "update"},
	}
}

// Default lists the hooks that Install writes when no names are given, in the
// order in which they are reported.
func Default() []string {
	var names []string
	for _, h := range table() {
		if h.standard {
			names = append(names, h.name)
		}
	}
	return names
}

// Server lists the hooks for a repository that others push to: one of its two, of
// which pre-receive judges all that a push brings at once.
func Server() []string { return []string{"pre-receive"} }

func lookUp(name string) (hook, error) {
	for _, h := range table() {
		if h.name == name {
			return h, nil
		}
	}
	return hook{}, fmt.Errorf("seamkeep serves no hook named %q", name)
}

// script is what a hook file of ours says. Its head is the same in every
// version: line 2 with name, version and sum, then comment lines, among them
// the facts that Remove needs.
type script struct {
	hook    hook
	version int
	binary  string // not read back by readScript
	chained bool   // runs NAME.before-seamkeep first
	folders int    // how many folders Install had to make, innermost first
}

const (
	shebang     = "#!/bin/sh\n"
	markStart   = "# seamkeep hook "
	markVersion = ", script "
	markSum     = ", sum "
	chainedLine = "# The hook that was here before runs first: "
	foldersLine = "# Folders made for it: "
)

// text gives the whole file, with LF line ends.
func (s script) text() string {
	var b strings.Builder
	b.WriteString("# Written by seamkeep; \"seamkeep hooks remove\" takes it out. Once edited, it is left alone.\n")
	if s.folders > 0 {
		fmt.Fprintf(&b, "%s%d\n", foldersLine, s.folders)
	}
	remedy := "delete $0"
	if s.chained {
		fmt.Fprintf(&b, "%s%s%s\n", chainedLine, s.hook.name, keptSuffix)
		b.WriteString(chainPart(s.hook.stdin))
		remedy = "move $0" + keptSuffix + " back over $0"
	}
	verb, code := "refuses", 1
	if s.hook.advises {
		verb, code = "does nothing", 0
	}
	fmt.Fprintf(&b, `tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool=%s
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%%s\n' "seamkeep: %s %s, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or %s" >&2
	exit %d
fi
`, quote(s.binary), s.hook.name, verb, remedy, code)
	run := fmt.Sprintf("\"$tool\" hook %s \"$@\"\n", s.hook.name)
	switch {
	case s.chained && s.hook.stdin:
		b.WriteString("printf '%s' \"$input\" 2>/dev/null | " + run)
		if s.hook.advises {
			b.WriteString("exit 0\n")
		}
	case s.hook.advises:
		b.WriteString(run + "exit 0\n")
	default:
		b.WriteString("exec " + run)
	}
	head := fmt.Sprintf("%s%s%s%d%s", markStart, s.hook.name, markVersion, s.version, markSum)
	return shebang + head + sum(head, b.String()) + "\n" + b.String()
}

// chainPart runs the hook that was there before. One that git would not have
// run, since it is not executable, is not run here either. What git feeds on
// stdin is read once and given to both; the x keeps $( ) from eating the last
// line end.
func chainPart(stdin bool) string {
	run := "\"$before\" \"$@\" || exit $?\n"
	read := ""
	if stdin {
		read = "input=$(cat; echo x)\ninput=${input%x}\n"
		run = "printf '%s' \"$input\" 2>/dev/null | " + run
	}
	return "before=$0" + keptSuffix + "\n" + read +
		"if [ -f \"$before\" ] && [ -x \"$before\" ]; then\n\t" + run + "fi\n"
}

// sum is over everything below the first line except itself, and blind to
// CRLF: a checkout that converts a tracked hooks folder does not make our
// script somebody else's.
func sum(head, body string) string {
	h := sha256.Sum256([]byte(strings.ReplaceAll(head+"\n"+body, "\r\n", "\n")))
	return hex.EncodeToString(h[:6])
}

// ownership is what the text of a hook file tells about its writer.
type ownership int

const (
	theirs ownership = iota
	edited           // ours, changed by hand since
	ours
)

// readScript reads a hook file that stands under the given name. A copy of our
// script under another name is theirs: git would run it as another hook.
func readScript(name, text string) (script, ownership) {
	text = strings.ReplaceAll(text, "\r\n", "\n")
	first, rest, _ := strings.Cut(text, "\n")
	mark, body, _ := strings.Cut(rest, "\n")
	head, digits, ok := strings.Cut(mark, markSum)
	if !ok {
		return script{}, theirs
	}
	number, ok := strings.CutPrefix(head, markStart+name+markVersion)
	version, err := strconv.Atoi(number)
	if !ok || err != nil {
		return script{}, theirs
	}
	s := script{hook: hook{name: name}, version: version}
	if first+"\n" != shebang || sum(head+markSum, body) != digits {
		return s, edited
	}
	for line := range strings.Lines(body) {
		line = strings.TrimSuffix(line, "\n")
		if !strings.HasPrefix(line, "#") {
			break
		}
		if n, ok := strings.CutPrefix(line, foldersLine); ok {
			s.folders, _ = strconv.Atoi(n)
		}
		s.chained = s.chained || strings.HasPrefix(line, chainedLine)
	}
	return s, ours
}

// quote makes any text without NUL one word of a POSIX shell, taken literally
// (POSIX.1-2017, Shell Command Language, 2.2.2 Single-Quotes).
func quote(s string) string {
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}
