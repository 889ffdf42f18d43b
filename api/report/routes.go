package report

import (
	"io"
	"strconv"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/search"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

// Routes writes the ways of a trip as plain text: one screen of them, one subject of
// the best one, or all. attributions are the credits of the data, a line each.
func Routes(w io.Writer, v View, r *trip.Routes, attributions []string) error {
	if v.Why != "" {
		return why(w, v, subjects(r.Best), r.Tasks())
	}
	s := routeScreen(v, r)
	if v.Full {
		s.grounds(r.Best.Assumptions, r.Best.Cautions, r.Best.About, r.Best.Tables, attributions)
	}
	return s.write(w, v)
}

// routeScreen is the answer to a search for ways on one screen: the verdict of the
// best one, all of them beside each other, what bent or closed them, and what to do
// next.
func routeScreen(v View, r *trip.Routes) *screen {
	s := &screen{in: v.In, full: v.Full}
	from, to := r.Best.Ends()
	s.whole().briefly(say.That("screen.route.title", "invented", r.RestsOnInvented(), "name", s.clip(r.Best.Name),
		"from", s.name(from), "to", s.name(to)))
	s.rig(r.Best.Rig)
	s.order(r.Best)
	s.verdict(r.Best, ofBest)
	s.ways(r)
	s.reasons(r.Reasons)
	s.against(r.Difference)
	s.part(say.That("screen.label.times")).keeps(s.times(r.Best))
	s.offs(s.part(say.That("screen.label.way")), r.Best.Off)
	truckRoads(s.roads(r.Best.About), r.Best)
	s.tasks(r.Tasks())
	s.foot(s.examples(r.Best))
	s.credit(r.Best.About)
	return s
}

// ofBest is how many findings are shown to decide the best of several ways.
const ofBest = 2

// A candidate is a way among others.
type candidate struct {
	name say.Remark
	plan *trip.Plan
	than *trip.Option      // how it compares with the first; nil for that itself
	time *driving.Duration // by how much it takes longer than the first
}

// candidates are the ways that were found, the best first.
func candidates(r *trip.Routes) (out []candidate) {
	option := func(name say.Remark, o *trip.Option) {
		if o != nil {
			out = append(out, candidate{name, o.Plan, o, &o.ExtraTime})
		}
	}
	best := say.That("screen.route.best")
	if r.Difference != nil {
		out = append(out, candidate{name: say.That("screen.route.given"), plan: r.Best})
	} else {
		out = append(out, candidate{name: best, plan: r.Best})
	}
	for i := range r.Others {
		option(say.That("screen.route.other", "n", i+1), &r.Others[i])
	}
	option(say.That("screen.route.unhindered"), r.Free)
	option(say.That("screen.route.permit_free"), r.Without)
	if d := r.Difference; d != nil && d.Best != nil {
		out = append(out, candidate{name: best, plan: d.Best, time: &driving.Duration{
			Duration: -d.ExtraTime.Duration, Unknown: d.ExtraTime.Unknown}})
	}
	return out
}

// ways sets the ways beside each other, and says by which roads each goes.
func (s *screen) ways(r *trip.Routes) {
	table := s.apart(say.That("screen.label.ways"))
	table.head(say.That("screen.column.length"), say.That("screen.column.time"), say.That("screen.column.extra"),
		say.That("screen.column.permits"), say.That("screen.column.unknown"), say.That("screen.column.verdict"))
	by := s.part(say.That("screen.label.by"))
	for _, c := range candidates(r) {
		table.row(true, s.in.Say(c.name), s.in.Alone(c.plan.Length), s.driving(c.plan.Time), s.extra(c),
			strconv.Itoa(len(c.plan.Permits)), strconv.Itoa(c.plan.Verdict.Unknowns),
			s.in.Term(stateOf(c.plan.Verdict.Outcome())))
		tells := by.hints
		if c.than == nil {
			tells = by.briefly
		}
		tells(s.goes(c))
		if s.full && !c.plan.Time.Unknown.None() {
			by.tells(say.That("screen.route.no_time", "name", c.name, "why", c.plan.Time.Unknown))
		}
	}
	switch {
	case r.Free != nil:
		table.keeps(say.That("screen.route.not_to_drive"))
	case r.Difference == nil && !r.Best.Passable:
		table.keeps(say.That("screen.route.shut"))
	case r.Difference == nil:
		table.tells(say.That("screen.route.unbent"))
	}
	if r.Without == nil && !r.WithoutWhy.None() {
		table.tells(say.That("screen.route.no_permit_free", "why", r.WithoutWhy))
	}
}

func (s *screen) driving(d driving.Duration) string {
	if !d.Unknown.None() {
		return s.in.Say(say.That("screen.size_not_known"))
	}
	return s.in.Say(drivingTime(d.Duration, say.Remark{}))
}

// extra is by how much a way takes longer than the first one, in a cell.
func (s *screen) extra(c candidate) string {
	switch {
	case c.time == nil:
		return s.in.Say(say.That("screen.no_answer"))
	case !c.time.Unknown.None():
		return s.in.Say(say.That("screen.size_not_known"))
	case c.time.Duration < 0:
		return "-" + s.driving(driving.Duration{Duration: -c.time.Duration})
	default:
		return "+" + s.driving(*c.time)
	}
}

// goes says by which roads a way goes, and how it differs from those before it.
func (s *screen) goes(c candidate) say.Remark {
	by := s.listed(s.in.Each(roads(c.plan)))
	if c.than == nil {
		return say.That("screen.route.goes", "name", c.name, "by", by, "through", through(c.plan))
	}
	return say.That("screen.route.goes_apart", "name", c.name, "by", by, "through", through(c.plan), "new", 100*c.than.New,
		"permits", c.than.Permits, "spared", c.than.Spared)
}

// through are the jurisdictions that a plan goes through, each once.
func through(p *trip.Plan) (out []string) {
	for _, l := range p.Legs {
		out = append(out, l.Jurisdictions...)
	}
	return once(out)
}

// reasons says what bent the way, or what closes every one and which size would pass.
func (s *screen) reasons(r *choosing.Reasons) {
	if r == nil {
		return
	}
	part := s.apart(say.That("screen.label.bent"))
	if len(r.Closing) > 0 {
		part.label = s.in.Say(say.That("screen.label.shut"))
		part.keeps(say.That("screen.route.closing", "count", len(r.Closing)))
		for _, b := range r.Closing {
			part.hints(s.barrier(b))
		}
		if len(r.Nearest) == 0 {
			part.tells(say.That("screen.route.no_nearest"))
		}
		for _, n := range r.Nearest {
			part.briefly(say.That("screen.route.nearest", "quantity", n.Quantity, "most", n.Most, "is", n.Is, "by", n.By))
		}
	}
	if len(r.Closing) == 0 && len(r.Bent) == 0 && r.Together == nil && r.Preferred == nil && r.Complete {
		part.tells(say.That("screen.route.not_bent"))
	}
	var told []say.Remark
	for _, b := range r.Bent {
		told = append(told, say.That("screen.route.bent", "what", s.barrier(b.Barrier), "saves", above0(spent(b.Saves)),
			"alone", above0(spent(b.Alone))))
	}
	for i, one := range say.Once(told) {
		tells := part.hints
		if i == 0 {
			tells = part.briefly
		}
		tells(one)
	}
	if g := r.Together; g != nil {
		var all []say.Remark
		for _, b := range g.Barriers {
			all = append(all, s.barrier(b))
		}
		part.hints(say.That("screen.route.together", "costs", above0(spent(g.Costs)), "saves", above0(spent(g.Saves)),
			"all", say.Once(all)))
	}
	if p := r.Preferred; p != nil {
		part.hints(say.That("screen.route.truck_roads", "longer", above0(p.Extra), "shorter", above0(-p.Extra),
			"slower", above0(spent(p.ExtraTime)), "sooner", above0(spent(-p.ExtraTime))))
	}
	if !r.Complete {
		part.keeps(say.That("screen.route.not_all"))
	}
}

func spent(ms search.Millis) time.Duration { return time.Duration(ms) * time.Millisecond }

// barrier is what stands in a way, and when.
func (s *screen) barrier(b *standing.Barrier) say.Remark {
	s.speaksOf(finding.Finding{Topic: finding.Structure, Citations: b.Citations})
	when := b.Says()
	if b.Kind == standing.BySign { // a sign says it itself
		when = say.Remark{}
	}
	return say.That("screen.route.barrier", "what", b.What, "when", when)
}

// against says where a given route leaves the best way.
func (s *screen) against(d *trip.Difference) {
	if d == nil {
		return
	}
	part := s.apart(say.That("screen.label.against"))
	if d.Best == nil {
		part.keeps(say.That("screen.route.nothing_to_compare", "why", d.Why))
		return
	}
	part.keeps(say.That("screen.route.differs", "longer", above0(d.Extra), "shorter", above0(-d.Extra),
		"slower", above0(d.ExtraTime.Duration), "sooner", above0(-d.ExtraTime.Duration), "unknown", d.ExtraTime.Unknown))
	if len(d.Apart) == 0 {
		part.tells(say.That("screen.route.apart_nowhere"))
	}
	n := s.some(someSteps, len(d.Apart))
	for _, a := range d.Apart[:n] {
		part.hints(say.That("screen.route.apart", "at", a.At, "length", a.Length, "by", s.listed(s.in.Each(a.Roads))))
	}
	part.hides(len(d.Apart) - n)
}
