package trip

import (
	"cmp"
	"slices"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/window"
	"wayhouse/routing/trip/timetable"
)

// scheduling makes the journey of ways that were found.
type scheduling struct {
	*builder
	cuts        []cut
	drives      [][]stretch      // from each stop to the next
	way         measure.Distance // that is driven, all drives together
	from, until time.Time        // of which hours are looked up
}

// drivesOf groups cuts by the stops that they lie between.
func (b *builder) drivesOf(ways []way, cuts []cut) (out [][]stretch, known bool) {
	for i, c := range cuts {
		if w := ways[c.way]; w.Starts && (i == 0 || cuts[i-1].way != c.way) || len(out) == 0 {
			out = append(out, nil)
		}
		of := b.stretches(i, c)
		for _, s := range of {
			if !s.time().Unknown.None() {
				return nil, false
			}
		}
		out[len(out)-1] = append(out[len(out)-1], of...)
	}
	return out, !slices.ContainsFunc(ways, func(w way) bool { return w.Gap != nil })
}

// journey is what the timetable is made of; ok is false where a part of the way has no
// known time.
func (b *builder) journey(ways []way, cuts []cut) (s *scheduling, j timetable.Journey, ok bool) {
	s = &scheduling{builder: b, cuts: cuts}
	if s.drives, ok = b.drivesOf(ways, cuts); !ok {
		return nil, j, false
	}
	j = timetable.Journey{Depart: b.departure, Stops: b.calls(len(s.drives) + 1), Crew: b.request.Crew.Crew,
		Habits: b.habits(), AtOnce: b.request.AtOnce}
	if b.request.Backwards {
		j.Depart = time.Time{}
	}
	s.span(j, slowOf(s.drives))
	s.way = drivenOf(s.drives)
	for _, drive := range s.drives {
		j.Drives = append(j.Drives, s.drive(drive))
	}
	return s, j, true
}

func (b *builder) habits() timetable.Habits {
	out := b.request.Pace.Habits
	out.Morning = morning
	return out
}

// slowOf is the slow time of drives.
func slowOf(drives [][]stretch) (sum time.Duration) {
	for _, drive := range drives {
		for _, one := range drive {
			sum += one.time().Slow
		}
	}
	return sum
}

// drive is the way between two stops as the timetable has it.
func (s *scheduling) drive(of []stretch) (out timetable.Drive) {
	for i, stretch := range of {
		out = append(out, s.section(of, i, stretch))
	}
	return out
}

// calls are the stops of the journey; a line that was given without any has its ends alone.
func (b *builder) calls(n int) []timetable.Stop {
	out := slices.Clone(b.visits)
	if len(out) == n {
		return out
	}
	ends := []timetable.Stop{{}, {}}
	if len(out) >= 2 {
		ends = []timetable.Stop{out[0], out[len(out)-1]}
	}
	for i := range ends {
		ends[i].Zone = cmp.Or(ends[i].Zone, b.stands.Clock)
	}
	return ends
}

// Beyond the driving, the stays and the dates of a trip this is how far hours are looked
// up: before the departure, so that it is known since when they are open, before the first
// deadline, and after all.
const (
	lookBefore = 7 * 24 * time.Hour
	lookBack   = 30 * 24 * time.Hour
	lookAhead  = 21 * 24 * time.Hour
)

// span sets the time of which hours are looked up, for so long a drive.
func (s *scheduling) span(j timetable.Journey, slow time.Duration) {
	s.from, s.until = s.departure.Add(-lookBefore), s.departure
	for _, stop := range j.Stops {
		for _, at := range []time.Time{stop.From, stop.By, stop.Until} {
			if at.After(s.until) {
				s.until = at
			}
		}
	}
	s.until = s.until.Add(staying(j.Stops) + 3*slow)
	if s.builder.until.After(s.until) {
		s.until = s.builder.until
	}
	if s.request.Backwards {
		s.from = s.from.Add(-lookBack)
	}
	s.until = s.until.Add(lookAhead)
}

