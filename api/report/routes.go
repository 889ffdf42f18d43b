package report

import (
	"fmt"
	"io"
	"slices"
	"time"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/search"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

// Routes writes the ways of a trip as plain text: one screen of them, one subject of
// the best one, or all: the verdict of the best one first, then the rig, the best way, a table of all ways, what bent or closed
// them, cautions and credits. attributions are the credits of the data, a line
// each.
func Routes(w io.Writer, v View, r *trip.Routes, attributions []string) error {
	switch {
	case v.Why != "":
		return why(w, v, subjects(r.Best), r.Tasks())
	case !v.Full:
		return routeScreen(v.In, r).write(w, v)
	}
	t := newText(v, r.Best)
	notice := t.in.Sentences(r.Best.Notice())
	if r.RestsOnInvented() && !r.Best.RestsOnInvented() {
		notice = t.marked(true) + notice
	}
	t.b.WriteString(Printable(notice) + "\n")
	t.line("%s", t.in.Say(trip.Cautions()[0]))
	t.heading(say.That("report.head_rig"))
	t.rig(r.Best.Rig)
	t.heading(say.That("report.head_route"))
	t.route()
	t.order(r.Order)
	t.heading(say.That("report.head_ways"))
	t.ways(r)
	t.difference(r.Difference)
	t.reasons(r)
	t.list(say.That("report.head_assumed"), t.in.Each(r.Best.Assumptions))
	t.list(say.That("report.head_cautions"), t.in.Each(r.Best.Cautions))
	t.data(r.Best.About.Revision, r.Best.Tables, attributions)
	_, err := io.WriteString(w, t.b.String())
	return err
}

// order says how the stops were put in order, where they were.
func (t *text) order(order []int) {
	if slices.IsSorted(order) {
		return
	}
	var stops []string
	for _, i := range order {
		stops = append(stops, fmt.Sprint(i+1))
	}
	t.tell(1, say.That("report.order", "stops", stops))
}

// ways writes a table of the best way and those beside it.
func (t *text) ways(r *trip.Routes) {
	name := say.That("report.way_best")
	if r.Difference != nil {
		name = say.That("report.way_given")
	}
	entries := []entry{t.wayEntry(name, r.Best, "-")}
	for i := range r.Others {
		entries = append(entries, t.optionEntry(say.That("report.way_other", "number", i+1), &r.Others[i]))
	}
	var apart []say.Remark
	switch {
	case r.Free != nil:
		e := t.optionEntry(say.That("report.way_free"), r.Free)
		e.below = append([]string{t.in.Say(say.That("report.not_to_drive"))}, e.below...)
		entries = append(entries, e)
	case r.Difference == nil && !r.Best.Passable:
		apart = append(apart, say.That("report.free_is_shut"))
	case r.Difference == nil:
		apart = append(apart, say.That("report.free_is_best"))
	}
	if r.Without != nil {
		entries = append(entries, t.optionEntry(say.That("report.way_without"), r.Without))
	} else if !r.WithoutWhy.None() {
		apart = append(apart, say.That("named", "name", say.That("report.way_without"), "says", r.WithoutWhy))
	}
	if d := r.Difference; d != nil && d.Best != nil {
		entries = append(entries, t.wayEntry(say.That("report.way_best"), d.Best,
			t.later(driving.Duration{Duration: -d.ExtraTime.Duration, Unknown: d.ExtraTime.Unknown})))
	}
	t.table(t.heads(say.That("report.way"), say.That("report.length"), say.That("report.driving"), say.That("report.extra"),
		say.That("report.permits"), say.That("report.unknown_head")), entries)
	for _, s := range apart {
		t.tell(1, s)
	}
}

func (t *text) wayEntry(name say.Remark, p *trip.Plan, extra string) entry {
	driving := t.notKnown()
	if p.Time.Unknown.None() {
		driving = t.duration(p.Time)
	}
	var through, roads []string
	for _, l := range p.Legs {
		through = append(through, t.codes(l.Jurisdictions))
		roads = append(roads, t.in.Each(l.Roads)...)
	}
	e := entry{
		cells: []string{t.in.Say(name), t.in.Quantity(p.Length), driving, extra,
			fmt.Sprint(len(p.Permits)), fmt.Sprint(p.Verdict.Unknowns)},
		below: []string{t.in.Say(say.That("report.way_through", "outcome", t.outcome(p.Verdict.Outcome()),
			"through", slices.Compact(through)))},
	}
	if !p.Time.Unknown.None() {
		e.below = append(e.below, t.duration(p.Time))
	}
	if len(roads) > 0 {
		e.below = append(e.below, t.in.Say(say.That("report.by_roads", "roads", slices.Compact(roads))))
	}
	return e
}

func (t *text) optionEntry(name say.Remark, o *trip.Option) entry {
	e := t.wayEntry(name, o.Plan, t.later(o.ExtraTime))
	e.below = append(e.below, t.in.Say(say.That("report.compared", "longer", longer(o.Extra), "percent", 100*o.New,
		"permits", o.Permits, "spared", o.Spared)))
	return e
}

// later prints how much more or less time a way takes, in a cell.
func (t *text) later(d driving.Duration) string {
	switch {
	case !d.Unknown.None():
		return t.notKnown()
	case d.Duration < 0:
		return "-" + t.duration(driving.Duration{Duration: -d.Duration})
	default:
		return "+" + t.duration(d)
	}
}

func longer(d measure.Distance) say.Remark {
	if d < 0 {
		return say.That("report.shorter", "length", -d)
	}
	return say.That("report.longer", "length", d)
}

// difference says where a given route leaves the best way.
func (t *text) difference(d *trip.Difference) {
	if d == nil {
		return
	}
	t.heading(say.That("report.head_given"))
	if d.Best == nil {
		t.tell(1, say.That("report.nothing_to_compare", "why", d.Why))
		return
	}
	time := say.That("report.differs_unknown", "why", d.ExtraTime.Unknown)
	if d.ExtraTime.Unknown.None() {
		time = say.That("report.differs", "time", t.later(d.ExtraTime))
	}
	t.tell(1, say.That("report.given_is", "longer", longer(d.Extra), "time", time))
	if len(d.Apart) == 0 {
		t.tell(1, say.That("report.leaves_nowhere"))
	}
	for _, s := range d.Apart {
		t.tell(1, say.That("report.leaves", "after", s.At, "length", s.Length, "roads", t.in.Each(s.Roads)))
	}
}

// reasons says what bent or closed the way.
func (t *text) reasons(routes *trip.Routes) {
	r := routes.Reasons
	switch {
	case r == nil:
		return
	case len(r.Closing) > 0:
		t.closing(r)
	default:
		t.bent(r)
	}
	if !r.Complete {
		t.tell(1, say.That("report.not_all"))
	}
}

func (t *text) bent(r *choosing.Reasons) {
	t.heading(say.That("report.head_bent"))
	if r.Complete && len(r.Bent) == 0 && r.Together == nil {
		t.tell(1, say.That("report.nothing_bent"))
	}
	var lines []reason
	for _, b := range r.Bent {
		lines = append(lines, reason{t.barrier(b.Barrier),
			t.in.Say(say.That("report.bends", "saves", t.saves(b.Saves), "costs", t.costs(b.Alone)))})
	}
	t.each(lines)
	switch g := r.Together; {
	case g == nil:
	case g.Costs > 0:
		t.tell(1, say.That("report.together", "time", t.spent(g.Costs)))
		t.barriers(g.Barriers)
	default:
		t.tell(1, say.That("report.together_save", "time", t.spent(g.Saves)))
		t.barriers(g.Barriers)
	}
}

// reason is a barrier in words, and what is said of it.
type reason struct {
	what, said string
}

// each writes reasons; those that read alike, as of the two roads below one
// bridge, once with their number.
func (t *text) each(list []reason) {
	times := map[reason]int{}
	for _, r := range list {
		times[r]++
	}
	for _, r := range list {
		n := times[r]
		if delete(times, r); n == 0 {
			continue
		}
		t.tell(1, say.That("report.reason", "what", r.what, "count", n))
		if r.said != "" {
			t.line("    %s", r.said)
		}
	}
}

func (t *text) barriers(list []*standing.Barrier) {
	var lines []reason
	for _, b := range list {
		lines = append(lines, reason{what: t.barrier(b)})
	}
	t.each(lines)
}

// closing says what shuts every way, and what would pass. Which of the nearest
// sizes rest on invented data is not known apart, so all carry the mark where
// anything is.
func (t *text) closing(r *choosing.Reasons) {
	t.heading(say.That("report.head_closes"))
	t.tell(1, say.That("report.closing"))
	t.barriers(r.Closing)
	if len(r.Nearest) == 0 {
		t.tell(1, say.That("report.no_nearest"))
	}
	for _, n := range r.Nearest {
		t.tell(1, say.That("report.nearest", "quantity", n.Quantity, "most", n.Most, "is", n.Is, "by", n.By))
	}
}

func (t *text) barrier(b *standing.Barrier) string {
	out := t.in.Say(b.What)
	if b.When != "" && b.Kind != standing.BySign { // a sign says it itself
		out += " (" + b.When + ")"
	}
	for _, r := range b.Citations {
		out += " [" + r.ID + ": " + t.origin(r) + "]"
	}
	return out
}

func (t *text) saves(d search.Millis) string {
	if d <= 0 {
		return t.in.Say(say.That("report.saves_nothing"))
	}
	return t.in.Say(say.That("report.saves", "time", t.spent(d)))
}

func (t *text) costs(d search.Millis) string {
	if d <= 0 {
		return t.in.Say(say.That("report.costs_nothing"))
	}
	return t.in.Say(say.That("report.costs", "time", t.spent(d)))
}

// spent prints a driving time that is more often minutes than hours.
func (t *text) spent(ms search.Millis) string {
	d := time.Duration(ms) * time.Millisecond
	switch {
	case d < 2*time.Minute:
		return fmt.Sprintf("%.0f s", d.Seconds())
	case d < time.Hour:
		return fmt.Sprintf("%.0f min", d.Minutes())
	default:
		return t.duration(driving.Duration{Duration: d})
	}
}
