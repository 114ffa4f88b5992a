package main

import (
	"bytes"
	"fmt"
	"path"

	"seamkeep/pattern"
	"seamkeep/pattern/text"
)

// pieceFile is where a piece of the folder lies.
func (p *place) pieceFile(piece string) string {
	return path.Join(p.dir, "pieces", piece+".piece")
}

// rewritten gives the files of a folder that a new model changes; only the lines
// that differ are rewritten. was says which pieces lie under another name so far.
func (p *place) rewritten(l *loaded, after *pattern.Garment, was map[string]string) (map[string][]byte, error) {
	files := map[string][]byte{}
	put := func(file, from string, model any) error {
		src := l.folder.Sources[from]
		out, err := text.Update(file, src, model)
		if err != nil {
			return fmt.Errorf("rewrite %s: %w", file, err)
		}
		if file != from || !bytes.Equal(out, src) {
			files[file] = out
		}
		return nil
	}
	for _, piece := range after.Pieces {
		from := piece.Name
		if old := was[piece.Name]; old != "" {
			from = old
		}
		if err := put(p.pieceFile(piece.Name), p.pieceFile(from), piece); err != nil {
			return nil, err
		}
	}
	if err := put(l.folder.GarmentPath, l.folder.GarmentPath, after); err != nil {
		return nil, err
	}
	return files, nil
}

// rewrite writes the files that a new model changes, and tells which.
func (a *app) rewrite(p *place, l *loaded, after *pattern.Garment) error {
	files, err := p.rewritten(l, after, nil)
	if err != nil {
		return err
	}
	if err := writeFiles(p.root, files); err != nil {
		return err
	}
	a.wrote(files)
	return nil
}

// wrote tells which files were written.
func (a *app) wrote(files map[string][]byte) {
	for _, n := range sortedNames(files) {
		a.say("wrote " + n)
	}
}
