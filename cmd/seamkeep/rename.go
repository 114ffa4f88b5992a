package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
)

func renameCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "rename PIECE NEW | PIECE.EDGE NEW",
		Short: "Give a piece, an edge or a corner another name, everywhere",
		Long: `Rename gives a piece, or with PIECE.NAME one of its edges or corners, another
name: in its own file and wherever the garment file refers to it. The part
remembers the name that the last version has, so that a comparison knows it
again. Only the lines that bear the name are rewritten; the cloth stays as it
is.`,
		Example:           "  seamkeep rename panel-2 side-front\n  seamkeep rename side-front.e3 back",
		Args:              cobra.ExactArgs(2),
		ValidArgsFunction: a.completeParts,
		RunE:              func(_ *cobra.Command, args []string) error { return a.rename(args[0], args[1]) },
	}
}

func (a *app) rename(what, to string) error {
	p, l, err := a.open("")
	if err == nil {
		err = p.writable()
	}
	if err != nil {
		return err
	}
	piece, part, dotted := strings.Cut(what, ".")
	if dotted && part == "" {
		return usage("%q names no part; write PIECE.EDGE, or the piece alone", report.Clean(what))
	}
	g := halfRenamed(l.folder.Garment, piece, to)
	kept := p.keptPiece(piece)
	var after *pattern.Garment
	var fault *diag.Problem
	was := map[string]string{}
	switch here := g.Piece(piece); {
	case part == "":
		after, fault = alter.RenamePiece(g, piece, to, kept != nil)
		was[to] = piece
	case here != nil && here.EdgeIndex(part) < 0 && here.CornerIndex(part) >= 0:
		after, fault = alter.RenameCorner(g, piece, part, to, kept != nil && kept.CornerIndex(part) >= 0)
	default:
		after, fault = alter.RenameEdge(g, piece, part, to, kept != nil && kept.EdgeIndex(part) >= 0)
	}
	if fault != nil {
		a.talk().Problems(diag.List{*fault})
		return &exitError{exitUsage, fmt.Errorf("nothing was renamed")}
	}
	return a.writeRenamed(p, l, after, was, what, to)
}

// halfRenamed leaves the new piece out where a run that was killed had written
// it and not yet removed the old one: then they say the same, and this run
// completes that one.
func halfRenamed(g *pattern.Garment, old, to string) *pattern.Garment {
	before, after := g.Piece(old), g.Piece(to)
	if before == nil || after == nil {
		return g
	}
	same := pattern.Clone(after)
	same.Name, same.Was = before.Name, before.Was
	if !pattern.EqualPieces(before, same) {
		return g
	}
	return without(g, map[string]bool{to: true})
}

// keptGarment gives the pattern as the last version has it, or nil.
func (p *place) keptGarment() *pattern.Garment {
	if p.repo == nil {
		return nil
	}
	head, err := p.repo.HeadSnapshot()
	if err != nil {
		return nil
	}
	folder, _ := text.Load(head, p.dir)
	if folder == nil {
		return nil
	}
	return folder.Garment
}

// keptPiece gives a piece as the last version has it, or nil.
func (p *place) keptPiece(name string) *pattern.Piece {
	if g := p.keptGarment(); g != nil {
		return g.Piece(name)
	}
	return nil
}

// writeRenamed writes the files, the old one of a renamed piece goes last.
func (a *app) writeRenamed(p *place, l *loaded, after *pattern.Garment, was map[string]string, what, to string) error {
	files, err := p.rewritten(l, after, was)
	if err != nil {
		return err
	}
	for name, old := range was {
		if l.folder.Garment.Piece(name) != nil && halfRenamed(l.folder.Garment, old, name).Piece(name) == nil {
			continue // what a run that was killed wrote
		}
		if _, err := os.Lstat(filepath.Join(p.root, filepath.FromSlash(p.pieceFile(name)))); err == nil {
			return refused("there is a file %s already; nothing was renamed", p.pieceFile(name))
		}
	}
	if err := writeFiles(p.root, files); err != nil {
		return err
	}
	for name, old := range was {
		if err := removeFiles(p.root, []string{p.pieceFile(old)}); err != nil {
			return fmt.Errorf("the piece is written under its new name, but %s is still there: %w", p.pieceFile(old), err)
		}
		a.say("removed " + p.pieceFile(old))
		if err := p.renameRemembered(old, name); err != nil {
			return err
		}
	}
	a.wrote(files)
	t := a.text()
	t.Para(fmt.Sprintf("%s is now called %s", what, to), "  ")
	return t.Err
}
