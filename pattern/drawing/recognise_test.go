package drawing

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/vector"
	"seamkeep/pattern/text"
)

// recognised reads a page of 400 x 400 mm with the body from line 2 on.
func recognised(t testing.TB, body string, o Options) (*Sheet, diag.List) {
	t.Helper()
	d, probs := vector.Read("a.svg", page(body), vector.Options{})
	require.Empty(t, probs.Only(diag.Error))
	s, probs := Recognise(d, o)
	checkSheet(t, d, s, probs)
	return s, probs
}

// checkSheet holds what must be true of every sheet: each item of the drawing is
// in it once, and each piece can be written and read back.
func checkSheet(t require.TestingT, d *vector.Drawing, s *Sheet, probs diag.List) {
	where := map[int]int{}
	names := map[string]bool{}
	for _, p := range s.Pieces {
		for _, l := range p.Lines {
			where[l.Item]++
		}
		assert.False(t, names[p.Name], "piece %s twice", p.Name)
		names[p.Name] = true
		checkPiece(t, p)
	}
	for _, l := range s.Levels {
		where[l.Item]++
		assert.NotEmpty(t, l.Pieces)
	}
	for _, l := range s.Left {
		where[l.Item]++
		assert.NotEmpty(t, l.Why)
	}
	for i := range d.Items {
		assert.Equal(t, 1, where[i], "item %d", i)
	}
	assert.Len(t, where, len(d.Items))
	assert.True(t, len(s.Pieces) > 0 || probs.HasErrors(), "no piece and no reason")
}

func checkPiece(t require.TestingT, d Drawn) {
	p := d.Piece
	require.GreaterOrEqual(t, len(p.Corners), 2)
	require.Len(t, p.Edges, len(p.Corners))
	assert.Positive(t, d.Ring.Area(), "anticlockwise")
	assert.Equal(t, d.Ring, p.Outline())
	for i, s := range d.Ring {
		assert.Equal(t, s.P3, d.Ring[(i+1)%len(d.Ring)].P0, "a closed chain")
		assert.Equal(t, pattern.Round(s.P0), s.P0)
	}
	file := text.PrintPiece(p)
	back, probs := text.ReadPiece("pieces/"+p.Name+".piece", file)
	assert.Empty(t, probs.Only(diag.Error), "%s", file)
	assert.True(t, pattern.EqualPieces(p, back), "%s", file)
}

// records gives the lines of a piece file that begin with one of the words.
func records(p *pattern.Piece, words ...string) []string {
	out := []string{}
	for _, l := range strings.Split(string(text.PrintPiece(p)), "\n") {
		for _, w := range words {
			if strings.HasPrefix(l, w+" ") {
				out = append(out, l)
			}
		}
	}
	return out
}

var markWords = []string{"grain", "level", "notch", "bone", "cord", "stitch", "placement", "cutout", "eyelet", "button", "buttonhole", "drill"}

// panel is 100 wide and 200 high, its lower left at 100 300 on the page, so that
// a place X Y of the page is X-100, 300-Y of the piece.
const panel = `<path id="front" d="M100,100 V300 H200 V100 z"/>`

