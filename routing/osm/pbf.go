package osm

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/paulmach/protoscan"

	"wayhouse/regs/say"
)

// The reader of PBF extracts trusts what it reads: a number beyond a table, or
// lists of different lengths, stop the program in a goroutine that nobody can
// catch. So every block is checked before: its frame, and that every number
// that the reader looks up is there (OpenStreetMap wiki, PBF Format, 2025; the
// numbers of the fields are those of its fileformat.proto and
// osmformat.proto).

// Bounds of the format: of a block's header, and of its data unpacked.
const (
	mostHeader = 64 << 10
	mostData   = 32 << 20
)

// checkExtracts checks every block of the PBF files among the extracts.
func checkExtracts(ctx context.Context, paths []string, progress Progress) error {
	var done, total int64
	for _, path := range paths {
		if info, err := os.Stat(path); err == nil && strings.HasSuffix(path, ".pbf") {
			total += info.Size()
		}
	}
	for _, path := range paths {
		if !strings.HasSuffix(path, ".pbf") {
			continue
		}
		f, err := os.Open(path)
		if err != nil {
			return err
		}
		err = checkBlocks(ctx, f, func(n int64) {
			if done += n; progress != nil {
				progress("checking", done, total)
			}
		})
		var bad *blockError
		err = errors.Join(err, f.Close())
		if errors.Is(err, errPlainNodes) && ctx.Err() == nil {
			return &InputError{path, say.That("error.pbf_plain_nodes"), say.That("fix.convert_to_dense_nodes")}
		}
		if errors.As(err, &bad) && ctx.Err() == nil {
			return &InputError{path, say.That("error.pbf", "byte", int(bad.at)), say.That("fix.download_or_copy_it")}
		}
		if err != nil && ctx.Err() == nil {
			return err
		}
		if err != nil {
			return ctx.Err()
		}
	}
	return nil
}

// blockError is of a block that is cut off or damaged.
type blockError struct {
	at  int64 // where it begins, in bytes
	err error
}

func (e *blockError) Error() string { return fmt.Sprintf("block at byte %d: %v", e.at, e.err) }

func (e *blockError) Unwrap() error { return e.err }

// checkBlocks checks one file. A block is the length of its header in four
// bytes, big-endian, the header, and the data whose length the header states.
func checkBlocks(ctx context.Context, r io.Reader, read func(int64)) error {
	for at := int64(0); ; {
		if err := ctx.Err(); err != nil {
			return err
		}
		var length [4]byte
		if _, err := io.ReadFull(r, length[:]); err == io.EOF {
			return nil
		} else if err != nil {
			return &blockError{at, io.ErrUnexpectedEOF}
		}
		n, err := checkBlock(r, binary.BigEndian.Uint32(length[:]))
		if err != nil {
			return &blockError{at, err}
		}
		at += 4 + n
		read(4 + n)
	}
}

func checkBlock(r io.Reader, headerSize uint32) (size int64, err error) {
	if headerSize > mostHeader {
		return 0, fmt.Errorf("its header would have %d bytes", headerSize)
	}
	header, err := take(r, int(headerSize))
	if err != nil {
		return 0, err
	}
	kind, dataSize := "", int32(-1)
	err = fields(header, headerForm, func(m *protoscan.Message) (err error) {
		switch m.FieldNumber() {
		case 1:
			kind, err = m.String()
		case 3:
			dataSize, err = m.Int32()
		default:
			m.Skip()
		}
		return err
	})
	if err != nil {
		return 0, err
	}
	if dataSize < 0 || dataSize > mostData {
		return 0, fmt.Errorf("its data would have %d bytes", dataSize)
	}
	blob, err := take(r, int(dataSize))
	if err != nil {
		return 0, err
	}
	data, err := unpack(blob)
	switch {
	case err != nil:
		return 0, err
	case kind == "OSMData":
		if err := checkData(data); err != nil {
			return 0, err
		}
	case kind != "OSMHeader":
		return 0, fmt.Errorf("its kind %q is not known", kind)
	}
	return int64(headerSize) + int64(dataSize), nil
}

func take(r io.Reader, n int) ([]byte, error) {
	out := make([]byte, n)
	if _, err := io.ReadFull(r, out); err != nil {
		return nil, errors.New("the file ends within it")
	}
	return out, nil
}

// form says which fields of a message are packed lists, texts or messages, and
// which are single numbers. The reader takes a field for what it should be,
// whatever it is, and comes out of step.
type form struct{ lists, numbers []int }

