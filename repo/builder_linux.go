package repo

import (
	"io/fs"
	"syscall"
	"time"

	"github.com/go-git/go-git/v5/plumbing/format/index"
)

// fileDetails enters what git compares to see that a file was not touched. On
// other systems git looks at the content once and then knows.
func fileDetails(e *index.Entry, info fs.FileInfo) {
	st, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return
	}
	e.CreatedAt = time.Unix(int64(st.Ctim.Sec), int64(st.Ctim.Nsec))
	e.Dev, e.Inode = uint32(st.Dev), uint32(st.Ino)
	e.UID, e.GID = st.Uid, st.Gid
}
