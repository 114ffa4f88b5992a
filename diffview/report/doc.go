// Package report writes findings, walks, measures and changes as text for a
// terminal and as JSON with a schema. Text has one or two decimals and fits the
// width it is given; JSON is rounded to 1e-6 and has null for what is unknown.
//
// CHANGE.md describes the JSON field by field; the schemas beside it are held
// against what is written by the tests. Text, Markdown and the HTML page tell a
// change with the same sentences, counts and figures.
//
// Names and notes may come from other people's repositories: control
// characters never reach the writer.
package report
