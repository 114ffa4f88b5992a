package material

import (
	"math"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// Version is what a caller knows of the version that a list is of. All of it may
// be empty.
type Version struct {
	Label  string   // what people call it
	Commit string   // short id
	Date   string   // of the commit, YYYY-MM-DD
	Tags   []string // such as mock-up-1
	Kept   bool     // exactly this is kept in git
}

// Cutting is the cutting list of a garment.
type Cutting struct {
	Garment string
	Version Version
	Walked  check.Standing
	Cloths  []ClothCut // in the order in which the labels first need them
}

// ClothCut is what is cut from one cloth. Its name is empty for the pieces that
// record none.
type ClothCut struct {
	Name   string
	Cuts   []Cut
	Pieces int // all that come off the table
}

// Cut is a piece as it is cut from one cloth.
type Cut struct {
	Piece     string
	Title     string
	Label     int // its number among Of, in the order of labels, from 1
	Of        int
	Way       pattern.Cut // pair, alike or on fold
	Count     int         // as recorded: pairs where Way is pair, else pieces
	Pieces    int         // that come off the table
	Assumed   bool        // no cloth is recorded: once, as a pair in a half garment
	Fold      string      // the edge on the fold
	Grain     pattern.Opt // degrees from the piece's upright to its grain line; none drawn: not set
	Edges     []EdgeCut   // in outline order
	Area      float64     // of one piece on its sewing line, both sides of a fold, mm2
	Allowance float64     // the strip of cloth outside it: length times allowance, corners left out, mm2
	size      curve.Box   // of one piece as it is laid, grain up
	sewn      curve.Path
}

// EdgeCut is the allowance of one edge.
type EdgeCut struct {
	Edge   string
	Run    string  // the style line that it is part of, or empty
	Length float64 // on the sewing line, mm
	MM     float64 // cloth outside it; 0 on a fold
	Source Source
}

// CuttingOf gives the cutting list. Pieces stand in the order of their labels:
// numbered ones first, then the others by name. A piece whose outline is faulty
// stands in it without figures.
func CuttingOf(g *pattern.Garment, v Version) Cutting {
	out := Cutting{Garment: g.Title, Version: v, Walked: check.StandingOf(check.Input{Garment: g})}
	if out.Garment == "" {
		out.Garment = g.Name
	}
	at := map[string]int{}
	pieces := Labelled(g)
	for i, p := range pieces {
		for _, c := range clothsOf(g, p) {
			k, known := at[c.Name]
			if !known {
				k = len(out.Cloths)
				at[c.Name] = k
				out.Cloths = append(out.Cloths, ClothCut{Name: c.Name})
			}
			cut := cutOf(g, p, c)
			cut.Label, cut.Of = i+1, len(pieces)
			out.Cloths[k].Cuts = append(out.Cloths[k].Cuts, cut)
			out.Cloths[k].Pieces += cut.Pieces
		}
	}
	return out
}

// Labelled gives the pieces in the order of their labels.
func Labelled(g *pattern.Garment) []*pattern.Piece {
	out := append([]*pattern.Piece(nil), g.Pieces...)
	number := func(p *pattern.Piece) int {
		if n := g.Option(p.Name).Number; n > 0 {
			return n
		}
		return math.MaxInt
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := number(out[i]), number(out[j])
		return a < b || a == b && out[i].Name < out[j].Name
	})
	return out
}

// clothsOf gives the cloths of a piece; what records none is cut once.
func clothsOf(g *pattern.Garment, p *pattern.Piece) []pattern.Cloth {
	if len(p.Cloths) > 0 {
		return p.Cloths
	}
	if g.Half != pattern.Whole && !g.Option(p.Name).Whole {
		return []pattern.Cloth{{Count: 1, Cut: pattern.Pair}}
	}
	return []pattern.Cloth{{Count: 1, Cut: pattern.Alike}}
}

func cutOf(g *pattern.Garment, p *pattern.Piece, c pattern.Cloth) Cut {
	out := Cut{
		Piece: p.Name, Title: p.Title, Way: c.Cut, Count: c.Count, Pieces: c.Count, Assumed: len(p.Cloths) == 0,
		Fold: c.Fold.Name, Grain: grainOf(p), sewn: p.Outline(),
	}
	if c.Cut == pattern.Pair {
		out.Pieces *= 2
	}
	out.Area = out.sewn.Area()
	for i := range p.Edges {
		e := EdgeCut{Edge: p.Edges[i].Name, Run: runOf(g, p.Name, p.Edges[i].Name), Length: p.EdgePath(i).Length(measure.Accuracy)}
		e.MM, e.Source = AllowanceOn(g, p.Name, e.Edge)
		if onFold(p, e.Edge) {
			e.MM, e.Source = 0, FromFold
		}
		out.Allowance += e.Length * e.MM
		out.Edges = append(out.Edges, e)
	}
	if c.Cut == pattern.OnFold {
		out.Area, out.Allowance = 2*out.Area, 2*out.Allowance
	}
	out.size = layBox(g, p, out)
	return out
}

// onFold tells whether an edge lies on the fold of one of the piece's cloths: it is cut
// without allowance from all of them.
func onFold(p *pattern.Piece, edge string) bool {
	for _, c := range p.Cloths {
		if c.Cut == pattern.OnFold && c.Fold.Name == edge {
			return true
		}
	}
	return false
}

// grainOf gives how far the grain line leans from upright, in (-90, 90]: a grain
// has no head.
func grainOf(p *pattern.Piece) pattern.Opt {
	if p.Grain == nil || p.Grain.From == p.Grain.To {
		return pattern.Opt{}
	}
	d := p.Grain.To.Sub(p.Grain.From)
	lean := math.Atan2(d.Y, d.X)*180/math.Pi - 90
	for lean <= -90 {
		lean += 180
	}
	return pattern.Some(lean)
}

func runOf(g *pattern.Garment, piece, edge string) string {
	for _, r := range g.Runs {
		for _, ref := range r.Refs {
			if ref.Piece == piece && ref.Edge == edge {
				return r.Name
			}
		}
	}
	return ""
}