// The forms of the messages that are looked into.
var (
	headerForm   = form{lists: []int{1, 2}, numbers: []int{3}}
	blobForm     = form{lists: []int{1, 3}, numbers: []int{2}}
	dataForm     = form{lists: []int{1, 2}, numbers: []int{17, 18, 19, 20}}
	tableForm    = form{lists: []int{1}}
	groupForm    = form{lists: []int{1, 2, 3, 4, 5}}
	nodesForm    = form{lists: []int{1, 5, 8, 9, 10}}
	nodeInfoForm = form{lists: []int{1, 2, 3, 4, 5, 6}}
	elementForm  = form{lists: []int{2, 3, 4, 8, 9, 10}, numbers: []int{1}}
	infoForm     = form{numbers: []int{1, 2, 3, 4, 5, 6}}
)

func (f form) allows(field, wire int) bool {
	switch {
	case slices.Contains(f.lists, field):
		return wire == protoscan.WireTypeLengthDelimited
	case slices.Contains(f.numbers, field):
		return wire == protoscan.WireTypeVarint
	default: // skipped by its own form
		return wire == protoscan.WireTypeLengthDelimited || wire == protoscan.WireTypeVarint ||
			wire == protoscan.WireType32bit || wire == protoscan.WireType64bit
	}
}

// fields visits the fields of a message, which visit reads or skips.
func fields(data []byte, f form, visit func(*protoscan.Message) error) error {
	m := protoscan.New(data)
	for m.Next() {
		if !f.allows(m.FieldNumber(), m.WireType()) {
			return fmt.Errorf("its field %d is not of the form that it should be", m.FieldNumber())
		}
		if err := visit(m); err != nil {
			return err
		}
	}
	return m.Err()
}

// unpack returns the data of a blob.
func unpack(blob []byte) (out []byte, err error) {
	found := false
	err = fields(blob, blobForm, func(m *protoscan.Message) error {
		switch n := m.FieldNumber(); n {
		case 1, 3:
			raw, err := m.Bytes()
			if err != nil {
				return err
			}
			out, found = raw, true
			if n == 1 {
				return nil
			}
			z, err := zlib.NewReader(bytes.NewReader(raw))
			if err != nil {
				return err
			}
			out, err = io.ReadAll(io.LimitReader(z, mostData+1))
			return err
		case 2:
			_, err := m.Int32() // the size unpacked, which the reader checks
			return err
		default:
			return fmt.Errorf("it is packed in a way that is not read (field %d); convert it with zlib", n)
		}
	})
	switch {
	case err != nil:
		return nil, err
	case !found:
		return nil, errors.New("it holds no data")
	case len(out) > mostData:
		return nil, fmt.Errorf("its data has more than %d bytes", mostData)
	}
	return out, nil
}

// checkData checks the elements of a block.
func checkData(data []byte) error {
	texts, err := countTexts(data)
	if err != nil {
		return err
	}
	return fields(data, dataForm, func(m *protoscan.Message) error {
		if m.FieldNumber() != 2 {
			m.Skip()
			return nil
		}
		group, err := m.MessageData()
		if err != nil {
			return err
		}
		return checkGroup(group, texts)
	})
}

// countTexts counts the strings of the block's table.
func countTexts(data []byte) (n int, err error) {
	err = fields(data, dataForm, func(m *protoscan.Message) error {
		if m.FieldNumber() != 1 {
			m.Skip()
			return nil
		}
		table, err := m.MessageData()
		if err != nil {
			return err
		}
		n = 0
		return fields(table, tableForm, func(m *protoscan.Message) error {
			if m.FieldNumber() == 1 {
				n++
			}
			m.Skip()
			return nil
		})
	})
	return n, err
}

// errPlainNodes says that nodes are written one by one, which is not read.
var errPlainNodes = errors.New("nodes that are not dense")

func checkGroup(data []byte, texts int) error {
	return fields(data, groupForm, func(m *protoscan.Message) error {
		kind := m.FieldNumber()
		if kind == 1 {
			return errPlainNodes
		}
		if kind < 2 || kind > 4 {
			m.Skip()
			return nil
		}
		element, err := m.MessageData()
		if err != nil {
			return err
		}
		e := &lists{texts: texts, numbers: map[int][]int64{}}
		switch kind {
		case 2:
			err = e.denseNodes(element)
		case 3:
			err = e.way(element)
		case 4:
			err = e.relation(element)
		}
		return err
	})
}

// lists are the lists of numbers of one element, by field.
type lists struct {
	texts   int
	numbers map[int][]int64
}

// read reads a packed list, which may stand once.
func (l *lists) read(m *protoscan.Message, zigzag bool) (err error) {
	n := m.FieldNumber()
	if _, twice := l.numbers[n]; twice {
		return fmt.Errorf("its list %d stands twice", n)
	}
	if zigzag {
		l.numbers[n], err = m.RepeatedSint64([]int64{})
	} else {
		l.numbers[n], err = m.RepeatedInt64([]int64{})
	}
	return err
}

