package osm

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"
	"github.com/paulmach/osm"

	"wayhouse/regs/area"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
)

// boundary is an administrative area of an extract.
type boundary struct {
	id      int64
	version int
	level   int
	name    string
	code    string // ISO 3166-2, of a first-level area
	ways    []int64
}

// Levels of administrative areas (OpenStreetMap wiki, Tag:boundary=administrative,
// 2025): 4 is a province or state; 6 to 8 are counties and municipalities.
const (
	provinceLevel  = 4
	countyLevel    = 6
	municipalLevel = 8
)

// isoCode is a code of a first-level area (ISO 3166-2:2020).
var isoCode = regexp.MustCompile(`^[A-Z]{2}-[A-Z0-9]{1,3}$`)

func readBoundary(r *osm.Relation) (b boundary, ok bool) {
	level, err := strconv.Atoi(r.Tags.Find("admin_level"))
	if r.Tags.Find("boundary") != "administrative" || err != nil ||
		level != provinceLevel && (level < countyLevel || level > municipalLevel) {
		return b, false
	}
	b = boundary{
		id: int64(r.ID), version: r.Version, level: level, name: r.Tags.Find("name"),
		code: r.Tags.Find("ISO3166-2"),
	}
	if !isoCode.MatchString(b.code) {
		b.code = ""
	}
	for _, m := range r.Members {
		if m.Type == osm.TypeWay && (m.Role == "outer" || m.Role == "inner" || m.Role == "") {
			b.ways = append(b.ways, m.Ref)
		}
	}
	return b, b.name != "" || b.code != ""
}

// extractTolerance is how far from a border of an extract both sides are
// answered: such borders are drawn to a few metres, and a road along one
// belongs to either.
const extractTolerance = 30.0 // metres

// borders tells in which areas a point lies.
type borders struct {
	shipped *area.Index // nil: none
	own     *area.Index // first-level areas of the extracts
	towns   *area.Index // codes are the names
	cells   map[s2.CellID]cellAnswer
	keys    map[string]where
}

// where is the areas of a point.
type where struct {
	key   string // of all of it
	codes []string
	zone  string
	town  string
	local string // the smallest of its towns
}

type cellAnswer struct {
	same  bool
	where where
}

// rings joins the ways of a boundary to closed rings; ok is false where a part
// is missing.
func rings(ways [][]orb.Point) (out []orb.Ring, ok bool) {
	var open [][]orb.Point
	for _, w := range ways {
		if len(w) < 2 {
			return nil, false
		}
		open = append(open, w)
	}
	for len(open) > 0 {
		line := slices.Clone(open[0])
		open = open[1:]
		for line[0] != line[len(line)-1] {
			i := slices.IndexFunc(open, func(w []orb.Point) bool {
				return w[0] == line[len(line)-1] || w[len(w)-1] == line[len(line)-1]
			})
			if i < 0 {
				return nil, false
			}
			next := slices.Clone(open[i])
			if next[0] != line[len(line)-1] {
				slices.Reverse(next)
			}
			line = append(line, next[1:]...)
			open = slices.Delete(open, i, i+1)
		}
		if len(line) >= 4 {
			out = append(out, orb.Ring(line))
		}
	}
	return out, len(out) > 0
}

// polygon makes of the rings of a boundary what the area index wants: rings in
// one polygon, whose nesting s2 works out.
func polygon(rs []orb.Ring) orb.MultiPolygon { return orb.MultiPolygon{orb.Polygon(rs)} }

// at answers for a point. Answers are kept by cell where a whole cell has one.
func (b *borders) at(p orb.Point) where {
	leaf := s2.CellIDFromLatLng(s2.LatLngFromDegrees(p.Lat(), p.Lon()))
	for _, level := range []int{8, 10, 12, 14} { // about 30, 8, 2 and 0.5 km
		cell := leaf.Parent(level)
		answer, known := b.cells[cell]
		if !known {
			answer = b.cell(cell)
			b.cells[cell] = answer
		}
		if answer.same {
			return answer.where
		}
	}
	return b.ask(p)
}

// cell asks whether every point of a cell has one answer.
func (b *borders) cell(id s2.CellID) cellAnswer {
	cell := s2.CellFromCellID(id)
	cap := cell.CapBound()
	ll := s2.LatLngFromPoint(cap.Center())
	center := orb.Point{ll.Lng.Degrees(), ll.Lat.Degrees()}
	reach := float64(cap.Radius()) * 6_378_137 // the largest radius, so that the reach is not short
	for _, ix := range []*area.Index{b.shipped, b.own, b.towns} {
		if ix != nil && !ix.Same(center, reach) {
			return cellAnswer{}
		}
	}
	return cellAnswer{true, b.ask(center)}
}

