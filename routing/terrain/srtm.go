// Package terrain tells how high the ground is, from tiles of the Shuttle
// Radar Topography Mission.
//
// A tile covers one degree by one degree and is named after its south-west
// corner, as N45W075.hgt. It holds rows of big-endian 16-bit metres from north
// to south, 3601 by 3601 of them one arc-second apart or 1201 by 1201 three,
// the outermost shared with the next tile; -32768 is a void (NASA JPL, SRTM
// Topography, SRTM_Topo documentation, version 2.1, 2009). Heights are above
// the EGM96 geoid. The mission asked for an absolute height error below 16 m
// at 90 % confidence (Farr et al., The Shuttle Radar Topography Mission,
// Reviews of Geophysics 45, 2007).
package terrain

import (
	"archive/zip"
	"compress/gzip"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/paulmach/orb"

	"wayhouse/regs/say"
)

// void marks a place without a height.
const void = math.MinInt16

// Tiles is a folder of tiles, read as they are asked for. It is safe for use
// by many goroutines.
type Tiles struct {
	files  map[[2]int]string // by south-west corner
	mu     sync.Mutex
	tiles  map[[2]int]*tile // by south-west corner; nil: there is none
	recent [][2]int
	err    error
}

// keep is how many tiles stay in memory: 26 MB each at one arc-second.
const keep = 16

// Open opens a folder of tiles. The error says that it is none or holds none,
// or that it holds two for one place.
func Open(folder string) (*Tiles, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	t := &Tiles{files: map[[2]int]string{}, tiles: map[[2]int]*tile{}}
	for _, e := range entries {
		lat, lon, ok := corner(e.Name())
		if !ok || e.IsDir() {
			continue
		}
		at, path := [2]int{lat, lon}, filepath.Join(folder, e.Name())
		if other, twice := t.files[at]; twice {
			return nil, say.Err(say.That("error.tiles_of_one_place", "one", other, "other", path))
		}
		t.files[at] = path
	}
	if len(t.files) == 0 {
		return nil, say.Err(say.That("error.no_tile", "folder", folder))
	}
	return t, nil
}

// forms are how tiles are packed, by the end of their names.
var forms = map[string]func(*os.File) (io.ReadCloser, error){
	"hgt":             func(f *os.File) (io.ReadCloser, error) { return f, nil },
	"hgt.gz":          func(f *os.File) (io.ReadCloser, error) { return gzip.NewReader(f) },
	"hgt.zip":         unzip,
	"zip":             unzip,
	"srtmgl1.hgt.zip": unzip,
	"srtmgl3.hgt.zip": unzip,
}

// corner reads the south-west corner from the name of a tile.
func corner(name string) (lat, lon int, ok bool) {
	var ns, ew byte
	base, form, _ := strings.Cut(strings.ToUpper(name), ".")
	if _, known := forms[strings.ToLower(form)]; !known || len(base) != 7 {
		return 0, 0, false
	}
	if n, err := fmt.Sscanf(base, "%c%02d%c%03d", &ns, &lat, &ew, &lon); n != 4 || err != nil {
		return 0, 0, false
	}
	if ns == 'S' {
		lat = -lat
	}
	if ew == 'W' {
		lon = -lon
	}
	return lat, lon, (ns == 'N' || ns == 'S') && (ew == 'E' || ew == 'W')
}

// Height returns the height of a point in metres above the geoid, between the
// four heights around it (bilinear). ok is false where there is no tile or any
// of the four that counts is a void.
func (t *Tiles) Height(p orb.Point) (metres float64, ok bool) {
	lat, lon := math.Floor(p.Lat()), math.Floor(p.Lon())
	if math.IsNaN(lat) || math.IsNaN(lon) {
		return 0, false
	}
	// A point on the northern or eastern edge of a tile is in the next one; where
	// that is not there, the edge belongs to this one.
	for _, c := range [][2]int{{int(lat), int(lon)}, {int(lat) - 1, int(lon)}, {int(lat), int(lon) - 1},
		{int(lat) - 1, int(lon) - 1}} {
		dy, dx := p.Lat()-float64(c[0]), p.Lon()-float64(c[1])
		if dy > 1 || dx > 1 {
			continue
		}
		if tile := t.tile(c); tile != nil {
			return tile.at(dx, dy)
		}
	}
	return 0, false
}

// Err returns the first error that reading a tile made; such a tile counts as
// not there.
func (t *Tiles) Err() error {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.err
}

// tile returns a tile, read at the first call; nil where there is none.
func (t *Tiles) tile(c [2]int) *tile {
	t.mu.Lock()
	defer t.mu.Unlock()
	if found, known := t.tiles[c]; known {
		return found
	}
	found, err := read(t.files[c])
	if err != nil && t.err == nil {
		t.err = err
	}
	t.tiles[c] = found
	if found != nil {
		t.recent = append(t.recent, c)
	}
	if len(t.recent) > keep {
		delete(t.tiles, t.recent[0])
		t.recent = t.recent[1:]
	}
	return found
}

// tile is one tile: rows from north to south.
type tile struct {
	size    int // of a row
	heights []int16
}

// at reads a place by its distance east and north of the corner, in degrees.
func (t *tile) at(dx, dy float64) (float64, bool) {
	x, y := dx*float64(t.size-1), (1-dy)*float64(t.size-1)
	col, row := min(int(x), t.size-2), min(int(y), t.size-2)
	fx, fy := x-float64(col), y-float64(row)
	sum := 0.0
	for _, c := range []struct {
		dc, dr int
		weight float64
	}{{0, 0, (1 - fx) * (1 - fy)}, {1, 0, fx * (1 - fy)}, {0, 1, (1 - fx) * fy}, {1, 1, fx * fy}} {
		if c.weight == 0 {
			continue
		}
		h := t.heights[(row+c.dr)*t.size+col+c.dc]
		if h == void {
			return 0, false
		}
		sum += c.weight * float64(h)
	}
	return sum, true
}

// read reads a tile; nil where there is none.
func read(path string) (*tile, error) {
	if path == "" {
		return nil, nil
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	_, form, _ := strings.Cut(strings.ToLower(filepath.Base(path)), ".")
	r, err := forms[form](f)
	if err != nil {
		return nil, say.Err(say.That("error.tile", "path", path))
	}
	defer r.Close()
	t, err := decode(r)
	if err != nil {
		return nil, say.Err(say.That("error.tile", "path", path))
	}
	return t, nil
}

// unzip opens the first tile of a zip archive.
func unzip(f *os.File) (io.ReadCloser, error) {
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	z, err := zip.NewReader(f, info.Size())
	if err != nil {
		return nil, err
	}
	for _, entry := range z.File {
		if strings.HasSuffix(strings.ToLower(entry.Name), ".hgt") {
			return entry.Open()
		}
	}
	return nil, errors.New("holds no .hgt file")
}

// decode reads the rows of a tile; its size says how far apart they are.
func decode(r io.Reader) (*tile, error) {
	const largest = 3601 * 3601 * 2
	raw, err := io.ReadAll(io.LimitReader(r, largest+1))
	if err != nil {
		return nil, err
	}
	for _, size := range []int{1201, 3601} {
		if len(raw) == size*size*2 {
			t := &tile{size: size, heights: make([]int16, size*size)}
			for i := range t.heights {
				t.heights[i] = int16(binary.BigEndian.Uint16(raw[2*i:]))
			}
			return t, nil
		}
	}
	return nil, fmt.Errorf("has %d bytes; a tile has 2 884 802 (3 arc-seconds) or 25 934 402 (1 arc-second)", len(raw))
}
