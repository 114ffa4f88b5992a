// Package repo reads a git repository: the tree at any revision, the index and
// the working tree, each as an fs.FS with object ids; the history; the trailers
// of a message. It never learns what a pattern is.
//
// Reading goes through one small interface (reader) with two implementations:
// the library go-git, which needs no other program and costs no process, and
// git's own plumbing, which is asked where the library cannot read: a split or
// sparse index, SHA-256, reftable, blobs that a partial clone has yet to fetch,
// the quarantine of a push. Where neither can, the error is an
// *UnsupportedError that says what the repository is and what to do.
// Replacements (git replace) are followed by neither: what was committed counts.
//
// Writing to somebody's repository goes through the git binary only, since the
// library ignores locks and runs no hooks. The one exception is Builder, which
// writes a repository that it is itself creating.
//
// Names and messages come from other people's repositories. They are returned
// as they are; whoever prints them escapes them.
package repo
