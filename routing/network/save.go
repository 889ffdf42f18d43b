package network

import (
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"slices"
	"syscall"
)

// WriteTo writes the network file. It is sealed where the network was verified.
func (n *Network) WriteTo(w io.Writer) (int64, error) {
	if !hostIsLittleEndian {
		return 0, errors.New("network files are written on little-endian machines only")
	}
	about, err := json.Marshal(n.About)
	if err != nil {
		return 0, err
	}
	all := n.sections(about)
	m := &mapping{}
	at := m.lay(all)
	m.seal = []uint64{0}
	if n.sealed.Load() {
		m.seal[0] = sealOf(m.table)
	}
	all = append(all, m.own()...)
	m.table = append(m.table, m.entry(&at, all[len(all)-1]))
	head, err := encodeHead(m.table, at)
	if err != nil {
		return 0, err
	}
	out := &counter{w: w}
	out.write(head)
	for i, s := range all {
		out.write(make([]byte, m.table[i].Offset-uint64(out.n)))
		out.write(s.bytes)
	}
	return out.n, out.err
}

// lay makes the table of sections, and sums of their pages behind them; it returns where
// the next section may begin.
func (m *mapping) lay(sections []section) uint64 {
	at := uint64(headerSize + (len(sections)+len(m.own()))*entrySize)
	var sum pager
	for _, s := range sections {
		end := at
		m.table = append(m.table, m.entry(&at, s))
		if len(m.table) > 1 {
			sum.write(make([]byte, m.table[len(m.table)-1].Offset-end))
		}
		sum.write(s.bytes)
	}
	m.sums = sum.finish()
	m.table = append(m.table, m.entry(&at, m.own()[0]))
	return at
}

// entry makes the row of a section that begins at a place or a little after, and moves
// the place behind it.
func (m *mapping) entry(at *uint64, s section) entry {
	*at = (*at + alignment - 1) / alignment * alignment
	e := entry{
		Offset: *at, Size: uint64(len(s.bytes)), Width: uint32(s.width), Sum: crc32.Checksum(s.bytes, castagnoli),
	}
	copy(e.Name[:], s.name)
	*at += e.Size
	return e
}

func encodeHead(table []entry, size uint64) ([]byte, error) {
	rows, err := binary.Append(nil, binary.LittleEndian, table)
	if err != nil {
		return nil, err
	}
	h := header{Version: fileVersion, Sections: uint32(len(table)), Size: size, TableSum: crc32.Checksum(rows, castagnoli)}
	copy(h.Magic[:], magic)
	raw, err := binary.Append(nil, binary.LittleEndian, h)
	if err != nil {
		return nil, err
	}
	binary.LittleEndian.PutUint32(raw[headerSize-4:], crc32.Checksum(raw[:headerSize-4], castagnoli))
	return append(raw, rows...), nil
}

// counter writes until an error, and counts.
type counter struct {
	w   io.Writer
	n   int64
	err error
}

func (c *counter) write(raw []byte) {
	if c.err == nil {
		var n int
		n, c.err = c.w.Write(raw)
		c.n += int64(n)
	}
}

// Save writes the network to a file. It is written beside it under another
// name, brought to the disk and then put in its place, so that a reader sees
// the old file or the new one and never a part.
func (n *Network) Save(ctx context.Context, path string) error {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*.part")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // fails once it is renamed
	_, err = n.WriteTo(cancelled{ctx, f})
	if err == nil {
		err = f.Chmod(0o644)
	}
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := os.Rename(f.Name(), path); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(path))
}

// syncFolder brings a rename to the disk. Not every system can; there it is
// left to the system.
func syncFolder(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	if err := d.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && !errors.Is(err, syscall.EINVAL) {
		return errors.Join(err, d.Close())
	}
	return d.Close()
}

// cancelled is a writer that stops when its context ends.
type cancelled struct {
	ctx context.Context
	w   io.Writer
}

func (c cancelled) Write(raw []byte) (int, error) {
	const piece = 4 << 20
	sum := 0
	for part := range slices.Chunk(raw, piece) {
		if err := c.ctx.Err(); err != nil {
			return sum, err
		}
		n, err := c.w.Write(part)
		sum += n
		if err != nil {
			return sum, err
		}
	}
	return sum, nil
}
