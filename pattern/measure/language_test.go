package measure_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern/measure"
)

func TestEveryKindOfMeasureIsRead(t *testing.T) {
	seen := map[string]bool{}
	for words, want := range map[string]measure.Measure{
		"girth":                              {Kind: "girth"},
		"girth bust":                         {Kind: "girth", Level: "bust"},
		"worn":                               {Kind: "worn"},
		"worn low-hip":                       {Kind: "worn", Level: "low-hip"},
		"gap front":                          {Kind: "gap", Closure: "front"},
		"gap front at waist":                 {Kind: "gap", Closure: "front", Level: "waist"},
		"width side-back":                    {Kind: "width", Piece: "side-back"},
		"width side-back at waist":           {Kind: "width", Piece: "side-back", Level: "waist"},
		"width at at at":                     {Kind: "width", Piece: "at", Level: "at"},
		"area gusset":                        {Kind: "area", Piece: "gusset"},
		"length back.front":                  {Kind: "length", Piece: "back", Edge: "front"},
		"length b.f above waist":             {Kind: "length", Piece: "b", Edge: "f", Part: "above", Level: "waist"},
		"length b.f below waist":             {Kind: "length", Piece: "b", Edge: "f", Part: "below", Level: "waist"},
		"length b.f from n to m":             {Kind: "length", Piece: "b", Edge: "f", From: "n", To: "m"},
		"length b.f from n to m below waist": {Kind: "length", Piece: "b", Edge: "f", From: "n", To: "m", Part: "below", Level: "waist"},
		"length a.b from above to below above below": {Kind: "length", Piece: "a", Edge: "b", From: "above", To: "below", Part: "above", Level: "below"},
		"seam side-back-back":                        {Kind: "seam", Seam: "side-back-back"},
		"walk side-back-back":                        {Kind: "walk", Seam: "side-back-back"},
		"turn neckline at shoulder":                  {Kind: "turn", Run: "neckline", Seam: "shoulder"},
		"turn hem":                                   {Kind: "turn", Run: "hem"},
		"reach hem":                                  {Kind: "reach", Run: "hem"},
		"spread hem":                                 {Kind: "spread", Run: "hem"},
		"reach hem at side":                          {Kind: "reach", Run: "hem", Seam: "side"},
		"overlap back":                               {Kind: "overlap", Closure: "back"},
		"pitch back":                                 {Kind: "pitch", Closure: "back"},
		"count back":                                 {Kind: "count", Closure: "back"},
	} {
		got, err := measure.Parse(words)
		require.NoError(t, err, words)
		assert.Equal(t, want, got, words)
		assert.Equal(t, words, got.String())
		seen[got.Kind] = true
		spaced, err := measure.Parse("  " + strings.ReplaceAll(words, " ", " \t ") + "\n")
		require.NoError(t, err, words)
		assert.Equal(t, want, spaced, "spaces do not matter: %s", words)
	}
	for _, kind := range measure.Kinds() {
		assert.True(t, seen[kind], "no case for %s", kind)
		assert.True(t, strings.HasPrefix(measure.Usage(kind), kind+" "))
	}
}

