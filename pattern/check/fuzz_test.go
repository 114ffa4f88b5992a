package check_test

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"seamkeep/pattern/check"
	"seamkeep/pattern/check/findings"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
)

// FuzzRun checks whatever can be read of an archive of files, also where the reader has
// found faults: that may not panic, and every finding is complete.
func FuzzRun(f *testing.F) {
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(files) == 0 {
		f.Fatal("no seeds", err)
	}
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(src)
	}
	for _, dir := range []string{"waistcoat--01-base", "waistcoat--06a-seam-move-untrued"} {
		f.Add(archive(f, filepath.Join("..", "..", "testdata", "patterns", dir)))
	}
	for _, src := range faultyRuns {
		f.Add([]byte(src))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		_, files := split(string(src))
		fsys := fstest.MapFS{}
		for name, src := range files {
			if k := text.KindOf(name); k == text.PieceFile || k == text.GarmentFile {
				fsys[name] = &fstest.MapFile{Data: []byte(src)}
			}
		}
		folder, _ := text.Load(fsys, ".")
		if folder == nil || folder.Garment == nil {
			return
		}
		list := check.Run(check.Input{Garment: folder.Garment})
		for _, x := range list {
			complete(t, x)
		}
		if again := check.Run(check.Input{Garment: folder.Garment}); told(again) != told(list) {
			t.Fatalf("checked twice:\n%s\n%s", told(list), told(again))
		}
	})
}

// FuzzAltered checks a waistcoat with closures, bones, runs and elastic in which fields
// have changed places with others, lines have gone or stand twice: most of that can be
// read, and is what a hand that edits files does.
func FuzzAltered(f *testing.F) {
	whole := strings.Split(string(archive(f, filepath.Join("..", "..", "testdata", "patterns", "waistcoat--06-seam-move")))+furnished, "\n")
	f.Add([]byte{})
	for seed := range byte(40) {
		f.Add([]byte{seed * 6, seed, 2 + seed*7, 1, seed * 3, 0, 0, 9, 1 + seed*5, seed % 5, seed * 11, 3})
	}
	f.Fuzz(func(t *testing.T, how []byte) {
		fsys := fstest.MapFS{}
		_, files := split(strings.Join(altered(whole, how), "\n"))
		for name, src := range files {
			if k := text.KindOf(name); k == text.PieceFile || k == text.GarmentFile {
				fsys[name] = &fstest.MapFile{Data: []byte(src)}
			}
		}
		folder, _ := text.Load(fsys, ".")
		if folder == nil || folder.Garment == nil {
			return
		}
		known := findings.IDs()
		for _, x := range check.Run(check.Input{Garment: folder.Garment}) {
			complete(t, x)
			if !slices.Contains(known, x.ID) {
				t.Fatalf("a finding without a page: %s", x.ID)
			}
		}
	})
}

// furnished is a piece with what the pattern lacks.
const furnished = `
-- pieces/extra.piece --
seamkeep piece 1
corner p 0 0
edge front
corner q 100 0
edge hem
corner r 100 200
edge back
corner s 0 200
edge top
notch waist on hem at waist
bone b1 width 7 from 20 20 to 20 180
cord c1 from 40 20 to 40 180
eyelet e1 8 40 diameter 4
button k1 12 90 diameter 18
buttonhole h1 12 90 length 21 angle 0
`

// altered changes lines: two bytes name a line, two what is done with it.
func altered(lines []string, how []byte) []string {
	out := slices.Clone(lines)
	for ; len(how) >= 4; how = how[4:] {
		at := (int(how[0])<<8 | int(how[1])) % len(out)
		from := int(how[2]) * 7 % len(out)
		a, b := strings.Fields(out[at]), strings.Fields(out[from])
		switch how[3] % 4 {
		case 0:
			out[at] = "" // gone
		case 1:
			out = slices.Insert(out, from, out[at]) // twice
		default:
			if len(a) > 1 && len(b) > 1 {
				a[1+int(how[2])%(len(a)-1)] = b[1+int(how[3]/4)%(len(b)-1)]
				indent := out[at][:len(out[at])-len(strings.TrimLeft(out[at], " "))]
				out[at] = indent + strings.Join(a, " ")
			}
		}
	}
	return out
}

