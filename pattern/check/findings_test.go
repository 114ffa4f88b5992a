package check_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
)

var update = flag.Bool("update", false, "write the findings that stand under want; look at them")

// split gives the files of an archive: "-- NAME --" begins one.
func split(archive string) (names []string, files map[string]string) {
	heads := regexp.MustCompile(`(?m)^-- (.*) --\n`)
	files = map[string]string{}
	bodies := heads.Split(archive, -1)[1:]
	for i, m := range heads.FindAllStringSubmatch(archive, -1) {
		names = append(names, m[1])
		files[m[1]] = bodies[i]
	}
	return names, files
}

// read gives the garment of an archive and its body, if it has one.
func read(t testing.TB, archive string) check.Input {
	t.Helper()
	var in check.Input
	fsys := fstest.MapFS{}
	_, files := split(archive)
	for name, src := range files {
		switch text.KindOf(name) {
		case text.BodyFile:
			b, problems := text.ReadBody(name, []byte(src))
			require.Empty(t, problems)
			in.Body = b
		case text.PieceFile, text.GarmentFile:
			fsys[name] = &fstest.MapFile{Data: []byte(src)}
		}
	}
	folder, problems := text.Load(fsys, ".")
	for _, p := range problems {
		t.Errorf("%s: %s", p.Place, p.Message())
	}
	require.NotNil(t, folder.Garment)
	in.Garment = folder.Garment
	return in
}

// told writes findings with all that they say.
func told(list diag.List) string {
	var b strings.Builder
	where := func(p diag.Place) string {
		s := p.String()
		if p.Piece != "" {
			s += " " + diag.Place{Piece: p.Piece, Edge: p.Edge}.String()
		}
		if p.OnEdge {
			s += fmt.Sprintf(" at %.3f", p.At)
		}
		return s
	}
	for _, x := range list {
		fmt.Fprintf(&b, "%s: %s %s, %.3f\n", where(x.Place), x.Severity, x.Address(), x.Amount)
		fmt.Fprintf(&b, "  %s\n", x.Message())
		for _, r := range x.Related {
			fmt.Fprintf(&b, "  %s: %s\n", where(r.Place), r.Text)
		}
		if x.Hint == check.Caution {
			x.Hint = "(the caution)"
		}
		for _, l := range strings.Split(x.Hint, "\n") {
			if l != "" {
				fmt.Fprintf(&b, "  hint: %s\n", l)
			}
		}
	}
	return b.String()
}

// Each file of testdata is a garment and what is found in it; its first lines
// say where the figures come from.
func TestFindings(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			src, err := os.ReadFile(file)
			require.NoError(t, err)
			_, parts := split(string(src))
			got := told(check.Run(read(t, string(src))))
			if *update {
				whole := strings.TrimSuffix(string(src), parts["want"]) + got
				require.NoError(t, os.WriteFile(file, []byte(whole), 0o644))
				return
			}
			assert.Equal(t, parts["want"], got)
		})
	}
}

func TestEveryFindingHasACase(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txt")
	require.NoError(t, err)
	var all strings.Builder
	for _, file := range files {
		src, err := os.ReadFile(file)
		require.NoError(t, err)
		_, parts := split(string(src))
		all.WriteString(parts["want"])
	}
	for _, id := range []string{
		"outline.crosses", "outline.clockwise", "edge.short", "edge.length-stale", "mark.outside", "mark.no-length", "notch.no-place",
		"seam.differs", "seam.segment", "seam.near", "seam.broken-side", "seam.ease-mirrored", "around.no-level", "gap.outside", "girth.presses", "body.absent",
		"around.short",
		"notch.crowded", "notch.single", "notch.twice", "notch.drift", "grain.outside", "grain.lean", "grain.stretch",
		"cloth.once", "cloth.alike", "cloth.fold-bent", "cloth.fold-sewn", "cloth.none",
		"closure.anchor", "closure.apart", "closure.beyond", "closure.count", "closure.extension", "closure.far", "closure.halves", "closure.hole",
		"closure.margin", "closure.marks", "closure.no-button-at-strain", "closure.no-overlap", "closure.no-record", "closure.one-edge", "closure.opposite", "closure.overlap", "closure.pitch", "closure.side", "closure.slide", "closure.stray", "closure.taken", "closure.two-anchors",
		"bone.hole", "bone.long", "bone.near", "cord.long", "channel.misses", "elastic.beyond", "elastic.moves", "elastic.untested",
	} {
		assert.Contains(t, all.String(), " "+id+" ", id)
	}
}

func TestChecksSayWhatTheyRead(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range check.All() {
		assert.False(t, seen[c.Name], c.Name)
		seen[c.Name] = true
		assert.NotEmpty(t, c.Says, c.Name)
		assert.NotEmpty(t, c.Reads, c.Name)
	}
}

func TestFindingsNameTheGarment(t *testing.T) {
	src, err := os.ReadFile("testdata/seam-differs.txt")
	require.NoError(t, err)
	in := read(t, string(src))
	in.Garment.Name = "midsummer"
	list := check.Run(in)
	require.NotEmpty(t, list)
	for _, x := range list {
		assert.Equal(t, "midsummer", x.Place.Garment)
	}
	before := pattern.Clone(in.Garment)
	check.Run(in)
	assert.Equal(t, before, in.Garment, "checking changes nothing")
}
