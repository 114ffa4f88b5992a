package main

import (
	"encoding/json"
	"fmt"
	"path"
	"path/filepath"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/drawing/vector"
	"seamkeep/pattern/text"
)

// What a drawing showed when it was last imported or exported is remembered in
// this clone alone, beside git's objects: the same drawing may hold another
// state for somebody else. A drawing that we exported says it itself.

const (
	importedFile, importedSchema = "imported.json", "seamkeep.imported/1"
	mostStates                   = 12 // of one piece in one drawing
)

// imported is what this clone remembers of its drawings.
type imported struct {
	Schema string `json:"schema"`
	// Drawings by their path from the root of the repository, or absolute where
	// they lie outside; then by the pattern folder and piece; the newest state
	// first. Several are kept since branches may stand on different ones.
	Drawings map[string]map[string][]drawnState `json:"drawings"`
	// Sizes say how the true size of a drawing was told when it was last read, by
	// the same paths: it does not say so itself.
	Sizes map[string]toldSize `json:"sizes,omitempty"`
}

// toldSize is what the options said of a drawing's true size.
type toldSize struct {
	DPI   float64              `json:"dpi,omitempty"`
	Known []vector.KnownLength `json:"known,omitempty"`
}

// drawnState is a piece as a drawing showed it.
type drawnState struct {
	ID     string  `json:"id"`             // of the outline in the drawing
	Base   string  `json:"base,omitempty"` // the id that the drawing bore, if it was exported
	Text   string  `json:"text"`           // the piece as the drawing shows it: its marks are the drawn ones
	Result string  `json:"result"`         // git's id of the piece file as it was then
	Head   string  `json:"head,omitempty"` // the version that the clone stood on; none before the first
	X      float64 `json:"x"`              // mm from the left of the page to the piece's middle
	// At is where the piece's own 0 0 lies on the page, mm from its top left.
	At *[2]float64 `json:"at,omitempty"`
}

func nothingRemembered() imported {
	return imported{Schema: importedSchema, Drawings: map[string]map[string][]drawnState{}}
}

// remembered reads what this clone remembers; nothing where there is no
// repository. A memory that cannot be read is an error: with it a drawing could
// be taken for another version than it is.
func (p *place) remembered() (imported, error) {
	if p.repo == nil {
		return nothingRemembered(), nil
	}
	data, err := p.repo.ReadPrivate(importedFile)
	if err != nil {
		return imported{}, fmt.Errorf("read what was imported before: %w", err)
	}
	if data == nil {
		return nothingRemembered(), nil
	}
	var m imported
	err = json.Unmarshal(data, &m)
	switch {
	case err == nil && m.Schema == importedSchema && m.Drawings != nil:
		return m, nil
	case err == nil && m.Schema != importedSchema:
		err = fmt.Errorf("it is written as %q, by another seamkeep than this", m.Schema)
	case err == nil:
		err = fmt.Errorf("it says nothing")
	}
	return imported{}, fmt.Errorf("what was imported before cannot be read: %w\nuse the newer seamkeep, or forget it: remove seamkeep/%s in the folder .git", err, importedFile)
}

// alterMemory changes what is remembered, while no other run does.
func (p *place) alterMemory(change func(*imported)) error {
	if p.repo == nil {
		return nil
	}
	unlock, err := p.repo.LockPrivate(importedFile)
	if err != nil {
		return err
	}
	defer unlock()
	m, err := p.remembered()
	if err != nil {
		return err
	}
	change(&m)
	data, err := json.MarshalIndent(m, "", " ")
	if err != nil {
		return err
	}
	return p.repo.WritePrivate(importedFile, append(data, '\n'))
}

// put makes a state the newest of a piece in a drawing.
func (m *imported) put(drawing, piece string, s drawnState) {
	if m.Drawings[drawing] == nil {
		m.Drawings[drawing] = map[string][]drawnState{}
	}
	list := slices.DeleteFunc(m.Drawings[drawing][piece], func(o drawnState) bool { return o.Result == s.Result })
	list = slices.Insert(list, 0, s)
	m.Drawings[drawing][piece] = list[:min(len(list), mostStates)]
}

// renameRemembered lets the memory follow a piece to its new name.
func (p *place) renameRemembered(old, to string) error {
	m, err := p.remembered()
	if err != nil || len(m.Drawings) == 0 {
		return err
	}
	before, after := path.Join(p.dir, old), path.Join(p.dir, to)
	return p.alterMemory(func(m *imported) {
		for _, pieces := range m.Drawings {
			if states, ok := pieces[before]; ok {
				pieces[after] = append(states, pieces[after]...)
				delete(pieces, before)
			}
		}
	})
}

// drawingKey names a drawing in the memory.
func (p *place) drawingKey(file string) string {
	if p.repo != nil {
		if rel, err := p.repo.Rel(file); err == nil {
			return rel
		}
	}
	abs, err := filepath.Abs(file)
	if err != nil {
		return file
	}
	return filepath.ToSlash(abs)
}

// blobPiece reads the piece that a blob id names; nil where this clone does not
// hold it, or it is no piece.
func (p *place) blobPiece(name, id string) *pattern.Piece {
	if p.repo == nil || id == "" {
		return nil
	}
	src, err := p.repo.Blob(id)
	if err != nil {
		return nil
	}
	return soundPiece(p.pieceFile(name), src)
}

func soundPiece(file string, src []byte) *pattern.Piece {
	piece, problems := text.ReadPiece(file, src)
	if problems.HasErrors() {
		return nil
	}
	return piece
}

// pastState is an earlier state of a piece's file on this branch.
type pastState struct {
	id    string
	last  string         // the newest version that has it
	piece *pattern.Piece // nil where it could not be read
}

// past gives the earlier states of a piece's file, the newest first, each once,
// under its present name and the one before: of this branch, at most so many.
func (p *place) past(piece *pattern.Piece) ([]pastState, error) {
	const most = 200
	if p.repo == nil {
		return nil, nil
	}
	if head, err := p.repo.Head(); head == nil {
		return nil, err
	}
	var out []pastState
	seen := map[string]bool{}
	for _, name := range []string{piece.Name, piece.Was} {
		if name == "" {
			continue
		}
		file := p.pieceFile(name)
		commits, err := p.repo.Log("", []string{file}, most)
		if err != nil {
			return nil, err
		}
		for _, c := range commits {
			snap := p.repo.At(c)
			id, ok := snap.ID(file)
			if !ok || seen[id] {
				continue
			}
			seen[id] = true
			state := pastState{id: id, last: c.ID}
			if src, err := snap.ReadFile(file); err == nil {
				state.piece = soundPiece(file, src)
			}
			out = append(out, state)
		}
	}
	return out, nil
}

// within tells whether a version is the other one or leads to it; the one before
// the first leads to all.
func (p *place) within(version, other string) bool {
	if version == "" || version == other {
		return true
	}
	base, err := p.repo.MergeBase(version, other)
	return err == nil && base.ID == version
}

// sheetOrder gives, of the pieces that drawings of this clone gave, where their
// middles lie on the page: the order in which the maker laid them out.
func (p *place) sheetOrder() map[string]float64 {
	out := map[string]float64{}
	m, err := p.remembered()
	if err != nil {
		return out // the order is then found by the lengths of the edges
	}
	for _, pieces := range m.Drawings {
		for key, states := range pieces {
			if dir, piece := path.Split(key); path.Clean(dir) == path.Clean(p.dir) && len(states) > 0 {
				out[piece] = states[0].X
			}
		}
	}
	return out
}
