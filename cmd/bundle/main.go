// Command bundle rebuilds the shipped road network and jurisdictions from the
// sources beside them, and the licences of what the program is linked of:
//
//	go run ./cmd/bundle
//
// It writes data/roads/network.geojson, the same as a network file that is ready for
// searches (data/roads/network.wayroads), and data/areas/jurisdictions.bin
// from data/source/*.geojson.gz, and data/THIRD-PARTY.txt from the modules that
// go.mod names. Same sources, same bytes.
package main

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/paulmach/orb/geojson"
)

func main() {
	if err := run("data"); err != nil {
		fmt.Fprintln(os.Stderr, "bundle:", err)
		os.Exit(1)
	}
}

// The files under the data folder.
const (
	roadsSource = "source/roads-ottawa-montreal.geojson.gz"
	areasSource = "source/admin1-ca-us.geojson.gz"
	roadsFile   = "roads/network.geojson"
	readyFile   = "roads/network.wayroads"
	areasFile   = "areas/jurisdictions.bin"
	noticesFile = "THIRD-PARTY.txt"
)

// run first makes the areas, because the roads ask them where their source
// names no province.
func run(dir string) error {
	areas, err := buildAreas(filepath.Join(dir, areasSource))
	if err != nil {
		return err
	}
	roads, err := buildRoads(filepath.Join(dir, roadsSource), areas)
	if err != nil {
		return err
	}
	ready, err := readyRoads(roads)
	if err != nil {
		return err
	}
	notices, err := buildNotices(systems...)
	if err != nil {
		return err
	}
	for file, made := range map[string][]byte{
		areasFile: areas, roadsFile: roads, readyFile: ready, noticesFile: notices,
	} {
		if err := os.WriteFile(filepath.Join(dir, file), made, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// readSource reads a gzipped GeoJSON file.
func readSource(path string) (*geojson.FeatureCollection, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	raw, err := io.ReadAll(z)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	fc, err := geojson.UnmarshalFeatureCollection(raw)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return fc, nil
}

// collection writes a FeatureCollection with one feature a line, so that a
// change shows as the lines it changes. head is what stands before "features".
func collection(head string, features []*geojson.Feature) ([]byte, error) {
	var b bytes.Buffer
	fmt.Fprintf(&b, "{\"type\":\"FeatureCollection\",%s\"features\":[", head)
	for i, f := range features {
		raw, err := f.MarshalJSON()
		if err != nil {
			return nil, err
		}
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteByte('\n')
		b.Write(raw)
	}
	b.WriteString("\n]}\n")
	return b.Bytes(), nil
}
