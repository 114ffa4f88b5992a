package judge

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
)

// side is what one side of a merge did since the sides parted.
type side struct {
	name   string
	change *compare.Change
}

// weighMerge judges a merge by three comparisons, from where the sides parted
// to each side and to the result: a seam that it breaks is told with what each
// side moved, a figure that both sides changed is named with the amounts, and so is
// what it leaves out of what a side did.
func (q Request) weighMerge(f *Folder) {
	if len(q.Merge) < 2 || q.Base == nil {
		return
	}
	f.Problems = append(f.Problems, q.leftOut(f)...)
	base := q.Facts.of(q.Base, f.Dir, q.Bodies).garment
	if base == nil {
		return
	}
	options := compare.Options{Body: f.Body}
	var sides []side
	for _, parent := range q.Merge {
		version := q.Facts.of(parent.Snapshot, f.Dir, q.Bodies).garment
		if version == nil {
			return
		}
		sides = append(sides, side{parent.Name, compare.Garments(base, version, options)})
	}
	blame(sides, f)
	f.Problems = append(f.Problems, doubled(sides, compare.Garments(base, f.After, options), f.After)...)
}

// blame adds to each seam that the merge breaks which side moved what.
func blame(sides []side, f *Folder) {
	for i := range f.Problems {
		x := &f.Problems[i]
		s := f.After.Seam(x.Subject)
		if s == nil || x.Severity != diag.Error || !strings.HasPrefix(x.ID, "seam.") {
			continue
		}
		for _, one := range sides {
			x.Related = append(x.Related, diag.Related{Text: one.name + ": " + movedOn(one.change, s)})
		}
	}
}

// movedOn says what a change did to the edges of a seam.
func movedOn(c *compare.Change, s *pattern.Seam) string {
	var parts []string
	for _, r := range append(append([]pattern.Ref{}, s.First...), s.Second...) {
		if e, ok := edgeOf(c, r.Piece, r.Edge); ok && !e.Lies() {
			parts = append(parts, r.Piece+"."+r.Edge+" "+e.Phrase())
		}
	}
	if len(parts) == 0 {
		return "changed nothing on this seam"
	}
	return strings.Join(parts, "; ")
}

func edgeOf(c *compare.Change, piece, edge string) (compare.EdgeChange, bool) {
	for _, p := range c.Pieces {
		if p.Name != piece {
			continue
		}
		for _, e := range p.Edges {
			if e.Name == edge {
				return e, true
			}
		}
	}
	return compare.EdgeChange{}, false
}

// doubled names each figure that more than one side changed and that the merge
// takes further than any of them: two makers' cures for one fault add up.
func doubled(sides []side, together *compare.Change, g *pattern.Garment) diag.List {
	var out diag.List
	for _, f := range figures(together) {
		x := diag.Problem{
			ID: "merge.doubled", Severity: diag.Warning, Place: g.Place, Subject: f.subject,
			Found: "both sides of this merge changed the " + f.name + ", and together they go further",
			Hint:  "ask the other maker whether both changes are meant; once merged, see: seamkeep compare HEAD^ HEAD",
		}
		for _, level := range together.Levels {
			line, by := f.doubledAt(sides, together, level)
			if line != "" {
				x.Related = append(x.Related, diag.Related{Text: line})
				x.Amount = max(x.Amount, by)
			}
		}
		if len(x.Related) > 0 {
			out = append(out, x)
		}
	}
	return append(out, bothEdited(sides, g)...)
}

// figure is something with an amount at each level that a merge may change
// twice.
type figure struct {
	name, subject string
	levels        func(*compare.Change) []compare.AtLevel
}

// doubledAt tells what each side did to the figure at a level, where they add up.
func (f figure) doubledAt(sides []side, together *compare.Change, level string) (line string, by float64) {
	var amounts []string
	most, moved := 0.0, 0
	for _, one := range sides {
		d := f.delta(one.change, level)
		if math.Abs(d) >= compare.Seen {
			moved++
		}
		most = max(most, math.Abs(d))
		amounts = append(amounts, fmt.Sprintf("%+.1f %s", d, one.name))
	}
	all := f.delta(together, level)
	if moved < 2 || math.Abs(all) < most+compare.Seen {
		return "", 0
	}
	return fmt.Sprintf("%s: %s, %+.1f together", level, strings.Join(amounts, ", "), all), math.Abs(all)
}

