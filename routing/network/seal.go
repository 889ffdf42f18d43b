package network

import (
	"context"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"os"
)

// A file is trusted in three steps, each of which saves the one before:
//
//   - Verify reads all of it: every checksum, and that every number points to something.
//   - A seal in the file says that whoever wrote it had verified the network. Its
//     checksums alone then show that it still is what was verified.
//   - A stamp beside the file says that its checksums were right on this machine, and what
//     file that was. While the file is the same, they are not read again: what a way rests
//     on is held against the sums of its pages when it is found, see Sound.

// checks counts the versions of what Verify asks of a file; a seal of another is none.
const checks = 1

// sealOf is the seal of a file whose table has these rows before that of the seal.
func sealOf(rows []entry) uint64 {
	raw, _ := binary.Append([]byte{checks}, binary.LittleEndian, rows) // fixed sizes: it cannot fail
	return 1<<32 | uint64(crc32.Checksum(raw, castagnoli))             // 0 is no seal
}

// due is the seal that the file has if it was verified.
func (m *mapping) due() uint64 { return sealOf(m.table[:len(m.table)-1]) }

// Ready makes sure that a network may be answered from, by as little as its file needs.
// progress hears how many bytes of how many are checked; nil hears nothing. The error is
// a [*FileError] or that of the context.
func (n *Network) Ready(ctx context.Context, progress func(done, total int64)) error {
	switch {
	case n.file == nil || n.sealed.Load():
		return nil
	case n.file.seal[0] != n.file.due():
		return n.Verify(ctx, progress)
	case n.file.stamped():
		n.lazily()
		return n.file.checkSums(ctx, n.file.small(), nil)
	default:
		return n.file.checkSums(ctx, n.file.table, progress)
	}
}

// Stamp notes beside a file that was found whole that it was, for those who open it next.
// Only who has called Ready or Verify may.
func (n *Network) Stamp() error {
	return os.WriteFile(stampOf(n.file.path), n.file.stamp(), 0o644)
}

// stampOf is the name of the stamp of a file.
func stampOf(path string) string { return path + ".checked" }

// stamp names the file: when it was last changed as the system has it, and its table.
func (m *mapping) stamp() []byte {
	return fmt.Appendf(nil, "%d %+v %016x\n", checks, m.is, m.due())
}

func (m *mapping) stamped() bool {
	raw, err := os.ReadFile(stampOf(m.path))
	return err == nil && m.path != "" && string(raw) == string(m.stamp())
}
