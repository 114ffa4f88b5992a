// Package dxf writes a pattern's pieces as a drawing for machines and drawing
// programs that read DXF: the plain ASCII form of release 12 (AC1009), which
// hardly a reader refuses.
//
// Release 12 has no units and no curves of ours: a comment at the head says that
// a unit is 1 mm, and curves are drawn as lines within a stated error. It is
// no format for patterns: layers are named in words by what they hold, nothing
// says which edges are sewn together, and it is not read back.
package dxf
