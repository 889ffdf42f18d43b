package network

import (
	"io/fs"
	"syscall"
	"time"
)

// identity tells a file from what it was before any change. Nobody can set when the system
// changed it last.
type identity struct {
	size           int64
	modified       int64 // ns
	device, number uint64
	changed        int64 // ns
}

func identityOf(info fs.FileInfo) identity {
	out := identity{size: info.Size(), modified: info.ModTime().UnixNano()}
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		out.device, out.number = uint64(s.Dev), s.Ino
		out.changed = time.Unix(s.Ctim.Unix()).UnixNano()
	}
	return out
}
