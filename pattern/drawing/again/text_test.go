package again

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/text"
)

// kept text with comments, numbers that a hand wrote, and an edge without its
// length: all of it must survive.
const handwritten = `seamkeep piece 1
title "Side back"
cloth "canvas" 1 pair  # the strong one
grain 0 -100 to 0 150

corner top-front -13 168
edge front length 280  # on the straight grain
corner hem-front -13 -112
edge hem
corner hem-back 53.78 -111.12
# the back was eased at the second fitting
edge back length 321.229
  curve 49 -80.7 40 -30.4 to 40 0  # the waist
  curve 40 73.4 61.7 138 to corner
corner top-back 51.24 208.31
edge top length 77.281
  curve 31.7 204 12 168 to corner

notch waist on front at waist
notch low on back 40 from hem-back
bone b1 width 7 from 10 -100 to 10 160
`

func handwrittenPiece(t require.TestingT) *pattern.Piece {
	p, problems := text.ReadPiece("pieces/side-back.piece", []byte(handwritten))
	require.Empty(t, problems)
	return p
}

func TestTheTextSurvivesByteForByte(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := handwrittenPiece(t)
		got, _, problems := Lay(p, edited(t, drawing(p)), Options{})
		require.Empty(t, problems)
		out, err := text.Update("pieces/side-back.piece", []byte(handwritten), got)
		require.NoError(t, err)
		assert.Equal(t, handwritten, string(out))
	})
}

func TestOnlyTheLinesOfAChangedEdgeDiffer(t *testing.T) {
	p := handwrittenPiece(t)
	q := pattern.Clone(p)
	q.Edges[2].Segs[1].H2.X += 3
	got, _, problems := Lay(p, onSheet(drawing(q), curve.Rigid{Angle: 1, Shift: curve.Pt(-40, 7)}), Options{})
	require.Empty(t, problems)
	out, err := text.Update("pieces/side-back.piece", []byte(handwritten), got)
	require.NoError(t, err)
	want := strings.Replace(handwritten, "  curve 40 73.4 61.7 138 to corner", "  curve 40 73.4 64.7 138 to corner", 1)
	length := strings.Fields(string(text.PrintPiece(got))[strings.Index(string(text.PrintPiece(got)), "edge back"):])[3]
	assert.Equal(t, strings.Replace(want, "321.229", length, 1), string(out))
}
