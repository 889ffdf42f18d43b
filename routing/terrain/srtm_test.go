package terrain_test

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/routing/terrain"
)

// Rows of a tile at three arc-seconds and at one (NASA JPL, SRTM_Topo
// documentation, version 2.1, 2009, from memory).
const (
	coarse = 1201
	fine   = 3601
)

// void is what the same source puts where no height is known.
const void = -32768

// tileOf lays a tile out from a formula; x and y run from 0 at the west and
// south edge to 1. All heights in these tests are invented.
func tileOf(size int, height func(x, y float64) float64) []byte {
	raw := make([]byte, 2*size*size)
	for row := range size {
		for col := range size {
			h := height(float64(col)/float64(size-1), 1-float64(row)/float64(size-1))
			put(raw, size, col, size-1-row, int(math.Round(h)))
		}
	}
	return raw
}

// put sets one height, counted from the south-west corner.
func put(raw []byte, size, east, north, metres int) {
	row := size - 1 - north
	binary.BigEndian.PutUint16(raw[2*(row*size+east):], uint16(int16(metres)))
}

func save(t testing.TB, folder, name string, raw []byte) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(folder, name), raw, 0o600); err != nil {
		t.Fatal(err)
	}
}

func gzipped(t testing.TB, raw []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	w, err := gzip.NewWriterLevel(&out, gzip.BestSpeed)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write(raw); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// zipped makes an archive in which a note comes before the tile.
func zipped(t testing.TB, name string, raw []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, f := range []struct {
		name string
		raw  []byte
	}{{"readme.txt", []byte("invented")}, {name, raw}} {
		w, err := z.Create(f.name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(f.raw); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func open(t testing.TB, folder string) *terrain.Tiles {
	t.Helper()
	tiles, err := terrain.Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	return tiles
}

func flat(metres float64) func(x, y float64) float64 {
	return func(_, _ float64) float64 { return metres }
}

func wantHeight(t *testing.T, tiles *terrain.Tiles, p orb.Point, want, within float64) {
	t.Helper()
	got, ok := tiles.Height(p)
	if !ok || math.Abs(got-want) > within {
		t.Errorf("height at %v: %v, %t; want %v within %v; %v", p, got, ok, want, within, tiles.Err())
	}
}

func wantNone(t *testing.T, tiles *terrain.Tiles, p orb.Point) {
	t.Helper()
	if got, ok := tiles.Height(p); ok {
		t.Errorf("height at %v: %v; want none", p, got)
	}
}

// noise is what floating point leaves of an exact height.
const noise = 1e-6

// A plane whose heights are whole metres at every post is read without error
// at any place, since the reading between posts is bilinear.
func TestPlane(t *testing.T) {
	for _, size := range []int{coarse, fine} {
		steps := float64(size - 1)
		plane := func(x, y float64) float64 { return 300 + 2*steps*x - steps*y }
		raw := tileOf(size, plane)
		folder := t.TempDir()
		save(t, folder, "N45W075.hgt", raw)
		tiles := open(t, folder)
		for _, x := range []float64{0, 0.25, 0.3001, 1.0 / 3, 0.5, 0.77777, 0.999999} {
			for _, y := range []float64{0, 0.125, 0.2003, 2.0 / 3, 0.5, 0.91, 0.999999} {
				wantHeight(t, tiles, orb.Point{-75 + x, 45 + y}, plane(x, y), noise)
			}
		}
	}
}

// Of a plane that is no whole number at the posts, rounding leaves half a
// metre at most.
func TestPlaneRounded(t *testing.T) {
	plane := func(x, y float64) float64 { return 123.4 + 777.7*x + 311.3*y }
	folder := t.TempDir()
	save(t, folder, "N45W075.hgt", tileOf(coarse, plane))
	tiles := open(t, folder)
	rounded := false
	for i := range 200 {
		x, y := math.Mod(float64(i)*0.61803, 1), math.Mod(float64(i)*0.41421, 1)
		wantHeight(t, tiles, orb.Point{-75 + x, 45 + y}, plane(x, y), 0.5+noise)
		h, _ := tiles.Height(orb.Point{-75 + x, 45 + y})
		rounded = rounded || math.Abs(h-plane(x, y)) > 0.1
	}
	if !rounded {
		t.Error("no height shows the rounding; the test cannot fail")
	}
}

// A hill a sin(pi x) sin(pi y): between posts d apart, a bilinear reading errs
// by d²/8 (|hxx| + |hyy|) at most, that is a (pi d)²/4, and by half a metre of
// rounding.
func TestHill(t *testing.T) {
	const top = 2500.0
	hill := func(x, y float64) float64 { return top * math.Sin(math.Pi*x) * math.Sin(math.Pi*y) }
	for _, size := range []int{coarse, fine} {
		d := 1 / float64(size-1)
		bound := 0.5 + top*(math.Pi*d)*(math.Pi*d)/4 + noise
		folder := t.TempDir()
		save(t, folder, "N45W075.hgt", tileOf(size, hill))
		tiles := open(t, folder)
		for i := range 300 {
			x, y := math.Mod(float64(i)*0.61803, 1), math.Mod(float64(i)*0.41421, 1)
			wantHeight(t, tiles, orb.Point{-75 + x, 45 + y}, hill(x, y), bound)
		}
	}
}

// Between four posts the height is the bilinear one; worked by hand.
func TestBilinear(t *testing.T) {
	raw := tileOf(coarse, flat(0))
	put(raw, coarse, 300, 300, 10)
	put(raw, coarse, 301, 300, 20)
	put(raw, coarse, 300, 301, 50)
	put(raw, coarse, 301, 301, 100)
	folder := t.TempDir()
	save(t, folder, "N10E020.hgt", raw)
	tiles := open(t, folder)
	for _, c := range []struct{ fx, fy, want float64 }{
		{0, 0, 10}, {0.5, 0, 15}, {0, 0.5, 30}, {0.5, 0.5, 45}, {0.25, 0.75, 0.75*0.25*10 + 0.25*0.25*20 + 0.75*0.75*50 + 0.25*0.75*100},
	} {
		wantHeight(t, tiles, orb.Point{20 + (300+c.fx)/1200, 10 + (300+c.fy)/1200}, c.want, noise)
	}
}

func TestForms(t *testing.T) {
	for _, size := range []int{coarse, fine} {
		steps := float64(size - 1)
		raw := tileOf(size, func(x, y float64) float64 { return steps*x + 2*steps*y })
		forms := map[string][]byte{"N45W075.hgt.zip": zipped(t, "N45W075.hgt", raw)}
		if size == fine { // large, so in fewer forms
			forms = map[string][]byte{"N45W075.SRTMGL1.hgt.zip": forms["N45W075.hgt.zip"]}
		} else {
			forms["N45W075.hgt"], forms["N45W075.hgt.gz"] = raw, gzipped(t, raw)
			forms["N45W075.SRTMGL3.hgt.zip"], forms["N45W075.zip"] = forms["N45W075.hgt.zip"], zipped(t, "N45W075.HGT", raw)
		}
		for name, file := range forms {
			t.Run(fmt.Sprint(size, " ", name), func(t *testing.T) {
				folder := t.TempDir()
				save(t, folder, name, file)
				tiles := open(t, folder)
				wantHeight(t, tiles, orb.Point{-74.625, 45.25}, steps*0.375+2*steps*0.25, noise)
				if err := tiles.Err(); err != nil {
					t.Error(err)
				}
			})
		}
	}
}

// A point on an edge between two tiles is in both; they say the same there.
func TestBorders(t *testing.T) {
	// One plane over four tiles around 46 N 74 W.
	plane := func(lat, lon int) func(x, y float64) float64 {
		return func(x, y float64) float64 { return 3000 + 1200*(float64(lon)+x+74) + 2400*(float64(lat)+y-46) - 600 }
	}
	tile := func(lat, lon int) (string, []byte) {
		return fmt.Sprintf("N%02dW%03d.hgt", lat, -lon), tileOf(coarse, plane(lat, lon))
	}
	at := func(p orb.Point) float64 { return plane(0, 0)(p.Lon(), p.Lat()) }
	points := []orb.Point{{-74.5, 46}, {-73.5, 46}, {-74, 45.5}, {-74, 46.5}, {-74, 46}}
	inside := []orb.Point{{-74.5, 45.5}, {-73.5, 45.5}, {-74.5, 46.5}, {-73.5, 46.5}}
	names := [][2]int{{45, -75}, {45, -74}, {46, -75}, {46, -74}}

	t.Run("all four", func(t *testing.T) {
		folder := t.TempDir()
		for _, c := range names {
			name, raw := tile(c[0], c[1])
			save(t, folder, name, raw)
		}
		tiles := open(t, folder)
		for _, p := range append(points, inside...) {
			wantHeight(t, tiles, p, at(p), noise)
		}
		// Just beside the corner.
		for _, d := range []orb.Point{{1e-9, 1e-9}, {-1e-9, 1e-9}, {1e-9, -1e-9}, {-1e-9, -1e-9}} {
			p := orb.Point{-74 + d[0], 46 + d[1]}
			wantHeight(t, tiles, p, at(p), 1e-3)
		}
	})
	for i, c := range names {
		name, raw := tile(c[0], c[1])
		t.Run("only "+name, func(t *testing.T) {
			folder := t.TempDir()
			save(t, folder, name, raw)
			tiles := open(t, folder)
			for _, p := range points {
				dx, dy := p.Lon()-float64(c[1]), p.Lat()-float64(c[0])
				if dx >= 0 && dx <= 1 && dy >= 0 && dy <= 1 {
					wantHeight(t, tiles, p, at(p), noise)
				} else {
					wantNone(t, tiles, p)
				}
			}
			for k, p := range inside {
				if k == i {
					wantHeight(t, tiles, p, at(p), noise)
				} else {
					wantNone(t, tiles, p)
				}
			}
			wantNone(t, tiles, orb.Point{float64(c[1]) + 1 + 1e-9, float64(c[0]) + 0.5})
			wantNone(t, tiles, orb.Point{float64(c[1]) + 0.5, float64(c[0]) - 1e-9})
			if err := tiles.Err(); err != nil {
				t.Errorf("a tile that is not there is no error: %v", err)
			}
		})
	}
}

// A void spoils the four cells around it and nothing else.
func TestVoids(t *testing.T) {
	raw := tileOf(coarse, flat(100))
	put(raw, coarse, 300, 600, void)
	folder := t.TempDir()
	save(t, folder, "N45W075.hgt", raw)
	tiles := open(t, folder)
	at := func(east, north float64) orb.Point { return orb.Point{-75 + east/1200, 45 + north/1200} }
	for _, d := range [][2]float64{{0, 0}, {0.5, 0.5}, {-0.5, 0.5}, {0.5, -0.5}, {-0.5, -0.5}, {0.9, 0.9}, {-0.9, -0.9}, {0, 0.5}, {0.5, 0}} {
		wantNone(t, tiles, at(300+d[0], 600+d[1]))
	}
	for _, d := range [][2]float64{{1.1, 0}, {-1.1, 0}, {0, 1.1}, {0, -1.1}, {1.1, 1.1}, {-1.1, -1.1}} {
		wantHeight(t, tiles, at(300+d[0], 600+d[1]), 100, noise)
	}
	if err := tiles.Err(); err != nil {
		t.Errorf("a void is no error: %v", err)
	}
}

// At a post, only that post counts: a void beside it is not looked at. The
// posts are at eighths of a degree, which are exact in floating point.
func TestVoidBesidePost(t *testing.T) {
	raw := tileOf(coarse, flat(100))
	for _, d := range [][2]int{{-1, -1}, {-1, 0}, {-1, 1}, {0, -1}, {0, 1}, {1, -1}, {1, 0}, {1, 1}} {
		put(raw, coarse, 300+d[0], 600+d[1], void)
	}
	folder := t.TempDir()
	save(t, folder, "N45W075.hgt", raw)
	tiles := open(t, folder)
	wantHeight(t, tiles, orb.Point{-74.75, 45.5}, 100, 0)
	wantNone(t, tiles, orb.Point{-74.75 + 1e-5, 45.5})
}

func TestHemispheres(t *testing.T) {
	for name, c := range map[string]struct{ in, out orb.Point }{
		"N00E000.hgt": {orb.Point{0.25, 0.125}, orb.Point{-0.25, 0.125}},
		"N00W001.hgt": {orb.Point{-0.75, 0.125}, orb.Point{0.25, 0.125}},
		"S01E000.hgt": {orb.Point{0.25, -0.875}, orb.Point{0.25, 0.125}},
		"S01W001.hgt": {orb.Point{-0.75, -0.875}, orb.Point{0.25, 0.125}},
		"S34W071.hgt": {orb.Point{-70.75, -33.875}, orb.Point{-70.75, -34.875}},
		"S46E170.hgt": {orb.Point{170.25, -45.875}, orb.Point{170.25, -46.875}},
		"N59E179.hgt": {orb.Point{179.25, 59.125}, orb.Point{-179.75, 59.125}},
		"N51W180.hgt": {orb.Point{-179.75, 51.125}, orb.Point{179.25, 51.125}},
	} {
		t.Run(name, func(t *testing.T) {
			folder := t.TempDir()
			save(t, folder, name, tileOf(coarse, func(x, y float64) float64 { return 1200*x + 4800*y }))
			tiles := open(t, folder)
			wantHeight(t, tiles, c.in, 300+600, noise)
			wantNone(t, tiles, c.out)
		})
	}
}

// Below the sea, and at both ends of what a height can be.
func TestNegative(t *testing.T) {
	raw := tileOf(coarse, flat(-430))
	put(raw, coarse, 0, 0, -32767)
	put(raw, coarse, 1200, 1200, 32767)
	folder := t.TempDir()
	save(t, folder, "N31E035.hgt", raw)
	tiles := open(t, folder)
	wantHeight(t, tiles, orb.Point{35.5, 31.5}, -430, 0)
	wantHeight(t, tiles, orb.Point{35, 31}, -32767, 0)
	wantHeight(t, tiles, orb.Point{36, 32}, 32767, 0)
}

func TestUnusableTiles(t *testing.T) {
	good := tileOf(coarse, func(x, y float64) float64 { return 7 + 40*math.Sin(1200*x*y) })
	packed, archive := gzipped(t, good), zipped(t, "N45W075.hgt", good)
	broken := bytes.Clone(packed)
	broken[len(broken)-5] ^= 0xff // in the checksum
	brokenArchive := bytes.Clone(archive)
	brokenArchive[len(brokenArchive)/2] ^= 0xff
	for _, c := range []struct {
		what, name string
		raw        []byte
	}{
		{"empty", "N45W075.hgt", nil},
		{"a byte short", "N45W075.hgt", good[:len(good)-1]},
		{"a byte long", "N45W075.hgt", append(bytes.Clone(good), 0)},
		{"of another spacing", "N45W075.hgt", make([]byte, 601*601*2)},
		{"larger than the largest", "N45W075.hgt", make([]byte, fine*fine*2+2)},
		{"no gzip", "N45W075.hgt.gz", good},
		{"a gzip cut short", "N45W075.hgt.gz", packed[:len(packed)/2]},
		{"a gzip without its end", "N45W075.hgt.gz", packed[:len(packed)-8]},
		{"a gzip with a wrong checksum", "N45W075.hgt.gz", broken},
		{"a short tile in a gzip", "N45W075.hgt.gz", gzipped(t, good[:1000])},
		{"an empty gzip file", "N45W075.hgt.gz", nil},
		{"no zip", "N45W075.hgt.zip", good[:5000]},
		{"a zip cut short", "N45W075.hgt.zip", archive[:len(archive)/2]},
		{"a zip with a damaged tile", "N45W075.hgt.zip", brokenArchive},
		{"a zip without a tile", "N45W075.hgt.zip", zipped(t, "other.txt", good)},
		{"a short tile in a zip", "N45W075.hgt.zip", zipped(t, "N45W075.hgt", good[:1000])},
	} {
		t.Run(c.what, func(t *testing.T) {
			folder := t.TempDir()
			save(t, folder, c.name, c.raw)
			tiles := open(t, folder)
			if err := tiles.Err(); err != nil {
				t.Errorf("before anything was read: %v", err)
			}
			wantNone(t, tiles, orb.Point{-74.5, 45.5})
			err := tiles.Err()
			if err == nil || !strings.Contains(err.Error(), c.name) {
				t.Fatalf("error %v; want one that names %s", err, c.name)
			}
			wantNone(t, tiles, orb.Point{-74.5, 45.5})
			if again := tiles.Err(); again == nil || again.Error() != err.Error() {
				t.Errorf("a second look says %v, the first %v", again, err)
			}
		})
	}
}

// Err is the first error (its own comment), also where several tiles are bad.
func TestFirstError(t *testing.T) {
	folder := t.TempDir()
	save(t, folder, "N45W075.hgt", []byte("short"))
	save(t, folder, "N45W074.hgt", []byte("short"))
	tiles := open(t, folder)
	wantNone(t, tiles, orb.Point{-74.5, 45.5})
	first := tiles.Err()
	wantNone(t, tiles, orb.Point{-73.5, 45.5})
	if got := tiles.Err(); first == nil || got == nil || got.Error() != first.Error() {
		t.Errorf("Err is %v; want the first, %v", got, first)
	}
}

// A damaged tile does not spoil the next one.
func TestDamagedNeighbour(t *testing.T) {
	folder := t.TempDir()
	save(t, folder, "N45W075.hgt", []byte("short"))
	save(t, folder, "N45W074.hgt", tileOf(coarse, flat(55)))
	tiles := open(t, folder)
	wantNone(t, tiles, orb.Point{-74.5, 45.5})
	wantHeight(t, tiles, orb.Point{-73.5, 45.5}, 55, 0)
	wantHeight(t, tiles, orb.Point{-74, 45.5}, 55, 0)
}

func TestOpen(t *testing.T) {
	if _, err := terrain.Open(filepath.Join(t.TempDir(), "none")); err == nil {
		t.Error("a folder that is not there opens")
	}
	empty := t.TempDir()
	if _, err := terrain.Open(empty); err == nil || !strings.Contains(err.Error(), empty) {
		t.Errorf("an empty folder: %v", err)
	}
	for _, name := range []string{"readme.txt", "X45W075.hgt", "N45X075.hgt", "N4W075.hgt", "N45W75.hgt", "N45W0755.hgt", "NaaWbbb.hgt", ".hgt"} {
		folder := t.TempDir()
		save(t, folder, name, []byte("x"))
		if _, err := terrain.Open(folder); err == nil {
			t.Errorf("a folder with %s alone opens", name)
		}
	}
	file := filepath.Join(empty, "N45W075.hgt")
	save(t, empty, "N45W075.hgt", []byte("x"))
	if _, err := terrain.Open(file); err == nil {
		t.Error("a file opens as a folder")
	}
	open(t, empty)
}

// What Open takes for a tile, Height has to find or to complain of: silence
// would read as ground without heights.
func TestOpenKeepsItsWord(t *testing.T) {
	raw := tileOf(coarse, flat(12))
	for _, name := range []string{"n45w075.hgt", "N45W075.HGT", "N45W075.txt", "N45W075", "N45W075.hgt.bz2", "n45w075.hgt.gz"} {
		t.Run(name, func(t *testing.T) {
			folder := t.TempDir()
			file := raw
			if strings.HasSuffix(name, ".gz") {
				file = gzipped(t, raw)
			}
			save(t, folder, name, file)
			tiles, err := terrain.Open(folder)
			if err != nil {
				return
			}
			if h, ok := tiles.Height(orb.Point{-74.5, 45.5}); (!ok || h != 12) && tiles.Err() == nil {
				t.Errorf("Open takes %s for a tile, Height finds nothing and Err says nothing", name)
			}
		})
	}
}

func TestNowhere(t *testing.T) {
	folder := t.TempDir()
	save(t, folder, "N45W075.hgt", tileOf(coarse, flat(1)))
	tiles := open(t, folder)
	nan, inf := math.NaN(), math.Inf(1)
	for _, p := range []orb.Point{{nan, 45.5}, {-74.5, nan}, {nan, nan}, {inf, 45.5}, {-74.5, -inf}, {-inf, inf}, {-74.5, 90}, {180, 0}, {500, 500}} {
		wantNone(t, tiles, p)
	}
}

// More tiles than stay in memory, asked from many goroutines in different
// orders; to be run with the race detector too.
func TestConcurrent(t *testing.T) {
	folder := t.TempDir()
	const tilesWide = 18 // 16 stay
	for i := range tilesWide {
		save(t, folder, fmt.Sprintf("N10E%03d.hgt", i), tileOf(coarse, flat(float64(100+i))))
	}
	save(t, folder, "N10E090.hgt", []byte("short"))
	tiles := open(t, folder)
	var wg sync.WaitGroup
	for g := range 4 {
		wg.Go(func() {
			for k := range tilesWide {
				i := (k*(2*g+1) + g) % tilesWide
				if h, ok := tiles.Height(orb.Point{float64(i) + 0.5, 10.5}); !ok || h != float64(100+i) {
					t.Errorf("tile %d: %v, %t", i, h, ok)
				}
				if _, ok := tiles.Height(orb.Point{90.5, 10.5}); ok {
					t.Error("a short tile has a height")
				}
				_ = tiles.Err()
			}
		})
	}
	wg.Wait()
	if tiles.Err() == nil {
		t.Error("no error of the short tile")
	}
}
