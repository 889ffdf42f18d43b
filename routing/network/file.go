package network

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"os"
	"slices"
	"sync/atomic"

	"github.com/edsrzf/mmap-go"

	"wayhouse/regs/say"
)

const (
	magic       = "wayroads"
	fileVersion = 4
	alignment   = 64
)

// header is the start of a file.
type header struct {
	Magic    [8]byte
	Version  uint32
	Sections uint32
	Size     uint64
	TableSum uint32
	Sum      uint32 // of what stands before
}

// entry is one row of the section table.
type entry struct {
	Name   [16]byte
	Offset uint64
	Size   uint64
	Width  uint32
	Sum    uint32
}

var (
	headerSize = binary.Size(header{})
	entrySize  = binary.Size(entry{})
	castagnoli = crc32.MakeTable(crc32.Castagnoli)
)

// FileError says why a file is no usable network.
type FileError struct {
	Problem, Fix say.Remark
	detail       string // of damage, for logs
}

func (e *FileError) Error() string {
	return fmt.Sprintf("network file: %s%s; %s", e.Problem, e.detail, e.Fix)
}

// Remark is all of it in one sentence.
func (e *FileError) Remark() say.Remark {
	return say.That("error.of_network", "problem", e.Problem, "fix", e.Fix)
}

func damaged(format string, args ...any) error {
	return &FileError{say.That("error.damaged"), say.That("fix.fetch_again"), ": " + fmt.Sprintf(format, args...)}
}

// section is one column: how to write it and how to take it from a file.
type section struct {
	name  string
	width int
	bytes []byte
	take  func(raw []byte) error
}

// sections lists every section in the order of the file.
func (n *Network) sections(about []byte) []section {
	return slices.Concat(n.roadSections(about), n.prepared.sections())
}

func (n *Network) roadSections(about []byte) []section {
	return []section{
		{"about", 1, about, func(raw []byte) error { return json.Unmarshal(raw, &n.About) }},
		{"report", 1, n.report, func(raw []byte) error { n.report = raw; return nil }},
		of("node", &n.Node), of("from", &n.From), of("to", &n.To), of("length", &n.Length), of("class", &n.Class),
		of("speed", &n.speed), of("road", &n.road), of("ref", &n.ref), of("name", &n.name), of("set", &n.set),
		of("town", &n.town), of("origin", &n.origin), of("grade", &n.grade), of("delay", &n.delay),
		of("shape starts", &n.shapeStart), of("shape", &n.shape), of("spot starts", &n.spotStart), of("spots", &n.spots),
		of("arc starts", &n.arcStart), of("arcs", &n.arcs), of("bans", &n.bans), of("ban arcs", &n.banArcs),
		of("u-turns", &n.uturns), of("u-turn arcs", &n.uturnArcs),
		of("road starts", &n.roads.start), of("roads", &n.roads.bytes),
		of("string starts", &n.strings.start), of("strings", &n.strings.bytes),
		of("area starts", &n.sets.start), of("areas", &n.sets.bytes),
		of("places", &n.places), of("streets", &n.streets), of("street edges", &n.streetEdges),
		of("addresses", &n.addresses), of("data ends", &n.ends), of("tree", &n.tree), of("tree edges", &n.treeEdge),
	}
}

func of[T any](name string, values *[]T) section {
	var zero T
	return section{name, binary.Size(zero), rawOf(*values), func(raw []byte) (err error) {
		*values, err = column[T](raw)
		return err
	}}
}

// mapping is a file in memory.
type mapping struct {
	bytes mmap.MMap
	table []entry
	raw   []byte
	sums  []uint32 // of pages
	seal  []uint64
	path  string // "" where it was not opened by Open
	is    identity
	// Where lazily, pages are held against their sums when what they hold is used.
	lazily  bool
	good    []atomic.Uint32 // a bit for every page that was
	columns []edgeColumn
	named   map[string]entry
}

// own lists the sections that tell of the file itself, behind all others.
func (m *mapping) own() []section {
	return []section{of("page sums", &m.sums), of("seal", &m.seal)}
}

// Open maps a network file and checks its head. The error is a [*FileError]
// where the file is no network, damaged or newer than this program.
func Open(path string) (*Network, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if info.Size() == 0 || info.IsDir() {
		return nil, fmt.Errorf("%s: %w", path, damaged("it is empty or a folder"))
	}
	mapped, err := mmap.Map(f, mmap.RDONLY, 0)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	n, err := Read(mapped)
	if err != nil {
		return nil, errors.Join(fmt.Errorf("%s: %w", path, err), mapped.Unmap())
	}
	n.file.bytes, n.file.path, n.file.is = mapped, path, identityOf(info)
	return n, nil
}

// Close unmaps the file of a network that was opened.
func (n *Network) Close() error {
	if n.file == nil || n.file.bytes == nil {
		return nil
	}
	return n.file.bytes.Unmap()
}