func TestMarks(t *testing.T) {
	for name, c := range map[string]struct {
		body string
		want []string
	}{
		"bone by label":           {`<path inkscape:label="bone" d="M150,120 V280"/>`, []string{"bone b1 from 50 180 to 50 20"}},
		"bone by id":              {`<path id="bone_3" d="M150,120 V280"/>`, []string{"bone b3 from 50 180 to 50 20"}},
		"bone without a gap":      {`<path id="bone3" d="M150,120 V280"/>`, []string{"bone b3 from 50 180 to 50 20"}},
		"bone with a name":        {`<path inkscape:label="Bone, centre front" d="M150,120 V280"/>`, []string{"bone centre-front from 50 180 to 50 20"}},
		"all figures":             {`<circle inkscape:label="drill x diameter 4.5 right only" cx="150" cy="200" r="2"/><path inkscape:label="buttonhole length 21" d="M140,200 H160"/>`, []string{"drill x 50 100 diameter 4.5 right only", "buttonhole buttonhole1 40 100 length 21"}},
		"figures out of range":    {`<path inkscape:label="bone width 0" d="M150,120 V280"/>`, []string{"bone b1 from 50 180 to 50 20"}},
		"bone with figures":       {`<path inkscape:label="bone x width 7 left only" d="M150,120 V280"/>`, []string{"bone x width 7 left only from 50 180 to 50 20"}},
		"bones by layer":          {`<g inkscape:groupmode="layer" inkscape:label="Bones"><path id="path1" d="M150,120 V280"/><path id="side" d="M160,120 V280"/></g>`, []string{"bone b1 from 50 180 to 50 20", "bone side from 60 180 to 60 20"}},
		"bones by group":          {`<g id="bones"><path d="M150,120 V280"/></g>`, []string{"bone b1 from 50 180 to 50 20"}},
		"bone by class":           {`<path class="bone" d="M150,120 V280"/>`, []string{"bone b1 from 50 180 to 50 20"}},
		"bone by own attribute":   {`<path inkscape:label="cord" seamkeep:line="mark bone b7" d="M150,120 V280"/>`, []string{"bone b7 from 50 180 to 50 20"}},
		"figures of an own mark":  {`<path seamkeep:line="mark bone b7 width 7" d="M150,120 V280"/>`, []string{"bone b7 width 7 from 50 180 to 50 20"}},
		"cord, two parts":         {`<polyline inkscape:label="cord" points="110,110 150,150 190,110"/>`, []string{"cord c1 from 10 190"}},
		"stitch":                  {`<line id="topstitching" x1="110" y1="110" x2="110" y2="290"/>`, []string{"stitch s1 from 10 190 to 10 10"}},
		"two of one name":         {`<path inkscape:label="stitch hem" d="M110,110 V120"/><path inkscape:label="stitch hem" d="M120,110 V120"/>`, []string{"stitch hem from 10 190 to 10 180", "stitch hem-2 from 20 190 to 20 180"}},
		"placement of a pocket":   {`<rect inkscape:label="placement pocket" x="120" y="150" width="40" height="50"/>`, []string{"placement pocket from 20 150"}},
		"cutout":                  {`<circle inkscape:label="cutout" cx="150" cy="200" r="20"/>`, []string{"cutout cut1 from 70 100"}},
		"eyelet":                  {`<circle id="eyelet" cx="150" cy="200" r="2.5"/>`, []string{"eyelet eye1 50 100 diameter 5"}},
		"eyelets by layer":        {`<g inkscape:groupmode="layer" inkscape:label="Eyelets"><circle cx="150" cy="200" r="2.5"/><circle cx="150" cy="225" r="2.5"/></g>`, []string{"eyelet eye1 50 100 diameter 5", "eyelet eye2 50 75 diameter 5"}},
		"button":                  {`<circle id="button" cx="150" cy="200" r="9"/>`, []string{"button button1 50 100 diameter 18"}},
		"buttonhole, a line":      {`<path id="buttonhole" d="M140,200 H160"/>`, []string{"buttonhole buttonhole1 40 100 length 20"}},
		"buttonhole, slanting":    {`<path inkscape:label="button hole" d="M150,200 L160,190"/>`, []string{"buttonhole buttonhole1 50 100 length 14.142 angle 45"}},
		"buttonhole, a slit":      {`<rect inkscape:label="buttonhole" x="149" y="190" width="2" height="20"/>`, []string{"buttonhole buttonhole1 50 90 length 20 angle 90"}},
		"drill by shape":          {`<circle cx="150" cy="200" r="1.5"/>`, []string{"drill d1 50 100 diameter 3"}},
		"drill, a path":           {`<path d="M148.5,200 a1.5,1.5 0 1 1 3,0 a1.5,1.5 0 1 1 -3,0 z"/>`, []string{"drill d1 50 100 diameter 3"}},
		"drill, a cross":          {`<path inkscape:label="drill" d="M145,200 H155 M150,195 V205"/>`, []string{"drill d1 50 100"}},
		"grain by label":          {`<path inkscape:label="grain line" d="M150,120 V280"/>`, []string{"grain 50 20 to 50 180"}},
		"grain by own attribute":  {`<path seamkeep:line="grain" d="M150,120 V280"/>`, []string{"grain 50 20 to 50 180"}},
		"grain, an arrow":         {`<path d="M150,120 V280 M147,125 L150,120 L153,125 M147,275 L150,280 L153,275"/>`, []string{"grain 50 20 to 50 180"}},
		"notch by shape":          {`<path d="M100,150 h6"/>`, []string{"notch n1 on e1 50 from c1"}},
		"notch across":            {`<path d="M97,150 h6"/>`, []string{"notch n1 on e1 50 from c1"}},
		"notch, nearer the end":   {`<path d="M97,260 h6"/>`, []string{"notch n1 on e1 40 from c2"}},
		"notch outside":           {`<path d="M100,150 h-6"/>`, []string{"notch n1 on e1 50 from c1"}},
		"notch by label":          {`<path inkscape:label="notch x" d="M100,150 l8,-8"/>`, []string{"notch x on e1 50 from c1"}},
		"notch, a V":              {`<path inkscape:label="notch" d="M100,147 l5,3 l-5,3"/>`, []string{"notch n1 on e1 50 from c1"}},
		"notch, a triangle":       {`<path inkscape:label="notch" d="M100,147 l5,3 l-5,3 z"/>`, []string{"notch n1 on e1 50 from c1"}},
		"notch by own attribute":  {`<path seamkeep:line="notch front elbow" d="M100,150 h6"/>`, []string{"notch elbow on e1 50 from c1"}},
		"notches on two edges":    {`<path d="M100,150 h6"/><path d="M100,180 h6"/><path d="M200,150 h-6"/>`, []string{"notch n1 on e1 50 from c1", "notch n2 on e1 80 from c1", "notch n1 on e3 50 from c4"}},
		"levels":                  {`<path id="waist" d="M80,200 H220"/><path inkscape:label="level low seat" d="M80,250 H220"/><path d="M100,200 h6"/><path d="M200,250 h-6"/>`, []string{"notch waist on e1 at waist", "notch n1 on e3 at low-seat"}},
		"decoration, text, tests": {`<g inkscape:label="Labels"><path d="M150,120 V280"/></g><rect id="check square" x="120" y="150" width="50" height="50"/>`, []string{}},
	} {
		t.Run(name, func(t *testing.T) {
			s, probs := recognised(t, panel+"\n"+c.body, Options{})
			assert.Empty(t, probs)
			require.Len(t, s.Pieces, 1)
			assert.ElementsMatch(t, c.want, records(s.Pieces[0].Piece, markWords...))
		})
	}
}

