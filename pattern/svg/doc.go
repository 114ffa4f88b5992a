// Package svg is the safe pen: it writes pictures that may hold names and notes
// of strangers and may be shown by any host.
//
// A Pen draws on a picture measured in mm, y down, and nothing but what it
// allows can come out of it: no scripts, no links, no style attributes, no
// references outside the document. Every text is cleaned and escaped, every
// attribute has a known name and a value of the kind that the name takes, every
// id is unique and every reference to an id is met, every number has at most
// three decimals. Everything is painted by presentation attributes, since hosts
// strip style sheets; the only style sheet is the one that Dark writes.
//
// A Pen keeps its first error and writes nothing at all unless Close finds none.
// The same calls give the same bytes.
package svg
