package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"slices"
	"sort"
	"strings"

	"golang.org/x/term"

	"seamkeep/diffview/report"
	"seamkeep/pattern/diag"
)

// Results go to out, talk goes to err. A hook that has nothing to say says
// nothing. Colour only where out is a terminal and NO_COLOR is not set, and
// never as the only sign. Text from elsewhere is cleaned by package report.

// app is what commands need of the world.
type app struct {
	in         io.Reader
	out, err   io.Writer
	env        func(string) string
	dir        string        // -C
	typed      *bufio.Reader // what is typed in answer; nil until something is asked
	colourMode string
	narrower   int // columns that somebody else puts before each line
}

// text writes results.
func (a *app) text() *report.Text { return a.textTo(a.out) }

// talk writes everything else.
func (a *app) talk() *report.Text { return a.textTo(a.err) }

func (a *app) textTo(w io.Writer) *report.Text {
	t := &report.Text{W: w, Width: 80 - a.narrower, Colour: a.colour(w)}
	if f, ok := w.(*os.File); ok {
		if cols, _, err := term.GetSize(int(f.Fd())); err == nil && cols > 0 {
			t.Width = min(cols, 100)
		}
	}
	return t
}

func (a *app) colour(w io.Writer) bool {
	switch {
	case a.colourMode == "always":
		return true
	case a.colourMode == "never" || a.env("NO_COLOR") != "" || a.env("TERM") == "dumb":
		return false
	}
	return isTerminal(w)
}

func isTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// say writes a line of talk, wrapped.
func (a *app) say(lines ...string) {
	t := a.talk()
	for _, l := range lines {
		t.Para(l, "  ")
	}
}

// complain writes an error; its further lines are kept as lines.
func (a *app) complain(err error) {
	t := a.talk()
	for i, l := range strings.Split(err.Error(), "\n") {
		if i == 0 {
			l = "seamkeep: " + l
		} else {
			l = "  " + l
		}
		t.Para(l, "  ")
	}
}

// screen is how many lines a refusal may have, ending is how many of them the
// words after the findings need.
const screen, ending = 24, 6

// seeStaged is where the findings of what is staged are seen.
const seeStaged = "seamkeep check (of what is staged: seamkeep check --rev index)"

// onOneScreen writes the findings of a refusal, errors first: in full as far as
// one screen holds them, then their first lines, then how many more there are, and
// where to see them.
func (a *app) onOneScreen(list diag.List, where string) {
	errs := list.Only(diag.Error)
	sort.SliceStable(errs, func(i, j int) bool { // what tidy mends comes after what must be cured
		return errs[i].ID != "edge.length-stale" && errs[j].ID == "edge.length-stale"
	})
	list = append(errs, list.Only(diag.Warning)...)
	room, full := screen-ending, true
	for i, p := range list {
		left := 1 // the line that counts the rest
		if i == len(list)-1 {
			left = 0
		}
		lines := a.lines(p)
		if i > 0 && full {
			lines = append([]string{""}, lines...)
		}
		if full = full && (i == 0 || len(lines) <= room-left-2); !full {
			lines = a.lines(diag.Problem{ID: p.ID, Severity: p.Severity, Place: p.Place, Found: p.Found, Expected: p.Expected})
		}
		if i > 0 && len(lines) > room-left {
			a.say(strings.TrimSuffix(fmt.Sprintf("and %d more: %s", len(list)-i, where), ": "))
			return
		}
		room -= len(lines)
		fmt.Fprintln(a.err, strings.Join(lines, "\n"))
	}
}

// lines gives a finding as it is shown.
func (a *app) lines(p diag.Problem) []string {
	t := a.talk()
	var b strings.Builder
	t.W = &b
	t.Problems(diag.List{p})
	return strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
}

// noDrawing are the findings of a file that is no drawing that can be read.
var noDrawing = []string{"drawing.file", "drawing.encoding", "drawing.xml"}

// codeOf is the exit code that findings call for.
func codeOf(list diag.List) int {
	code := exitFine
	for _, p := range list {
		if p.Severity != diag.Error {
			continue
		}
		if strings.HasPrefix(p.ID, "text.") || strings.HasPrefix(p.ID, "file.") || slices.Contains(noDrawing, p.ID) {
			return exitUnreadable
		}
		code = exitFindings
	}
	return code
}