// Read makes a network of the bytes of a file, which it keeps. It checks the
// head as [Open] does.
func Read(raw []byte) (*Network, error) {
	if !hostIsLittleEndian {
		return nil, &FileError{Problem: say.That("error.this_machine_is_big"), Fix: say.That("fix.use_a_little_endian")}
	}
	table, err := readHead(raw)
	if err != nil {
		return nil, err
	}
	n := &Network{file: &mapping{table: table, raw: raw}}
	sections := append(n.sections(nil), n.file.own()...)
	if len(sections) != len(table) {
		return nil, damaged("it has %d sections, not %d", len(table), len(sections))
	}
	for i, s := range sections {
		e := table[i]
		if name := e.name(); name != s.name || int(e.Width) != s.width {
			return nil, damaged("section %d is %q with values of %d bytes, not %q with values of %d", i, name, e.Width,
				s.name, s.width)
		}
		if err := s.take(raw[e.Offset : e.Offset+e.Size : e.Offset+e.Size]); err != nil {
			return nil, damaged("section %q: %v", s.name, err)
		}
	}
	if err := n.About.complete(); err != nil {
		return nil, damaged("%v", err)
	}
	if err := n.file.checkPageCount(); err != nil {
		return nil, err
	}
	n.trucks = !n.Lacks(TruckRoads)
	return n, n.checkShape()
}

func (e entry) name() string { return string(bytes.TrimRight(e.Name[:], "\x00")) }

// readHead checks the head of a file and returns its section table.
func readHead(raw []byte) ([]entry, error) {
	var h header
	if len(raw) < headerSize || string(raw[:8]) != magic {
		return nil, &FileError{
			Problem: say.That("error.it_is_no_network"),
			Fix:     say.That("fix.give_one_that_wayhouse_network"),
		}
	}
	if _, err := binary.Decode(raw, binary.LittleEndian, &h); err != nil {
		return nil, damaged("%v", err)
	}
	switch {
	case crc32.Checksum(raw[:headerSize-4], castagnoli) != h.Sum:
		return nil, damaged("its head is damaged")
	case h.Version > fileVersion:
		return nil, &FileError{
			Problem: say.That("error.newer_format", "is", int(h.Version), "reads", fileVersion),
			Fix:     say.That("fix.use_a_newer_wayhouse"),
		}
	case h.Version < fileVersion:
		return nil, &FileError{
			Problem: say.That("error.older_format", "is", int(h.Version), "reads", fileVersion),
			Fix:     say.That("fix.build_again"),
		}
	case h.Size != uint64(len(raw)):
		return nil, damaged("it has %d bytes, its head says %d", len(raw), h.Size)
	case uint64(h.Sections)*uint64(entrySize) > uint64(len(raw)-headerSize):
		return nil, damaged("its section table does not fit into it")
	}
	rows := raw[headerSize : headerSize+int(h.Sections)*entrySize]
	if crc32.Checksum(rows, castagnoli) != h.TableSum {
		return nil, damaged("its section table is damaged")
	}
	table := make([]entry, h.Sections)
	if _, err := binary.Decode(rows, binary.LittleEndian, table); err != nil {
		return nil, damaged("%v", err)
	}
	end := uint64(headerSize + len(rows))
	for _, e := range table {
		if e.Offset%alignment != 0 || e.Offset < end || e.Offset > h.Size || e.Size > h.Size-e.Offset {
			return nil, damaged("section %q does not fit into it, or overlaps another", e.name())
		}
		end = e.Offset + e.Size
	}
	return table, nil
}

// checkShape wants the columns to be as long as each other; it takes no longer
// for a larger file.
func (n *Network) checkShape() error {
	edges, nodes := len(n.From), len(n.Node)
	for _, c := range []struct {
		name  string
		edges int
	}{
		{"to", len(n.To)}, {"length", len(n.Length)}, {"class", len(n.Class)}, {"speed", len(n.speed)}, {"road", len(n.road)},
		{"ref", len(n.ref)}, {"name", len(n.name)}, {"set", len(n.set)}, {"town", len(n.town)}, {"origin", len(n.origin)},
		{"grade", len(n.grade)}, {"tree edges", len(n.treeEdge)}, {"shape starts", len(n.shapeStart) - 1},
		{"spot starts", len(n.spotStart) - 1}, {"arcs", len(n.arcs) / 2}, {"delay", len(n.delay) / 2},
	} {
		if c.edges != edges {
			return damaged("column %q is of %d edges, not of %d", c.name, c.edges, edges)
		}
	}
	if len(n.arcStart) != nodes+1 || len(n.tree) != treeSize(edges) {
		return damaged("%d starts of arcs for %d nodes, %d boxes for %d edges", len(n.arcStart), nodes, len(n.tree), edges)
	}
	return n.streetEnds()
}

// Section is one section of an open file.
type Section struct {
	Name  string `json:"name"`
	Bytes uint64 `json:"bytes"`
}

// Sections lists the sections of a network that was read from a file.
func (n *Network) Sections() []Section {
	var out []Section
	if n.file != nil {
		for _, e := range n.file.table {
			out = append(out, Section{e.name(), e.Size})
		}
	}
	return out
}
