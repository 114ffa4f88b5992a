package check

import (
	"fmt"
	"math"
	"time"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// ElasticLasts is how many years after its test elastic is to be tested again: common
// practice, no source.
const ElasticLasts = 2

// elastics looks at what is recorded of pieces that stretch: used as far as was
// tested or beyond, in use or once the body moves, never tested, or tested long ago.
func elastics(in Input) diag.List {
	var out diag.List
	moved := movedStretch(in)
	for i := range in.Garment.Options {
		o := &in.Garment.Options[i]
		if !o.Stretch.Set {
			continue
		}
		for _, look := range []func(*pattern.PieceOption) (diag.Problem, bool){beyondTest, untested, in.agedTest} {
			if x, bad := look(o); bad {
				x.Hint += "\n" + ElasticCaution
				out = append(out, x)
			}
		}
		out = append(out, moving(o, moved)...)
	}
	return out
}

// movedLevel is the elastic at a level, and by how much the girth grows there when the
// body moves, mm.
type movedLevel struct {
	measure.Stretch
	grows float64
}

// movedStretch gives the levels at which the body says how much it grows, by piece of
// elastic.
func movedStretch(in Input) map[string][]movedLevel {
	if in.Body == nil {
		return nil
	}
	out := map[string][]movedLevel{}
	for _, m := range in.Body.Moves {
		l := movedLevel{measure.StretchAt(in.Garment, m.Level), m.Value}
		if !(m.Value > 0) {
			continue
		}
		for _, e := range l.Pieces {
			out[e.Piece] = append(out[e.Piece], l)
		}
	}
	return out
}

// moving tells elastic that a moving body stretches as far as it was tested, or further: a
// growth goes almost wholly into the elastic, s + dB / sum of its widths. The limit is the
// tested maximum itself. What the body measures is not told.
func moving(o *pattern.PieceOption, moved map[string][]movedLevel) diag.List {
	reserve := o.Of.Value - o.Stretch.Value
	if !o.Of.Set || reserve <= slack {
		return nil // elastic.untested, or elastic.beyond
	}
	x := elasticProblem("elastic.moves", o, 0)
	var faults []fault
	worst := movedLevel{}
	for _, l := range moved[o.Piece] {
		more := l.Moved(l.grows).Value
		if more < reserve-slack {
			continue
		}
		if worst.Width == 0 || more > worst.Moved(worst.grows).Value {
			worst = l
		}
		faults = append(faults, fault{x.Place, fmt.Sprintf("the elastic of %s is stretched by %g %% in use, and by %.1f %% at %s when the body moves; it was tested to %g %%: %.1f in reserve, %.1f wanted",
			o.Piece, o.Stretch.Value, o.Stretch.Value+more, l.Level, o.Of.Value, reserve, more), more - reserve, l.Level})
	}
	x.Expected = "less than in the test, so that some is left"
	if len(faults) > 0 {
		x.Hint = fmt.Sprintf("have more than %.0f mm of elastic at %s, all round and at rest; there are %.0f", 100*worst.grows/reserve, worst.Level, worst.Width)
		x.Hint += "\nseamkeep widths tells what is in reserve at each level\n" + ElasticCaution
	}
	return worstOf(x, faults, "levels")
}

func elasticProblem(id string, o *pattern.PieceOption, amount float64) diag.Problem {
	at := o.Place
	at.Piece = o.Piece
	return diag.Problem{ID: id, Severity: diag.Warning, Place: at, Subject: o.Piece, Amount: amount}
}

func beyondTest(o *pattern.PieceOption) (diag.Problem, bool) {
	if !o.Of.Set || o.Of.Value < 0 || o.Stretch.Value < o.Of.Value-slack {
		return diag.Problem{}, false // no test ends below 0: the reader refuses that
	}
	x := elasticProblem("elastic.beyond", o, o.Stretch.Value-o.Of.Value)
	x.Found = fmt.Sprintf("the elastic of %s is stretched by %g %% in use and was tested to %g %%", o.Piece, o.Stretch.Value, o.Of.Value)
	x.Expected = "less in use than in the test, so that some is left when the body moves"
	wider := math.Floor(100*((100+o.Stretch.Value)/(100+o.Of.Value)-1)+slack) + 1
	x.Hint = fmt.Sprintf("cut it wider: by %.0f %% it is stretched by %.1f %%, still with little left", wider, (100+o.Stretch.Value)/(1+wider/100)-100)
	return x, true
}

func untested(o *pattern.PieceOption) (diag.Problem, bool) {
	if o.Of.Set && o.Tested != "" {
		return diag.Problem{}, false
	}
	x := elasticProblem("elastic.untested", o, 1)
	x.Found = fmt.Sprintf("the elastic of %s is stretched by %g %% in use; no test with its date is recorded", o.Piece, o.Stretch.Value)
	x.Expected = "how far it was tested, and when"
	x.Hint = fmt.Sprintf("stretch a piece of it and let it go; then write: piece %s stretch %g of PERCENT tested YYYY-MM-DD", o.Piece, o.Stretch.Value)
	return x, true
}

// agedTest is silent where the caller gave no day.
func (in Input) agedTest(o *pattern.PieceOption) (diag.Problem, bool) {
	tested, err := time.Parse(time.DateOnly, o.Tested)
	if err != nil || in.Today.IsZero() || !tested.AddDate(ElasticLasts, 0, 0).Before(in.Today) {
		return diag.Problem{}, false
	}
	x := elasticProblem("elastic.old", o, in.Today.Sub(tested.AddDate(ElasticLasts, 0, 0)).Hours()/24)
	x.Found = fmt.Sprintf("the elastic of %s was last tested on %s", o.Piece, o.Tested)
	x.Expected = fmt.Sprintf("a test within %d years", ElasticLasts)
	x.Hint = "test its recovery again and write the new date"
	return x, true
}
