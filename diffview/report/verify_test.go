package report_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/diffview/report"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
)

func claims(t testing.TB, key, value string, line int) claim.Claim {
	t.Helper()
	list, problems := claim.Parse(key, value, diag.Place{File: "message", Line: line, Column: len(key) + 3})
	require.Empty(t, problems)
	require.Len(t, list, 1)
	return list[0]
}

// half is the finding on a seam of which one side alone was widened.
func half() diag.Problem {
	return diag.Problem{
		ID: "seam.differs", Severity: diag.Error, Subject: "side-back-back", Amount: 2.55,
		Place: diag.Place{Garment: "waistcoat", File: "pieces/side-back.piece", Line: 12, Column: 6, Piece: "side-back", Edge: "back"},
		Found: "seam side-back-back differs by 2.55", Expected: "at most 1.50",
		Hint: "seamkeep true side-back-back",
		Related: []diag.Related{
			{Text: "side-back.back measures 322.00", Place: diag.Place{Garment: "waistcoat", File: "pieces/side-back.piece", Line: 12, Piece: "side-back", Edge: "back"}},
			{Text: "back.front measures 319.45", Place: diag.Place{Garment: "waistcoat", File: "pieces/back.piece", Line: 9, Piece: "back", Edge: "front"}},
		},
	}
}

// judged is a range with a commit of each kind.
func judged(t testing.TB) []report.Verified {
	near := diag.Problem{ID: "seam.near", Severity: diag.Warning, Subject: "front-side-front", Amount: 1.2,
		Place: diag.Place{Garment: "waistcoat", File: "pieces/front.piece", Line: 7, Piece: "front", Edge: "back", OnEdge: true, At: 41.5, X: 60, Y: -8, HasPoint: true},
		Found: "seam front-side-front is 1.20 off", Expected: "at most 1.00 without a word"}
	kept := claim.Result{Claim: claims(t, "Keeps", "girth bust", 6), Claimed: "girth at bust unchanged, within 1",
		Measured: "girth at bust +28.0 (874.0 to 902.0)", Where: []string{"side-back.back moved out 14.0 at bust", "nothing was taken from another piece"}}
	only := claim.Result{Claim: claims(t, "Only", "side-back", 7), OK: true, Claimed: "nothing changed but side-back", Measured: "nothing else changed",
		Notes: []string{"side-back was renumbered only"}}
	gap := claim.Result{Claim: claims(t, "Changes", "gap front at bust to 34", 5), Claimed: "gap of front at bust to be 34, within 1",
		Measured: "cannot be told: no body", Unknown: "no measures of a body are here", NoBody: true}
	gap.Claim.Follows = "Does: inset gusset at underarm-side-back out 60 cut 52"
	worn := claim.Result{Claim: claims(t, "Changes", "girth bust +28", 5), Claimed: "girth at bust +28, within 1", Unknown: "the version before cannot be read"}
	return []report.Verified{
		{ID: "1111111aaaaaaa", Name: "base", Subject: "Six panels that fit", Problems: diag.List{near}},
		{ID: "2222222bbbbbbb", Name: "half-move", Subject: "Move the seam over the blade", Problems: diag.List{half()}, Known: diag.List{near}, Claims: []claim.Result{kept, only}},
		{ID: "3333333ccccccc", Name: "wider-gusset", Subject: "wider-gusset", Claims: []claim.Result{gap}},
		{ID: "4444444ddddddd", Subject: "A commit without a note", Claims: []claim.Result{worn}},
		{ID: "5555555eeeeeee", Name: "graft", Unjudged: "its parent 0000000 is not in this clone, which is shallow: git fetch --unshallow"},
	}
}

func written(t require.TestingT, list []report.Verified, width int, details bool) string {
	var b bytes.Buffer
	text := report.Text{W: &b, Width: width}
	text.Verified(list, details)
	require.NoError(t, text.Err)
	return b.String()
}

