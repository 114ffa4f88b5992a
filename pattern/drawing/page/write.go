package page

import (
	"fmt"
	"io"

	"seamkeep/pattern"
)

// Write lays out the pieces, has them drawn, and writes what was drawn in one
// go: nothing where laying out or drawing fails. Its errors name the garment.
func Write(w io.Writer, g *pattern.Garment, pieces []*pattern.Piece, draw func(*Page) ([]byte, error)) error {
	sheet, err := New(g, pieces)
	if err != nil {
		return fmt.Errorf("drawing %.80q: %w", g.Name, err)
	}
	drawn, err := draw(sheet)
	if err != nil {
		return fmt.Errorf("drawing %.80q: %w", g.Name, err)
	}
	if _, err := w.Write(drawn); err != nil {
		return fmt.Errorf("write drawing: %w", err)
	}
	return nil
}
