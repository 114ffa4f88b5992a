package compare

import (
	"fmt"
	"sort"
	"strings"

	"seamkeep/pattern"
)

// pieceRecords says what changed of a piece apart from its outline.
func pieceRecords(a, b *pattern.Piece) []string {
	var out []string
	say := func(changed bool, what string) {
		if changed {
			out = append(out, what)
		}
	}
	say(a.Title != b.Title, "title")
	say(a.Was != b.Was, "was")
	say(!pattern.Same(a.Cloths, b.Cloths), "cloth")
	say(!pattern.Same(a.Grain, b.Grain), "grain")
	say(a.NoLevels != b.NoLevels, "levels")
	out = append(out, named("corner", corners(a), corners(b))...)
	out = append(out, named("level", keyed(a.Levels, func(l pattern.Level) string { return l.Name }),
		keyed(b.Levels, func(l pattern.Level) string { return l.Name }))...)
	notch := func(n pattern.Notch) string { return n.Name + " on " + n.Edge.Name }
	out = append(out, named("notch", keyed(a.Notches, notch), keyed(b.Notches, notch))...)
	mark := func(m pattern.Mark) string { return string(m.Kind) + " " + m.Name }
	out = append(out, named("", keyed(a.Marks, mark), keyed(b.Marks, mark))...)
	return out
}

// corners gives the names of a piece's corners, which are records of their own:
// their places are the outline's.
func corners(p *pattern.Piece) map[string]any {
	m := map[string]any{}
	for _, c := range p.Corners {
		m[c.Name] = c.Was
	}
	return m
}

// garmentRecords says what changed in the garment file.
func garmentRecords(a, b *pattern.Garment) []string {
	if a == nil || b == nil {
		return nil
	}
	var out []string
	say := func(changed bool, what string) {
		if changed {
			out = append(out, what)
		}
	}
	say(a.Title != b.Title, "title")
	say(a.Half != b.Half, "half")
	say(a.Body != b.Body, "body")
	say(a.Rough != b.Rough, "rough")
	say(a.RequireClaims != b.RequireClaims, "require claims")
	say(!pattern.Same(a.Around, b.Around), "around")
	out = append(out, number("thickness", a.Thickness, b.Thickness)...)
	out = append(out, number("give", a.Give, b.Give)...)
	levelNum := func(n pattern.LevelNum) string { return n.Level }
	out = append(out, named("tolerance", keyed(a.Tolerances, func(t pattern.Tolerance) string { return t.Kind }), keyed(b.Tolerances, func(t pattern.Tolerance) string { return t.Kind }))...)
	out = append(out, named("level", keyed(a.Levels, func(l pattern.Level) string { return l.Name }), keyed(b.Levels, func(l pattern.Level) string { return l.Name }))...)
	out = append(out, named("piece", keyed(a.Options, func(o pattern.PieceOption) string { return o.Piece }), keyed(b.Options, func(o pattern.PieceOption) string { return o.Piece }))...)
	out = append(out, named("cords", keyed(a.Cords, levelNum), keyed(b.Cords, levelNum))...)
	out = append(out, named("reduce", keyed(a.Reduce, levelNum), keyed(b.Reduce, levelNum))...)
	out = append(out, named("calibrate", keyed(a.Calibrate, levelNum), keyed(b.Calibrate, levelNum))...)
	out = append(out, named("seam", keyed(a.Seams, func(s pattern.Seam) string { return s.Name }), keyed(b.Seams, func(s pattern.Seam) string { return s.Name }))...)
	out = append(out, named("run", keyed(a.Runs, func(r pattern.Run) string { return r.Name }), keyed(b.Runs, func(r pattern.Run) string { return r.Name }))...)
	out = append(out, overlaps(a, b)...)
	fastening := func(f pattern.Fastening) string { return f.Closure }
	out = append(out, named("buttons", keyed(a.Buttons, fastening), keyed(b.Buttons, fastening))...)
	out = append(out, named("eyelets", keyed(a.Eyelets, fastening), keyed(b.Eyelets, fastening))...)
	out = append(out, named("wanted gap", keyed(a.Wanted, func(w pattern.Wanted) string { return w.Closure + " at " + w.Level }), keyed(b.Wanted, func(w pattern.Wanted) string { return w.Closure + " at " + w.Level }))...)
	out = append(out, named("allowance", keyed(a.Allowances, func(x pattern.Allowance) string { return x.Target.String() }), keyed(b.Allowances, func(x pattern.Allowance) string { return x.Target.String() }))...)
	out = append(out, named("join", keyed(a.Joins, func(x pattern.Join) string { return x.Target.String() }), keyed(b.Joins, func(x pattern.Join) string { return x.Target.String() }))...)
	return append(out, named("clearance", keyed(a.Clearances, func(x pattern.Clearance) string { return x.Kind }), keyed(b.Clearances, func(x pattern.Clearance) string { return x.Kind }))...)
}

// overlaps says what changed of the closures, with the amount where only the
// overlap did.
func overlaps(a, b *pattern.Garment) []string {
	name := func(c pattern.Closure) string { return c.Name }
	var out []string
	for _, line := range named("closure", keyed(a.Closures, name), keyed(b.Closures, name)) {
		closure := strings.TrimSuffix(strings.TrimPrefix(line, "closure "), " changed")
		x, y := a.Closure(closure), b.Closure(closure)
		if x != nil && y != nil && x.Overlap != y.Overlap {
			line = fmt.Sprintf("overlap of %s %s -> %s", closure, opt(x.Overlap), opt(y.Overlap))
		}
		out = append(out, line)
	}
	return out
}

func number(what string, a, b pattern.Opt) []string {
	if a == b {
		return nil
	}
	return []string{fmt.Sprintf("%s %s -> %s", what, opt(a), opt(b))}
}

func opt(o pattern.Opt) string {
	if !o.Set {
		return "none"
	}
	return fmt.Sprintf("%g", o.Value)
}

func keyed[T any](list []T, key func(T) string) map[string]any {
	m := map[string]any{}
	for _, v := range list {
		m[key(v)] = v
	}
	return m
}

// named says which records of a kind were added, lost or changed, by name.
func named(kind string, a, b map[string]any) []string {
	var names []string
	for n := range a {
		names = append(names, n)
	}
	for n := range b {
		if _, both := a[n]; !both {
			names = append(names, n)
		}
	}
	sort.Strings(names)
	var out []string
	for _, n := range names {
		x, inA := a[n]
		y, inB := b[n]
		what := strings.TrimSpace(kind + " " + n)
		switch {
		case !inA:
			out = append(out, what+" added")
		case !inB:
			out = append(out, what+" lost")
		case !pattern.Same(x, y):
			out = append(out, what+" changed")
		}
	}
	return out
}