func TestWhatMakesACommitFail(t *testing.T) {
	var got []bool
	for _, v := range judged(t) {
		got = append(got, v.OK())
	}
	assert.Equal(t, []bool{true, false, true, false, false}, got,
		"a warning passes; an error and an untrue claim fail; without a body a claim passes; one that cannot be told fails; what is not judged is not ok")
	known := judged(t)[1]
	known.Problems, known.Known, known.Claims = nil, append(known.Known, half()), known.Claims[1:]
	assert.True(t, known.OK(), "what a parent had refuses nothing")
}

func TestVerifiedAsText(t *testing.T) {
	assert.Equal(t, `ok           1111111  base: Six panels that fit  1 warning
FAILED       2222222  half-move: Move the seam over th…  1 error, 1 claim untrue
    pieces/side-back.piece:12:6: error: seam side-back-back differs by 2.55; at
      most 1.50 [seam.differs]
      pieces/side-back.piece:12: side-back.back measures 322.00
      pieces/back.piece:9: back.front measures 319.45
      hint: seamkeep true side-back-back

    message:6:8: Keeps: girth bust [claim.untrue]
      claimed   girth at bust unchanged, within 1
      measured  girth at bust +28.0 (874.0 to 902.0)
      where     side-back.back moved out 14.0 at bust
                nothing was taken from another piece
ok           3333333  wider-gusset  1 claim untold
FAILED       4444444  A commit without a note  1 claim untold
    message:5:10: Changes: girth bust +28 [claim.untold]
      claimed   girth at bust +28, within 1
      measured  cannot be told: the version before cannot be read
cannot judge 5555555  graft
    its parent 0000000 is not in this clone, which is shallow: git fetch
    --unshallow
5 commits: 2 ok, 2 failed, 1 not judged; 1 finding that a parent had already
`, written(t, judged(t), 80, true))
	short := written(t, judged(t), 80, false)
	assert.NotContains(t, short, "claimed")
	assert.Contains(t, short, "git fetch\n", "why a commit is not judged is always told")
	assert.Equal(t, "no commit to judge\n", written(t, nil, 80, true))
	assert.Equal(t, `ok     1111111  base: Six panels that fit  1 warning
    pieces/front.piece:7: warning: seam front-side-front is 1.20 off; at most
      1.00 without a word [seam.near]
1 commit: 1 ok
`, written(t, judged(t)[:1], 80, true))
	fine := judged(t)[:1]
	fine[0].Problems = nil
	assert.Equal(t, "ok     1111111  base: Six panels that fit\n1 commit: 1 ok\n", written(t, fine, 80, true))
}

func TestVerifiedInColour(t *testing.T) {
	var b bytes.Buffer
	text := report.Text{W: &b, Colour: true}
	text.Verified(judged(t), true)
	require.NoError(t, text.Err)
	assert.Contains(t, b.String(), "\x1b[31mFAILED\x1b[0m ")
	assert.Contains(t, b.String(), "\x1b[32mok\x1b[0m           1111111")
	assert.Equal(t, written(t, judged(t), 80, true), regexp.MustCompile(`\x1b\[\d+m`).ReplaceAllString(b.String(), ""), "colour is never the only sign")
}

func TestVerifiedFitsItsWidth(t *testing.T) {
	many := judged(t)[1]
	many.Name, many.Subject = strings.Repeat("é", 60), strings.Repeat("word ", 40)
	many.Problems = append(many.Problems, half(), diag.Problem{ID: "x", Severity: diag.Warning, Found: "f"}, diag.Problem{ID: "y", Found: "g"})
	many.Claims = append(many.Claims, judged(t)[3].Claims...)
	for _, width := range []int{60, 80, 132} {
		for l := range strings.Lines(written(t, append(judged(t), many), width, true)) {
			assert.LessOrEqual(t, utf8.RuneCountInString(strings.TrimSuffix(l, "\n")), width, l)
		}
	}
	got := written(t, []report.Verified{many}, 80, false)
	assert.Contains(t, got, "…\n    2 errors, 1 warning, 1 note, 1 claim untrue, 1 claim untold\n", "what was found is never cut")
}

