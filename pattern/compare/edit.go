package compare

import (
	"slices"
	"sort"
	"strconv"

	"seamkeep/pattern"
)

// Edit is one record that differs: the exact layer of a Change. Before is nil
// for a record that was added, After for one that went. Values are model types:
// a pattern.Seam, a pattern.Corner, a string, a *pattern.Piece.
type Edit struct {
	Piece  string // whose piece file; empty for the garment's records
	Kind   string // the record's keyword: "seam", "notch", "title"
	Name   string // which of its kind; empty where there is only one
	Before any
	After  any
}

// Edits lists every record that differs between two versions, so that
// Equal(Apply(a, Edits(a, b)), b). Places and the order of records that has no
// meaning do not count. Either version may be nil.
func Edits(a, b *pattern.Garment) []Edit {
	if a == nil || b == nil {
		if a == b {
			return nil
		}
		return []Edit{{Kind: "garment", Before: orNil(a), After: orNil(b)}}
	}
	out := diff(garmentParts(), a, b, "")
	for _, pair := range pairs(a.Pieces, b.Pieces, func(p *pattern.Piece) string { return p.Name }) {
		switch {
		case pair.a == nil || pair.b == nil:
			e := Edit{Kind: "piece-file", Name: pair.key}
			if pair.a != nil {
				e.Before = *pair.a
			}
			if pair.b != nil {
				e.After = *pair.b
			}
			out = append(out, e)
		default:
			out = append(out, pieceEdits(*pair.a, *pair.b)...)
		}
	}
	return out
}

func orNil(g *pattern.Garment) any {
	if g == nil {
		return nil
	}
	return g
}

func pieceEdits(a, b *pattern.Piece) []Edit {
	if a == b {
		return nil
	}
	edits := diff(pieceParts(), a, b, a.Name)
	if len(edits) > 0 && pattern.EqualPieces(a, b) {
		return nil // written otherwise: another start corner, a line that says it is straight
	}
	return edits
}

// editsOf gives the edits of each piece file that both versions have.
func editsOf(edits []Edit) map[string][]Edit {
	out := map[string][]Edit{}
	for _, e := range edits {
		if e.Piece != "" {
			out[e.Piece] = append(out[e.Piece], e)
		}
	}
	return out
}

// Apply carries edits out on a copy of a garment. An edit that does not fit is
// left out; edits from Edits always fit the version that they were made from.
func Apply(g *pattern.Garment, edits []Edit) *pattern.Garment {
	out := pattern.Clone(g)
	for _, e := range edits {
		switch e.Kind {
		case "garment":
			whole, _ := e.After.(*pattern.Garment)
			out = pattern.Clone(whole)
			continue
		case "piece-file":
			out.Pieces = slices.DeleteFunc(out.Pieces, func(p *pattern.Piece) bool { return p.Name == e.Name })
			if p, ok := e.After.(*pattern.Piece); ok {
				out.Pieces = append(out.Pieces, pattern.Clone(p))
				out.SortPieces()
			}
			continue
		}
		if e.Piece == "" {
			apply(garmentParts(), out, e)
		} else if p := out.Piece(e.Piece); p != nil {
			apply(pieceParts(), p, e)
		}
	}
	return out
}

// part is one kind of record of an O: how it differs and how that is carried out.
type part[O any] struct {
	kind  string
	diff  func(a, b *O) []Edit
	apply func(x *O, e Edit)
}

func diff[O any](parts []part[O], a, b *O, piece string) []Edit {
	var out []Edit
	for _, p := range parts {
		for _, e := range p.diff(a, b) {
			e.Piece, e.Kind = piece, p.kind
			out = append(out, e)
		}
	}
	return out
}

func apply[O any](parts []part[O], x *O, e Edit) {
	for _, p := range parts {
		if p.kind == e.Kind {
			p.apply(x, e)
		}
	}
}

// one is a record that stands at most once.
func one[O, V any](kind string, at func(*O) *V) part[O] {
	return part[O]{
		kind: kind,
		diff: func(a, b *O) []Edit {
			if pattern.Same(*at(a), *at(b)) {
				return nil
			}
			return []Edit{{Before: *at(a), After: *at(b)}}
		},
		apply: func(x *O, e Edit) {
			if v, ok := e.After.(V); ok {
				*at(x) = v
			}
		},
	}
}

// many are records of a kind with names. Where a faulty file has a name twice,
// the second is told from the first by its number.
func many[O, T any](kind string, at func(*O) *[]T, name func(T) string) part[O] {
	return part[O]{
		kind: kind,
		diff: func(a, b *O) []Edit {
			if shared(*at(a), *at(b)) {
				return nil
			}
			var out []Edit
			for _, p := range pairs(*at(a), *at(b), name) {
				switch {
				case p.a == nil:
					out = append(out, Edit{Name: p.key, After: *p.b})
				case p.b == nil:
					out = append(out, Edit{Name: p.key, Before: *p.a})
				case !pattern.Same(*p.a, *p.b):
					out = append(out, Edit{Name: p.key, Before: *p.a, After: *p.b})
				}
			}
			return out
		},
		apply: func(x *O, e Edit) {
			list := at(x)
			i := slices.Index(keys(*list, name), e.Name)
			v, is := e.After.(T)
			switch {
			case is && i >= 0:
				(*list)[i] = v
			case is:
				*list = append(*list, v)
			case i >= 0:
				*list = slices.Delete(*list, i, i+1)
			}
		},
	}
}

// shared tells whether two lists are one and the same in memory, as those of a
// file that did not change are.
func shared[T any](a, b []T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

type pair[T any] struct {
	key  string
	a, b *T // nil where that version lacks it
}

// pairs matches two lists by name: those of the second in its order, then
// those that it lacks, by name.
func pairs[T any](a, b []T, name func(T) string) []pair[T] {
	ka, kb := keys(a, name), keys(b, name)
	at := make(map[string]int, len(ka))
	for i, k := range ka {
		at[k] = i
	}
	var out []pair[T]
	for j, k := range kb {
		p := pair[T]{key: k, b: &b[j]}
		if i, ok := at[k]; ok {
			p.a = &a[i]
			delete(at, k)
		}
		out = append(out, p)
	}
	var gone []pair[T]
	for k, i := range at {
		gone = append(gone, pair[T]{key: k, a: &a[i]})
	}
	// the last of a name goes first, so that numbers of equal names stay right
	sort.Slice(gone, func(i, j int) bool { return gone[i].key > gone[j].key })
	return append(out, gone...)
}

func keys[T any](list []T, name func(T) string) []string {
	out := make([]string, len(list))
	seen := make(map[string]int, len(list))
	for i, v := range list {
		k := name(v)
		if seen[k]++; seen[k] > 1 {
			out[i] = k + " #" + strconv.Itoa(seen[k])
			continue
		}
		out[i] = k
	}
	return out
}