// A cutout returns to its start, and keeps its curves. Length of a circle by its
// closed form, 2 pi r; as four cubics it is no farther out than 0.0273 % of r
// (spencermortensen.com, bezier-circle).
func TestCutoutIsARing(t *testing.T) {
	s, _ := recognised(t, panel+`<circle inkscape:label="cutout" cx="150" cy="200" r="20"/>`, Options{})
	require.Len(t, s.Pieces[0].Piece.Marks, 1)
	path := s.Pieces[0].Piece.Marks[0].Path()
	assert.Equal(t, path.Start(), path.End())
	assert.InDelta(t, 125.6637, path.Length(1e-6), 125.6637*2.73e-4)
}

// What is no piece and no mark is listed, with the reason.
func TestLeft(t *testing.T) {
	for name, c := range map[string]struct{ body, why, problem string }{
		"open line":          {`<path d="M150,120 V280"/>`, "is an open line in piece front without a label", ""},
		"tick that slants":   {`<path d="M100,150 l8,-8"/>`, "is an open line in piece front without a label", ""},
		"tick too far off":   {`<path d="M102,150 h6"/>`, "is an open line in piece front without a label", ""},
		"outside":            {`<path d="M10,120 V280"/>`, "is an open line that lies in no piece", ""},
		"bone outside":       {`<path id="bone" d="M10,120 V280"/>`, "is called a bone, but lies in no piece", ""},
		"letter inside":      {`<path d="M150,150 h5 v8 h-5 z"/>`, "is only 5.0 x 8.0 mm: taken for a letter", ""},
		"letter outside":     {`<path d="M50,150 h5 v8 h-5 z"/>`, "is only 5.0 x 8.0 mm and lies in no piece", ""},
		"letter o":           {`<path d="M150,150 a2,2 0 1 1 4,0 a2,2 0 1 1 -4,0 z M151,150 a1,1 0 1 1 2,0 a1,1 0 1 1 -2,0 z"/>`, "taken for a letter", ""},
		"full stop":          {`<path d="M150,150 a.5,.5 0 1 1 1,0 a.5,.5 0 1 1 -1,0 z"/>`, "taken for a letter", ""},
		"ring inside":        {`<rect x="120" y="150" width="30" height="30"/>`, "has no label that says what it is", ""},
		"named ring inside":  {`<rect id="pocket" x="120" y="150" width="30" height="30"/>`, `is called "pocket"`, "drawing.inside"},
		"check square":       {`<rect id="check-square" x="10" y="10" width="50" height="50"/>`, "is called an aid", ""},
		"own check":          {`<rect seamkeep:line="check" x="10" y="10" width="50" height="50"/>`, "is called an aid", ""},
		"text":               {`<g inkscape:label="text"><rect x="10" y="10" width="50" height="50"/></g>`, "is called decoration", ""},
		"level outside":      {`<path id="bust" d="M10,350 H220"/>`, "is called level bust, but crosses no piece", ""},
		"level that leans":   {`<path id="waist" d="M80,200 L220,210"/>`, "leans by 4.1 degrees", "drawing.level"},
		"level that bends":   {`<path id="waist" d="M80,200 Q150,220 220,200"/>`, "is not straight", "drawing.level"},
		"level without name": {`<path id="level" d="M80,200 H220"/>`, "no name of one is given", "drawing.level"},
		"second grain":       {`<path id="grain" d="M150,120 V280"/><path inkscape:label="grain" d="M160,120 V280"/>`, "is a second grain line", "drawing.grain"},
		"notch off":          {`<path id="notch" d="M150,150 h6"/>`, "does not touch the outline", "drawing.notch"},
		"notch at a corner":  {`<path id="notch" d="M100,300 l6,-6"/>`, "stands on a corner", "drawing.notch"},
		"same notch":         {`<path id="path1" d="M100,150 h6"/><path id="path2" d="M100,150 h-7"/>`, "stands where notch n1 stands", ""},
		"drawn twice":        {`<path id="bone1" d="M150,120 V280"/><path id="path8" d="M160,120 V280"/><path id="path9" d="M160,280 V120"/>`, "lies on another line like it", "drawing.twice"},
		"speck":              {`<path d="M150,150 h.01"/>`, "is a speck", ""},
		"eyelet too large":   {`<circle id="eyelet" cx="150" cy="200" r="40"/>`, "is called a eyelet, but is 80.0 x 80.0 mm", ""},
		"arrow heads":        {`<path d="M150,120 V280 M147,125 L150,120 L153,125"/>`, "is the head of an arrow", ""},
		"odd own attribute":  {`<path seamkeep:line="mark sleeve b1" d="M150,120 V280"/>`, "without a label", "drawing.own"},
	} {
		t.Run(name, func(t *testing.T) {
			s, probs := recognised(t, panel+"\n"+c.body, Options{})
			require.Len(t, s.Pieces, 1)
			var whys []string
			for _, l := range s.Left {
				whys = append(whys, l.Why)
			}
			assert.Contains(t, strings.Join(whys, "\n"), c.why)
			if c.problem == "" {
				assert.Empty(t, probs)
				return
			}
			require.Equal(t, []string{c.problem}, ids(probs))
			assert.Equal(t, diag.Warning, probs[0].Severity)
			assert.Positive(t, probs[0].Place.Line)
		})
	}
}

