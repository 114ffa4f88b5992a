package text

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"seamkeep/pattern/diag"
)

// addSeeds gives a fuzz test every example and every broken file of a kind;
// further seeds lie in testdata/fuzz.
func addSeeds(f *testing.F, k Kind, add func(src []byte)) {
	f.Helper()
	for _, e := range examples(f) {
		if KindOf(e.path) == k {
			add([]byte(e.src))
		}
	}
	files, err := filepath.Glob("testdata/broken/*." + string(k))
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		add(src)
	}
}

// fuzzRead reads a text, which may not panic, and where it is readable prints,
// tidies and updates it.
func fuzzRead(t *testing.T, path string, src []byte) {
	m, problems := readAny(path, src)
	checkProblems(t, problems, src)
	if len(problems) > 0 {
		return
	}
	printAgain(t, path, src)
	out, err := Update(path, src, m)
	if err != nil || !bytes.Equal(src, out) {
		t.Fatalf("update without a change: %v\n%q\n%q", err, src, out)
	}
	once, problems := Tidy(path, src)
	if len(problems) > 0 {
		t.Fatalf("tidy: %v", problems)
	}
	twice, problems := Tidy(path, once)
	if len(problems) > 0 || !bytes.Equal(once, twice) {
		t.Fatalf("tidied twice: %v\n%q\n%q", problems, once, twice)
	}
}

func checkProblems(t *testing.T, problems diag.List, src []byte) {
	lines := bytes.Count(src, []byte("\n")) + 1
	for _, p := range problems {
		if p.ID == "" || p.Found == "" || p.Expected == "" || p.Place.Line > lines || p.Severity != diag.Error {
			t.Fatalf("a poor problem: %+v", p)
		}
		for _, s := range []string{p.Found, p.Expected, p.Hint} {
			for _, c := range s {
				if forbidden(c) {
					t.Fatalf("a control character in %q", s)
				}
			}
		}
	}
}

func FuzzReadPiece(f *testing.F) {
	addSeeds(f, PieceFile, func(src []byte) { f.Add(src) })
	f.Fuzz(func(t *testing.T, src []byte) { fuzzRead(t, "pieces/p.piece", src) })
}

func FuzzReadGarment(f *testing.F) {
	addSeeds(f, GarmentFile, func(src []byte) { f.Add(src) })
	f.Fuzz(func(t *testing.T, src []byte) { fuzzRead(t, "g.garment", src) })
}

func FuzzReadBody(f *testing.F) {
	addSeeds(f, BodyFile, func(src []byte) { f.Add(src) })
	f.Fuzz(func(t *testing.T, src []byte) { fuzzRead(t, "bodies/b.body", src) })
}

func FuzzReadFitting(f *testing.F) {
	addSeeds(f, FittingFile, func(src []byte) { f.Add(src) })
	f.Fuzz(func(t *testing.T, src []byte) { fuzzRead(t, "fittings/f.fitting", src) })
}

// FuzzUpdate writes the model of one text over another.
func FuzzUpdate(f *testing.F) {
	for _, k := range []Kind{PieceFile, GarmentFile, BodyFile, FittingFile} {
		var last []byte
		addSeeds(f, k, func(src []byte) {
			f.Add("x."+string(k), src, last)
			f.Add("x."+string(k), last, src)
			last = src
		})
	}
	f.Add("x.piece", []byte(handWritten), []byte("seamkeep piece 1\ncorner c 0 0\nedge hem\ncorner a 5 5\nedge top\n"))
	f.Fuzz(func(t *testing.T, path string, src, other []byte) {
		if KindOf(path) == "" || nameOf(path, KindOf(path)) != "x" {
			return
		}
		m, problems := readAny(path, other)
		if len(problems) > 0 {
			return
		}
		out, err := Update(path, src, m)
		if _, unreadable := readAny(path, src); len(unreadable) > 0 && len(src) > 0 {
			if err == nil {
				t.Fatal("wrote over a text that cannot be read")
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		got, problems := readAny(path, out)
		if len(problems) > 0 || !equalAny(m, got) {
			t.Fatalf("%v\n%q\n%q", problems, src, out)
		}
	})
}
