package text

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// readAny reads a file of any kind; model is nil where it has problems.
func readAny(path string, src []byte) (model any, problems diag.List) {
	switch KindOf(path) {
	case PieceFile:
		p, l := ReadPiece(path, src)
		return p, l
	case GarmentFile:
		g, l := ReadGarment(path, src)
		return g, l
	case FittingFile:
		f, l := ReadFitting(path, src)
		return f, l
	default:
		b, l := ReadBody(path, src)
		return b, l
	}
}

func printAny(model any) []byte {
	switch m := model.(type) {
	case *pattern.Piece:
		return PrintPiece(m)
	case *pattern.Garment:
		return PrintGarment(m)
	case *pattern.Body:
		return PrintBody(m)
	case *pattern.Fitting:
		return PrintFitting(m)
	}
	panic(fmt.Sprintf("no model: %T", model))
}

func equalAny(a, b any) bool {
	switch m := a.(type) {
	case *pattern.Piece:
		return pattern.EqualPieces(m, b.(*pattern.Piece))
	case *pattern.Garment:
		return pattern.Equal(m, b.(*pattern.Garment))
	case *pattern.Body:
		return pattern.EqualBodies(m, b.(*pattern.Body))
	case *pattern.Fitting:
		return pattern.EqualFittings(m, b.(*pattern.Fitting))
	}
	return false
}

// printAgain is the check that every readable text has to pass: print, parse
// and print again give the same text and the same model.
func printAgain(t testing.TB, path string, src []byte) string {
	t.Helper()
	m, problems := readAny(path, src)
	require.Empty(t, problems, "%s", src)
	out := printAny(m)
	again, problems := readAny(path, out)
	require.Empty(t, problems, "printed:\n%s", out)
	require.True(t, equalAny(m, again), "read:\n%s\nprinted:\n%s", src, out)
	require.Equal(t, string(out), string(printAny(again)))
	return string(out)
}