// A piece of its own inside another one says so.
func TestPieceInsideAPiece(t *testing.T) {
	for _, body := range []string{
		`<rect inkscape:label="pocket outline" x="120" y="150" width="40" height="50"/>`,
		`<g seamkeep:piece="pocket"><rect x="120" y="150" width="40" height="50"/></g>`,
		`<rect seamkeep:piece="pocket" seamkeep:line="outline" x="120" y="150" width="40" height="50"/>`,
	} {
		s, probs := recognised(t, panel+body, Options{})
		assert.Empty(t, probs, body)
		require.Len(t, s.Pieces, 2, body)
		assert.Equal(t, "pocket", s.Pieces[1].Name)
	}
}

// A piece may be called after what it is for; a mark may not.
func TestWordsInNamesOfPieces(t *testing.T) {
	s, probs := recognised(t, `<path id="button-stand" d="M100,100 V300 H130 V100 z"/><path inkscape:label="Bone casing" d="M200,100 V300 H230 V100 z"/>`, Options{})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 2)
	assert.Equal(t, "button-stand", s.Pieces[0].Name)
	assert.Equal(t, "bone-casing", s.Pieces[1].Name)
	assert.Equal(t, ByID, s.Pieces[0].How)
	assert.Equal(t, ByLabel, s.Pieces[1].How)
}

