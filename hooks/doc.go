// Package hooks puts seamkeep's hook scripts into a hooks folder of git, takes
// them out again, and says what stands there. It prints nothing and never
// exits; it knows a folder and no more about git. The caller passes the folder
// that `git rev-parse --git-path hooks` names, made absolute.
//
// Three rules hold everywhere:
//
//   - Only a file that seamkeep wrote is written over or removed. The second
//     line of a script carries a check sum, so that a script somebody has
//     edited since counts as theirs.
//   - Another hook is left byte for byte as it is. On request it is moved
//     aside as NAME.before-seamkeep; our script then runs it first, with the
//     same arguments and the same stdin, and stops with its exit code if it
//     fails. First, because such a hook may change what is about to be
//     committed (formatters do), and because it must do its work even when
//     the seamkeep program is missing.
//   - After Remove the folder is what it was before Install, down to not being
//     there.
//
// A hook that chooses its work by its own file name ($0) sees the longer name
// once it is moved aside; such a hook is better served by Result.AddLine.
//
// Where core.hooksPath is relative, each linked worktree has a hooks folder of
// its own, and git runs no hook, silently, where that folder is missing
// (git-worktree, git-config: core.hooksPath). The caller asks git in each.
package hooks
