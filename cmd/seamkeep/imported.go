package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"path"
	"path/filepath"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

// Where a piece stood when it was last imported from a drawing is remembered in
// this clone alone, beside git's objects: the same drawing may hold another
// state for somebody else. A drawing that we exported says it itself.

const importedFile, importedSchema = "imported.json", "seamkeep.imported/1"

// imported is what this clone remembers of its drawings.
type imported struct {
	Schema string `json:"schema"`
	// Drawings by their path from the root of the repository, or absolute where
	// they lie outside; then by the pattern folder and piece.
	Drawings map[string]map[string]importedPiece `json:"drawings"`
}

// importedPiece is a piece as a drawing gave it.
type importedPiece struct {
	ID   string  `json:"id"`             // of the outline in the drawing
	Base string  `json:"base,omitempty"` // the id that the drawing bore, if it was exported
	Text string  `json:"text"`           // the piece as the drawing shows it
	X    float64 `json:"x"`              // mm from the left of the page to the piece's middle
	// At is where the piece's own 0 0 lies on the page, mm from its top left.
	At *[2]float64 `json:"at,omitempty"`
}

// remembered reads what this clone remembers; nothing where there is no
// repository, or where the file is from a newer program.
func (p *place) remembered() imported {
	empty := imported{importedSchema, map[string]map[string]importedPiece{}}
	if p.repo == nil {
		return empty
	}
	data, err := p.repo.ReadPrivate(importedFile)
	if err != nil || data == nil {
		return empty
	}
	var m imported
	if err := json.Unmarshal(data, &m); err != nil || m.Schema != importedSchema || m.Drawings == nil {
		return empty
	}
	return m
}

// remember writes it.
func (p *place) remember(m imported) error {
	if p.repo == nil {
		return nil
	}
	data, err := json.MarshalIndent(m, "", " ")
	if err == nil {
		err = p.repo.WritePrivate(importedFile, append(data, '\n'))
	}
	if err != nil {
		return fmt.Errorf("remember what was imported: %w", err)
	}
	return nil
}

// renameRemembered lets the memory follow a piece to its new name.
func (p *place) renameRemembered(old, to string) error {
	m := p.remembered()
	before, after := path.Join(p.dir, old), path.Join(p.dir, to)
	changed := false
	for _, pieces := range m.Drawings {
		if one, ok := pieces[before]; ok {
			delete(pieces, before)
			pieces[after] = one
			changed = true
		}
	}
	if !changed {
		return nil
	}
	return p.remember(m)
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

// pastPieces gives the earlier states of a piece's file, the newest first, each
// once: of this branch, at most so many.
func (p *place) pastPieces(name string, most int) ([]*pattern.Piece, error) {
	if p.repo == nil {
		return nil, nil
	}
	file := p.pieceFile(name)
	commits, err := p.repo.Log("", []string{file}, most)
	if errors.Is(err, repo.ErrUnknownRevision) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var out []*pattern.Piece
	var seen []string
	for _, c := range commits {
		snap := p.repo.At(c)
		id, ok := snap.ID(file)
		if !ok || slices.Contains(seen, id) {
			continue
		}
		seen = append(seen, id)
		src, err := snap.ReadFile(file)
		if err != nil {
			continue
		}
		if piece := soundPiece(file, src); piece != nil {
			out = append(out, piece)
		}
	}
	return out, nil
}

// sheetOrder gives, of the pieces that drawings of this clone gave, where their
// middles lie on the page: the order in which the maker laid them out.
func (p *place) sheetOrder() map[string]float64 {
	out := map[string]float64{}
	for _, pieces := range p.remembered().Drawings {
		for key, one := range pieces {
			if dir, piece := path.Split(key); path.Clean(dir) == path.Clean(p.dir) {
				out[piece] = one.X
			}
		}
	}
	return out
}
