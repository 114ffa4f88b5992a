package claim_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

var message = diag.Place{File: "message", Line: 7, Column: 10}

func TestLinesThatAreRead(t *testing.T) {
	for line, want := range map[string][]string{
		"Changes: girth low-hip +24":                         {"girth low-hip +24"},
		"changes:   girth   low-hip  -24.50 ":                {"girth low-hip -24.5"},
		"Changes: girth +0":                                  {"girth +0"},
		"Changes: girth -0.000":                              {"girth +0"},
		"Changes: gap front at bust to 34 within 2":          {"gap front at bust to 34 within 2"},
		"Changes: gap front to -5":                           {"gap front to -5"},
		"Changes: length back.top from a to b to 300":        {"length back.top from a to b to 300"},
		"Changes: length back.front above waist +1 within 0": {"length back.front above waist +1 within 0"},
		"Changes: area back +250000.125":                     {"area back +250000.125"},
		"Changes: turn neckline at side-back-back to 0":      {"turn neckline at side-back-back to 0"},
		"Keeps: girth waist, girth bust":                     {"girth waist", "girth bust"},
		"Keeps: girth waist within 2,girth bust":             {"girth waist within 2", "girth bust"},
		"KEEPS: girth within":                                {"girth within"}, // a level of that name
		"Keeps: gap to at within within 0.25":                {"gap to at within within 0.25"},
		"Keeps: walk a-b, seam a-b, count back, pitch back":  {"walk a-b", "seam a-b", "count back", "pitch back"},
		"Only: side-front, underarm,garment":                 {"side-front, underarm, garment"},
	} {
		var got []string
		for _, c := range parse(t, line) {
			got = append(got, c.String())
		}
		assert.Equal(t, want, got, line)
	}
}

func TestWhatAClaimHolds(t *testing.T) {
	claims, problems := claim.Parse("Keeps", "girth waist, gap front at bust within 2", message)
	require.Empty(t, problems)
	assert.Equal(t, []claim.Claim{
		{Place: message, Kind: claim.Keeps, Measure: measure.Measure{Kind: "girth", Level: "waist"}},
		{Place: diag.Place{File: "message", Line: 7, Column: 23}, Kind: claim.Keeps, Measure: measure.Measure{Kind: "gap", Closure: "front", Level: "bust"}, Within: pattern.Some(2)},
	}, claims)
	claims, problems = claim.Parse("Changes", "length back.top from a to b to 300", message)
	require.Empty(t, problems)
	assert.Equal(t, []claim.Claim{{Place: message, Kind: claim.Changes, To: pattern.Some(300),
		Measure: measure.Measure{Kind: "length", Piece: "back", Edge: "top", From: "a", To: "b"}}}, claims)
}

// The tolerances that the format fixes: 1.0 of girth and gap, 0.5 of lengths and
// widths, 0.5 degrees.
func TestTolerances(t *testing.T) {
	for line, want := range map[string]float64{
		"Keeps: girth": 1, "Keeps: gap front": 1, "Keeps: width back": 0.5, "Keeps: length back.top": 0.5, "Keeps: turn hem at a-b": 0.5,
		"Keeps: count back": 0, "Keeps: girth within 0": 0, "Changes: girth +1 within 3.5": 3.5,
	} {
		assert.InDelta(t, want, parse(t, line)[0].Tolerance(), 0, line)
	}
}

