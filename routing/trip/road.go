package trip

import (
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/drive"
)

// Road is what the way does to the rig, and the rig to its tank.
type Road struct {
	Bends
	Findings []finding.Finding // of the rig, and of the rig on this way
	Unknown  string            // why fuel and climbs are not known
	Gap      string            // why a part of the way is in none of the figures
	Run      drive.Run
	Idle     drive.Range[measure.Volume]
	Carbon   drive.Range[float64] // carbon dioxide, kg
	Air      string               // what was taken for the air
	Drag     rig.Drag
	FlatRoad measure.Distance // of roads whose climbs are not known: taken as level
	Tank     Tank
	Speeds   []drive.AtSpeed
	Noses    []NoseSaving // against a flat nose
	Climbs   []Slope      // where the engine does not hold the assumed speed, the slowest first
	Descents []Slope      // the longest drop first
}

// Tank is how far a tank goes.
type Tank struct {
	Unknown string // why it is not known
	Usable  measure.Volume
	Range   measure.Distance // by the high figure of this way, which may be shorter; 0: not known
	Stops   []Spot           // where it is down to its reserve at the latest
}

// NoseSaving is what a nose takes off the fuel of a flat one, on this way.
type NoseSaving struct {
	Nose  drive.Nose
	Saves drive.Range[measure.Volume]
}

// Slope is a climb or a descent.
type Slope struct {
	Spot
	Length measure.Distance
	Grade  float64 // mean, rise over run, positive
	// Steepest is that of a descent which is steep somewhere along it; 0: its mean says
	// it.
	Steepest float64
	Drop     measure.Distance
	Speed    measure.Speed // of a climb: what the engine holds
	Stuck    bool          // of a climb: it may not even hold a crawl
	Heat     float64       // of a descent: what engine and brakes take, in joules, at holdBack
	Power    measure.Power // of a descent: at that speed
}

// holdBack is the speed that descents are reckoned at: this project's choice, for
// low gear on a steep grade.
const holdBack = 50 * measure.KilometrePerHour

// tops are the speeds that fuel and time are shown for.
var tops = []measure.Speed{
	60 * measure.KilometrePerHour, 70 * measure.KilometrePerHour, 80 * measure.KilometrePerHour,
	90 * measure.KilometrePerHour, 100 * measure.KilometrePerHour, 110 * measure.KilometrePerHour,
}

// sections splits pieces of road into what a rig drives: of one grade, surface and
// speed. A road that rises and falls is taken as one climb and one descent of the
// same slope. Aboard a ferry nothing is driven.
func (b *builder) sections(pieces []network.Piece, out []drive.Section) []drive.Section {
	n := b.Network
	for _, p := range pieces {
		e := p.Arc.Edge()
		if n.Class[e] == network.Ferry {
			continue
		}
		s := drive.Section{Length: p.Length(), Surface: surfaceOf(n.Record(n.RoadID(e)))}
		s.Speed, _ = b.speed(e)
		if line := n.Line(p); b.request.Conditions.Wind > 0 && len(line) > 1 {
			s.Heading = geodesic.Bearing(line[0], line[len(line)-1])
		}
		out = append(out, slopes(n, p, s)...)
	}
	return out
}

// slopes splits a section into its climb and its descent.
func slopes(n *network.Network, p network.Piece, s drive.Section) []drive.Section {
	g, ok := n.Grade(p.Arc)
	length := float64(n.Length[p.Arc.Edge()])
	both := float64(g.Ascent + g.Descent)
	if !ok || length == 0 || both == 0 {
		return []drive.Section{s}
	}
	up, down := s, s
	share := float64(g.Ascent) / both
	up.Length, down.Length = s.Length*measure.Distance(share), s.Length*measure.Distance(1-share)
	up.Grade, down.Grade = both/length, -both/length
	switch share {
	case 0:
		return []drive.Section{down}
	case 1:
		return []drive.Section{up}
	}
	return []drive.Section{up, down}
}

func surfaceOf(r network.Record) drive.Surface {
	switch r.Paved {
	case network.Paved:
		return drive.Paved
	case network.Unpaved:
		return drive.Gravel
	default:
		return drive.SurfaceUnknown
	}
}

// burn drives the rig along a leg.
func (b *builder) burn(l *Leg, pieces []network.Piece) {
	from := len(b.driven)
	b.driven = b.sections(pieces, b.driven)
	if b.unpulled != "" {
		l.Fuel = Fuel{Unknown: b.unpulled}
		return
	}
	l.run = b.vehicle.Over(b.driven[from:], b.weather, 0)
	l.Fuel = Fuel{Range: l.run.Fuel}
	if l.run.Unknown > 0 {
		l.Fuel.Unknown = noSpeed
	}
}

const noSpeed = "the speed on a part of the way is not known"

