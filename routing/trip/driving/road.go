package driving

import (
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/drive"
)

// Drive is what the way does to the rig, and the rig to its tank.
type Drive struct {
	Bends
	Moves    []Move
	Findings []finding.Finding // of the rig, and of the rig on this way
	Unknown  say.Remark        // why fuel and climbs are not known
	Gap      say.Remark        // why a part of the way is in none of the figures
	Run      drive.Run
	Idle     drive.Burn
	Carbon   drive.Band[float64] // carbon dioxide, kg
	Air      say.Remark          // what was taken for the air
	Drag     measure.Known[rig.Drag]
	FlatRoad measure.Distance // of roads whose climbs are not known: taken as level
	Tank     Tank
	Speeds   []drive.AtSpeed
	Noses    []NoseSaving // against a flat nose
	Climbs   []Slope      // where the engine does not hold the assumed speed, the slowest first
	Descents []Slope      // the longest drop first
}

// Fuel is what driving and idling burn.
func (o *Drive) Fuel() drive.Burn { return o.Run.Fuel.Add(o.Idle) }

// Tank is how far a tank goes.
type Tank struct {
	Unknown say.Remark // why it is not known
	Usable  measure.Volume
	Range   measure.Distance // by what this way, which may be shorter, takes at the most; 0: not known
	Stops   []Spot           // where it is down to its reserve at the latest
}

// NoseSaving is what a nose takes off the fuel of a flat one, on this way.
type NoseSaving struct {
	Nose  drive.Nose
	Saves drive.Band[measure.Volume]
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

// Road is what the ways did to the rig, once it passed them all.
func (d *Driver) Road() *Drive {
	r := d.rig
	o := &Drive{Bends: d.Bends(), Moves: d.moves(), Unknown: d.pulled.Why(), Air: d.conditions.Says(), Drag: r.Drag()}
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
	o.Findings = slices.Concat(r.Findings(d.statics), d.atlas.CiteNetwork(d.bendFindings(o.Bends)),
		d.atlas.CiteNetwork(d.pullFindings(o)))
	for i := range o.Findings {
		o.Findings[i].Invented = o.Findings[i].Invented || d.invented
	}
	return o
}

func (d *Driver) pull(o *Drive) {
	o.Run, o.Gap = d.run, d.gap
	if o.Run.Unknown > 0 && o.Gap.None() {
		o.Gap = noSpeed()
	}
	o.Idle = d.idle()
	of := d.vehicle.Fuel.CarbonDioxide
	all := o.Fuel().Band()
	o.Carbon = drive.Band[float64]{Likely: of(all.Likely), Low: of(all.Low), High: of(all.High)}
	o.Speeds = d.vehicle.OverSpeed(d.driven, d.weather, tops)
	flat := d.vehicle
	drag, _ := o.Drag.Value() // the vehicle is known, so it is
	flat.DragArea = drag.Shape.WithNose(drive.Flat)
	for _, nose := range drive.Shaped() {
		o.Noses = append(o.Noses, NoseSaving{nose, flat.Saves(d.driven, d.weather, drag.Shape.WithNose(nose))})
	}
	d.tank(o)
	d.hardClimbs(o)
}

func (d *Driver) idle() drive.Burn { return drive.Idle(d.conditions.Idle.Seconds()) }

// tank finds how far the tank goes, and where it is down to its reserve.
func (d *Driver) tank(o *Drive) {
	usable := d.Usable()
	if o.Tank.Unknown = say.Or(usable.Why(), o.Gap); !o.Tank.Unknown.None() {
		return
	}
	o.Tank.Usable, _ = usable.Value()
	if most := o.Fuel().Most(); most > 0 {
		o.Tank.Range = o.Run.Length * measure.Distance(o.Tank.Usable/most)
	}
	each := d.vehicle.EachMost(d.driven, d.weather, nil)
	for i, s := range d.driven { // idling is spread over the way
		each[i] += o.Idle.Most() * measure.Volume(s.Length/o.Run.Length)
	}
	for i, at := range drive.FuelStops(*d.rig.Tow.Tank, d.conditions.Reserve, d.driven, each) {
		if i == 0 {
			o.Tank.Range = at
		}
		o.Tank.Stops = append(o.Tank.Stops, d.spotAt(at))
	}
}
