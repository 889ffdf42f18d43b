// Package driving drives a rig along the ways of a trip: how long they take and what
// fuel they burn, the corners and curves on them, their climbs and descents.
package driving

import (
	"math"
	"time"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/drive"
	"wayhouse/routing/trip/standing"
)

// Duration is the likely time of a drive, and that of a slow one. It may not be
// known; the known part still counts.
type Duration struct {
	time.Duration
	Slow    time.Duration
	Unknown say.Remark // why it is not, or not wholly, known
}

// Add adds two times.
func (d Duration) Add(o Duration) Duration {
	return Duration{d.Duration + o.Duration, d.Slow + o.Slow, say.Or(d.Unknown, o.Unknown)}
}

// Sub takes a time off another.
func (d Duration) Sub(o Duration) Duration {
	return Duration{d.Duration - o.Duration, d.Slow - o.Slow, say.Or(d.Unknown, o.Unknown)}
}

// Fuel is an amount of fuel that may not be known.
type Fuel struct {
	drive.Burn
	Unknown say.Remark
}

// Add adds two amounts.
func (f Fuel) Add(o Fuel) Fuel { return Fuel{f.Burn.Add(o.Burn), say.Or(f.Unknown, o.Unknown)} }

// Pace is how fast a rig goes.
type Pace struct {
	Network *network.Network
	Top     measure.Speed // that it never exceeds; 0: as the roads allow
}

// Speed is the assumed towing speed on an edge, never above the top one.
func (p Pace) Speed(e network.EdgeID) (v measure.Speed, known bool) {
	v, known = p.Network.Speed(e)
	if p.Top > 0 {
		v = min(v, p.Top)
	}
	return v, known
}

// SlowShare is the share of the assumed speeds that a slow trip drives: 1/1.18.
// Our choice between a free road and the peak hours of the largest cities of the
// United States, in which trips took 1.33 times as long (Federal Highway
// Administration, Urban Congestion Trends, 2018: travel time index).
const SlowShare = 0.85

// What a sharp turn costs beside what its junction does, likely and on a slow trip:
// from and to some 50 km/h, at a quarter of that in between. Our estimate.
const (
	turn     = 5 * time.Second
	turnSlow = 10 * time.Second
)

// Time adds up the assumed speeds of pieces, what delays traffic on them, and the
// turns between them.
func (p Pace) Time(pieces []network.Piece) Duration {
	var d Duration
	for i := range pieces {
		d = d.Add(p.next(pieces, i))
	}
	return d
}

// Passing is the time from the start of pieces to the end of each.
func (p Pace) Passing(pieces []network.Piece) []Duration {
	out := make([]Duration, len(pieces))
	var d Duration
	for i := range pieces {
		d = d.Add(p.next(pieces, i))
		out[i] = d
	}
	return out
}

// next is the time of one of pieces, with the turn into it.
func (p Pace) next(pieces []network.Piece, i int) Duration {
	piece := pieces[i]
	v, ok := p.Speed(piece.Arc.Edge())
	if !ok {
		return Duration{Unknown: say.That("road.no_speed_on", "class", p.Network.Class[piece.Arc.Edge()])}
	}
	d := p.drive(piece, v)
	if i > 0 && math.Abs(p.Network.Deflection(pieces[i-1].Arc, piece.Arc)) > network.SharpTurn {
		d.Duration, d.Slow = d.Duration+turn, d.Slow+turnSlow
	}
	return d
}

// drive is the time of a piece at its assumed speed. A ferry keeps its timetable.
func (p Pace) drive(piece network.Piece, v measure.Speed) Duration {
	free := float64(piece.Length()) / float64(v) * float64(time.Second)
	likely, slow := p.Network.Delay(piece)
	share := SlowShare
	if p.Network.Class[piece.Arc.Edge()].Water() {
		share = 1
	}
	return Duration{Duration: time.Duration(free) + likely, Slow: time.Duration(free/share) + slow}
}

// Case is the rig that is driven, and how.
type Case struct {
	Rig        rig.Rig // on the day of departure
	Conditions Conditions
	Top        measure.Speed
	Invented   bool
}

// Driver drives one rig along the ways of one plan at a time, in their order.
type Driver struct {
	Pace
	atlas      *standing.Atlas
	rig        rig.Rig
	conditions Conditions
	invented   bool

	statics rig.Statics
	pulled  measure.Known[drive.Vehicle]
	vehicle drive.Vehicle // the same, where it is known
	weather drive.Weather

	ways   []Way
	passed []passed
	driven []drive.Section
	run    drive.Run  // of all legs
	gap    say.Remark // why a part of the way is not in it
}

// New returns a driver.
func New(a *standing.Atlas, c Case) *Driver {
	d := &Driver{
		Pace: Pace{a.Network, c.Top}, atlas: a, rig: c.Rig, conditions: c.Conditions, invented: c.Invented,
		statics: c.Rig.Statics(), pulled: c.Rig.OnRoad(), weather: c.Conditions.weather(),
	}
	d.vehicle, _ = d.pulled.Value()
	return d
}

// Begin forgets the ways of the plan before.
func (d *Driver) Begin() {
	d.ways, d.passed, d.driven = nil, nil, nil
	d.run, d.gap = drive.Run{}, say.Remark{}
}
