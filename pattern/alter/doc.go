// Package alter carries out alterations: a garment in, an altered copy out,
// together with what it did and a refusal where the cloth would not allow it.
// It never changes the garment that it is given.
package alter
