package main

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/hooks/judge"
	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

// keeping is what the command line of keep says.
type keeping struct {
	name       string
	pieces     []string
	subject    string
	because    string
	tag        string
	unfinished bool
	amend      bool
	fittings   bool                // with named pieces: all fittings that are new or differ
	lines      map[string][]string // what the note claims, by the word of the line
	asMeasured bool                // claim all that was measured
	claims     []string            // lines of the note
	paths      []string            // what is committed, from the root
	kept       bool                // the commit is made
	remarks    diag.List           // what is worth knowing of the note
}

func keepCommand(a *app) *cobra.Command {
	var k keeping
	c := &cobra.Command{
		Use:   "keep [NAME [PIECE...]]",
		Short: "Keep this version with a named note: what changed and why",
		Long: `Keep shows what changed since the last version (pieces, width moved per level,
girth and gap), then commits the pattern files with a note: its NAME and why.
With names of pieces only those are kept, and the fitting that the note answers.
The measures of a body never are. On a terminal it asks for what the command
line does not say.

A version whose seams do not match is refused, with the cure; --unfinished
keeps it all the same, and says in the note exactly which findings it accepts.

The note may claim what the change does and what it leaves alone; each claim is
measured, and an untrue one is refused. What was measured is offered on a
terminal; --as-measured takes all of it.`,
		Example: `  seamkeep keep release-hip --because "fitting 2 pulled at the hip"
  seamkeep keep mock-up side-back back --because "first cut" --tag mock-up-1
  seamkeep keep hip --because "it pulled" --changes "girth low-hip +24"`,
		ValidArgsFunction: func(c *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
			if len(args) == 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return a.completePieces(c, args, word)
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				k.name, k.pieces = args[0], args[1:]
			}
			return a.keep(&k)
		},
	}
	f := c.Flags()
	f.StringVar(&k.subject, "subject", "", "first line of the note (default: NAME)")
	f.StringVar(&k.because, "because", "", "why: what the fitting showed")
	f.StringVar(&k.tag, "tag", "", "tag this version, such as mock-up-1")
	k.lines = map[string][]string{}
	for _, one := range []struct{ word, flag, help string }{
		{"Changes", "changes", "claim: a measure that changed, such as \"girth low-hip +24\""},
		{"Keeps", "keeps", "claim: measures that stayed, such as \"girth waist\""},
		{"Only", "only", "claim: the only pieces that changed"},
		{"Does", "does", "the alteration in words, which are claims too"},
		{answers, "answers", "the fitting that this version answers"},
	} {
		f.Var(lineFlag{k.lines, one.word}, one.flag, one.help)
	}
	_ = c.RegisterFlagCompletionFunc("answers", func(c *cobra.Command, _ []string, word string) ([]string, cobra.ShellCompDirective) {
		return a.completeFittings(c, nil, word)
	})
	f.BoolVar(&k.asMeasured, "as-measured", false, "claim all that was measured")
	f.BoolVar(&k.unfinished, "unfinished", false, "keep it although something is wrong; the note lists what")
	f.BoolVar(&k.fittings, "fittings", false, "with names of pieces: take the fittings along")
	f.BoolVar(&k.amend, "amend", false, "replace the last version instead of adding one")
	return c
}

func (a *app) keep(k *keeping) error {
	p, err := a.locate()
	if err != nil {
		return err
	}
	if p.repo == nil || p.repo.Bare() {
		return unreadable(fmt.Errorf("a version is kept in a git repository with a working tree, and none is here\nstart one with: git init, or seamkeep new NAME"))
	}
	if _, _, ok := repo.GitAvailable(); !ok {
		return unreadable(fmt.Errorf("git is not on PATH; keep commits through it\ninstall git, then run this again"))
	}
	if k.amend {
		k.takeOver(p)
	}
	if err := a.checkKeeping(p, k); err != nil {
		return err
	}
	if err := p.underWay(k); err != nil {
		return err
	}
	before, err := a.tidyLengths(p, k.pieces)
	if err != nil {
		return err
	}
	if err = a.keepTidied(p, k); err == nil || k.kept || len(before) == 0 {
		return err
	}
	if back := writeFiles(p.root, before); back != nil {
		return errors.Join(err, fmt.Errorf("put the edge lengths back: %w", back))
	}
	a.say("the edge lengths are again as they were")
	return err
}