// road completes what the way does to the rig.
func (b *builder) road(ways []way) {
	r := b.request.Rig
	o := &Road{Bends: b.bends(ways, b.statics), Unknown: b.unpulled, Air: b.request.Conditions.words(), Drag: r.Drag()}
	b.plan.Road = o
	for _, p := range b.passed {
		if _, ok := b.Network.Grade(p.Arc); !ok && p.driven {
			o.FlatRoad += p.Length()
		}
	}
	if o.Unknown == "" {
		b.pull(o)
	}
	b.descents(o)
	r.Invented = b.request.Invented
	o.Findings = slices.Concat(r.Findings(b.statics), b.stands.CiteNetwork(b.bendFindings(o.Bends)), b.stands.CiteNetwork(b.pullFindings(o)))
	for i := range o.Findings {
		o.Findings[i].Invented = o.Findings[i].Invented || b.request.Invented
	}
}

func (b *builder) pull(o *Road) {
	for _, l := range b.plan.Legs {
		o.Run = o.Run.Add(l.run)
		if l.Unmatched {
			o.Run.Unknown += l.Length
			o.Gap = "a part of the given route matches no road"
		}
	}
	if o.Run.Unknown > 0 && o.Gap == "" {
		o.Gap = noSpeed
	}
	idle := b.request.Conditions.Idle
	o.Idle = drive.Idle(idle.Seconds())
	all := o.Run.Fuel.Add(o.Idle)
	o.Carbon = drive.Range[float64]{Low: b.vehicle.Fuel.CarbonDioxide(all.Low), High: b.vehicle.Fuel.CarbonDioxide(all.High)}
	o.Speeds = b.vehicle.OverSpeed(b.driven, b.weather, tops)
	flat := b.vehicle
	flat.DragArea = o.Drag.Shape.WithNose(drive.Flat)
	for _, nose := range []drive.Nose{drive.Rounded, drive.Raked} {
		o.Noses = append(o.Noses, NoseSaving{nose, flat.Saves(b.driven, b.weather, o.Drag.Shape.WithNose(nose))})
	}
	b.tank(o)
	b.hardClimbs(o)
}

// tank finds how far the tank goes, and where it is down to its reserve.
func (b *builder) tank(o *Road) {
	tank := b.request.Rig.Tow.Tank
	switch {
	case tank == nil:
		o.Tank.Unknown = "the size of the tank is not given"
		return
	case o.Gap != "":
		o.Tank.Unknown = o.Gap
		return
	}
	o.Tank.Usable = *tank * measure.Volume(1-b.request.Conditions.Reserve)
	if high := o.Run.Fuel.High + o.Idle.High; high > 0 {
		o.Tank.Range = o.Run.Length * measure.Distance(o.Tank.Usable/high)
	}
	each := b.vehicle.EachHigh(b.driven, b.weather, nil)
	for i, s := range b.driven { // idling is spread over the way
		each[i] += o.Idle.High * measure.Volume(s.Length/o.Run.Length)
	}
	for i, at := range drive.FuelStops(*tank, b.request.Conditions.Reserve, b.driven, each) {
		if i == 0 {
			o.Tank.Range = at
		}
		o.Tank.Stops = append(o.Tank.Stops, b.spotAt(at))
	}
}

// passed is a piece of the way, or a gap of a given route.
type passed struct {
	network.Piece
	gap    measure.Distance
	driven bool // a ferry and a gap are not
}

func (p passed) length() measure.Distance { return p.Length() + p.gap }

// pass notes what the plan goes along, in its order.
func (b *builder) pass(w way) {
	for _, p := range w.pieces {
		b.passed = append(b.passed, passed{Piece: p, driven: b.Network.Class[p.Arc.Edge()] != network.Ferry})
	}
	if w.gap != nil {
		b.passed = append(b.passed, passed{gap: geodesic.Length(w.gap)})
	}
}

// spotAt is the place after so much driving; its distance along the way counts
// ferries and gaps too.
func (b *builder) spotAt(driven measure.Distance) Spot {
	var out Spot
	var last network.Piece
	var part measure.Distance
	for _, p := range b.passed {
		if !p.driven {
			out.At += p.length()
			continue
		}
		last, part = p.Piece, min(driven, p.Length())
		out.At += part
		if driven -= part; driven <= 0 {
			break
		}
	}
	if part > 0 || last.Length() > 0 {
		out.Point, out.Road = b.Network.Point(b.along(last, part)), b.Network.RoadName(last.Arc.Edge())
	}
	return out
}

// along is a position on a piece.
func (b *builder) along(p network.Piece, at measure.Distance) network.Position {
	e := p.Arc.Edge()
	offset := p.Start + at
	if p.Arc.Reverse() {
		offset = b.Network.Length[e] - offset
	}
	return network.Position{Edge: e, Offset: offset}
}
