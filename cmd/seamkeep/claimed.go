package main

import (
	"bufio"
	"fmt"
	"runtime"
	"strings"

	"seamkeep/diffview/report"
	"seamkeep/hooks/judge"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/note"
)

// lineFlag collects lines of a note, each from its own flag.
type lineFlag struct {
	lines map[string][]string
	word  string
}

func (l lineFlag) String() string { return "" }
func (l lineFlag) Type() string   { return "TEXT" }

func (l lineFlag) Set(text string) error {
	text = strings.TrimSpace(text)
	if text == "" || text != report.Clean(text) {
		return fmt.Errorf("write plain text on one line")
	}
	l.lines[l.word] = append(l.lines[l.word], text)
	return nil
}

// answers reads what is typed; one reader for all questions, which may have read
// ahead.
func (a *app) answers() *bufio.Reader {
	if a.typed == nil {
		a.typed = bufio.NewReader(a.in)
	}
	return a.typed
}

// answers is the word of the lines that name a fitting.
const answers = "Answers"

// claimed completes the note's lines and refuses what is not true of the change. What
// is only worth knowing is left in k.remarks.
func (a *app) claimed(v *judge.Verdict, q judge.Request, k *keeping, accept []string) error {
	for _, word := range note.Keys() {
		if word == answers {
			continue // it claims nothing, and stands last
		}
		for _, text := range k.lines[word] {
			k.claims = append(k.claims, word+": "+text)
		}
	}
	offered := suggested(v.Folders)
	switch {
	case k.asMeasured:
		for _, line := range offered {
			word, _, _ := strings.Cut(line, ": ")
			if word != string(claim.Only) || len(k.lines[word]) == 0 { // another Only would widen the maker's own
				k.claims = append(k.claims, line)
			}
		}
	case len(k.claims) == 0 && isTerminal(a.in):
		if err := a.offerClaims(k, offered); err != nil {
			return err
		}
	}
	for _, text := range k.lines[answers] {
		k.claims = append(k.claims, answers+": "+text)
	}
	told, err := judge.Note(q, k.message(accept))
	if err != nil {
		return unreadable(err)
	}
	list := shown(told.Findings())
	if !list.HasErrors() {
		k.remarks = list
		return nil
	}
	list = list.Only(diag.Error)
	for i := range list {
		if list[i].ID == claim.UnclaimedID {
			list[i].Hint = "" // the flags below say it
		}
	}
	a.onOneScreen(list, "")
	a.say("")
	if len(offered) > 0 {
		a.say("claim what you meant; all that was measured is")
		for _, l := range k.command(offered) {
			fmt.Fprintln(a.err, "  "+l)
		}
		a.say("or the same in short: --as-measured")
	}
	return refused("%s in the note: not kept; git is as it was", report.Count(list))
}

// command gives the command line that keeps the same with other lines of the note,
// one flag a line.
func (k *keeping) command(lines []string) []string {
	out := []string{strings.TrimSpace("seamkeep keep " + k.name + " " + strings.Join(k.pieces, " "))}
	flag := func(name, value string) {
		if value != "" {
			out = append(out, "  --"+name+" "+shellWord(value))
		}
	}
	flag("because", k.because)
	flag("subject", k.subject)
	flag("tag", k.tag)
	for _, text := range k.lines[answers] {
		flag("answers", text)
	}
	for _, line := range lines {
		word, text, _ := strings.Cut(line, ": ")
		flag(strings.ToLower(word), text)
	}
	for _, one := range []struct {
		set  bool
		flag string
	}{{k.amend, "  --amend"}, {k.unfinished, "  --unfinished"}} {
		if one.set {
			out = append(out, one.flag)
		}
	}
	for i := range out[:len(out)-1] {
		out[i] += " \\"
	}
	return out
}

// suggested gives the lines that are true as measured. Of several folders what stayed in
// one is not offered where it changed in another, since one note speaks of both.
func suggested(folders []judge.Folder) []string {
	var changes []*compare.Change
	for _, f := range folders {
		if f.Before != nil && f.After != nil && !f.BeforeFaulty && len(f.Before.Pieces) > 0 {
			changes = append(changes, compare.Garments(f.Before, f.After, compare.Options{Body: f.Body}))
		}
	}
	return note.Suggest(changes...)
}

// shellWord writes a text as one word for the shell of the system.
func shellWord(s string) string {
	if runtime.GOOS == "windows" {
		return `"` + strings.ReplaceAll(s, `"`, `\"`) + `"`
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}

// offerClaims asks, line by line, what the note shall claim.
func (a *app) offerClaims(k *keeping, offered []string) error {
	if len(offered) > 0 {
		a.say("what was measured can stand in the note as claims, which are checked from now on")
	}
	for i := 0; i < len(offered); i++ {
		answer, err := a.question(a.answers(), report.Clean(offered[i])+"  [Y]es, [n]o, [a]ll, no [m]ore: ")
		if err != nil {
			return err
		}
		switch strings.ToLower(answer) {
		case "a", "all":
			k.claims = append(k.claims, offered[i:]...)
			return nil
		case "m", "more":
			return nil
		case "", "y", "yes":
			k.claims = append(k.claims, offered[i])
		case "n", "no":
		default:
			a.say("answer y, n, a or m")
			i--
		}
	}
	return nil
}