// takeOver gives an amend the name and the reason of the version that it replaces, where
// it has none of its own.
func (k *keeping) takeOver(p *place) {
	head, err := p.repo.Head()
	if err != nil || head == nil {
		return
	}
	n := noteOf(head)
	if k.name == "" && len(n.names) == 1 {
		k.name = n.names[0]
	}
	if k.because == "" && k.name == n.name {
		k.because = n.because
	}
	if k.subject == "" && k.name == n.name && head.Subject() != n.name {
		k.subject = head.Subject()
	}
}

// keepTidied judges, asks and commits.
func (a *app) keepTidied(p *place, k *keeping) error {
	if err := a.choosePaths(p, k); err != nil {
		return err
	}
	if err := a.keepsPrivate(p, k); err != nil {
		return err
	}
	stage, err := p.stage(k)
	if err != nil {
		return err
	}
	defer stage.close()
	v, q, err := stage.judge(p, k)
	if err != nil {
		return err
	}
	accept, err := a.acceptance(v, k)
	if err != nil {
		return err
	}
	if !isTerminal(a.in) { // all is said already: what is refused is told alone
		if err := a.claimed(v, q, k, accept); err != nil {
			return err
		}
	}
	if err := a.showKeeping(p, v); err != nil {
		return err
	}
	a.talk().Problems(shown(v.Problems()))
	if n := len(v.Known()); n > 0 {
		a.say(report.Plural(n, "warning") + " as before: seamkeep check")
	}
	if isTerminal(a.in) {
		if err := a.ask(k); err != nil {
			return err
		}
		if len(v.Folders) > 0 {
			if err := a.askAnswers(p, k); err != nil {
				return err
			}
		}
		if err := a.claimed(v, q, k, accept); err != nil {
			return err
		}
	}
	a.talk().Problems(k.remarks)
	return a.commit(p, k, accept)
}

// checkKeeping refuses names that cannot be written.
func (a *app) checkKeeping(p *place, k *keeping) error {
	k.subject, k.because = strings.TrimSpace(k.subject), strings.TrimSpace(k.because)
	if why := pattern.NameFault(k.name); k.name != "" && why != "" {
		return usage("the note's name %q %s\nan example: seamkeep keep release-hip --because \"fitting 2 pulled\"", report.Clean(k.name), why)
	}
	for label, s := range map[string]string{"--subject": k.subject, "--because": k.because} {
		if s != report.Clean(s) {
			return usage("%s holds control characters or a line end; write plain text on one line", label)
		}
	}
	if k.name == "" && !isTerminal(a.in) {
		return usage("no name for the note\nsay it: seamkeep keep NAME --because TEXT")
	}
	if k.because == "" && !isTerminal(a.in) {
		return usage("no reason for the change\nsay it: seamkeep keep %s --because \"what the fitting showed\"", k.name)
	}
	if k.tag != "" {
		if _, err := p.repo.Git("check-ref-format", "refs/tags/"+k.tag); err != nil || strings.HasPrefix(k.tag, "-") {
			return usage("git cannot use %q as a tag", report.Clean(k.tag))
		}
		if _, err := p.repo.Git("rev-parse", "--verify", "--quiet", "refs/tags/"+k.tag); err == nil {
			return usage("there is a tag %q already; choose another", k.tag)
		}
	}
	_, err := p.files(k.pieces)
	return err
}

// tidyLengths writes the true length of each edge that records another one,
// and gives the files as they were.
func (a *app) tidyLengths(p *place, pieces []string) (before map[string][]byte, err error) {
	names, err := p.files(pieces)
	if err != nil {
		return nil, err
	}
	work, err := p.snapshot("work")
	if err != nil {
		return nil, unreadable(err)
	}
	changed, before := map[string][]byte{}, map[string][]byte{}
	for _, n := range names {
		if text.KindOf(n) != text.PieceFile {
			continue
		}
		src, err := fs.ReadFile(work, n)
		if err != nil {
			return nil, unreadable(err)
		}
		piece, problems := text.ReadPiece(n, src)
		if problems.HasErrors() {
			continue // the judge shows them
		}
		timely := pattern.Clone(piece)
		text.Lengths(timely)
		if pattern.EqualPieces(piece, timely) {
			continue
		}
		before[n] = src
		if changed[n], err = text.Update(n, src, timely); err != nil {
			return nil, err
		}
	}
	if err := writeFiles(p.root, changed); err != nil {
		return nil, err
	}
	for _, n := range sortedNames(changed) {
		a.say("wrote the true edge lengths into " + n)
	}
	return before, nil
}

