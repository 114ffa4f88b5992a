package overlay

import (
	"fmt"
	"io"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/svg"
)

// onlyForLooking stands on every picture of findings.
const onlyForLooking = "for looking, not for cutting"

// MostFindings is how many findings a picture shows and lists; of further ones it
// gives the count.
const MostFindings = 200

// Findings draws what is wrong with one version of a garment, 1:1 in mm: each
// piece that a finding is about, with the finding's number at its place and a line
// to the exact point; both edges of a seam and the stretch where they differ most;
// the panels side by side where findings are about runs that can be followed; and a table of all of them. The number of a finding is its place in the
// list, from 1. A finding without a point stands at the middle of its edge or
// piece, one without a piece in the table alone; so does one on a piece that cannot
// be drawn. g may be nil, or part of a garment whose files are faulty. Of the
// options Title, To (which version) and Prefix are used. What cannot be written is
// the error.
func Findings(w io.Writer, g *pattern.Garment, list diag.List, o Options) error {
	if g == nil {
		g = &pattern.Garment{}
	}
	if o.Title == "" {
		o.Title = g.Title
	}
	s := newFindingSheet(g, list)
	return s.write(w, o)
}

// finding is a problem with its number and where it lies on the cloth.
type finding struct {
	diag.Problem
	number string
	spots  []findingSpot
}

// title says a finding in one line, for readers who do not see the picture.
func (f finding) title() string {
	return f.number + ", " + f.Severity.String() + ": " + f.Message()
}

// findingSheet is a picture of findings laid out.
type findingSheet struct {
	g       *pattern.Garment
	list    []finding // the ones shown
	all     diag.List
	strip   *findingStrip // nil where no finding is about a run
	rows    []figureRow
	undrawn []string // pieces with findings that are not drawn, and why
	quiet   []string // pieces that no finding speaks of
	width   float64
	beside  float64 // width of the table where it stands beside the pieces, else 0
}

func newFindingSheet(g *pattern.Garment, list diag.List) *findingSheet {
	s := &findingSheet{g: g, all: list, width: leastWidth}
	for i, p := range list[:min(len(list), MostFindings)] {
		s.list = append(s.list, finding{p, fmt.Sprint(i + 1), spotsOf(g, p)})
	}
	c := compare.Garments(g, g, compare.Options{})
	s.strip = newFindingStrip(c, g, s.list)
	s.figures(c)
	s.widen()
	return s
}

// figures lays out the pieces that findings are about, as they go round the body.
func (s *findingSheet) figures(c *compare.Change) {
	on := map[string][]pin{}
	for _, f := range s.list {
		for _, spot := range f.spots {
			if !s.strip.shows(f, spot) {
				on[spot.piece] = append(on[spot.piece], newPin(f, spot))
			} else if on[spot.piece] == nil {
				on[spot.piece] = []pin{} // something to say, but not here
			}
		}
	}
	for _, f := range s.list {
		for _, name := range named(s.g, f.Problem) {
			if on[name] == nil {
				on[name] = []pin{} // it is spoken of, and drawn elsewhere or not at all
			}
		}
	}
	var figs []*figure
	for _, p := range inOrder(c, c.Pieces) {
		list, about := on[p.Name]
		why := cannotDraw(p.After)
		switch {
		case !about:
			s.quiet = append(s.quiet, p.Name)
		case len(list) == 0: // the strip has it all, or it is but spoken of
		case why != "":
			s.undrawn = append(s.undrawn, p.Name+" ("+why+")")
		case len(figs) == MostPieces:
			s.undrawn = append(s.undrawn, p.Name)
		default:
			figs = append(figs, pinnedFigure(c, p, list))
		}
	}
	s.rows = inRows(figs)
}

// pinnedFigure is a piece with the findings on it.
func pinnedFigure(c *compare.Change, p compare.PieceChange, list []pin) *figure {
	f := bareFigure(c, p)
	f.room = f.box.grow(3)
	f.pins = &pins{list: list}
	var drawn linesOfPicture
	for _, e := range f.change.Edges {
		drawn.add(lying(e))
	}
	for _, m := range f.marks {
		for _, path := range m.after {
			drawn.add(path)
			f.room = f.room.union(boxOfPath(path).grow(1))
		}
	}
	f.room = f.room.union(f.pins.place(f.box, drawn, nil))
	f.captionedAs(f.change.Name)
	return f
}

