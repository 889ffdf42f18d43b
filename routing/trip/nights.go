package trip

import (
	"slices"
	"time"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/timetable"
)

// How far by road beside the way a place may lie at which the rig is planned to rest, there and
// back each, and how long it drives for each metre of that: our choice.
const (
	nightBeside measure.Distance = 1_000
	nightPace                    = time.Second / 5
)

// Night is a rest on the way that is taken at a place of the network.
type Night struct {
	network.Halt
	Along          measure.Distance // where the way is left, from the first stop; Halt.At counts from elsewhere
	Drive, Section int              // of the journey, which begins with it
	Later          time.Duration    // at the last stop, than with the rest where the clock asks for it
}

// NightAt is the place at which an entry rests, nil where none is known.
func (t *Timetable) NightAt(e timetable.Entry) *Night {
	i := slices.IndexFunc(t.Nights, func(n Night) bool {
		return e.Kind == timetable.Rest && n.Drive == e.Drive && n.Section == e.Section && e.Begins <= n.Along+1
	})
	if i < 0 {
		return nil
	}
	return &t.Nights[i]
}

// nightBefore is the place at which the rig rests before a stage, nil where none is known.
func (t *Timetable) nightBefore(next stage) *Night {
	i := slices.IndexFunc(t.Nights, func(n Night) bool {
		return n.Drive == next.drive && n.Section == next.section && next.share < 1e-6
	})
	if i < 0 {
		return nil
	}
	return &t.Nights[i]
}

// atPlaces plans the journey again with each rest on the way taken at a place that the network
// knows on the road before it: one after the other, since each moves those that follow.
func (s *scheduling) atPlaces(t *Timetable) error {
	if t.Missed != nil || s.Network.Lacks(network.Stopping) {
		return nil
	}
	for from := measure.Distance(0); ; {
		i := slices.IndexFunc(t.Entries, func(e timetable.Entry) bool { return resting(e) && e.Begins > from+1 })
		if i < 0 {
			return nil
		}
		rest, nights := t.Entries[i], len(t.Nights)
		if err := s.atPlace(t, rest, from); err != nil {
			return err
		}
		if from = rest.Begins; len(t.Nights) > nights {
			from = t.Nights[nights].Along
		}
	}
}

// resting reports whether an entry is a rest on the way.
func resting(e timetable.Entry) bool { return e.Kind == timetable.Rest && e.Stop < 0 }

// atPlace has a rest be taken at the last place before it, but after another point, that costs no
// further rest and no deadline; where there is none, the timetable stays as it is.
func (s *scheduling) atPlace(t *Timetable, rest timetable.Entry, after measure.Distance) error {
	begins := s.begins()[rest.Drive]
	way := s.upTo(rest, begins[rest.Section])
	long := lengthOf(way)
	tail := tailOf(way, min(parkBefore, long-max(after-begins[0], 0)))
	halts, tried := s.Network.Halts(tail, nightBeside), 0
	for i := len(halts) - 1; i >= 0 && tried < mostParks; i-- {
		h := halts[i]
		if !s.suits(h, tail) {
			continue
		}
		tried++
		n := Night{Halt: h, Along: begins[0] + long - lengthOf(tail) + h.At, Drive: rest.Drive}
		if moved, err := s.restAt(t, n, rest.Section); moved || err != nil {
			return err
		}
	}
	return nil
}

// upTo is the road of a drive up to where an entry stands, whose section begins so far along the
// journey.
func (s *scheduling) upTo(e timetable.Entry, begins measure.Distance) (out []network.Piece) {
	for _, of := range s.drives[e.Drive][:e.Section] {
		out = append(out, of.pieces...)
	}
	of := s.drives[e.Drive][e.Section]
	if share := float64((e.Begins - begins) / max(lengthOf(of.pieces), 1e-9)); share > 0 {
		out = append(out, of.between(0, share)...)
	}
	return out
}

// suits reports whether nothing that the map says of a place keeps the rig from resting there: a
// stay that is limited at all may be too short.
func (s *scheduling) suits(h network.Halt, way []network.Piece) bool {
	lots, known := h.Trucks.Value()
	return (!known || lots > 0) && h.Stay == "" && s.stands.Admits(h.Signs, way[len(way)-1].Arc.Edge())
}

