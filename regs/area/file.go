package area

import (
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
)

// head is what the file says of one area, before the polygons of all.
type head struct {
	Jurisdiction
	Bound orb.Bound
	Bytes int // of its polygons
}

// Pack writes areas as [Read] reads them: the length of the heads as 4 bytes, the
// heads as JSON, then the polygons of each in turn as well-known binary (OGC 06-103r4).
// The error names the area that cannot be used.
func Pack(areas []Area) ([]byte, error) {
	if _, err := New(areas, Tolerance); err != nil {
		return nil, err
	}
	var heads []head
	var polygons []byte
	for _, a := range areas {
		raw, err := wkb.Marshal(a.Geometry, binary.LittleEndian)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", a.Code, err)
		}
		heads = append(heads, head{a.Jurisdiction, a.Geometry.Bound(), len(raw)})
		polygons = append(polygons, raw...)
	}
	raw, err := json.Marshal(heads)
	out := binary.LittleEndian.AppendUint32(nil, uint32(len(raw)))
	return append(append(out, raw...), polygons...), err
}

// errFile says that bytes are not of [Pack].
var errFile = errors.New("jurisdictions: it is no file of areas, or damaged")

// Read reads areas that [Pack] wrote, the polygons of each when they are first asked
// about; the bytes are kept. What Pack checked is not checked again.
func Read(raw []byte) (*Index, error) {
	if len(raw) < 4 {
		return nil, errFile
	}
	size, raw := int(binary.LittleEndian.Uint32(raw)), raw[4:]
	var heads []head
	if size > len(raw) || json.Unmarshal(raw[:size], &heads) != nil {
		return nil, errFile
	}
	raw = raw[size:]
	ix := empty(Tolerance)
	for _, h := range heads {
		if h.Bytes < 0 || h.Bytes > len(raw) {
			return nil, errFile
		}
		polygons := raw[:h.Bytes]
		raw = raw[h.Bytes:]
		if err := ix.put(h.Jurisdiction, newRegion(h.Code, h.Bound, func() orb.MultiPolygon {
			return unpacked(polygons)
		})); err != nil {
			return nil, err
		}
	}
	return ix, nil
}

// unpacked reads the polygons of one area. It cannot fail: Pack wrote them, and a test
// reads all that are shipped.
func unpacked(raw []byte) orb.MultiPolygon {
	g, err := wkb.Unmarshal(raw)
	polygons, ok := g.(orb.MultiPolygon)
	if err != nil || !ok {
		panic(fmt.Sprintf("%v: %v", errFile, err))
	}
	return polygons
}
