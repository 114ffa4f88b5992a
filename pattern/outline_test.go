package pattern_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

func TestTheOutlineIsAClosedChain(t *testing.T) {
	g := full(t)
	for _, p := range g.Pieces {
		ring := p.Outline()
		for i := range ring {
			assert.Equal(t, ring[i].P3, ring[(i+1)%len(ring)].P0, "%s segment %d", p.Name, i)
		}
		for i := range p.Edges {
			path := p.EdgePath(i)
			assert.Equal(t, p.Corners[i].At, path.Start())
			assert.Equal(t, p.Corners[p.After(i)].At, path.End())
		}
	}
}

func TestLinesOfMarks(t *testing.T) {
	bone := pattern.Mark{Kind: pattern.Bone, At: curve.Pt(0, 0), Segs: []pattern.Seg{{To: curve.Pt(3, 4)}, {Curve: true, H1: curve.Pt(4, 5), H2: curve.Pt(5, 6), To: curve.Pt(6, 8)}}}
	path := bone.Path()
	assert.Len(t, path, 2)
	assert.Equal(t, curve.Pt(6, 8), path.End())
	assert.InDelta(t, 10, path.Length(1e-9), 0.1)
	assert.Empty(t, pattern.Mark{Kind: pattern.Drill}.Path())
	for kind, line := range map[pattern.MarkKind]bool{pattern.Bone: true, pattern.Cord: true, pattern.Stitch: true, pattern.Placement: true, pattern.Cutout: true,
		pattern.Eyelet: false, pattern.Button: false, pattern.Buttonhole: false, pattern.Drill: false} {
		assert.Equal(t, line, kind.IsLine(), kind)
	}
}