func TestTheVerifyDocument(t *testing.T) {
	doc, _ := document(t, report.VerifyJSON(judged(t)))
	assert.Equal(t, "seamkeep.verify/1", doc["schema"])
	commits := doc["commits"].([]any)
	require.Len(t, commits, 5)
	half := commits[1].(map[string]any)
	assert.Equal(t, "half-move", half["name"])
	assert.Equal(t, false, half["ok"])
	assert.Equal(t, "seam.differs", first(t, half["problems"])["id"])
	kept := half["claims"].([]any)[0].(map[string]any)
	assert.Equal(t, "Keeps: girth bust", kept["claim"])
	assert.Equal(t, false, kept["ok"])
	assert.Equal(t, "girth at bust +28.0 (874.0 to 902.0)", kept["measured"])
	assert.Equal(t, 6.0, kept["line"])
	assert.Len(t, kept["where"], 2)
	empty, text := document(t, report.VerifyJSON(nil))
	assert.Equal(t, []any{}, empty["commits"], text)
}

func TestTheVerifyDocumentKeepsToItsSchema(t *testing.T) {
	s := readSchema(t, "verify")
	list := judged(t)
	odd := diag.Problem{ID: "x", Amount: math.NaN(), Parts: []diag.Part{{At: "p.m", Amount: 2}}, Related: []diag.Related{{Text: "there", Place: diag.Place{Garment: "g", File: "f", Line: 3, Column: 2, Piece: "p", Edge: "e", OnEdge: true, At: 4, X: -1, Y: 2.5, HasPoint: true}}}}
	list[0].Known, list[0].Accepted = append(list[0].Known, odd), append(list[0].Accepted, odd)
	s.accepts(t, report.VerifyJSON(list), "a commit of each kind")
	assert.Empty(t, s.unseen(), "in the schema, but never written")
	rapid.Check(t, func(t *rapid.T) {
		s.accepts(t, report.VerifyJSON(drawVerified(t)), "random")
	})
	assert.Error(t, s.compiled.Validate(map[string]any{"schema": "seamkeep.verify/1"}), "fields are missing")
	for name, def := range s.doc["$defs"].(map[string]any) {
		if def := def.(map[string]any); def["type"] == "object" {
			assert.Equal(t, false, def["additionalProperties"], "%s is closed", name)
		}
	}
	assert.Equal(t, false, s.doc["additionalProperties"])
}

func TestRandomVerifiedText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := drawVerified(t)
		s := written(t, list, rapid.SampledFrom([]int{0, 20, 80}).Draw(t, "width"), true)
		assert.True(t, utf8.ValidString(s))
		assert.Equal(t, report.Clean(strings.ReplaceAll(s, "\n", "")), strings.ReplaceAll(s, "\n", ""), "no control character")
		if len(list) > 0 {
			assert.Contains(t, s, report.Plural(len(list), "commit")+": ")
		}
	})
}

// hostile draws text as a stranger's repository may have it.
func drawHostile(t *rapid.T, label string) string {
	return rapid.OneOf(
		rapid.SampledFrom([]string{"", "waist", "\x1b[31mred\x07", "a\xff\xfeb", "[x](https://example.org)", "{0}", "}{", "\u202eliaf", "a\nb\r\n", "\x00", "<b>&\"'", "../../x", "/etc/passwd", "c:d", "a b/%.piece", "message", "\U0010ffff\ud7ff", "]\u200b(x)", "\u2028"}),
		rapid.String(),
		rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) }),
	).Draw(t, label)
}

func drawPlace(t *rapid.T) diag.Place {
	return diag.Place{
		Garment: drawHostile(t, "garment"), File: drawHostile(t, "file"), Piece: drawHostile(t, "piece"), Edge: drawHostile(t, "edge"),
		Line: rapid.IntRange(-1, 9).Draw(t, "line"), Column: rapid.IntRange(-1, 9).Draw(t, "column"),
		OnEdge: rapid.Bool().Draw(t, "on"), At: rapid.SampledFrom([]float64{0, 12.5, math.NaN(), math.Inf(1)}).Draw(t, "at"),
	}
}