// complete holds a finding to what reports need of it.
func complete(t *testing.T, x diag.Problem) {
	if x.ID == "" || x.Found == "" || math.IsNaN(x.Amount) || math.IsInf(x.Amount, 0) || x.Amount < 0 {
		t.Fatalf("a poor finding: %+v", x)
	}
	if said := x.Message() + x.Hint; strings.Contains(said, "NaN") || strings.Contains(said, "Inf") {
		t.Fatalf("a figure that is none: %+v", x)
	}
}

// archive gives the files of a folder as one text.
func archive(tb testing.TB, dir string) []byte {
	var b bytes.Buffer
	for _, pattern := range []string{"*.garment", "pieces/*.piece"} {
		files, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			tb.Fatal(err)
		}
		for _, file := range files {
			src, err := os.ReadFile(file)
			if err != nil {
				tb.Fatal(err)
			}
			name, _ := filepath.Rel(dir, file)
			b.WriteString("-- " + filepath.ToSlash(name) + " --\n")
			b.Write(src)
		}
	}
	return b.Bytes()
}

// faultyRuns are runs over what is missing or has no length.
var faultyRuns = []string{
	// over a piece, an edge and a seam that do not exist
	"-- g.garment --\nseamkeep garment 1\nhalf left\nlevel waist 0\nseam s a.back z.front\nseam t a.nosuch a.front\nrun hem a.hem z.hem a.nosuch a.hem\n" +
		"-- pieces/a.piece --\nseamkeep piece 1\ncorner tf 0 100\nedge front\ncorner hf 0 -100\nedge hem\ncorner hb 80 -100\nedge back\ncorner tb 80 100\nedge top\n",
	// over edges without length, on pieces that are a point or a line
	"-- g.garment --\nseamkeep garment 1\nwhole\nlevel waist 0\nseam s a.back b.front\nrun hem a.hem b.hem\nrun top b.top a.top\n" +
		"-- pieces/a.piece --\nseamkeep piece 1\ncorner tf 0 0\nedge front\ncorner hf 0 0\nedge hem\ncorner hb 0 0\nedge back\ncorner tb 0 0\nedge top\n" +
		"-- pieces/b.piece --\nseamkeep piece 1\ncorner tf 0 100\nedge front\ncorner hf 0 -100\nedge hem\ncorner hb 0 -100\nedge back\ncorner tb 0 100\nedge top\n",
	// pieces of two edges, a run all round, a piece that is sewn to itself
	"-- g.garment --\nseamkeep garment 1\nwhole\nseam s a.in b.in\nseam t c.e1 c.e3\nrun r a.out b.out\nrun u c.e2\nrun v c.e1 c.e2 c.e3 c.e4\n" +
		"-- pieces/a.piece --\nseamkeep piece 1\ncorner p 0 0\nedge in\n  curve 30 -20 70 -20 to corner\ncorner q 100 0\nedge out\n  curve 70 20 30 20 to corner\n" +
		"-- pieces/b.piece --\nseamkeep piece 1\ncorner p 0 0\nedge in\n  curve 30 -20 70 -20 to corner\ncorner q 100 0\nedge out\n  curve 70 20 30 20 to corner\n" +
		"-- pieces/c.piece --\nseamkeep piece 1\ncorner p 0 0\nedge e1\ncorner q 100 0\nedge e2\ncorner r 100 50\nedge e3\ncorner s 0 50\nedge e4\n",
	// a piece without an outline
	"-- g.garment --\nseamkeep garment 1\nwhole\nseam s a.x b.y\nrun r a.x b.y\n-- pieces/a.piece --\nseamkeep piece 1\n-- pieces/b.piece --\nseamkeep piece 1\ncorner c 0 0\nedge y\n",
}