// A piece may be called after where it sits, too.
func TestPieceCalledAfterALevel(t *testing.T) {
	s, probs := recognised(t, `<path id="waist" d="M100,100 V300 H130 V100 z"/>`, Options{})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 1)
	assert.Equal(t, "waist", s.Pieces[0].Name)
}

// A mark in the overlap of two pieces belongs to the one in its layer.
func TestMarkWherePiecesOverlap(t *testing.T) {
	s, _ := recognised(t, `<g id="front"><path d="M100,100 V300 H200 V100 z"/></g><g id="back"><path d="M150,100 V300 H330 V100 z"/><path id="bone1" d="M180,120 V200"/></g>
		<g id="strap"><path d="M160,50 V350 H190 V50 z"/></g>`, Options{})
	require.Len(t, s.Pieces, 3)
	assert.Equal(t, []string{"bone b1 from 30 180 to 30 100"}, records(s.Pieces[1].Piece, "bone"))
}

// A bone whose stroke was turned into a shape has no length of its own.
func TestBoneAsAShape(t *testing.T) {
	_, probs := recognised(t, panel+`<rect id="bone1" x="150" y="120" width="5" height="100"/>`, Options{})
	assert.Equal(t, []string{"drawing.mark"}, ids(probs))
}

// The border of a sheet is no piece.
func TestFrameRoundTheSheet(t *testing.T) {
	s, probs := recognised(t, `<rect x="5" y="5" width="390" height="390"/>`+panel+`<path id="back" d="M250,100 V300 H350 V100 z"/>`, Options{})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 2)
	require.Len(t, s.Left, 1)
	assert.Contains(t, s.Left[0].Why, "frame")
}

func TestOwnAttributes(t *testing.T) {
	id := strings.Repeat("ab", 20)
	s, probs := recognised(t, `<g seamkeep:piece="front" seamkeep:base="`+id+`" seamkeep:at="90.5 310" inkscape:label="Front panel">
<path id="x" inkscape:label="Something else" seamkeep:line="outline" d="M100,100 V300 H200 V100 z"/>
<path seamkeep:line="mark drill d4" d="M150,150 h2"/>
<path seamkeep:line="mark bone out" d="M20,120 V280"/></g>`, Options{})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 1)
	p := s.Pieces[0]
	assert.Equal(t, "front", p.Name)
	assert.Equal(t, "Front panel", p.Title)
	assert.Equal(t, ByOwn, p.How)
	assert.Equal(t, "x", p.ID)
	assert.Equal(t, id, p.Base)
	require.NotNil(t, p.At)
	assert.Equal(t, 90.5, p.At.X)
	// its own 0 0 lies at 90.5 310 of the page: X - 90.5, 310 - Y
	assert.Equal(t, []string{"corner c1 9.5 210", "corner c2 9.5 10", "corner c3 109.5 10", "corner c4 109.5 210"}, records(p.Piece, "corner"))
	assert.Equal(t, []string{"drill d4 60.5 160", "bone out from -70.5 190 to -70.5 30"}, records(p.Piece, "drill", "bone"), "a mark dragged out of its piece stays with it")
	for _, odd := range []string{`seamkeep:base="12"`, `seamkeep:at="1"`, `seamkeep:at="NaN 2"`} {
		_, probs := recognised(t, `<g seamkeep:piece="front" `+odd+`>`+panel+`</g>`, Options{})
		assert.Equal(t, []string{"drawing.own"}, ids(probs), odd)
	}
}