// ask answers without the cells: what the extract's own borders say, and the
// shipped ones where those do not decide, near the border too.
func (b *borders) ask(p orb.Point) where {
	var w where
	if b.own != nil {
		w.codes = b.own.At(p)
	}
	decided := len(w.codes) == 1 && b.own.Same(p, 0)
	if b.shipped != nil && !decided {
		w.codes = append(w.codes, b.shipped.At(p)...)
	}
	slices.Sort(w.codes)
	w.codes = slices.Compact(w.codes)
	if b.towns != nil {
		var names []string
		towns := b.towns.At(p)
		for _, key := range towns {
			names = append(names, townName(key))
		}
		slices.Sort(names)
		w.town, w.local = strings.Join(slices.Compact(names), ";"), local(towns, w.codes)
	}
	for _, c := range w.codes {
		if b.shipped == nil {
			break
		}
		if j, ok := b.shipped.ByCode(c); ok && w.zone == "" {
			w.zone = j.TimeZone
		}
	}
	w.key = strings.Join(w.codes, " ") + "|" + w.zone + "|" + w.town
	if known, ok := b.keys[w.key]; ok {
		return known
	}
	b.keys[w.key] = w
	return w
}

// townName is the name in the key of a municipality: level, id and name.
func townName(key string) string { return strings.SplitN(key, " ", 3)[2] }

// local names the smallest of some municipalities, by which people name a street. In the
// United States the largest are counties, by which nobody does (OpenStreetMap wiki,
// Tag:boundary=administrative, 2025).
func local(keys, codes []string) string {
	slices.Sort(keys) // by level, then by id
	county := func(code string) bool { return strings.HasPrefix(code, "US-") }
	var names []string
	for _, key := range keys {
		if level := key[:1]; level == keys[len(keys)-1][:1] &&
			!(level == strconv.Itoa(countyLevel) && slices.ContainsFunc(codes, county)) {
			names = append(names, townName(key))
		}
	}
	slices.Sort(names)
	return strings.Join(slices.Compact(names), ";")
}

// probe is how far apart a line is asked for its area at most, in metres.
const probe measure.Distance = 250

// near is in degrees what is surely closer than probe.
const near = 0.002

// cut finds where a line leaves one area for another. It returns the line with
// the points of change put in, their numbers, and the area of each part.
func (b *borders) cut(line []orb.Point) (out []orb.Point, cuts []int, areas []where) {
	out = []orb.Point{line[0]}
	at := b.at(line[0])
	areas = []where{at}
	for i := 1; i < len(line); i++ {
		from, to := line[i-1], line[i]
		steps, step := 1, measure.Distance(0)
		if math.Abs(from.Lon()-to.Lon())+math.Abs(from.Lat()-to.Lat()) > near {
			length := geodesic.Between(from, to)
			steps = 1 + int(length/probe)
			step = length / measure.Distance(steps)
		}
		last := from
		for k := 1; k <= steps; k++ {
			next := to
			if k < steps {
				next = geodesic.Toward(from, to, step*measure.Distance(k))
			}
			// Between two areas may lie others, such as the strip where both count.
			for w := b.at(next); w.key != at.key; {
				p := b.change(last, next, at)
				out = append(out, p)
				cuts = append(cuts, len(out)-1)
				at = b.at(p)
				areas = append(areas, at)
				if last = p; p == next {
					break
				}
			}
			last = next
		}
		if out[len(out)-1] != to {
			out = append(out, to)
		}
	}
	if len(out) == 1 { // two junctions at one place stay joined
		out = append(out, line[len(line)-1])
	}
	return out, cuts, areas
}

// change finds the place between two points, to a metre, beyond which a point
// is not in an area any more.
func (b *borders) change(inside, outside orb.Point, at where) orb.Point {
	for geodesic.Between(inside, outside) > 1 {
		mid := geodesic.Toward(inside, outside, geodesic.Between(inside, outside)/2)
		if mid == inside || mid == outside {
			break
		}
		if b.at(mid).key == at.key {
			inside = mid
		} else {
			outside = mid
		}
	}
	return outside
}
