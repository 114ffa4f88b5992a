package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/material"
	"seamkeep/pattern/sheet"
)

// materialRow is one thing to have, as all forms of the list show it. Of the
// figures those that do not apply are not set.
type materialRow struct {
	kind, what string
	count      int
	width      pattern.Opt // mm, or the diameter
	length     pattern.Opt // mm, of each
	remark     string
}

// materialSection is the rows of a kind.
type materialSection struct {
	title string
	rows  []materialRow
	how   string // how it is reckoned
}

// Materials writes the material list.
func (t *Text) Materials(l material.List) {
	t.list(MaterialsList(l))
}

// MaterialsList is the material list as a terminal and a page show it.
func MaterialsList(l material.List) sheet.List {
	out := sheet.List{Title: "Material list", Before: []sheet.Line{
		{Words: versionLine(l.Garment, l.Version), Hang: 2},
		{Words: keptWord(l.Version), Hang: 2},
	}}
	for _, s := range materialSections(l) {
		part := sheet.Part{Head: s.title}
		for _, r := range s.rows {
			part.Entries = append(part.Entries, []sheet.Line{{Words: r.sentence(), Indent: 2, Hang: 4}})
		}
		if s.how != "" {
			part.Entries = append(part.Entries, []sheet.Line{{Words: s.how, Indent: 2, Hang: 4}})
		}
		out.Parts = append(out.Parts, part)
	}
	for _, c := range append([]string{noThread}, l.Cautions...) {
		out.After = append(out.After, sheet.Line{Words: c, Hang: 2})
	}
	return out
}

const noThread = "Thread is left out: no formula with a source was found."

// sentence gives a row in words: "for front: 4, 7 wide, 282.0 long; as its mark
// records".
func (r materialRow) sentence() string {
	var size []string
	if r.count > 0 {
		size = append(size, strconv.Itoa(r.count))
	}
	if r.width.Set {
		word := "wide"
		if r.kind == kindButton {
			word = "across"
		}
		size = append(size, trimmed(r.width.Value)+" "+word)
	}
	if r.length.Set {
		size = append(size, fmt.Sprintf("%.1f long", r.length.Value))
	}
	s := r.what
	if len(size) > 0 {
		s += ": " + strings.Join(size, ", ")
	}
	if r.remark == "" {
		return s
	}
	if len(size) == 0 {
		return s + ": " + r.remark
	}
	return s + "; " + r.remark
}

// The kinds of rows.
const (
	kindCloth   = "cloth"
	kindElastic = "elastic"
	kindBone    = "bone"
	kindCord    = "cord"
	kindButton  = "button"
	kindEyelet  = "eyelet"
	kindHook    = "hook"
	kindSlide   = "slide"
	kindLace    = "lace"
	kindBinding = "binding"
)

// materialSections gives what is needed, kinds of which there are none left out.
func materialSections(l material.List) []materialSection {
	all := []materialSection{
		clothSection(l), elasticSection(l),
		stripSection(l, pattern.Bone, kindBone, "bones", l.Bones), stripSection(l, pattern.Cord, kindCord, "cords", l.Cords),
		buttonSection(l), eyeletSection(l), hookSection(l), bindingSection(l),
	}
	var out []materialSection
	for _, s := range all {
		if len(s.rows) > 0 {
			out = append(out, s)
		}
	}
	return out
}

func clothSection(l material.List) materialSection {
	s := materialSection{title: "cloth"}
	laid := false
	for _, c := range l.Cloths {
		r := materialRow{kind: kindCloth, what: clothName(c.Name)}
		r.remark = fmt.Sprintf("%s, %.3f m2 on the sewing lines, %.3f m2 of allowances", Plural(c.Pieces, "piece"), c.Area/1e6, c.Allowance/1e6)
		if c.Lay.Why != "" {
			r.remark += "; no lay: " + c.Lay.Why
		} else {
			laid = true
			r.width, r.length = pattern.Some(c.Lay.Width), pattern.Some(c.Lay.Length)
			r.remark += fmt.Sprintf("; lay %.0f %% filled by the pieces, %.0f %% by their boxes", 100*c.Lay.Filled, 100*c.Lay.Boxed)
		}
		s.rows = append(s.rows, r)
	}
	if laid {
		s.how = fmt.Sprintf("lay: an estimate. Boxes round the pieces with their allowances, %g mm apart, grain along the length, none turned, pairs laid "+
			"mirrored, one open layer, the tallest, largest or widest first, whichever needs least; real outlines laid into each other need less. Add what the cloth shrinks.", material.Between)
	}
	return s
}

