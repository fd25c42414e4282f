//go:build unix

package store

import (
	"io/fs"
	"syscall"
)

// owned is whose a file is, and how many names it has.
type owned struct {
	uid, gid int
	links    uint64
}

func ownership(info fs.FileInfo) owned {
	st, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return owned{}
	}
	return owned{int(st.Uid), int(st.Gid), uint64(st.Nlink)}
}
