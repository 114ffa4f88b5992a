// Package text turns the text of pattern files into the model and back.
//
// There are four kinds of files: pieces, garments, bodies and fittings; FORMAT.md in
// this folder describes them. One table per kind (piece.go, garment.go,
// body.go, fitting.go) drives the reader, the printer, the words that a typing mistake is
// compared with, and the tests: a new record is one entry of a table and one
// field of the model.
//
// The data flows so: a line becomes fields (lex.go), a record's reader takes
// the fields into the model (record.go and the tables), the printer gives
// units of lines (sheet.go). Comments and blank lines live only here, in a
// document beside the model (document.go), from which Tidy and Update lay
// them round the new lines again.
//
// The package is larger than most: four kinds of files with some fifty records,
// of which each needs a reader and a printer of a few lines.
//
// Everything wrong with a file is reported in one run, as diag problems whose
// ids are listed in ids.go. No input makes the package panic.
package text
