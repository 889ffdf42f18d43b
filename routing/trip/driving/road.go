package driving

import (
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/drive"
)

// Road is what the way does to the rig, and the rig to its tank.
type Road struct {
	Bends
	Findings []finding.Finding // of the rig, and of the rig on this way
	Unknown  say.Remark        // why fuel and climbs are not known
	Gap      say.Remark        // why a part of the way is in none of the figures
	Run      drive.Run
	Idle     drive.Range[measure.Volume]
	Carbon   drive.Range[float64] // carbon dioxide, kg
	Air      say.Remark           // what was taken for the air
	Drag     measure.Known[rig.Drag]
	FlatRoad measure.Distance // of roads whose climbs are not known: taken as level
	Tank     Tank
	Speeds   []drive.AtSpeed
	Noses    []NoseSaving // against a flat nose
	Climbs   []Slope      // where the engine does not hold the assumed speed, the slowest first
	Descents []Slope      // the longest drop first
}

// Tank is how far a tank goes.
type Tank struct {
	Unknown say.Remark // why it is not known
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
func (d *Driver) sections(pieces []network.Piece, out []drive.Section) []drive.Section {
	n := d.Network
	for _, p := range pieces {
		e := p.Arc.Edge()
		if n.Class[e] == network.Ferry {
			continue
		}
		s := drive.Section{Length: p.Length(), Surface: surfaceOf(n.Record(n.RoadID(e)))}
		s.Speed, _ = d.Speed(e)
		if line := n.Line(p); d.conditions.Wind > 0 && len(line) > 1 {
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

// Leg drives the rig along the pieces of a leg, after all legs before.
func (d *Driver) Leg(pieces []network.Piece) Fuel {
	from := len(d.driven)
	d.driven = d.sections(pieces, d.driven)
	if !d.pulled.Known() {
		return Fuel{Unknown: d.pulled.Why()}
	}
	run := d.vehicle.Over(d.driven[from:], d.weather, 0)
	d.run = d.run.Add(run)
	out := Fuel{Range: run.Fuel}
	if run.Unknown > 0 {
		out.Unknown = noSpeed()
	}
	return out
}

func noSpeed() say.Remark { return say.That("road.no_speed") }

// NoRoad is why nothing is known of a gap.
func NoRoad() say.Remark { return say.That("road.unmatched") }

// Road is what the ways did to the rig, once it passed them all.
func (d *Driver) Road() *Road {
	r := d.rig
	o := &Road{Bends: d.Bends(), Unknown: d.pulled.Why(), Air: d.conditions.Says(), Drag: r.Drag()}
	for _, p := range d.passed {
		if _, ok := d.Network.Grade(p.Arc); !ok && p.driven {
			o.FlatRoad += p.Length()
		}
	}
	o.Tank.Unknown = o.Unknown
	if d.pulled.Known() {
		d.pull(o)
	}
	d.descents(o)
	r.Invented = d.invented
	o.Findings = slices.Concat(r.Findings(d.statics), d.atlas.CiteNetwork(d.bendFindings(o.Bends)), d.atlas.CiteNetwork(d.pullFindings(o)))
	for i := range o.Findings {
		o.Findings[i].Invented = o.Findings[i].Invented || d.invented
	}
	return o
}

func (d *Driver) pull(o *Road) {
	o.Run, o.Gap = d.run, d.gap
	if o.Run.Unknown > 0 && o.Gap.None() {
		o.Gap = noSpeed()
	}
	idle := d.conditions.Idle
	o.Idle = drive.Idle(idle.Seconds())
	all := o.Run.Fuel.Add(o.Idle)
	o.Carbon = drive.Range[float64]{Low: d.vehicle.Fuel.CarbonDioxide(all.Low), High: d.vehicle.Fuel.CarbonDioxide(all.High)}
	o.Speeds = d.vehicle.OverSpeed(d.driven, d.weather, tops)
	flat := d.vehicle
	drag, _ := o.Drag.Value() // the vehicle is known, so it is
	flat.DragArea = drag.Shape.WithNose(drive.Flat)
	for _, nose := range []drive.Nose{drive.Rounded, drive.Raked} {
		o.Noses = append(o.Noses, NoseSaving{nose, flat.Saves(d.driven, d.weather, drag.Shape.WithNose(nose))})
	}
	d.tank(o)
	d.hardClimbs(o)
}

// tank finds how far the tank goes, and where it is down to its reserve.
func (d *Driver) tank(o *Road) {
	tank := d.rig.Tow.Tank
	switch {
	case tank == nil:
		o.Tank.Unknown = say.That("road.no_tank")
		return
	case !o.Gap.None():
		o.Tank.Unknown = o.Gap
		return
	}
	o.Tank.Usable = *tank * measure.Volume(1-d.conditions.Reserve)
	if high := o.Run.Fuel.High + o.Idle.High; high > 0 {
		o.Tank.Range = o.Run.Length * measure.Distance(o.Tank.Usable/high)
	}
	each := d.vehicle.EachHigh(d.driven, d.weather, nil)
	for i, s := range d.driven { // idling is spread over the way
		each[i] += o.Idle.High * measure.Volume(s.Length/o.Run.Length)
	}
	for i, at := range drive.FuelStops(*tank, d.conditions.Reserve, d.driven, each) {
		if i == 0 {
			o.Tank.Range = at
		}
		o.Tank.Stops = append(o.Tank.Stops, d.spotAt(at))
	}
}

// passed is a piece of the way, or a gap of a given route.
type passed struct {
	network.Piece
	gap    measure.Distance
	driven bool // a ferry and a gap are not
}

func (p passed) length() measure.Distance { return p.Length() + p.gap }

// Pass notes the next of the ways; its legs are driven one by one.
func (d *Driver) Pass(w Way) {
	d.ways = append(d.ways, w)
	for _, p := range w.Pieces {
		d.passed = append(d.passed, passed{Piece: p, driven: d.Network.Class[p.Arc.Edge()] != network.Ferry})
	}
	if w.Gap != nil {
		d.passed = append(d.passed, passed{gap: geodesic.Length(w.Gap)})
		d.run.Unknown += geodesic.Length(w.Gap)
		d.gap = NoRoad()
	}
}

// spotAt is the place after so much driving; its distance along the way counts
// ferries and gaps too.
func (d *Driver) spotAt(driven measure.Distance) Spot {
	var out Spot
	var last network.Piece
	var part measure.Distance
	for _, p := range d.passed {
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
		out.Point, out.Road = d.Network.Point(d.along(last, part)), d.Network.RoadName(last.Arc.Edge())
	}
	return out
}

// along is a position on a piece.
func (d *Driver) along(p network.Piece, at measure.Distance) network.Position {
	e := p.Arc.Edge()
	offset := p.Start + at
	if p.Arc.Reverse() {
		offset = d.Network.Length[e] - offset
	}
	return network.Position{Edge: e, Offset: offset}
}