func drawProblem(t *rapid.T) diag.Problem {
	p := diag.Problem{
		ID:       rapid.OneOf(rapid.SampledFrom([]string{"seam.differs", "claim.key", "outline.crosses"}), rapid.Just(drawHostile(t, "id"))).Draw(t, "rule"),
		Severity: rapid.SampledFrom([]diag.Severity{diag.Note, diag.Warning, diag.Error}).Draw(t, "severity"),
		Place:    drawPlace(t), Subject: drawHostile(t, "subject"), Found: drawHostile(t, "found"), Expected: drawHostile(t, "expected"), Hint: drawHostile(t, "hint"),
	}
	for range rapid.IntRange(0, 2).Draw(t, "related") {
		p.Related = append(p.Related, diag.Related{Place: drawPlace(t), Text: drawHostile(t, "text")})
	}
	return p
}

func drawVerified(t *rapid.T) []report.Verified {
	var list []report.Verified
	for range rapid.IntRange(0, 3).Draw(t, "commits") {
		v := report.Verified{ID: drawHostile(t, "commit"), Name: drawHostile(t, "name"), Subject: drawHostile(t, "line")}
		for range rapid.IntRange(0, 2).Draw(t, "problems") {
			v.Problems = append(v.Problems, drawProblem(t))
		}
		for range rapid.IntRange(0, 1).Draw(t, "known") {
			v.Known = append(v.Known, drawProblem(t))
		}
		for range rapid.IntRange(0, 2).Draw(t, "claims") {
			r := claim.Result{Claim: claim.Claim{Place: drawPlace(t), Kind: claim.Only, Pieces: []string{drawHostile(t, "only")}}, Claimed: drawHostile(t, "claimed"), Measured: drawHostile(t, "measured"), Where: []string{drawHostile(t, "where")}}
			switch rapid.IntRange(0, 3).Draw(t, "told") {
			case 0:
				r.OK, r.Where = true, nil
			case 1:
				r.Unknown = drawHostile(t, "unknown")
			case 2:
				r.Unknown, r.NoBody = "no body", true
			}
			v.Claims = append(v.Claims, r)
		}
		if rapid.IntRange(0, 4).Draw(t, "judged") == 0 {
			v.Unjudged = drawHostile(t, "unjudged")
		}
		list = append(list, v)
	}
	return list
}

// TestTheVerifyPageIsTrue holds the tables of VERIFY.md against the schemas and
// its examples against what is written.
func TestTheVerifyPageIsTrue(t *testing.T) {
	src, err := os.ReadFile("VERIFY.md")
	require.NoError(t, err)
	part := regexp.MustCompile(`(?s)(<!-- (?:fields (verify|since)/(\S*)|(text|kept)) -->\n).*?(<!-- end -->)`)
	told := map[string]bool{}
	got := part.ReplaceAllStringFunc(string(src), func(s string) string {
		m := part.FindStringSubmatch(s)
		switch m[4] {
		case "text":
			return fmt.Sprintf("%s```\n%s```\n%s", m[1], written(t, judged(t)[:3], 80, true), m[5])
		case "kept":
			return fmt.Sprintf("%s```\n%s```\n%s", m[1], keptText(t, keptList(t), 80), m[5])
		}
		told[m[2]+"/"+m[3]] = true
		return m[1] + fieldTable(t, m[2], m[3]) + m[5]
	})
	if *update {
		require.NoError(t, os.WriteFile("VERIFY.md", []byte(got), 0o644))
		return
	}
	assert.Equal(t, string(src), got, "run the test with -update and look")
	for _, file := range []string{"verify", "since"} {
		for def := range readSchema(t, file).objects() {
			assert.True(t, told[file+"/"+def], "VERIFY.md says nothing of %q in %s", def, file)
		}
	}
}
