package match_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/match"
)

func cornerName(c pattern.Corner) string { return c.Name }

func TestWhichCornerIsWhich(t *testing.T) {
	for _, c := range []struct {
		name   string
		change []string
		want   []string
	}{
		{"moved", []string{"hem-back 53.78", "hem-back 60"}, []string{"same top-front", "same hem-front", "same hem-back", "same top-back"}},
		{"renamed in place", []string{"corner hem-back", "corner low"}, []string{"same top-front", "same hem-front", "renamed hem-back > low", "same top-back"}},
		{"renamed and moved, the former name recorded", []string{"corner hem-back 53.78 -111.12", "corner low 60 -111.12 was hem-back"},
			[]string{"same top-front", "same hem-front", "renamed hem-back > low", "same top-back"}},
		{"renamed and moved, known by its edges", []string{"corner hem-back 53.78", "corner low 60"}, []string{"same top-front", "same hem-front", "renamed hem-back > low", "same top-back"}},
		{"a new corner", []string{"edge hem\n", "edge hem\ncorner mid 20.39 -111.56\nedge hem-back\n"}, []string{"same top-front", "same hem-front", "added mid", "same hem-back", "same top-back"}},
	} {
		a, b := edited(t), edited(t, c.change...)
		got := match.Corners(a, b, match.Edges(a, b, match.Options{}), match.Options{})
		assert.Equal(t, c.want, tellParts(a.Corners, b.Corners, cornerName, got), c.name)
	}
	a := edited(t)
	b := mapped(edited(t, "corner hem-back", "corner low"), curve.Translate(40, 3))
	assert.Contains(t, tellParts(a.Corners, b.Corners, cornerName, match.Corners(a, b, nil, match.Options{})), "renamed hem-back > low", "in a moved piece")
}

func TestWhichNotchIsWhich(t *testing.T) {
	name := func(n pattern.Notch) string { return n.Edge.Name + "/" + n.Name }
	for _, c := range []struct {
		name   string
		change []string
		want   []string
	}{
		{"the same", nil, []string{"same front/waist", "same back/waist", "same front/low"}},
		{"moved along its edge", []string{"30 from", "40 from"}, []string{"same front/waist", "same back/waist", "same front/low"}},
		{"renamed in place", []string{"notch low", "notch hip"}, []string{"same front/waist", "same back/waist", "renamed front/low > front/hip"}},
		{"renamed in place, said in other words", []string{"notch low on front 30 from hem-front", "notch hip on front 82 below waist"}, []string{"same front/waist", "same back/waist", "renamed front/low > front/hip"}},
		{"renamed and moved", []string{"notch low on front 30", "notch hip on front 40"}, []string{"same front/waist", "same back/waist", "added front/hip", "removed front/low"}},
		{"its edge renamed", []string{"edge front", "edge side", "waist on front", "waist on side", "low on front", "low on side"},
			[]string{"same front/waist > side/waist", "same back/waist", "same front/low > side/low"}},
		{"its edge split", []string{"edge front\n", "edge front\ncorner mid -13 -50\nedge front-low\n", "low on front", "low on front-low"},
			[]string{"same front/waist", "same back/waist", "same front/low > front-low/low"}},
		{"equal names on both parts of a split edge", []string{"edge front\n", "edge front\ncorner mid -13 -50\nedge front-low\n", "low on front 30 from hem-front", "low on front-low 30 from hem-front\nnotch low on front 10 from mid"},
			[]string{"same front/waist", "same back/waist", "same front/low > front-low/low", "added front/low"}},
		{"edges that swapped names keep their notches", []string{"edge front", "edge x", "edge back", "edge front", "edge x", "edge back",
			"waist on front", "waist on x", "waist on back", "waist on front", "waist on x", "waist on back", "low on front", "low on back"},
			[]string{"same front/waist > back/waist", "same back/waist > front/waist", "same front/low > back/low"}},
	} {
		a, b := edited(t), edited(t, c.change...)
		ga, gb := garment(a), garment(b)
		got := match.Notches(ga, gb, a, b, match.Edges(a, b, match.Options{}), match.Options{})
		assert.Equal(t, c.want, tellParts(a.Notches, b.Notches, name, got), c.name)
	}
	a, b := edited(t), edited(t)
	assert.Len(t, match.Notches(nil, nil, a, b, match.Edges(a, b, match.Options{}), match.Options{}), 3, "without levels, by name")
}

func TestWhichMarkIsWhich(t *testing.T) {
	name := func(m pattern.Mark) string { return m.Name }
	for _, c := range []struct {
		name   string
		change []string
		want   []string
	}{
		{"the same", nil, []string{"same b1", "same e1", "same d1"}},
		{"moved", []string{"10 -100 to 10 160", "12 -100 to 12 150", "e1 0 100", "e1 0 110"}, []string{"same b1", "same e1", "same d1"}},
		{"renamed in place", []string{"bone b1", "bone b2", "eyelet e1", "eyelet e7"}, []string{"renamed b1 > b2", "renamed e1 > e7", "same d1"}},
		{"renamed, and the line is another", []string{"bone b1 width 7 from 10 -100 to 10 160", "bone b2 width 7 from 10 -100 to 10 150"}, []string{"added b2", "same e1", "same d1", "removed b1"}},
		{"of another kind", []string{"drill d1", "button d1"}, []string{"same b1", "same e1", "added d1", "removed d1"}},
	} {
		a, b := edited(t), edited(t, c.change...)
		assert.Equal(t, c.want, tellParts(a.Marks, b.Marks, name, match.Marks(a, b, match.Options{})), c.name)
	}
	a := edited(t)
	b := mapped(edited(t, "bone b1", "bone b2", "drill d1", "drill d2"), curve.Rotate(0.3))
	assert.Equal(t, []string{"renamed b1 > b2", "same e1", "renamed d1 > d2"}, tellParts(a.Marks, b.Marks, name, match.Marks(a, b, match.Options{})), "in a turned piece")
}
