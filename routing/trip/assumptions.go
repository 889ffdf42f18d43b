package trip

import (
	"slices"
	"time"

	"wayhouse/regs/say"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/timetable"
)

// assumptions lists what the plan took for granted.
func (b *builder) assumptions() []say.Remark {
	out := say.Each(b.Network.About.Assumptions)
	out = append(
		out,
		say.That("assume.driving_time", "percent", 100*driving.SlowShare),
		say.That("assume.fuel", "air", b.request.Conditions.Says()),
	)
	if top := b.request.Wishes.Top; top > 0 {
		out = append(out, say.That("assume.top_speed", "speed", top))
	}
	if factor := b.chooses.Preference(); factor > 1 && b.request.Given == nil {
		out = append(out, say.That("assume.truck_roads", "factor", factor))
	}
	if b.request.Local {
		out = append(out, say.That("assume.clock", "zone", b.plan.Departure.Location().String()))
	}
	out = append(out, b.shownTwice()...)
	if b.request.Allowances.Reduced() {
		out = append(out, say.That("assume.allowances"))
	}
	out = append(out, b.plan.Timetable.assumptions()...)
	if t := b.plan.Timetable; t != nil && t.Fuelling() == Untimed && len(b.plan.Road.Tank.Stops) > 0 {
		out = append(out, say.That("assume.fuel_time"))
	}
	var zones []string
	for _, l := range b.plan.Legs {
		for _, c := range l.Jurisdictions {
			if j, ok := b.Areas.ByCode(c); ok && len(j.OtherZones) > 0 && !slices.Contains(zones, c) {
				zones = append(zones, c)
				out = append(out, say.That("assume.zone", "jurisdiction", say.Jurisdiction(c), "zone", j.TimeZone))
			}
		}
	}
	return out
}

// shownTwice lists the hours asked for that clocks show twice on the day on which they go back.
func (b *builder) shownTwice() (out []say.Remark) {
	add := func(c choosing.Clock, zone *time.Location) {
		if first, ok := c.Twice(zone); ok {
			out = append(out, say.That("assume.shown_twice", "at", first))
		}
	}
	add(choosing.Clock{At: b.request.Departure, Local: b.request.Local}, b.plan.Departure.Location())
	for _, s := range b.request.Stops {
		for _, c := range []choosing.Clock{s.Visit.From, s.Visit.By, s.Visit.Until} {
			add(c, b.Zone(b.Areas.At(s.Point)))
		}
	}
	return say.Once(out)
}

// assumptions lists what a timetable took for granted; of none nothing.
func (t *Timetable) assumptions() (out []say.Remark) {
	if t == nil {
		return nil
	}
	for _, drive := range t.Journey.Drives {
		for _, s := range drive {
			if s.Limits.Default {
				out = append(out, say.That("assume.planned_shift", "driving", s.Limits.Driving, "rest", s.Limits.Rest))
			}
			if s.Waits == timetable.Border && s.Pause == 0 {
				out = append(out, say.That("assume.border_time"))
			}
		}
	}
	return say.Once(out)
}
