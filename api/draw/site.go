package draw

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"

	"wayhouse/api/draw/picture"
	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip"
)

// siteLetters is how wide a small map is, in letters.
const siteLetters = 22.0

// Site draws a small map of a place of a way, north up: the way with its direction, the
// roads near it that the network has, and the structures on the way. It is a square of
// twice [trip.SiteReach], flat about the place. Roads that the network lacks are not
// there.
func Site(in *phrase.Language, p *trip.Plan, s trip.Site) *picture.Picture {
	m := newSiteMap(in, s.Point, siteLetters, trip.SiteReach)
	m.draw(p, s)
	m.foot(s)
	return m.Picture
}

// A turn is drawn closer than a place to look at, and with larger letters: it is read at
// arm's length.
const (
	turnLetters                  = 15.0
	TurnReach   measure.Distance = trip.SiteReach / 2 // each way from the turn
)

// Turn draws a turn of a way as [Site] draws a place, north up, and nothing beside it: what
// is to be done there stands where the map does.
func Turn(in *phrase.Language, p *trip.Plan, s trip.Site) *picture.Picture {
	m := newSiteMap(in, s.Point, turnLetters, TurnReach)
	m.draw(p, s)
	return m.Picture
}

// siteMap is a canvas about a place.
type siteMap struct {
	*canvas
	middle         orb.Point
	half, perMetre float64 // of its width; of a metre
}

func newSiteMap(in *phrase.Language, middle orb.Point, letters float64, reach measure.Distance) siteMap {
	half := letters / 2 * stripLetter
	return siteMap{newCanvas(in, stripLetter), middle, half, half / float64(reach)}
}

// draw draws the frame and what lies in it.
func (m siteMap) draw(p *trip.Plan, s trip.Site) {
	m.Box(picture.Look{Fill: part, Stroke: grey, Width: 0.06}, "", point{X: -m.half, Y: -m.half},
		point{X: m.half, Y: m.half})
	for _, r := range s.Roads {
		width := 0.25
		if r.Major {
			width = 0.5
		}
		m.lines(r.Line, picture.Look{Stroke: pale, Width: width}, m.in.Say(r.Called))
	}
	for _, l := range p.Legs {
		m.lines(l.Line, picture.Look{Stroke: blue, Width: 0.35}, m.in.Say(l.To))
	}
	m.direction(p)
	m.structures(p)
	m.Disc(picture.Look{Stroke: red, Width: 0.15}, "", point{}, stripLetter)
	m.keep(point{}, stripLetter)
	m.names(s.Roads)
}

// at puts a place on the map: on a sphere, about the middle. Within the reach of a map
// that is right to a few centimetres.
func (m siteMap) at(p orb.Point) point {
	degree := math.Pi / 180 * float64(network.EarthRadius) * m.perMetre
	return point{
		X: (p.Lon() - m.middle.Lon()) * math.Cos(m.middle.Lat()*math.Pi/180) * degree, Y: (m.middle.Lat() - p.Lat()) * degree,
	}
}

// within are the parts of a line that lie on the map.
func (m siteMap) within(line orb.LineString) orb.MultiLineString {
	flat := make(orb.LineString, len(line))
	for i, p := range line {
		on := m.at(p)
		flat[i] = orb.Point{on.X, on.Y}
	}
	return clip.LineString(orb.Bound{Min: orb.Point{-m.half, -m.half}, Max: orb.Point{m.half, m.half}}, flat)
}

func (m siteMap) lines(line orb.LineString, l picture.Look, name string) {
	for _, piece := range m.within(line) {
		var points []point
		for _, p := range piece {
			points = append(points, point{X: p[0], Y: p[1]})
		}
		m.Line(l, name, points...)
	}
}

// direction draws an arrow where the way leaves the map.
func (m siteMap) direction(p *trip.Plan) {
	for _, l := range p.Legs {
		for _, piece := range m.within(l.Line) {
			n := len(piece)
			if n < 2 {
				continue
			}
			from, to := piece[n-2], piece[n-1]
			way := math.Atan2(to[1]-from[1], to[0]-from[0])
			tip, side := point{X: to[0], Y: to[1]}, func(by float64) point {
				sin, cos := math.Sincos(way + math.Pi + by)
				return point{X: to[0] + 1.4*stripLetter*cos, Y: to[1] + 1.4*stripLetter*sin}
			}
			m.Area(picture.Look{Fill: blue}, "", tip, side(0.35), side(-0.35))
		}
	}
}

// structures marks what stands over the way.
func (m siteMap) structures(p *trip.Plan) {
	for _, l := range p.Legs {
		for _, s := range l.Structures {
			at := m.at(s.Point)
			if s.Unplaced || math.Abs(at.X) > m.half || math.Abs(at.Y) > m.half {
				continue
			}
			r := 0.5 * stripLetter
			m.Box(empty, m.in.Say(s.Called), at.Plus(-r, -r), at.Plus(r, r))
			m.keep(at, r)
		}
	}
}

// names writes what roads are called, each once, near where it is nearest to the middle,
// where there is room for it.
func (m siteMap) names(roads []trip.NearRoad) {
	told := map[string]bool{}
	for _, r := range roads {
		words := m.in.Say(r.Called)
		if words == "" || told[words] {
			continue
		}
		for _, piece := range m.within(r.Line) {
			p := piece[len(piece)/2]
			at := point{X: p[0], Y: p[1] - 0.4*stripLetter}
			l := m.LabelOf(at, picture.Middle, 0.85, words)
			if l.Left > -m.half && l.Right < m.half && l.Top > -m.half && l.Foot < m.half && m.free(l) {
				m.letters(at, picture.Middle, words, 0.85)
				told[words] = true
				break
			}
		}
	}
}

// foot writes what is to be looked at, where north is, and a bar of lengths.
func (m siteMap) foot(s trip.Site) {
	half := m.half
	north := point{X: half - stripLetter, Y: half + 0.6*stripLetter}
	m.Line(strong, "", north.Plus(0, 2.2*stripLetter), north)
	m.Area(
		filled,
		"",
		north,
		north.Plus(-0.35*stripLetter, 0.9*stripLetter),
		north.Plus(0.35*stripLetter, 0.9*stripLetter),
	)
	m.text(north.Plus(0, 3.2*stripLetter), picture.Middle, m.in.Say(say.That("draw.north")))
	m.scale(point{X: -half, Y: half + 2*stripLetter}, half, m.perMetre/1000, 50, 200)
	m.paragraphs(point{X: -half, Y: half + 5*stripLetter}, siteLetters, []string{
		m.in.Say(s.What)})
}

// Places draws small maps of the places of a trip to look at before, as many beside each
// other as have room; nothing is drawn where there are none.
func Places(in *phrase.Language, p *trip.Plan) *picture.Picture {
	const gap = 2 * stripLetter
	c := newCanvas(in, stripLetter)
	c.Title = in.Say(say.That("draw.sites", "reach", trip.SiteReach))
	if len(p.Sites) > 0 {
		c.letters(point{}, picture.Start, c.Title, 1.15)
	}
	left, top, next := 0.0, 1.5*stripLetter, 0.0
	for _, s := range p.Sites {
		one := Site(in, p, s)
		if left > 0 && left+one.Wide() > stripAcross {
			left, top = 0, next
		}
		c.Place(one, point{X: left - one.Least.X, Y: top - one.Least.Y}, 1)
		left, next = left+one.Wide()+gap, max(next, top+one.Most.Y-one.Least.Y+gap)
	}
	return c.Picture
}