// showKeeping tells what is about to be kept.
func (a *app) showKeeping(p *place, v *judge.Verdict) error {
	t := a.text()
	for _, f := range v.Folders {
		if f.After == nil || codeOf(f.Problems) == exitUnreadable {
			continue
		}
		if f.BeforeFaulty {
			t.Para("the last version has faults, so what changed since cannot be told", "  ")
			f.Before = nil
		}
		c := compare.Garments(f.Before, f.After, compare.Options{Body: f.Body})
		for _, s := range c.Sentences() {
			t.Para(s, "  ")
		}
		for _, piece := range c.ChangedPieces() {
			if w := widthsMoved(piece); w != "" {
				t.Para(w, "  ")
			}
		}
		t.GirthAndGap(c)
		a.caution(f.After, f.Body)
	}
	return t.Err
}

// widthsMoved says how much width a piece gained or lost per level.
func widthsMoved(p compare.PieceChange) string {
	var parts []string
	for _, l := range p.Widths {
		if d, ok := l.Delta(); ok && l.Differs(compare.Seen) {
			parts = append(parts, fmt.Sprintf("%+.1f at %s", d, l.Level))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "width " + p.Name + " " + strings.Join(parts, ", ")
}

// acceptance gives the findings that the note will accept, or shows them and refuses. What the
// last note accepted and is still there is listed again, so that it stays said
// until it is mended.
func (a *app) acceptance(v *judge.Verdict, k *keeping) ([]string, error) {
	problems := v.Problems()
	errs := problems.Only(diag.Error)
	if len(errs) > 0 && (!k.unfinished || codeOf(errs) == exitUnreadable) {
		a.onOneScreen(problems, seeStaged)
	}
	if codeOf(errs) == exitUnreadable {
		return nil, unreadable(errors.New("a file that cannot be read cannot be kept, not even unfinished"))
	}
	if len(errs) > 0 && !k.unfinished {
		a.say("")
		return nil, refused("%s: not kept; git is as it was\nmend it, or keep it as it is with --unfinished", report.Count(errs))
	}
	for _, f := range v.Folders {
		errs = append(errs, f.Inherited...)
	}
	seen := map[string]bool{}
	var accept []string
	for _, x := range errs {
		if !seen[x.Address()] {
			seen[x.Address()] = true
			accept = append(accept, x.Address())
		}
	}
	return accept, nil
}

// ask fills in what the command line left open.
func (a *app) ask(k *keeping) error {
	in := a.answers()
	for k.name == "" {
		answer, err := a.question(in, "name of this note (such as release-hip): ")
		if err != nil {
			return err
		}
		if why := pattern.NameFault(answer); why != "" {
			a.say("the name " + why)
			continue
		}
		k.name = answer
	}
	for k.because == "" {
		answer, err := a.question(in, "why (what the fitting showed): ")
		if err != nil {
			return err
		}
		k.because = report.Clean(answer)
	}
	return nil
}

// askAnswers asks of fittings that are kept for the first time, or differ, whether the
// version answers them; what the command line says is not asked for.
func (a *app) askAnswers(p *place, k *keeping) error {
	if len(k.lines[answers]) > 0 {
		return nil
	}
	for _, n := range k.paths {
		if !p.fittingFile(n) {
			continue
		}
		name := fittingName(n)
		answer, err := a.question(a.answers(), "does it answer the fitting "+report.Clean(name)+"? [y]es, [N]o: ")
		if err != nil {
			return err
		}
		if answer = strings.ToLower(answer); answer == "y" || answer == "yes" {
			k.lines[answers] = append(k.lines[answers], name)
		}
	}
	return nil
}

func (a *app) question(in *bufio.Reader, prompt string) (string, error) {
	fmt.Fprint(a.err, prompt)
	line, err := in.ReadString('\n')
	if err != nil && line == "" {
		fmt.Fprintln(a.err)
		return "", refused("not kept: no answer")
	}
	return strings.TrimSpace(line), nil
}