func (f figure) delta(c *compare.Change, level string) float64 {
	for _, l := range f.levels(c) {
		if l.Level == level {
			d, _ := l.Delta()
			return d
		}
	}
	return 0
}

// figures lists the girth, the gaps and the widths of pieces.
func figures(c *compare.Change) []figure {
	out := []figure{{"girth", "girth", func(c *compare.Change) []compare.AtLevel { return c.Girths }}}
	for _, gap := range c.Gaps {
		out = append(out, figure{"gap " + gap.Closure, gap.Closure, func(c *compare.Change) []compare.AtLevel {
			for _, x := range c.Gaps {
				if x.Closure == gap.Closure {
					return x.Levels
				}
			}
			return nil
		}})
	}
	for _, p := range c.Pieces {
		out = append(out, figure{"width of " + p.Name, p.Name, func(c *compare.Change) []compare.AtLevel {
			for _, x := range c.Pieces {
				if x.Name == p.Name {
					return x.Widths
				}
			}
			return nil
		}})
	}
	return out
}

// bothEdited names records of figures that both sides changed: a tolerance, a
// reduction, a piece's stretch, an edge.
func bothEdited(sides []side, g *pattern.Garment) diag.List {
	type key struct{ piece, kind, name string }
	who := map[key][]string{}
	agreed := map[key]any{} // what the first side made of it
	differ := map[key]bool{}
	var order []key
	for _, one := range sides {
		for _, e := range one.change.Edits {
			k := key{e.Piece, e.Kind, e.Name}
			if e.Before == nil || e.After == nil || k.kind == "order" {
				continue
			}
			if len(who[k]) == 0 {
				order = append(order, k)
				agreed[k] = e.After
			}
			differ[k] = differ[k] || !pattern.Same(agreed[k], e.After)
			who[k] = append(who[k], one.name)
		}
	}
	var out diag.List
	for _, k := range order {
		if len(who[k]) < 2 || !differ[k] {
			continue
		}
		what, subject := strings.TrimSpace(k.kind+" "+k.name), k.name
		if k.piece != "" {
			what, subject = k.piece+": "+what, k.piece
		}
		out = append(out, diag.Problem{
			ID: "merge.both", Severity: diag.Warning, Place: g.Place, Subject: subject,
			Found: what + " was changed by " + strings.Join(who[k], " and by "),
			Hint:  "look whether the merge kept what both meant",
		})
	}
	return out
}

// leftOut names, for each side, the pieces of which a merge leaves what that side alone
// changed as it was: half of a two-sided change is the fault that no seam shows.
func (q *Request) leftOut(f *Folder) diag.List {
	p := q.partingOf(*f)
	taken := make([]map[string]bool, len(p.sides))
	for r, sides := range p.touched {
		if i := sides[0]; len(sides) == 1 && !slices.Contains(p.unlike[r], i) {
			if taken[i] == nil {
				taken[i] = map[string]bool{}
			}
			taken[i][r.where()] = true
		}
	}
	var out diag.List
	left := p.leftOut()
	for _, i := range slices.Sorted(maps.Keys(left)) {
		of := map[string]bool{}
		for _, r := range left[i] {
			of[r.where()] = true
		}
		x := diag.Problem{
			ID: "merge.left-out", Severity: diag.Warning, Place: f.After.Place, Subject: claim.Garment, Amount: float64(len(of)),
			Found: fmt.Sprintf("this merge leaves out what %s changed of %s", p.names[i], names(of)),
			Hint:  "if it is not meant, give the merge up and merge again: git merge --abort, or git reset --hard HEAD^ once it is made",
		}
		if len(taken[i]) > 0 {
			x.Found += " and takes what it changed of " + names(taken[i])
			x.Expected = "all that belongs together, or nothing of it"
		}
		out = append(out, x)
	}
	return out
}

func names(of map[string]bool) string { return strings.Join(slices.Sorted(maps.Keys(of)), ", ") }
