package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/overlay"
	"seamkeep/diffview/report"
	"seamkeep/pattern"
)

// overviewing is what the command line of overview says.
type overviewing struct{ out, dir, rev string }

func overviewCommand(a *app) *cobra.Command {
	var o overviewing
	c := &cobra.Command{
		Use:   "overview [PIECE...] -o FILE.svg",
		Short: "Draw the pieces small, for a README or a hosting page",
		Long: `Overview draws all pieces of a version, or those that are named, on one small
picture with their names and grain. It is not to scale.

--thumbnails DIR writes that picture there as all_pieces.svg, and beside it one
for each piece, to be shown some 200 pixels wide.`,
		Example:           "  seamkeep overview -o overview.svg\n  seamkeep overview side-back -o side-back.svg\n  seamkeep overview --thumbnails pictures",
		ValidArgsFunction: a.completePieces,
		RunE:              func(_ *cobra.Command, args []string) error { return a.overview(args, &o) },
	}
	c.Flags().StringVarP(&o.out, "output", "o", "", "file to write; - for standard output")
	c.Flags().StringVar(&o.dir, "thumbnails", "", "a folder for a small picture of each piece and one of all")
	c.Flags().StringVar(&o.rev, "rev", "", "a version instead of the working tree: a revision, or index")
	c.MarkFlagsMutuallyExclusive("output", "thumbnails")
	_ = c.MarkFlagFilename("output", "svg")
	_ = c.MarkFlagDirname("thumbnails")
	return c
}

func (a *app) overview(names []string, o *overviewing) error {
	if o.out == "" && o.dir == "" {
		return usage("say where to write the picture: -o FILE.svg, -o - for standard output, or --thumbnails DIR")
	}
	p, l, err := a.open(o.rev)
	if err != nil {
		return err
	}
	g := l.folder.Garment
	drawn := overlay.Options{Title: g.Title, To: p.versionFacts(l, o.rev).Label}
	picture := func(w io.Writer) error { return overlay.Thumbnail(w, g, drawn) }
	if len(names) > 0 {
		if _, err := pickPieces(g, names); err != nil {
			return err
		}
		picture = func(w io.Writer) error { return overlay.ThumbnailOf(w, g, names, drawn) }
	}
	if o.dir != "" {
		return a.thumbnails(g, names, o.dir, drawn, picture)
	}
	var buf bytes.Buffer
	if err := picture(&buf); err != nil {
		return err
	}
	what := "all pieces"
	if len(names) > 0 {
		what = strings.Join(names, ", ")
	}
	return a.writePicture(buf.Bytes(), o.out, what+", not to scale")
}

// allPieces is the picture of all beside those of the pieces: no piece can have its name.
const allPieces = "all_pieces"

// thumbnails draws all that it will write, and asks whether it may write it, before it
// writes anything.
func (a *app) thumbnails(g *pattern.Garment, names []string, dir string, o overlay.Options, all func(io.Writer) error) error {
	pieces, err := pickPieces(g, names)
	if err != nil {
		return err
	}
	files := map[string][]byte{}
	add := func(name string, draw func(io.Writer) error) error {
		var buf bytes.Buffer
		if err := draw(&buf); err != nil {
			return err
		}
		files[name+".svg"] = buf.Bytes()
		return mayOverwrite(filepath.Join(dir, name+".svg"))
	}
	if err := add(allPieces, all); err != nil {
		return err
	}
	for _, p := range pieces {
		if err := add(p.Name, func(w io.Writer) error { return overlay.PieceThumbnail(w, g, p.Name, o) }); err != nil {
			return err
		}
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return notWritten(dir, err)
	}
	if err := writeFiles(dir, files); err != nil {
		return err
	}
	a.say("wrote " + report.Plural(len(files), "picture") + " to " + report.Clean(dir) + ": " + allPieces + ".svg, and one of each piece")
	return nil
}
