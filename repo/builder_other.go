//go:build !linux

package repo

import (
	"io/fs"

	"github.com/go-git/go-git/v5/plumbing/format/index"
)

func fileDetails(*index.Entry, fs.FileInfo) {}
