//go:build unix

package repo

import (
	"os"
	"syscall"
)

// ownedByUs says whether a folder belongs to the user of this process. Root,
// who may read everything anyway, is let through.
func ownedByUs(dir string) bool {
	uid := os.Geteuid()
	if uid == 0 {
		return true
	}
	info, err := os.Lstat(dir)
	if err != nil {
		return true // the reading itself will say what is wrong
	}
	st, ok := info.Sys().(*syscall.Stat_t)
	return !ok || int(st.Uid) == uid
}