func TestFaultsOfAMeasureNameTheWord(t *testing.T) {
	for _, c := range []struct {
		words           string
		word            int
		found, expected string
	}{
		{"", 1, "the end of the measure", "the kind of a measure"},
		{"girht bust", 1, `"girht"`, "one of girth, worn, gap"},
		{"girth bust waist", 3, `"waist"`, "nothing more: girth [LEVEL]"},
		{"gap", 2, "the end of the measure", "a closure"},
		{"gap front at", 4, "the end of the measure", "a level"},
		{"gap front on waist", 3, `"on"`, "nothing more: gap CLOSURE [at LEVEL]"},
		{"width", 2, "the end of the measure", "a piece"},
		{"area gusset at waist", 3, `"at"`, "nothing more: area PIECE"},
		{"length", 2, "the end of the measure", "PIECE.EDGE"},
		{"length back", 2, `"back"`, "PIECE.EDGE, such as"},
		{"length .front", 2, `".front"`, "PIECE.EDGE"},
		{"length back.", 2, `"back."`, "PIECE.EDGE"},
		{"length b.f from n", 5, "the end of the measure", "to NOTCH"},
		{"length b.f from n until m", 5, `"until"`, "to NOTCH"},
		{"length b.f from n to", 6, "the end of the measure", "a notch"},
		{"length b.f above", 4, "the end of the measure", "a level"},
		{"length b.f above waist below bust", 5, `"below"`, "nothing more"},
		{"reach", 2, "the end of the measure", "a run"},
		{"turn neckline by shoulder", 3, `"by"`, "nothing more"},
		{"turn neckline at", 4, "the end of the measure", "a seam"},
		{"count", 2, "the end of the measure", "a closure"},
		{strings.Repeat("x", 1001), 1, "1001 characters", "at most 1000"},
	} {
		m, err := measure.Parse(c.words)
		var fault *measure.ParseError
		require.True(t, errors.As(err, &fault), "%q gave %v", c.words, m)
		assert.Zero(t, m, c.words)
		assert.Equal(t, c.word, fault.Word, c.words)
		assert.Equal(t, c.found, fault.Found, c.words)
		assert.Contains(t, fault.Expected, c.expected, c.words)
		assert.Contains(t, err.Error(), c.found, c.words)
	}
}

func genMeasure() *rapid.Generator[measure.Measure] {
	return rapid.Custom(func(t *rapid.T) measure.Measure {
		name := func(label string) string {
			return rapid.OneOf(rapid.SampledFrom([]string{"at", "above", "below", "from", "to", "girth"}),
				rapid.StringMatching(`[a-z][a-z0-9]{0,6}(-[a-z0-9]{1,4})?`)).Draw(t, label)
		}
		maybe := func(label string) string {
			if rapid.Bool().Draw(t, label+"?") {
				return name(label)
			}
			return ""
		}
		m := measure.Measure{Kind: rapid.SampledFrom(measure.Kinds()).Draw(t, "kind")}
		switch m.Kind {
		case "girth", "worn":
			m.Level = maybe("level")
		case "gap":
			m.Closure, m.Level = name("closure"), maybe("level")
		case "width":
			m.Piece, m.Level = name("piece"), maybe("level")
		case "area":
			m.Piece = name("piece")
		case "length":
			m.Piece, m.Edge = name("piece"), name("edge")
			if m.From = maybe("from"); m.From != "" {
				m.To = name("to")
			}
			if m.Level = maybe("level"); m.Level != "" {
				m.Part = rapid.SampledFrom([]string{"above", "below"}).Draw(t, "part")
			}
		case "seam", "walk":
			m.Seam = name("seam")
		case "spread":
			m.Run = name("run")
		case "turn", "reach":
			m.Run, m.Seam = name("run"), maybe("seam")
		default:
			m.Closure = name("closure")
		}
		return m
	})
}

func TestAMeasureReadsBackAsItIsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := genMeasure().Draw(t, "measure")
		got, err := measure.Parse(m.String())
		if err != nil || got != m {
			t.Fatalf("%q gave %+v, %v", m.String(), got, err)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"girth", "worn bust", "gap front at waist", "width a", "area a", "length a.b from n to m above waist",
		"seam s", "walk s", "turn r at s", "reach r", "spread r", "overlap c", "pitch c", "count c", "length a.b above x below y", "length ..", "\x00", "girth \u202e"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := measure.Parse(s)
		if err != nil {
			var fault *measure.ParseError
			if !errors.As(err, &fault) || fault.Word < 1 || fault.Found == "" || fault.Expected == "" {
				t.Fatalf("%q: %v", s, err)
			}
			return
		}
		if got := m.String(); strings.Join(strings.Fields(s), " ") != got {
			t.Fatalf("%q was read as %q", s, got)
		}
		if again, err := measure.Parse(m.String()); err != nil || again != m {
			t.Fatalf("%q gave %+v, %v", m.String(), again, err)
		}
	})
}
