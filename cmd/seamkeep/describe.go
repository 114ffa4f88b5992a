package main

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/describe"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

// describing is what the command line of describe says.
type describing struct {
	accept, picture string
	json, dry       bool
}

func describeCommand(a *app) *cobra.Command {
	var d describing
	c := &cobra.Command{
		Use:   "describe",
		Short: "Propose names, seams, runs and closures for pieces that were drawn",
		Long: `Describe looks at the shapes of the pieces and proposes what they tell: names of
edges by their place, what goes round the body, which edges are sewn together
(with both lengths), lines that run across seams, where the garment opens, and
pairs of notches. Nothing is written until you accept: all, or by number. What
you wrote yourself is never changed.

A question offers several answers; "all" leaves it open, accept one by number.`,
		Example: "  seamkeep describe --picture proposals.svg\n  seamkeep describe --accept all\n  seamkeep describe --accept 1-6,9",
		Args:    cobra.NoArgs,
		RunE:    func(*cobra.Command, []string) error { return a.describe(&d) },
	}
	f := c.Flags()
	f.StringVar(&d.accept, "accept", "", "what to write: all, or numbers such as 1-6,9")
	f.StringVar(&d.picture, "picture", "", "draw the pieces with the numbers to this SVG file")
	f.BoolVar(&d.json, "json", false, "write seamkeep.describe/1")
	f.BoolVar(&d.dry, "dry-run", false, "show which files would be written, write none")
	_ = c.MarkFlagFilename("picture", "svg")
	return c
}

func (a *app) describe(d *describing) error {
	p, l, err := a.open("")
	if err == nil && d.accept != "" {
		err = p.writable()
	}
	if err != nil {
		return err
	}
	g := l.folder.Garment
	hints := describe.Hints{SheetX: p.sheetOrder()}
	list := describe.Propose(g, hints)
	which, err := numbers(d.accept, len(list))
	if err != nil {
		return err
	}
	if err := a.showProposals(g, list, d); err != nil {
		return err
	}
	if d.picture != "" {
		if err := a.drawProposals(g, list, hints, d.picture); err != nil {
			return err
		}
	}
	if d.accept == "" {
		return nil
	}
	after, err := describe.Accept(g, list, which, p.keptGarment())
	if err != nil {
		return usage("%v\nnothing was written", err)
	}
	return a.writeDescribed(p, l, after, acceptedOf(list, which), d)
}

// numbers reads "all", which is nil, or "1-6,9".
func numbers(accept string, most int) ([]int, error) {
	if accept == "" || accept == "all" {
		return nil, nil
	}
	var out []int
	for _, part := range strings.Split(accept, ",") {
		from, to, isRange := strings.Cut(strings.TrimSpace(part), "-")
		a, err := strconv.Atoi(from)
		b := a
		if err == nil && isRange {
			b, err = strconv.Atoi(to)
		}
		if err != nil || a < 1 || b < a || b > most {
			return nil, usage("--accept %q: say all, or numbers from 1 to %d such as 1-3,5", report.Clean(part), most)
		}
		for n := a; n <= b; n++ {
			out = append(out, n)
		}
	}
	return out, nil
}

// proposalJSON is a proposal as others read it.
type proposalJSON struct {
	Number   int           `json:"number"`
	Kind     describe.Kind `json:"kind"`
	Sentence string        `json:"sentence"`
	Choice   int           `json:"choice,omitempty"`
	Edges    []string      `json:"edges,omitempty"`
}

func (a *app) showProposals(g *pattern.Garment, list []describe.Proposal, d *describing) error {
	if d.json {
		out := struct {
			Schema    string         `json:"schema"`
			Proposals []proposalJSON `json:"proposals"`
		}{"seamkeep.describe/1", []proposalJSON{}}
		for _, x := range list {
			one := proposalJSON{Number: x.Number, Kind: x.Kind, Sentence: x.Sentence, Choice: x.Choice}
			for _, r := range x.Edges {
				one.Edges = append(one.Edges, r.Piece+"."+r.Edge)
			}
			out.Proposals = append(out.Proposals, one)
		}
		return report.WriteJSON(a.out, out)
	}
	t := a.text()
	for _, x := range list {
		line := fmt.Sprintf("%3d  %s", x.Number, x.Sentence)
		if x.Choice != 0 {
			line += " (" + otherAnswers(list, x) + ")"
		}
		t.Para(line, "     ")
	}
	switch {
	case len(list) == 0 && len(g.Pieces) == 0:
		a.say("there is no piece yet: seamkeep import FILE.svg")
	case len(list) == 0:
		a.say("nothing to propose: all that the shapes tell is described")
	case d.accept == "":
		a.say("", "nothing is written yet; accept them: seamkeep describe --accept all, or by number: --accept 1-3,5")
	}
	return t.Err
}

// otherAnswers says which proposals answer the same question.
func otherAnswers(list []describe.Proposal, x describe.Proposal) string {
	var others []string
	for _, y := range list {
		if y.Choice == x.Choice && y.Number != x.Number {
			others = append(others, fmt.Sprint(y.Number))
		}
	}
	if len(others) == 0 {
		return "a question: \"all\" leaves it open"
	}
	return "or " + strings.Join(others, ", or ") + ": accept one by its number"
}

func (a *app) drawProposals(g *pattern.Garment, list []describe.Proposal, hints describe.Hints, file string) error {
	var buf bytes.Buffer
	if err := describe.Picture(&buf, g, list, hints); err != nil {
		return err
	}
	return a.writePicture(buf.Bytes(), file, "the pieces with the numbers of the proposals")
}

// acceptedOf gives the proposals that were taken. They are told again, since the
// numbers of what is left begin anew.
func acceptedOf(list []describe.Proposal, which []int) []describe.Proposal {
	var out []describe.Proposal
	for _, x := range list {
		if slices.Contains(which, x.Number) {
			out = append(out, x)
		}
	}
	return out
}

func (a *app) writeDescribed(p *place, l *loaded, after *pattern.Garment, accepted []describe.Proposal, d *describing) error {
	for _, piece := range after.Pieces {
		if before := l.folder.Garment.Piece(piece.Name); before != nil && !pattern.EqualPieces(before, piece) {
			text.Lengths(piece)
		}
	}
	files, err := p.rewritten(l, after, nil)
	if err != nil {
		return err
	}
	if d.dry {
		for _, n := range sortedNames(files) {
			a.say("would write " + n)
		}
		return nil
	}
	if err := writeFiles(p.root, files); err != nil {
		return err
	}
	a.wrote(files)
	for _, x := range accepted {
		a.say(fmt.Sprintf("accepted: %s", x.Sentence))
		if c := x.Change.Closure; c != nil {
			a.say("  in the garment file " + strings.ReplaceAll(check.NoRecord(after, c, measure.Accuracy).Hint, "\n", ", "))
		}
	}
	open := slices.DeleteFunc(describe.Propose(after, describe.Hints{SheetX: p.sheetOrder()}),
		func(x describe.Proposal) bool { return x.Choice == 0 })
	if len(open) > 0 {
		a.say(fmt.Sprintf("%s still open: seamkeep describe", report.Plural(len(open), "question")))
	}
	a.say("next: seamkeep walk")
	return nil
}
