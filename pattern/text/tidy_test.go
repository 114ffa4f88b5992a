package text

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTidyPutsRecordsInOrderWithTheirComments(t *testing.T) {
	src := `

# about the file
seamkeep  piece 1#v
drill d 5.000 -0
# below the drill


# above the notch

notch n on one   5.50 from a   # behind
corner a 0 0
  # over the edge
edge one
     # over the segment
 curve 0 3 0 6 to corner # and behind
title "Last"
corner b 0 9
edge two
levels none

# the end

`
	want := `# about the file
seamkeep piece 1  #v
title "Last"
corner a 0 0
# over the edge
edge one length 9
  # over the segment
  curve 0 3 0 6 to corner  # and behind
corner b 0 9
edge two length 9
levels none
# below the drill

# above the notch

notch n on one 5.5 from a  # behind
drill d 5 0

# the end
`
	out, problems := Tidy("p.piece", []byte(src))
	require.Empty(t, problems)
	assert.Equal(t, want, string(out))
	again, problems := Tidy("p.piece", out)
	require.Empty(t, problems)
	assert.Equal(t, want, string(again))
}

func TestTidyOfAGarmentAndABody(t *testing.T) {
	out, problems := Tidy("g.garment", []byte("seamkeep garment 1\nallowance 12.0\nseam b x.b y.b\nseam a x.a mirrored\nwhole\n"))
	require.Empty(t, problems)
	assert.Equal(t, "seamkeep garment 1\nwhole\nseam b x.b y.b\nseam a x.a mirrored\nallowance 12\n", string(out))

	out, problems = Tidy("b.body", []byte("seamkeep body 1\nnote \"n\"\ngirth waist 700.10\n"))
	require.Empty(t, problems)
	assert.Equal(t, "seamkeep body 1\ngirth waist 700.1\nnote \"n\"\n", string(out))

	out, problems = Tidy("notes.txt", nil)
	assert.Nil(t, out)
	require.Len(t, problems, 1)
	assert.Equal(t, IDFileKind, problems[0].ID)
}

// The form is that of POSIX diff -u, with the two file lines and "@@ -l,s +l,s @@".
func TestTidyDiffShowsTheLinesThatChange(t *testing.T) {
	before := "a\nb\nc\nd\nold\ne\nf\ng\nh\ni\nj\nk\nl\nm\ngone"
	after := "a\nb\nc\nd\nnew\ne\nf\ng\nh\ni\nj\nk\nl\nm\n"
	assert.Equal(t, `--- x.piece
+++ x.piece (tidy)
@@ -2,7 +2,7 @@
 b
 c
 d
-old
+new
 e
 f
 g
@@ -12,4 +12,3 @@
 k
 l
 m
-gone (no line end)
`, TidyDiff("x.piece", []byte(before), []byte(after)))
	assert.Empty(t, TidyDiff("x.piece", []byte(before), []byte(before)))
	assert.Equal(t, "--- x\n+++ x (tidy)\n@@ -0,0 +1,1 @@\n+a\n", TidyDiff("x", nil, []byte("a\n")))
}
