// Package diffview holds the views of a change: overlay draws it, report
// writes it as text and JSON. Views read a compare.Change and what the checks
// found; they measure nothing themselves.
package diffview
