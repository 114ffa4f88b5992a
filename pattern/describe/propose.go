package describe

import (
	"fmt"
	"strings"

	"seamkeep/pattern"
)

// Propose looks at a garment and lists what could be added to it, numbered from
// 1: the half, names, around, seams, runs, closures, notches. Each proposal
// speaks of the garment as it is once those before it that are no questions are
// accepted. Lengths are within 1e-6 mm; the sentences round to 0.1.
//
// Propose after accepting all proposes nothing but the questions that were left
// open. A piece whose outline is broken is left out, and a garment without
// pieces gets no proposal. The same garment and hints give the same list; the
// garment is not changed.
func Propose(g *pattern.Garment, h Hints) []Proposal {
	if g == nil || len(g.Pieces) == 0 {
		return nil
	}
	d := &draft{g: pattern.Clone(g), hints: h}
	d.g.SortPieces()
	d.proposeHalf()
	d.proposeNames()
	d.seePanels()
	d.proposeOrder()
	d.proposeRuns()
	d.proposeClosures()
	d.proposeNotches()
	return d.list
}

// draft is a garment on its way, with all proposals so far accepted.
type draft struct {
	g      *pattern.Garment
	hints  Hints
	list   []Proposal
	panels []*standing // of the pieces that can go round
	order  []*standing // front to back; empty where it is not known
}

// standing is a panel with what its upright sides measure.
type standing struct {
	panel
	frontHeld, backHeld held
}

// put numbers a proposal.
func (d *draft) put(p Proposal) {
	p.Number = len(d.list) + 1
	d.list = append(d.list, p)
}

// add numbers a proposal and carries it out on the draft; one for which there is
// no room is left out.
func (d *draft) add(p Proposal) {
	if err := apply(d.g, p.Change, nil); err == nil {
		d.put(p)
	}
}

// ask adds proposals of which one can hold.
func (d *draft) ask(list ...Proposal) {
	first := len(d.list) + 1
	for _, p := range list {
		p.Choice = first
		d.put(p)
	}
}

// proposeHalf proposes what the pieces draw where the garment does not say it.
// Pieces of equal names but for left and right draw the whole.
func (d *draft) proposeHalf() {
	if d.g.Half != "" {
		return
	}
	for _, p := range d.g.Pieces {
		if other := swapped(p.Name); other != "" && d.g.Piece(other) != nil {
			d.add(Proposal{Kind: OfHalf, Sentence: fmt.Sprintf("whole: pieces %s and %s draw both halves", p.Name, other), Change: Change{Half: pattern.Whole}})
			return
		}
	}
	d.add(Proposal{Kind: OfHalf, Sentence: "half left: the pieces draw one half of the garment", Change: Change{Half: pattern.LeftHalf}})
}

// swapped gives a name with left for right; empty where it has neither.
func swapped(name string) string {
	words := strings.Split(name, "-")
	for i, w := range words {
		if w == "right" {
			words[i] = "left"
			return strings.Join(words, "-")
		}
	}
	return ""
}

// loose are words for pieces that hang on or lie under others and do not go
// round the body. Common practice, no source.
func loose(word string) bool {
	switch word {
	case "strap", "straps", "belt", "tie", "ties", "loop", "tab", "flap", "binding", "pocket", "facing", "lining",
		"interfacing", "collar", "cuff", "sleeve", "hood", "frill", "ruffle", "placket":
		return true
	}
	return false
}

// goesRound tells whether a piece may lie round the body: it is not apart, its
// name is not that of a strap or the like, and it reaches a level where the
// garment has any.
func goesRound(g *pattern.Garment, p *pattern.Piece) bool {
	if g.Option(p.Name).Apart || len(g.Levels) > 0 && !reaches(g, p) {
		return false
	}
	title := strings.FieldsFunc(strings.ToLower(p.Title), func(c rune) bool { return c < 'a' || c > 'z' })
	for _, w := range append(title, strings.Split(p.Name, "-")...) {
		if loose(w) {
			return false
		}
	}
	return true
}

func reaches(g *pattern.Garment, p *pattern.Piece) bool {
	box := p.Outline().Bounds()
	for _, l := range g.Levels {
		if y, ok := g.LevelOn(p, l.Name); ok && y >= box.Min.Y && y <= box.Max.Y {
			return true
		}
	}
	return false
}

// seePanels measures the pieces that can go round and have both upright sides.
func (d *draft) seePanels() {
	for _, p := range d.g.Pieces {
		if !goesRound(d.g, p) {
			continue
		}
		s := &standing{panel: place(p)}
		if s.front.known() {
			s.frontHeld = hold(d.g, s.front, false)
		}
		if s.back.known() {
			s.backHeld = hold(d.g, s.back, true)
		}
		d.panels = append(d.panels, s)
	}
}

func names(list []*standing) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = s.piece.Name
	}
	return out
}