// restAt plans the journey again with a rest at a place, in a section of its drive up to one, and
// reports whether that is taken.
func (s *scheduling) restAt(t *Timetable, n Night, last int) (taken bool, err error) {
	at := n.Along - s.begins()[n.Drive][0]
	drive := s.drives[n.Drive]
	for n.Section = 0; n.Section <= last && at >= lengthOf(drive[n.Section].pieces); n.Section++ {
		at -= lengthOf(drive[n.Section].pieces)
	}
	if n.Section > last || t.Journey.Drives[n.Drive][n.Section].Limits.Rest <= 0 || drive[n.Section].ferry {
		return false, nil
	}
	if at < 1 || lengthOf(drive[n.Section].pieces)-at < 1 {
		return false, nil
	}
	first, second := drive[n.Section].halves(at)
	j := t.Journey
	j.Drives = slices.Clone(j.Drives)
	j.Drives[n.Drive] = n.parts(j.Drives[n.Drive], first, second)
	table, err := timetable.Plan(j)
	if err != nil || !t.bears(table) {
		return false, err
	}
	s.drives = slices.Clone(s.drives)
	s.drives[n.Drive] = slices.Replace(slices.Clone(drive), n.Section, n.Section+1, first, second)
	n.Later, n.Section = max(table.Arrival.Slow.Sub(t.Arrival.Slow), 0), n.Section+1
	*t = Timetable{j, *table, append(t.Nights, n)}
	return true, nil
}

// parts are the sections of a drive, one of them cut in two where it rests: the rig drives to the
// place at the end of the first, and back at the beginning of the second.
func (n *Night) parts(of timetable.Drive, first, second stretch) timetable.Drive {
	a := of[n.Section]
	b := a
	b.Pause, b.Waits, b.Halt = 0, "", a.Limits.Rest
	b.Burns = a.BurnsAfter(lengthOf(first.pieces))
	there, back := n.There, n.Back+max(n.At-n.Rejoins, 0)
	for _, one := range []struct {
		of     *timetable.Section
		road   stretch
		detour measure.Distance
	}{{&a, first, there}, {&b, second, back}} {
		long, beside := one.road.time(), time.Duration(float64(one.detour)*float64(nightPace))
		one.of.Length = lengthOf(one.road.pieces)
		one.of.Likely, one.of.Slow = long.Duration+beside, long.Slow+beside
	}
	return slices.Replace(slices.Clone(of), n.Section, n.Section+1, a, b)
}

// bears reports whether another table of the same journey asks for nothing more than this one but
// time.
func (t *Timetable) bears(other *timetable.Table) bool {
	rests := func(of []timetable.Entry) (n int) {
		for _, e := range of {
			if resting(e) {
				n++
			}
		}
		return n
	}
	return other.Missed == nil && rests(other.Entries) <= rests(t.Entries) && (t.IfHolidays || !other.IfHolidays)
}

// halves cuts a stretch so far from its start, which lies within it.
func (s stretch) halves(at measure.Distance) (first, second stretch) {
	i := 0
	for ; at >= s.pieces[i].Length(); i++ {
		at -= s.pieces[i].Length()
	}
	var before driving.Duration
	if i > 0 {
		before = s.passing[i-1]
	}
	part := float64(at / s.pieces[i].Length())
	cut := driving.Duration{
		Duration: before.Duration + time.Duration(part*float64(s.passing[i].Duration-before.Duration)),
		Slow:     before.Slow + time.Duration(part*float64(s.passing[i].Slow-before.Slow)),
	}
	first, second = s, s
	first.pieces, first.passing = slices.Clone(s.pieces[:i]), slices.Clone(s.passing[:i])
	second.pieces, second.passing = slices.Clone(s.pieces[i:]), nil
	if at > 0 {
		head := s.pieces[i]
		head.End = head.Start + at
		first.pieces, first.passing = append(first.pieces, head), append(first.passing, cut)
		second.pieces[0].Start = head.End
	}
	for _, d := range s.passing[i:] {
		rest := driving.Duration{Duration: d.Duration - cut.Duration, Slow: d.Slow - cut.Slow}
		second.passing = append(second.passing, rest)
	}
	return first, second
}

// Says names the place of a night, with what the map says of it.
func (n *Night) Says() say.Remark {
	lots, known := n.Trucks.Value()
	return say.That("park.night", "kind", n.Kind, "name", n.Name, "after", n.Along, "off", n.There, "lots", lots,
		"counted", known, "hours", n.Hours, "fee", n.Fee, "toilets", n.Toilets)
}