// section is a stretch as the timetable has it.
func (s *scheduling) section(drive []stretch, i int, of stretch) timetable.Section {
	c := s.cuts[of.cut]
	long := of.time()
	out := timetable.Section{
		Leg: of.cut, Length: lengthOf(of.pieces), Likely: long.Duration, Slow: long.Slow, Zone: s.zoneOf(c),
		Ferry: of.ferry, Hours: s.hours(c, s.vehicle()), Habit: s.habit(c), Limits: s.limits(c),
	}
	if !of.ferry && s.fuelling() == ByTank {
		out.Burns = s.builder.drives.Burns(of.pieces, s.way)
	}
	switch pace := s.request.Pace; {
	case of.ferry:
		out.Pause, out.Waits = pace.Ferry, timetable.Ferry
	case i == 0 || drive[i-1].cut == of.cut:
	case foreign(s.cuts[drive[i-1].cut], c):
		out.Pause, out.Waits = pace.Border, timetable.Border
	case pace.Handover > 0 && s.escorted(s.cuts[drive[i-1].cut]) && s.escorted(c):
		out.Pause, out.Waits = pace.Handover, timetable.Handover
	}
	return out
}

func (b *builder) zoneOf(c cut) *time.Location {
	return b.legZone(Leg{Jurisdictions: c.codes, zone: b.Network.Zone(c.pieces[0].Arc.Edge())})
}

// foreign reports whether a border between two cuts is one of countries.
func foreign(a, b cut) bool {
	return !slices.ContainsFunc(a.codes, func(code string) bool {
		return slices.ContainsFunc(b.codes, func(other string) bool { return country(code) == country(other) })
	})
}

// escorted reports whether escorts are asked for on a cut, as of the departure.
func (s *scheduling) escorted(c cut) bool {
	at := s.departure.In(s.zoneOf(c))
	return slices.ContainsFunc(s.Tables.Check(s.vehicle(), s.place(c), at), func(f finding.Finding) bool {
		return f.Demands.Escorts() > 0
	})
}

func (b *builder) vehicle() regs.Vehicle { return b.request.Rig.Vehicle(b.request.Allowances) }

// hours are when a cut may be travelled, nil at any hour; those of permits of jurisdictions
// that are spared are not kept.
func (s *scheduling) hours(c cut, v regs.Vehicle, spared ...string) *timetable.Hours {
	zone := s.zoneOf(c)
	travel := s.Tables.Travel(v, s.place(c), s.from.In(zone), s.until.In(zone), spared...)
	if len(travel.Rules) == 0 {
		return nil
	}
	var ids []string
	for _, r := range travel.Rules {
		ids = append(ids, r.ID)
	}
	out := &timetable.Hours{}
	for _, open := range travel.Open {
		out.Spans = append(out.Spans, timetable.Span{From: open.From, To: open.To, IfHolidays: open.IfListed, Rows: ids})
	}
	return out
}

// habit is when the crew drives on a cut by its own choice, nil whenever it may. It keeps no
// holidays.
func (s *scheduling) habit(c cut) *timetable.Hours {
	if s.request.Pace.Hours == nil {
		return nil
	}
	zone, rule := s.zoneOf(c), window.Hours{Open: s.request.Pace.Hours}
	open := []window.Stretch{{From: s.from.In(zone), To: s.until.In(zone)}}
	for _, end := range s.place(c).Ends {
		open = window.Both(open, rule.Stretches(s.from.In(zone), s.until.In(zone), window.LightAt(end)))
	}
	out := &timetable.Hours{}
	for _, span := range open {
		out.Spans = append(out.Spans, timetable.Span{From: span.From, To: span.To})
	}
	return out
}

// limits bind the driver on a cut: of the jurisdictions that it may lie in the strictest.
func (s *scheduling) limits(c cut) timetable.Limits {
	var line orb.LineString
	for _, p := range c.pieces {
		line = append(line, s.Network.Line(p)...)
	}
	var out timetable.Limits
	for i, code := range c.codes {
		d := s.request.Rig.Drive(code, s.departure.In(s.zoneOf(c)))
		d.Line = line
		if one := limitsOf(s.Tables.Shift(d)); i == 0 {
			out = one
		} else {
			out = out.Stricter(one)
		}
	}
	if len(c.codes) == 0 {
		out = limitsOf(regs.PlannedShift())
	}
	return s.request.Crew.within(out)
}
