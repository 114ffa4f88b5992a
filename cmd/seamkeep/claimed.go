package main

import (
	"bufio"
	"fmt"
	"strings"

	"seamkeep/diffview/report"
	"seamkeep/hooks/judge"
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

// claimed completes the note's lines and refuses what is not true of the change.
func (a *app) claimed(v *judge.Verdict, q judge.Request, k *keeping, accept []string) error {
	for _, word := range note.Keys() {
		for _, text := range k.lines[word] {
			k.claims = append(k.claims, word+": "+text)
		}
	}
	offered := suggested(v)
	switch {
	case k.asMeasured:
		k.claims = append(k.claims, offered...)
	case len(k.claims) == 0 && isTerminal(a.in):
		if err := a.offerClaims(k, offered); err != nil {
			return err
		}
	}
	told, err := judge.Note(q, k.message(accept))
	if err != nil {
		return unreadable(err)
	}
	list := shown(told.Findings())
	if !list.HasErrors() {
		a.talk().Problems(list)
		return nil
	}
	a.onOneScreen(list.Only(diag.Error))
	a.say("")
	if len(offered) > 0 {
		a.say("measured: " + offered[0])
	}
	return refused("%s in the note: not kept; git is as it was\nclaim what is true (--changes, --keeps, --only), or all that was measured: --as-measured", report.Count(list.Only(diag.Error)))
}

// suggested gives the lines that are true as measured.
func suggested(v *judge.Verdict) []string {
	var out []string
	for _, f := range v.Folders {
		if f.Before == nil || f.After == nil || f.BeforeFaulty || len(f.Before.Pieces) == 0 {
			continue
		}
		out = append(out, note.Suggest(compare.Garments(f.Before, f.After, compare.Options{Body: f.Body}))...)
	}
	return out
}

// offerClaims asks, line by line, what the note shall claim.
func (a *app) offerClaims(k *keeping, offered []string) error {
	if len(offered) > 0 {
		a.say("what was measured can stand in the note as claims, which are checked from now on")
	}
	for i, line := range offered {
		answer, err := a.question(a.answers(), report.Clean(line)+"  [Y]es, [n]o, [a]ll, no [m]ore: ")
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
			k.claims = append(k.claims, line)
		}
	}
	return nil
}