func elasticSection(l material.List) materialSection {
	s := materialSection{title: "elastic"}
	for _, e := range l.Elastics {
		r := materialRow{kind: kindElastic, what: "for " + e.Piece, count: e.Count, length: pattern.Some(e.Length)}
		if e.HasWidth {
			r.width = pattern.Some(e.Widest)
		}
		r.remark = fmt.Sprintf("stretched %s %% in use", trimmed(e.InUse))
		if e.HasWidth {
			r.remark += fmt.Sprintf(" to %.1f wide", e.Worn())
		}
		if e.Of.Set {
			r.remark += fmt.Sprintf("; tested to %s %%", trimmed(e.Of.Value))
		} else {
			r.remark += ", not tested"
		}
		if e.Tested != "" {
			r.remark += " on " + e.Tested
		} else if e.Of.Set {
			r.remark += ", without a date"
		}
		if e.HasWidth && e.Widest-e.Narrowest > 0.05 {
			r.remark += fmt.Sprintf("; %.1f at the narrowest level", e.Narrowest)
		}
		if e.Allowances {
			r.remark += "; its allowances come on top"
		}
		s.rows = append(s.rows, r)
	}
	return s
}

func stripSection(l material.List, mark pattern.MarkKind, kind, title string, list []material.Strip) materialSection {
	s := materialSection{title: title}
	total, reckoned := 0.0, false
	for _, x := range list {
		r := materialRow{kind: kind, what: "for " + strings.Join(x.Pieces, ", "), count: x.Count, width: x.Width, length: pattern.Some(x.Length)}
		if x.Record {
			r.remark = "as its mark records"
		} else {
			reckoned = true
			r.remark = fmt.Sprintf("its channel is %.1f", x.Channel)
		}
		total += float64(x.Count) * x.Length
		s.rows = append(s.rows, r)
	}
	s.how = fmt.Sprintf("in all %.2f m", total/1000)
	if reckoned {
		s.how += fmt.Sprintf("; length = as drawn, at most the channel less %s at each end", trimmed(l.Clear[mark]))
	}
	return s
}

func buttonSection(l material.List) materialSection {
	s := materialSection{title: "buttons"}
	for _, b := range l.Buttons {
		r := materialRow{kind: kindButton, what: "for " + b.Of, count: b.Count, width: b.Diameter}
		if b.Closure {
			r.what = "for closure " + b.Of
		}
		switch {
		case !b.Diameter.Set:
			r.remark = "no diameter recorded"
		case b.Thick:
			r.remark = fmt.Sprintf("buttonholes %.1f long, diameter and thickness", b.Hole.Value)
		default:
			r.remark = fmt.Sprintf("buttonholes %.1f long, diameter and 1/8 in, since no thickness is recorded", b.Hole.Value)
		}
		s.rows = append(s.rows, r)
	}
	return s
}

