package sheet

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/text"
)

const waistcoat = "../../testdata/patterns/waistcoat--03-gusset"

func load(t testing.TB, dir string) *pattern.Garment {
	folder, problems := text.Load(os.DirFS(dir), ".")
	require.False(t, problems.HasErrors(), problems)
	return folder.Garment
}

var good = Version{Commit: "1a2b3c4", Note: "gusset", Tag: "mock-up-2", Date: "2026-03-01", Kept: true, Walked: true, Walk: "WALKED 1.5"}

func made(t testing.TB, g *pattern.Garment, o Options) *Sheet {
	if o.Paper == (Paper{}) {
		o.Paper = papers[0]
	}
	s, err := New(g, o)
	require.NoError(t, err)
	return s
}

// written is the PDF as a file.
func written(t testing.TB, s *Sheet) string {
	var buf bytes.Buffer
	require.NoError(t, s.Book.WritePDF(&buf))
	name := filepath.Join(t.TempDir(), "sheet.pdf")
	require.NoError(t, os.WriteFile(name, buf.Bytes(), 0o600))
	return name
}

// tool runs a program of poppler-utils or qpdf; without it the test is skipped.
func tool(t testing.TB, name string, args ...string) []byte {
	program, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not installed: it reads the PDF as others do", name)
	}
	var out, errs bytes.Buffer
	cmd := exec.Command(program, args...)
	cmd.Stdout, cmd.Stderr = &out, &errs
	require.NoError(t, cmd.Run(), "%s %v: %s%s", name, args, out.String(), errs.String())
	return out.Bytes()
}

const (
	dpi = 600
	dot = 25.4 / dpi // mm
)

// rendered is a window of a page as a printer's driver sees it: x and y of its upper
// left corner on the page, width and height, in dots.
type rendered struct {
	grey       []byte
	x, y, w, h int
}

func render(t testing.TB, file string, page, x, y, w, h int) rendered {
	out := tool(t, "pdftoppm", "-r", fmt.Sprint(dpi), "-f", fmt.Sprint(page), "-l", fmt.Sprint(page),
		"-x", fmt.Sprint(x), "-y", fmt.Sprint(y), "-W", fmt.Sprint(w), "-H", fmt.Sprint(h), "-gray", file)
	r := rendered{x: x, y: y}
	var most int
	_, err := fmt.Sscanf(string(out[:min(len(out), 40)]), "P5\n%d %d\n%d\n", &r.w, &r.h, &most)
	require.NoError(t, err)
	r.grey = out[len(out)-r.w*r.h:]
	return r
}

// ink is how black a dot of the window is, from 0 to 1.
func (r rendered) ink(x, y int) float64 { return 1 - float64(r.grey[y*r.w+x])/255 }
