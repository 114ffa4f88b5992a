// Package judge holds a commit against the pattern it would leave behind. It is
// where git and patterns meet: snapshots in, findings and what changed out.
// Hooks, keep and the demo all ask it, so that they all say the same.
package judge
