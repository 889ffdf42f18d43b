package osm

import (
	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// builtUpDensity is how many junctions of streets stand in a square kilometre of
// a built-up area: as many as where a street runs every 200 m. This project's
// choice, no source.
const builtUpDensity = 25

// townLevel is the level of the cells in which junctions are counted: about
// 0.08 km² each; a place is judged by its cell and the eight around it.
const townLevel = 15

// streetSpeed are the towing speeds that are assumed in a built-up area where no
// lower one is posted: about nine tenths of the typical free-flow speeds of urban
// streets of classes II (40 mi/h, 64 km/h), III (33 mi/h, 53 km/h) and IV (30 mi/h,
// 48 km/h) of the Highway Capacity Manual 2000. The share, and which class of road
// is which, is this project's choice.
var streetSpeed = map[network.Class]measure.Speed{
	network.Trunk: 60 * measure.KilometrePerHour, network.Primary: 50 * measure.KilometrePerHour,
	network.Secondary: 50 * measure.KilometrePerHour, network.Tertiary: 45 * measure.KilometrePerHour,
	network.Minor: 40 * measure.KilometrePerHour,
}

// towns tells built-up areas by how close their junctions stand.
type towns struct {
	junctions map[s2.CellID]int
	known     map[s2.CellID]bool
}

func newTowns() *towns { return &towns{map[s2.CellID]int{}, map[s2.CellID]bool{}} }

func townCell(p orb.Point) s2.CellID {
	return s2.CellIDFromLatLng(s2.LatLngFromDegrees(p.Lat(), p.Lon())).Parent(townLevel)
}

// junction counts a junction of streets.
func (t *towns) junction(p orb.Point) { t.junctions[townCell(p)]++ }

// builtUp reports whether a place lies in a built-up area.
func (t *towns) builtUp(p orb.Point) bool {
	id := townCell(p)
	known, ok := t.known[id]
	if !ok {
		known = t.density(id) >= builtUpDensity
		t.known[id] = known
	}
	return known
}

// density is how many junctions stand in a square kilometre around a cell.
func (t *towns) density(id s2.CellID) float64 {
	const km = float64(network.EarthRadius) / 1000
	count, area := 0, 0.0
	for _, c := range append(id.AllNeighbors(townLevel), id) {
		count += t.junctions[c]
		area += s2.CellFromCellID(c).ApproxArea() * km * km
	}
	return float64(count) / area
}
