package network

import (
	"encoding/binary"
	"fmt"
	"math"
	"unsafe"
)

// hostIsLittleEndian reports whether columns can be used as they lie in a file.
var hostIsLittleEndian = binary.NativeEndian.Uint16([]byte{1, 0}) == 1

// column views bytes as a slice of fixed-size values without pointers. Bytes
// that are not aligned for them are copied.
func column[T any](raw []byte) ([]T, error) {
	var zero T
	size, align := int(unsafe.Sizeof(zero)), int(unsafe.Alignof(zero))
	switch {
	case len(raw)%size != 0:
		return nil, fmt.Errorf("%d bytes do not divide into values of %d", len(raw), size)
	case len(raw) == 0:
		return nil, nil
	case uintptr(unsafe.Pointer(&raw[0]))%uintptr(align) != 0:
		out := make([]T, len(raw)/size)
		copy(rawOf(out), raw)
		return out, nil
	default:
		return unsafe.Slice((*T)(unsafe.Pointer(&raw[0])), len(raw)/size), nil
	}
}

// rawOf views a column as bytes.
func rawOf[T any](values []T) []byte {
	if len(values) == 0 {
		return nil
	}
	var zero T
	return unsafe.Slice((*byte)(unsafe.Pointer(&values[0])), len(values)*int(unsafe.Sizeof(zero)))
}

// blobs is a table of byte strings: number i is bytes[start[i]:start[i+1]].
type blobs struct {
	start []uint32
	bytes []byte
}

func (b blobs) len() int { return max(len(b.start)-1, 0) }

// at returns one entry, nil beyond the table.
func (b blobs) at(i uint32) []byte {
	if int(i)+1 >= len(b.start) {
		return nil
	}
	return b.bytes[b.start[i]:b.start[i+1]]
}

func (b blobs) text(i uint32) string { return string(b.at(i)) }

// check wants the starts to be in order and within the bytes.
func (b blobs) check() error {
	return ascending(b.start, len(b.bytes), b.len())
}

// ascending wants n+1 numbers that start at 0, never fall and end at most.
func ascending(start []uint32, most, n int) error {
	if len(start) != n+1 && !(n == 0 && len(start) == 0) {
		return fmt.Errorf("%d starts for %d entries", len(start), n)
	}
	if len(start) == 0 {
		return nil
	}
	if start[0] != 0 || int(start[n]) != most {
		return fmt.Errorf("starts run from %d to %d, not from 0 to %d", start[0], start[n], most)
	}
	for i := range n {
		if start[i] > start[i+1] {
			return fmt.Errorf("start %d lies behind the next", i)
		}
	}
	return nil
}

// interner builds a table of blobs without repeating one.
type interner struct {
	blobs
	known map[string]uint32
	full  bool
}

// newInterner returns a table whose number 0 is first, the entry that says
// nothing.
func newInterner(first string) *interner {
	in := &interner{blobs: blobs{start: []uint32{0}}, known: map[string]uint32{}}
	in.id(first)
	return in
}

func (in *interner) id(s string) uint32 {
	if id, ok := in.known[s]; ok {
		return id
	}
	if len(in.bytes)+len(s) > math.MaxUint32 {
		in.full = true
		return 0
	}
	id := uint32(in.len())
	in.known[s] = id
	in.bytes = append(in.bytes, s...)
	in.start = append(in.start, uint32(len(in.bytes)))
	return id
}
