package check

import (
	"fmt"
	"math"
	"time"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// ElasticLasts is how many years after its test elastic is to be tested again: common
// practice, no source.
const ElasticLasts = 2

// elastics looks at what is recorded of pieces that stretch: used as far as was
// tested or beyond, never tested, or tested long ago.
func elastics(in Input) diag.List {
	var out diag.List
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
	}
	return out
}

func elasticProblem(id string, o *pattern.PieceOption, amount float64) diag.Problem {
	at := o.Place
	at.Piece = o.Piece
	return diag.Problem{ID: id, Severity: diag.Warning, Place: at, Subject: o.Piece, Amount: amount}
}

func beyondTest(o *pattern.PieceOption) (diag.Problem, bool) {
	if !o.Of.Set || o.Stretch.Value < o.Of.Value-slack {
		return diag.Problem{}, false
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