// widen makes the sheet as wide as what stands on it. A table that is no taller
// than a lone row of pieces stands at its right.
func (s *findingSheet) widen() {
	for _, r := range s.rows {
		s.width = max(s.width, r.width)
	}
	if s.strip != nil {
		s.width = max(s.width, s.strip.width())
	}
	if len(s.rows) == 1 {
		wide := max(s.width, s.rows[0].width+columnGap+columnMin)
		s.beside = tenth(min(wide-s.rows[0].width-columnGap, columnMax))
		if tall := heightOf(s.entries(s.beside)); tall <= max(1.1*s.rows[0].height(), 40) && wide <= rowOfMany {
			s.width = wide
		} else {
			s.beside = 0
		}
	}
	if s.beside == 0 && len(s.list) > 6 {
		s.width = max(s.width, 2*columnMin+columnGap)
	}
	s.width = tenth(s.width)
}

// write lays words round the pieces and draws all of it.
func (s *findingSheet) write(w io.Writer, o Options) error {
	whole := &stack{width: s.width}
	name := title(o, "") + ": findings"
	s.head(whole, name, o)
	if s.strip != nil {
		whole.findingStrip(s.strip)
	}
	for _, r := range s.rows {
		whole.space(rowGap)
		from, height := whole.height, tenth(r.height())
		if s.beside > 0 {
			s.table(whole, s.width-s.beside, s.beside, 1)
			height, whole.height = max(height, whole.height-from), from
		}
		whole.add(height, r.draw)
	}
	s.key(whole)
	if s.beside == 0 {
		n := max(1, int((s.width+columnGap)/(columnMin+columnGap)))
		whole.space(rowGap)
		s.table(whole, 0, min(columnMax, (s.width-float64(n-1)*columnGap)/float64(n)), n)
	}
	return s.print(w, whole, svg.Picture{Title: name, Desc: s.describe(o), Prefix: o.Prefix})
}

// key adds the scale bar and the signs, where something is drawn.
func (s *findingSheet) key(to *stack) {
	if s.strip != nil || len(s.rows) > 0 {
		to.space(rowGap)
		to.sized()
		to.signs(s.signs())
	}
}

func (s *findingSheet) print(w io.Writer, whole *stack, pic svg.Picture) error {
	pic.Width, pic.Height = tenth(s.width+2*margin), math.Ceil(whole.height+2*margin)
	pen := svg.New(w, pic)
	pen.Dark(append(shades(), findingShades()...)...)
	whole.draw(&page{pen: pen}, margin, margin)
	if err := pen.Close(); err != nil {
		return fmt.Errorf("drawing the findings: %w", err)
	}
	return nil
}

// head says what the picture is, of which version, and how much was found.
func (s *findingSheet) head(to *stack, name string, o Options) {
	k := headScale(s.width)
	large, _ := titleSizes(s.width, 6.6)
	to.para(name, style{Size: large, Bold: true}, 3)
	to.line(onlyForLooking, style{Size: 4.2 * k, Bold: true, Mute: true})
	to.space(1.5 * k)
	if strings.TrimSpace(svg.CleanText(o.To)) != "" {
		to.para("version: "+o.To, style{Size: 4.2 * k}, 4)
	}
	to.para(s.tally(), style{Size: 4.2 * k}, 4)
}

// tally counts the findings in a sentence.
func (s *findingSheet) tally() string {
	if len(s.all) == 0 {
		return "Nothing was found: there is nothing to mend."
	}
	var parts []string
	for _, c := range []struct {
		of        diag.Severity
		one, many string
	}{{diag.Error, "error", "errors"}, {diag.Warning, "warning", "warnings"}, {diag.Note, "note", "notes"}} {
		if n := len(s.all.Only(c.of)); n > 0 {
			parts = append(parts, plural(n, c.one, c.many))
		}
	}
	out := strings.Join(parts, ", ") + "."
	if s.all.HasErrors() {
		out += " Errors refuse a commit."
	}
	if n := len(s.all) - len(s.list); n > 0 {
		out += fmt.Sprintf(" Only the first %d are shown.", len(s.list))
	}
	return out
}

// describe says what the picture shows, for readers who do not see it.
func (s *findingSheet) describe(o Options) string {
	parts := []string{onlyForLooking, strings.TrimSuffix(s.tally(), ".")}
	if o.To != "" {
		parts = append(parts, "version "+o.To)
	}
	for _, f := range s.list {
		words := f.title()
		if where := f.where(); where != "" {
			words += " (" + where + ")"
		}
		parts = append(parts, words)
	}
	if len(s.quiet) > 0 {
		parts = append(parts, "nothing to say about "+strings.Join(s.quiet, ", "))
	}
	return bounded(strings.Join(parts, ". ") + ".")
}
