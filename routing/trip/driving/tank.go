package driving

import (
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/timetable"
)

// leastBetween is the shortest way that a tank must last for: below it no timetable fills it
// up. It is that of a spacing that a crew may ask for.
const leastBetween measure.Distance = 20_000

// Usable is what the tank holds above its reserve, where what a way takes of it is known.
func (d *Driver) Usable() measure.Known[measure.Volume] {
	switch tank := d.rig.Tow.Tank; {
	case !d.pulled.Known():
		return measure.Because[measure.Volume](d.pulled.Why())
	case tank == nil:
		return measure.Because[measure.Volume](say.That("road.no_tank"))
	default:
		return measure.Exactly(*tank * measure.Volume(1-d.conditions.Reserve))
	}
}

// Burns is what the tank has lost at the worst along pieces that are driven on a way of some
// length, over which idling is spread; nil where that is not known, or more than a tank in
// [leastBetween].
func (d *Driver) Burns(pieces []network.Piece, way measure.Distance) (out []timetable.Burnt) {
	usable, ok := d.Usable().Value()
	if !ok || usable <= 0 {
		return nil
	}
	sections := d.sections(pieces, nil)
	idle := d.idle().Most() / measure.Volume(way)
	var sum timetable.Burnt
	for i, most := range d.vehicle.EachMost(sections, d.weather, nil) {
		sum.Way += sections[i].Length
		sum.Share += float64((most + idle*measure.Volume(sections[i].Length)) / usable)
		out = append(out, sum)
	}
	section := timetable.Section{Burns: out}
	for _, at := range out { // a way that takes most begins or ends where the road changes
		before, after := section.Burnt(at.Way-leastBetween), section.Burnt(at.Way+leastBetween)
		if !(at.Share-before <= 1 && after-at.Share <= 1) { // nor is it for an endless share
			return nil
		}
	}
	return out
}
