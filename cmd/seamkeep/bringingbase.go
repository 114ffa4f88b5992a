package main

import (
	"path"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/drawing/again"
	"seamkeep/pattern/text"
)

// The states of the pattern that drawings were made from: how they are found, and
// what this clone remembers of them.

// findBase finds the state of the piece that the drawing was made from, and
// where the piece lies in it: what this clone remembers of the drawing, unless it
// was exported anew since; what the drawing says itself; an earlier version that
// it shows.
func (b *bringing) findBase(x *arrival) error {
	past, err := b.p.past(x.now)
	if err != nil {
		return err
	}
	x.at = x.inRing(x.drawn.At)
	for _, s := range b.states(x) {
		if s.Base != x.drawn.Base || !b.stands(x, s, past) {
			continue
		}
		if x.base = soundPiece(b.p.pieceFile(x.name), []byte(s.Text)); x.base == nil {
			continue
		}
		if x.at == nil && s.At != nil {
			x.at = x.inRing(&curve.Point{X: s.At[0], Y: s.At[1]})
		}
		return nil
	}
	if x.base = b.p.blobPiece(x.name, x.drawn.Base); x.base != nil {
		return nil
	}
	for _, was := range past {
		if was.piece == nil {
			continue
		}
		_, report, problems := again.Lay(was.piece, again.Drawn{Ring: x.drawn.Ring}, again.Options{At: x.at})
		if !problems.HasErrors() && report.Same() {
			x.base = pattern.Clone(was.piece)
			x.base.Marks = nil // whether the drawing ever had them is not known
			return nil
		}
	}
	return nil
}

// stands tells whether what came of an earlier run is part of what the piece is
// now: its very result, or an ancestor on this branch; else, on the line of
// versions that it was made on, what was not yet there then. After a checkout of
// another branch, or of the version before, it is not.
func (b *bringing) stands(x *arrival, s drawnState, past []pastState) bool {
	now, ok := b.l.snap.ID(b.p.pieceFile(x.name))
	if !ok || now == s.Result {
		return ok
	}
	last := "" // the newest version that has the piece as it is now
	for _, v := range past {
		if v.id == s.Result {
			return true
		}
		if v.id == now {
			last = v.last
		}
	}
	head, err := b.p.repo.Head()
	if err != nil || head == nil {
		return err == nil && s.Head == ""
	}
	return b.p.within(s.Head, head.ID) && (last == "" || !b.p.within(last, s.Head))
}

// states gives what this clone remembers of an arrival, the newest first.
func (b *bringing) states(x *arrival) []drawnState {
	pieces := b.memory.Drawings[b.p.drawingKey(x.file)]
	list := pieces[path.Join(b.p.dir, x.name)]
	if x.now != nil && x.now.Was != "" {
		list = append(slices.Clone(list), pieces[path.Join(b.p.dir, x.now.Was)]...)
	}
	return list
}

// remember writes down what each drawing shows: not what the pattern became of
// it, which may hold what was altered there.
func (b *bringing) remember() error {
	if b.p.repo == nil {
		return nil
	}
	written, err := b.p.snapshot("work")
	if err != nil {
		return err
	}
	version := ""
	if head, err := b.p.repo.Head(); err != nil {
		return err
	} else if head != nil {
		version = head.ID
	}
	return b.p.alterMemory(func(m *imported) {
		for key, size := range b.sizes {
			if m.Sizes == nil {
				m.Sizes = map[string]toldSize{}
			}
			delete(m.Sizes, key)
			if size.DPI != 0 || len(size.Known) > 0 {
				m.Sizes[key] = size
			}
		}
		for _, x := range b.arrivals {
			shows, fit := x.shows()
			result, ok := written.ID(b.p.pieceFile(x.name))
			if shows == nil || !ok {
				continue
			}
			s := drawnState{ID: x.drawn.ID, Base: x.drawn.Base, Text: string(text.PrintPiece(shows)), Result: result, Head: version, X: x.middle()}
			if back, ok := fit.Affine().Inverse(); ok {
				origin := x.drawn.ToPage.Apply(back.Apply(curve.Point{}))
				s.At = &[2]float64{origin.X, origin.Y}
			}
			m.put(b.p.drawingKey(x.file), path.Join(b.p.dir, x.name), s)
		}
	})
}

// shows gives the piece as the drawing has it, in the piece's own frame and with
// the names that it has now, and what lays the drawing on that frame.
func (x *arrival) shows() (*pattern.Piece, curve.Rigid) {
	if x.now == nil {
		return x.piece, curve.Rigid{}
	}
	for _, on := range []*pattern.Piece{x.piece, x.base, x.now} {
		if on == nil {
			continue
		}
		piece, report, problems := again.Lay(on, x.asDrawn(true), again.Options{At: x.at})
		if !problems.HasErrors() && report.By != again.ByCorners {
			return piece, report.Fit
		}
	}
	return nil, curve.Rigid{}
}