// same wants lists to be as long as the first, where they are there.
func (l *lists) same(first int, others ...int) error {
	for _, n := range others {
		if list, ok := l.numbers[n]; ok && len(list) != len(l.numbers[first]) {
			return fmt.Errorf("its lists %d and %d have %d and %d numbers", first, n, len(l.numbers[first]), len(list))
		}
	}
	return nil
}

// text wants a number of the table of strings.
func (l *lists) text(n int64) error {
	if n < 0 || n >= int64(l.texts) {
		return fmt.Errorf("string %d of %d", n, l.texts)
	}
	return nil
}

func (l *lists) allTexts(fields ...int) error {
	for _, f := range fields {
		for _, n := range l.numbers[f] {
			if err := l.text(n); err != nil {
				return err
			}
		}
	}
	return nil
}

func (l *lists) denseNodes(data []byte) error {
	const ids, info, lats, lons, keysVals = 1, 5, 8, 9, 10
	about := &lists{texts: l.texts, numbers: map[int][]int64{}}
	err := fields(data, nodesForm, func(m *protoscan.Message) error {
		switch m.FieldNumber() {
		case ids, lats, lons:
			return l.read(m, true)
		case keysVals:
			return l.read(m, false)
		case info:
			d, err := m.MessageData()
			if err != nil {
				return err
			}
			return about.denseInfo(d)
		default:
			m.Skip()
			return nil
		}
	})
	if err != nil {
		return err
	}
	about.numbers[0] = l.numbers[ids]
	if l.numbers[lats] == nil || l.numbers[lons] == nil || l.numbers[ids] == nil {
		return errors.New("nodes without numbers or places")
	}
	if err := errors.Join(l.same(ids, lats, lons), about.same(0, 1, 2, 3, 4, 5, 6)); err != nil {
		return err
	}
	return l.denseTags(l.numbers[keysVals], len(l.numbers[ids]))
}

// denseInfo reads who edited nodes; the numbers of their names are differences.
func (l *lists) denseInfo(data []byte) error {
	err := fields(data, nodeInfoForm, func(m *protoscan.Message) error {
		switch m.FieldNumber() {
		case 1, 6:
			return l.read(m, false)
		case 2, 3, 4, 5:
			return l.read(m, true)
		default:
			m.Skip()
			return nil
		}
	})
	name := int64(0)
	for _, d := range l.numbers[5] {
		if err == nil {
			name += d
			err = l.text(name)
		}
	}
	return err
}

// denseTags wants key and value, key and value, and a zero for every node.
func (l *lists) denseTags(list []int64, nodes int) error {
	if list == nil {
		return nil
	}
	zeros, open := 0, false
	for _, n := range list {
		if n == 0 && !open {
			zeros++
			continue
		}
		if err := l.text(n); err != nil {
			return err
		}
		open = !open
	}
	if zeros != nodes || open {
		return fmt.Errorf("tags of %d nodes for %d", zeros, nodes)
	}
	return nil
}

func (l *lists) info(m *protoscan.Message) error {
	d, err := m.MessageData()
	if err != nil {
		return err
	}
	return fields(d, infoForm, func(m *protoscan.Message) error {
		if m.FieldNumber() != 5 {
			m.Skip()
			return nil
		}
		n, err := m.Uint32()
		if err != nil {
			return err
		}
		return l.text(int64(n))
	})
}

// Fields of ways and relations.
const (
	fieldKeys, fieldVals, fieldInfo = 2, 3, 4
	fieldRefs, fieldLats, fieldLons = 8, 9, 10 // of a way
	fieldRoles, fieldIds, fieldKind = 8, 9, 10 // of the members of a relation
)

func (l *lists) way(data []byte) error {
	err := l.element(data, []int{fieldKeys, fieldVals}, []int{fieldRefs, fieldLats, fieldLons})
	return errors.Join(err, l.same(fieldKeys, fieldVals), l.same(fieldVals, fieldKeys),
		l.same(fieldRefs, fieldLats, fieldLons), l.allTexts(fieldKeys, fieldVals))
}

func (l *lists) relation(data []byte) error {
	err := l.element(data, []int{fieldKeys, fieldVals, fieldRoles, fieldKind}, []int{fieldIds})
	return errors.Join(err, l.same(fieldKeys, fieldVals), l.same(fieldVals, fieldKeys),
		l.same(fieldRoles, fieldIds, fieldKind), l.same(fieldKind, fieldRoles), l.allTexts(fieldKeys, fieldVals, fieldRoles))
}

// element reads the lists of a way or relation: plain numbers, and differences
// with a sign.
func (l *lists) element(data []byte, plain, signed []int) error {
	return fields(data, elementForm, func(m *protoscan.Message) error {
		switch n := m.FieldNumber(); {
		case slices.Contains(plain, n):
			return l.read(m, false)
		case slices.Contains(signed, n):
			return l.read(m, true)
		case n == fieldInfo:
			return l.info(m)
		default:
			m.Skip()
			return nil
		}
	})
}