// Each piece is claimed once.
func TestClaims(t *testing.T) {
	const a, b = `d="M20,20 V120 H60 V20 z"`, `d="M120,20 V120 H160 V20 z"`
	for name, body := range map[string]string{
		"own attribute on two lines":  "<path seamkeep:piece='x' " + a + "/>\n<path seamkeep:piece='x' " + b + "/>",
		"own attribute on two groups": "<g seamkeep:piece='x'><path " + a + "/></g>\n<g seamkeep:piece='x'><path " + b + "/></g>",
		"two outlines in one group":   "<g seamkeep:piece='x'><path " + a + "/>\n<path " + b + "/></g>",
		"own attribute and a label":   "<path seamkeep:piece='x' " + a + "/>\n<path inkscape:label='x' " + b + "/>",
		"the same label":              "<path inkscape:label='x' " + a + "/>\n<path inkscape:label='X' " + b + "/>",
		"the same layer twice":        "<g inkscape:groupmode='layer' inkscape:label='x' id='l1'><path " + a + "/></g>\n<g inkscape:groupmode='layer' inkscape:label='x' id='l2'><path " + b + "/></g>",
		"a copy in one layer":         "<g inkscape:label='Two'><path id='path1' inkscape:label='sewing line' " + a + "/>\n<path id='path2' inkscape:label='sewing line' " + b + "/></g>",
	} {
		t.Run(name, func(t *testing.T) {
			_, probs := recognised(t, body, Options{})
			errs := probs.Only(diag.Error)
			require.Len(t, errs, 1, "%v", probs)
			assert.Equal(t, "drawing.claim", errs[0].ID)
			assert.Equal(t, 3, errs[0].Place.Line)
			require.Len(t, errs[0].Related, 1)
			assert.Equal(t, 2, errs[0].Related[0].Place.Line)
		})
	}
	_, probs := recognised(t, "<path id='path1' "+a+"/>\n<path id='path18' d='M60,20 H20 V120 H60 z'/>", Options{})
	require.Equal(t, []string{"drawing.claim"}, ids(probs.Only(diag.Error)))
	assert.Contains(t, probs[0].Found, "lies exactly on")
	_, probs = recognised(t, "<path id='x' inkscape:label='one' "+a+"/>\n<path id='x' inkscape:label='two' "+b+"/>", Options{})
	require.NotEmpty(t, probs.Only(diag.Error))
	assert.Contains(t, probs.Only(diag.Error)[0].Found, `the id "x" stands twice`)
}

// The figures of a piece. The polygon and its area, 30, and length, 26.0901, are
// those of the shoelace task of Rosetta Code, here ten times as large.
func TestFigures(t *testing.T) {
	s, _ := recognised(t, `<polygon points="30,40 50,110 120,80 90,50 50,60"/>`, Options{})
	require.Len(t, s.Pieces, 1)
	p := s.Pieces[0]
	assert.InDelta(t, 3000, p.Area, 1e-6)
	assert.InDelta(t, 260.901, p.Perimeter, 0.0005)
	assert.InDelta(t, 90, p.Width, 1e-9)
	assert.InDelta(t, 70, p.Height, 1e-9)
	back := p.ToPage.Apply(p.Ring[0].P0)
	assert.Contains(t, []string{"30.000 40.000", "50.000 110.000", "120.000 80.000", "90.000 50.000", "50.000 60.000"}, fmt.Sprintf("%.3f %.3f", back.X, back.Y))
}
