package overlay

import (
	"fmt"
	"io"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/svg"
)

// Options are the words on a sheet. All of them may come from strangers.
type Options struct {
	Title    string   // of the garment
	From, To string   // the two versions
	Note     []string // of the later version: its name, then why
	Verdict  string   // whether the figures agree with the note; may be empty
	Prefix   string   // of every id: pictures with different ones can stand in one page
}

// MostPieces is how many pieces a sheet draws; further ones are listed by name.
const MostPieces = 24

// Measures of the sheet, mm.
const (
	margin     = 12.0
	leastWidth = 186.0 // with the margins, an A4 page (ISO 216)
	columnMin  = 158.0
	columnMax  = 230.0
	columnGap  = 14.0
)

// Sheet draws all changed pieces of a Change on one sheet, 1:1 in mm, each in
// its own frame, in the order in which they go round the body. What cannot be
// written is the error.
func Sheet(w io.Writer, c *compare.Change, o Options) error {
	list := inOrder(c, c.ChangedPieces())
	return newSheet(c, o, title(o, ""), list, faultLines(c, "")).write(w)
}

// Piece draws one piece of a Change like Sheet. A name that neither version has
// is an error; a piece that did not change is drawn thin.
func Piece(w io.Writer, c *compare.Change, name string, o Options) error {
	for _, p := range c.Pieces {
		if p.Name == name {
			return newSheet(c, o, title(o, name), []compare.PieceChange{p}, faultLines(c, name)).write(w)
		}
	}
	return fmt.Errorf("neither version has a piece %q", name)
}

func title(o Options, piece string) string {
	t := svg.CleanText(o.Title)
	if strings.TrimSpace(t) == "" {
		t = "Garment"
	}
	if piece != "" {
		t += ": " + piece
	}
	return t
}

// inOrder sorts pieces as they go round the body, then by name.
func inOrder(c *compare.Change, list []compare.PieceChange) []compare.PieceChange {
	place := map[string]int{}
	for _, g := range []*pattern.Garment{c.After, c.Before} {
		if g == nil {
			continue
		}
		for _, m := range g.Around {
			if _, ok := place[m.Name]; !ok {
				place[m.Name] = len(place)
			}
		}
	}
	var round, rest []compare.PieceChange
	at := make([]*compare.PieceChange, len(place))
	for i, p := range list {
		if n, ok := place[p.Name]; ok {
			at[n] = &list[i]
		} else {
			rest = append(rest, p)
		}
	}
	for _, p := range at {
		if p != nil {
			round = append(round, *p)
		}
	}
	return append(round, rest...)
}

// sheet is a picture laid out.
type sheet struct {
	title, desc, prefix string
	head, key           *stack
	rows                []figureRow
	blocks              []block
	width, height       float64 // within the margins
}

// block is a stack and its place below the key.
type block struct {
	*stack
	x, y float64
}

const blockGap = 9.0

func newSheet(c *compare.Change, o Options, title string, list []compare.PieceChange, faults []string) *sheet {
	drawn := list[:min(len(list), MostPieces)]
	more := notAmong(inOrder(c, c.ChangedPieces()), drawn)
	var figs []*figure
	next := 1
	for _, p := range drawn {
		f := newFigure(c, p, next)
		next += len(f.rows)
		figs = append(figs, f)
	}
	s := &sheet{title: title, desc: describe(c, o, list, faults), prefix: o.Prefix, rows: inRows(figs), width: leastWidth}
	if len(figs) > 1 {
		s.width = 2*columnMin + columnGap
	}
	for _, r := range s.rows {
		s.width = max(s.width, r.width)
	}
	s.width = tenth(s.width)
	s.head = headStack(c, o, title, list, faults, s.width)
	s.key = &stack{width: s.width}
	if len(figs) > 0 {
		s.key.key(anyFaint(figs))
	}
	s.flow(c, o, figs, more)
	s.measure()
	return s
}

// anyFaint tells whether some mark is drawn as one that did not change.
func anyFaint(figs []*figure) bool {
	for _, f := range figs {
		for _, m := range f.marks {
			if m.fate == markSame && m.kind != "notch" {
				return true
			}
		}
	}
	return false
}

// notAmong gives the pieces of a list that are not drawn.
func notAmong(list, drawn []compare.PieceChange) []compare.PieceChange {
	names := map[string]bool{}
	for _, p := range drawn {
		names[p.Name] = true
	}
	var out []compare.PieceChange
	for _, p := range list {
		if !names[p.Name] {
			out = append(out, p)
		}
	}
	return out
}

// flow sets the blocks in columns, each in the shortest one; they are drawn in
// their own order, in which they are also read out.
func (s *sheet) flow(c *compare.Change, o Options, figs []*figure, more []compare.PieceChange) {
	n := max(1, int((s.width+columnGap)/(columnMin+columnGap)))
	width := min(columnMax, (s.width-float64(n-1)*columnGap)/float64(n))
	var list []*stack
	for _, f := range figs {
		list = append(list, pieceBlock(f, width))
	}
	list = append(list, garmentBlocks(c, width)...)
	list = append(list, listBlocks(c, more, width)...)
	filled := make([]float64, n)
	for _, b := range list {
		to := 0
		for i := range filled {
			if filled[i] < filled[to]-1e-9 {
				to = i
			}
		}
		s.blocks = append(s.blocks, block{b, float64(to) * (width + columnGap), filled[to]})
		filled[to] += b.height + blockGap
	}
}

// listBlocks name the pieces that are not drawn.
func listBlocks(c *compare.Change, more []compare.PieceChange, width float64) []*stack {
	var out []*stack
	list := func(title string, names []string) {
		if len(names) > 0 {
			s := &stack{width: width}
			s.line(title, heading())
			s.space(1)
			s.para(strings.Join(names, ", "), plain(), 200)
			out = append(out, s)
		}
	}
	var changed, same []string
	for _, p := range more {
		changed = append(changed, p.Name+" ("+string(p.Status)+")")
	}
	for _, p := range inOrder(c, c.Pieces) {
		if p.Status == compare.Unchanged {
			same = append(same, p.Name)
		}
	}
	list("Changed too, not drawn here", changed)
	if len(changed) > 0 {
		out[0].space(1)
		out[0].para("To see one of them: seamkeep overlay --piece "+more[0].Name+" -o FILE.svg", small(), 4)
	}
	list("Did not change", same)
	return out
}

func (s *sheet) measure() {
	s.height = s.head.height + s.key.height
	for _, r := range s.rows {
		s.height += rowGap + tenth(r.height())
	}
	tallest := 0.0
	for _, b := range s.blocks {
		tallest = max(tallest, b.y+b.height)
	}
	s.height += 2*rowGap + tallest
}

func (s *sheet) write(w io.Writer) error {
	pen := svg.New(w, svg.Picture{
		Width: tenth(s.width + 2*margin), Height: math.Ceil(s.height + 2*margin),
		Title: s.title, Desc: s.desc, Prefix: s.prefix,
	})
	pg := newPage(pen)
	x, y := margin, margin
	s.head.draw(pg, x, y)
	y += s.head.height
	for _, r := range s.rows {
		y += rowGap
		r.draw(pg, x, y)
		y += tenth(r.height())
	}
	y += rowGap
	s.key.draw(pg, x, y)
	y += s.key.height + rowGap
	for _, b := range s.blocks {
		b.draw(pg, x+b.x, y+b.y)
	}
	if err := pen.Close(); err != nil {
		return fmt.Errorf("drawing the overlay: %w", err)
	}
	return nil
}
