package check

import (
	"time"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// Input is what checks look at. Body may be nil: what needs it is left out,
// with a note.
type Input struct {
	Garment *pattern.Garment
	Body    *pattern.Body
	Tol     float64   // error allowed on a curve's length, mm; 0 means measure.Accuracy
	Today   time.Time // the day on which is judged whether a test is old; zero: it is not

	walked *walked // its seams, walked once for all checks
	rounds *rounds // how far its pieces reach, asked once for all checks
}

// Check is one kind of question about a garment.
type Check struct {
	Name  string
	Says  string   // what holds when it finds nothing
	Reads []string // records that it looks at: outline, marks, notches, seams, closures, body
	run   func(Input) diag.List
}

// All lists the checks in the order in which they are reported.
func All() []Check {
	return []Check{
		{"outline", "each outline is one simple ring, anticlockwise, without tiny edges", []string{"outline"}, outlines},
		{"lengths", "the edge lengths that the files record are the true ones", []string{"outline"}, lengths},
		{"marks", "marks lie inside their piece, and lines have a length", []string{"outline", "marks"}, marks},
		{"notches", "each notch has one place on its edge", []string{"outline", "notches", "levels"}, notches},
		{"walk", "the two sides of each seam match, whole and between notches", []string{"outline", "notches", "levels", "seams"}, seams},
		{"runs", "each style line is one line where it crosses a seam, and square to a fold", []string{"outline", "seams", "runs"}, runs},
		{"pairs", "notches stand in pairs, clear of corners and of each other", []string{"outline", "notches", "levels", "seams"}, pairs},
		{"grain", "the grain line lies in its piece, and elastic stretches round the body", []string{"outline", "marks"}, grains},
		{"cloth", "each piece is cut as often, and which way round, as its shape and its seams ask for", []string{"outline", "seams"}, cloths},
		{"around", "each piece that goes round the body has the levels of the garment", []string{"levels"}, around},
		{"fastenings", "each closure has an edge of its own and overlaps enough; its buttons, eyelets and hooks have room, stand near enough, and their marks are where the records say", []string{"outline", "levels", "closures", "marks", "body"}, fastenings},
		{"bones", "bones and cords stop short of their channels, clear of sewing lines, and meet at seams", []string{"outline", "levels", "marks", "notches", "seams"}, bones},
		{"elastic", "elastic is stretched less than it was tested, also when the body moves, and that not long ago", []string{"garment", "outline", "levels", "body"}, elastics},
		{"gap", "the predicted gap is in the wanted range", []string{"outline", "levels", "closures", "body"}, gaps},
	}
}

// Run makes every check and gives the findings in the order of the files. Those that
// the garment file accepts are notes.
func Run(in Input) diag.List {
	if in.Tol == 0 {
		in.Tol = measure.Accuracy
	}
	in.walked, in.rounds = walkAll(in), newRounds(in.Garment)
	var all diag.List
	for _, c := range All() {
		all = append(all, c.run(in)...)
	}
	all = accept(in, all)
	for i := range all {
		all[i].Place.Garment = in.Garment.Name
	}
	all.Sort()
	return all
}

// Shapes looks at some pieces of a garment alone: their outlines, marks and
// notches. Its cost does not grow with the rest of the garment.
func Shapes(g *pattern.Garment, pieces []*pattern.Piece) diag.List {
	part := *g
	part.Pieces = pieces
	in := Input{Garment: &part, Tol: measure.Accuracy}
	return append(append(outlines(in), eachOutside(pieces)...), notches(in)...)
}

func pieceProblem(id string, p *pattern.Piece, place diag.Place, edge string) diag.Problem {
	place.Piece, place.Edge = p.Name, edge
	subject := p.Name
	if edge != "" {
		subject += "." + edge
	}
	return diag.Problem{ID: id, Severity: diag.Error, Place: place, Subject: subject}
}