func TestLinesThatAreNoClaims(t *testing.T) {
	for line, want := range map[string]struct {
		id     string
		column int
		words  string
	}{
		"Change: girth +1":                      {claim.KeyFault, 9, "did you mean Changes?"},
		"Changes: ":                             {claim.EmptyFault, 10, "found nothing"},
		"Keeps:  \t":                            {claim.EmptyFault, 8, "expected measures"},
		"Only: ":                                {claim.EmptyFault, 7, "expected pieces"},
		"Changes: girht waist +24":              {claim.MeasureFault, 10, "did you mean girth?"},
		"Changes: Girth waist +24":              {claim.MeasureFault, 10, "did you mean girth?"},
		"Changes: girth waist 24":               {claim.AmountFault, 22, "expected +24, -24 or to 24"},
		"Changes: girth waist":                  {claim.AmountFault, 21, "found no amount"},
		"Changes: girth waist +24mm":            {claim.AmountFault, 22, "no number"},
		"Changes: girth waist −24":              {claim.AmountFault, 22, "expected +24, -24 or to 24"},
		"Changes: girth waist + 24":             {claim.AmountFault, 24, "expected +24"},
		"Changes: girth waist ++24":             {claim.AmountFault, 22, "no number"},
		"Changes: girth waist +.5":              {claim.AmountFault, 22, "no number"},
		"Changes: girth waist +5.":              {claim.AmountFault, 22, "no number"},
		"Changes: girth waist +1e5":             {claim.AmountFault, 22, "no number"},
		"Changes: girth waist +1,5":             {claim.AmountFault, 24, "+1.5"},
		"Changes: girth waist +1.2345":          {claim.AmountFault, 22, "more than 3 decimals"},
		"Changes: girth waist +100001":          {claim.AmountFault, 22, "larger than 100000"},
		"Changes: girth waist to +24":           {claim.AmountFault, 25, "without a plus"},
		"Changes: girth waist +24 to 900":       {claim.MeasureFault, 22, "nothing more"},
		"Changes: girth waist within 2":         {claim.AmountFault, 22, "found no amount"},
		"Changes: girth waist +24 within -1":    {claim.WithinFault, 33, "tolerance"},
		"Changes: girth waist +24 within +1":    {claim.WithinFault, 33, "tolerance"},
		"Changes: girth waist +24 within 1.5mm": {claim.WithinFault, 33, "tolerance"},
		"Changes: +24":                          {claim.MeasureFault, 10, "found no measure"},
		"Keeps: girth waist,, girth bust":       {claim.MeasureFault, 20, "found no measure"},
		"Keeps: girth waist,":                   {claim.MeasureFault, 20, "found no measure"},
		"Keeps: girth waist +0":                 {claim.AmountFault, 20, "write Changes:"},
		"Keeps: girth waist within":             {claim.MeasureFault, 20, "within 1.5"},
		"Keeps: turn":                           {claim.MeasureFault, 12, "a run"},
		"Keeps: length back":                    {claim.MeasureFault, 15, "PIECE.EDGE"},
		"Keeps: girth Waist":                    {claim.MeasureFault, 8, "lower-case"},
		"Keeps: girth \x1b[31m":                 {claim.MeasureFault, 8, `\x1b`},
		"Keeps: gap garment":                    {claim.MeasureFault, 8, "keeps for itself"},
		"Only: side front":                      {claim.PieceFault, 7, `"side front"`},
		"Only: back, back":                      {claim.PieceFault, 13, "twice"},
		"Only: back, ,front":                    {claim.PieceFault, 13, "no name"},
		"Only: back; front":                     {claim.PieceFault, 7, "back; front"},
		"Only: none":                            {claim.PieceFault, 7, "keeps for itself"},
	} {
		key, value, _ := strings.Cut(line, ": ")
		if key == line {
			key, value, _ = strings.Cut(line, ":")
		}
		claims, problems := claim.Parse(key, value, diag.Place{File: "message", Line: 3, Column: len(key) + 3})
		require.Len(t, problems, 1, line)
		p := problems[0]
		assert.Equal(t, want.id, p.ID, line)
		assert.Equal(t, diag.Error, p.Severity)
		assert.Equal(t, 3, p.Place.Line, line)
		assert.Equal(t, want.column, p.Place.Column, line)
		assert.Contains(t, p.Message()+" "+p.Hint, want.words, line)
		assert.True(t, strings.HasPrefix(p.Expected, "expected "), line)
		if !strings.HasPrefix(line, "Keeps: girth waist,") {
			assert.Empty(t, claims, line)
		}
	}
}

// A note may fold a long line; places stay those of the message. What is sound of
// a line is read even where the rest is not.
func TestPlacesOfAFoldedLine(t *testing.T) {
	claims, problems := claim.Parse("Keeps", "girth waist,\n  girht bust,\n  Gürtel, girth bust", message)
	require.Len(t, problems, 2)
	assert.Equal(t, "message:8:3", problems[0].Place.String())
	assert.Equal(t, "message:9:3", problems[1].Place.String())
	require.Len(t, claims, 2)
	assert.Equal(t, "message:9:11", claims[1].Place.String(), "columns count characters")
}

func TestMoreTextThanAClaimNeeds(t *testing.T) {
	_, problems := claim.Parse("Keeps", strings.Repeat("girth, ", 5000), message)
	require.Len(t, problems, 1)
	assert.Equal(t, claim.LongFault, problems[0].ID)
	_, problems = claim.Parse("Keeps", "girth "+strings.Repeat("x", 2000), message)
	require.Len(t, problems, 1)
	assert.Equal(t, claim.MeasureFault, problems[0].ID)
}

func TestClaimsThatContradict(t *testing.T) {
	for name, x := range map[string]struct {
		lines []string
		at    []int // lines of the problems
	}{
		"as the format shows it":        {[]string{"Changes: girth low-hip +24", "Keeps: girth waist, girth bust", "Only: back"}, nil},
		"changed and kept":              {[]string{"Changes: girth waist +24", "Keeps: girth bust, girth waist"}, []int{2}},
		"kept at every level":           {[]string{"Keeps: girth", "Changes: girth waist +24"}, []int{2}},
		"by two amounts":                {[]string{"Changes: girth waist +24", "Changes: girth waist +20"}, []int{2}},
		"by two amounts, one for all":   {[]string{"Changes: girth +24", "Changes: girth waist +20", "Changes: girth bust +24"}, []int{2}},
		"to two amounts":                {[]string{"Changes: gap front at bust to 30", "Changes: gap front at bust to 34"}, []int{2}},
		"by one and to another":         {[]string{"Changes: gap front at bust to 30", "Changes: gap front at bust -4"}, nil},
		"the same twice":                {[]string{"Changes: girth waist +24 within 2", "Changes: girth waist +24", "Keeps: girth bust, girth bust"}, nil},
		"another closure":               {[]string{"Keeps: gap front", "Changes: gap back +3"}, nil},
		"above and below are two":       {[]string{"Keeps: length a.b above waist", "Changes: length a.b below waist +3"}, nil},
		"a third that is wrong as well": {[]string{"Keeps: seam a-b", "Changes: seam a-b +1", "Changes: seam a-b to 300"}, []int{2, 3}},
	} {
		problems := claim.Contradictions(parse(t, x.lines...))
		var at []int
		for _, p := range problems {
			assert.Equal(t, claim.Contradicts, p.ID)
			assert.Equal(t, diag.Error, p.Severity)
			require.Len(t, p.Related, 1)
			assert.Less(t, p.Related[0].Place.Line, p.Place.Line)
			at = append(at, p.Place.Line)
		}
		assert.Equal(t, x.at, at, name)
	}
}
