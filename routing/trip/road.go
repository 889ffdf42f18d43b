package trip

import (
	"cmp"
	"fmt"
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
	o.Findings = slices.Concat(r.Findings(b.statics), b.bendFindings(o.Bends), b.pullFindings(o))
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

// descents lists long descents, and roads that are steep somewhere along them
// though not on the whole; they ask for no mass and no fuel.
func (b *builder) descents(o *Road) {
	for _, d := range drive.Descents(b.driven) {
		s := Slope{Spot: b.spotAt(d.At), Length: d.Length, Grade: d.Grade, Drop: d.Drop}
		if b.unpulled == "" {
			s.Heat, s.Power = b.vehicle.Brakes(d, b.weather, holdBack)
		}
		o.Descents = append(o.Descents, s)
	}
	var at measure.Distance
	for _, p := range b.passed {
		g, ok := b.Network.Grade(p.Arc)
		drop := measure.Distance(g.Descent) * p.Length() / b.Network.Length[p.Arc.Edge()]
		if ok && p.driven && g.Steepest <= -steepAlong && drop >= steepDrop && !o.listed(at, p.Length()) {
			o.Descents = append(o.Descents, Slope{
				Spot: Spot{At: at, Point: b.Network.Point(b.along(p.Piece, 0)), Road: b.Network.RoadName(p.Arc.Edge())}, Length: p.Length(),
				Grade: float64(drop / p.Length()), Steepest: -float64(g.Steepest), Drop: drop,
			})
		}
		at += p.length()
	}
	slices.SortStableFunc(o.Descents, func(a, b Slope) int { return cmp.Compare(b.Drop, a.Drop) })
}

// A road is steep somewhere along it from 6 % over its steepest 100 m, if it goes
// down by 20 m or more on the whole: this project's choice.
const (
	steepAlong = 0.06
	steepDrop  = 20 // m
)

// listed tells whether a stretch of the way lies in a descent that is listed.
func (o *Road) listed(at, length measure.Distance) bool {
	return slices.ContainsFunc(o.Descents, func(d Slope) bool { return d.At < at+length && at < d.At+d.Length })
}

// hardClimbs lists where the engine does not hold the assumed speed.
func (b *builder) hardClimbs(o *Road) {
	if b.vehicle.Power == nil {
		return
	}
	var at measure.Distance
	for _, s := range b.driven {
		if s.Grade > 0 && s.Speed > 0 {
			if v, ok := b.vehicle.Holds(s, b.weather, s.Speed); v < s.Speed {
				o.climb(Slope{Spot: Spot{At: at}, Length: s.Length, Grade: s.Grade, Drop: s.Length * measure.Distance(s.Grade), Speed: v, Stuck: !ok})
			}
		}
		at += s.Length
	}
	slices.SortStableFunc(o.Climbs, func(a, b Slope) int { return cmp.Compare(a.Speed, b.Speed) })
	for i := range o.Climbs {
		o.Climbs[i].Spot = b.spotAt(o.Climbs[i].At)
	}
}

// climb adds a climb, to the one before where it goes on from it.
func (o *Road) climb(s Slope) {
	const rest = 200 // m between two that are one
	n := len(o.Climbs)
	if n == 0 || s.At-o.Climbs[n-1].At-o.Climbs[n-1].Length > rest {
		o.Climbs = append(o.Climbs, s)
		return
	}
	last := &o.Climbs[n-1]
	last.Drop += s.Drop
	last.Length = s.At + s.Length - last.At
	last.Grade = float64(last.Drop / last.Length)
	last.Speed, last.Stuck = min(last.Speed, s.Speed), last.Stuck || s.Stuck
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

// pullFindings answers fuel stops, climbs and descents.
func (b *builder) pullFindings(o *Road) []finding.Finding {
	var out []finding.Finding
	if n := len(o.Tank.Stops); n > 0 {
		out = append(out, finding.Finding{
			Rule: "fuel stops", Place: o.Tank.Stops[0].String(), Outcome: finding.Review, Ask: "fuel stations on the way, for room to turn and a canopy that is high enough",
			Summary: fmt.Sprintf("fuel stops needed by the high figure, with the reserve kept: %d, the first after %s at the latest", n, o.Tank.Range),
		})
	}
	if n := len(o.Climbs); n > 0 {
		c := o.Climbs[0]
		f := finding.Finding{
			Rule: "climbs", Place: c.Spot.String(), Outcome: finding.Review, Ask: "the maker of the tow vehicle, and someone who has driven it", Value: c.Speed.String(),
			Summary: fmt.Sprintf("on %s the engine may not hold the assumed speed; on the hardest, %s of %.1f %%, it holds %s", count(n, "climb", "climbs"), c.Length, 100*c.Grade, c.Speed),
		}
		if c.Stuck {
			f.Summary = fmt.Sprintf("on %s the engine may not hold the assumed speed; on the hardest, %s of %.1f %%, it may not climb at all", count(n, "climb", "climbs"), c.Length, 100*c.Grade)
		}
		out = append(out, f)
	}
	if n := len(o.Descents); n > 0 {
		d := o.Descents[0]
		f := finding.Finding{Rule: "descents", Place: d.Spot.String(), Outcome: finding.Review, Ask: "the maker of the brakes, and someone who has driven it"}
		f.Summary = fmt.Sprintf("%s: low gear before they begin; the greatest drops %.0f m in %s at %.1f %%", count(n, "long or steep descent", "long or steep descents"), float64(d.Drop), d.Length, 100*d.Grade)
		if d.Steepest > 0 {
			f.Summary += fmt.Sprintf(", %.0f %% somewhere along it", 100*d.Steepest)
		}
		if d.Heat > 0 {
			f.Summary += fmt.Sprintf(", where engine and brakes take %.0f MJ, %s to hold %s", d.Heat/1e6, d.Power, holdBack)
		}
		out = append(out, f)
	}
	return out
}