func eyeletSection(l material.List) materialSection {
	s := materialSection{title: "eyelets and laces"}
	for _, e := range l.Eyelets {
		r := materialRow{kind: kindEyelet, what: "eyelets for closure " + e.Closure, count: e.Count, remark: fmt.Sprintf("%d on each edge", e.Side)}
		if e.Pitch.Set {
			r.remark += fmt.Sprintf(", pitch %.1f", e.Pitch.Value)
		}
		lace := materialRow{kind: kindLace, what: "lace for closure " + e.Closure, count: e.Laces, length: e.Lace.Length}
		switch {
		case !e.Lace.Length.Set:
			lace.remark = "length not known: " + e.Lace.Why
		case e.Lace.Wanted:
			lace.remark = fmt.Sprintf("laced at %.1f, the middle of the wanted gap, eyelets %.1f from their edge", e.Lace.Gap, e.Lace.Inset)
		default:
			lace.remark = fmt.Sprintf("laced at %.1f, the mean of the predicted gap, eyelets %.1f from their edge", e.Lace.Gap, e.Lace.Inset)
			if e.Lace.Over > 0 {
				lace.remark += fmt.Sprintf("; the edges overlap at %s, which counts as laced shut", Plural(e.Lace.Over, "level"))
			}
		}
		s.rows = append(s.rows, r, lace)
	}
	if len(s.rows) > 0 {
		s.how = fmt.Sprintf("lace = w + 2 (n - 1) sqrt(w^2 + pitch^2) + 2 x %g to tie, w = gap + 2 x the distance of the eyelets from their edge: "+
			"criss-cross, n pairs of eyelets; to be opened wide it needs more", material.LaceEnd)
	}
	return s
}

func hookSection(l material.List) materialSection {
	s := materialSection{title: "hooks and slide fasteners"}
	for _, h := range l.Hooks {
		r := materialRow{kind: kindHook, what: "hooks and eyes for closure " + h.Closure, count: h.Count}
		if h.Pitch.Set {
			r.remark = fmt.Sprintf("pitch %.1f", h.Pitch.Value)
		}
		s.rows = append(s.rows, r)
	}
	for _, x := range l.Slides {
		r := materialRow{kind: kindSlide, what: "slide fastener for closure " + x.Closure, count: x.Count, length: x.Length}
		if x.Edge.Set {
			r.remark = fmt.Sprintf("it closes %.1f", x.Edge.Value)
		}
		if !x.Length.Set {
			r.remark = "no length recorded; " + r.remark
		}
		s.rows = append(s.rows, r)
	}
	return s
}

func bindingSection(l material.List) materialSection {
	s := materialSection{title: "binding"}
	for _, b := range l.Bindings {
		s.rows = append(s.rows, materialRow{kind: kindBinding, what: "for run " + b.Run, length: pattern.Some(b.Buy), remark: fmt.Sprintf("the run is %.1f, both halves", b.Length)})
	}
	s.how = "runs whose allowance is recorded as 0, and 10 %: common practice"
	return s
}

// MaterialsMarkdown writes the material list for a hosting page.
func MaterialsMarkdown(w io.Writer, l material.List) error {
	var b strings.Builder
	fmt.Fprintf(&b, "### Material list: %s\n\n**%s**\n", markdownText(versionLine(l.Garment, l.Version)), markdownText(keptWord(l.Version)))
	for _, s := range materialSections(l) {
		t := table{Title: s.title, Head: []string{"for", "count", "width", "length", "remark"}, Words: true}
		for _, r := range s.rows {
			t.Rows = append(t.Rows, row{Cells: []string{strings.TrimPrefix(r.what, "for "), counted(r.count), optFigure(r.width, 1), optFigure(r.length, 1), r.remark}})
		}
		if s.how != "" {
			t.Under = []string{s.how}
		}
		t.markdown(&b)
	}
	for _, c := range append([]string{noThread}, l.Cautions...) {
		fmt.Fprintf(&b, "\n%s\n", markdownText(c))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func counted(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func optFigure(o pattern.Opt, decimals int) string {
	if !o.Set {
		return ""
	}
	return figure(o.Value, decimals)
}

// MaterialsCSV writes the material list as a table, a row for each thing, in mm.
func MaterialsCSV(w io.Writer, l material.List) error {
	out := csv.NewWriter(w)
	rows := [][]string{{"kind", "for", "count", "width", "length", "remark", "version", "kept"}}
	for _, s := range materialSections(l) {
		for _, r := range s.rows {
			rows = append(rows, []string{
				r.kind, csvText(strings.TrimPrefix(r.what, "for ")), counted(r.count), optFigure(r.width, 3), optFigure(r.length, 3), csvText(r.remark),
				csvText(l.Version.Label), strconv.FormatBool(l.Version.Kept),
			})
		}
	}
	if err := out.WriteAll(rows); err != nil {
		return fmt.Errorf("write CSV: %w", err)
	}
	return nil
}
