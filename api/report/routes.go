package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"wayhouse/regs/measure"
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
		notice = marked(true) + notice
	}
	t.b.WriteString(Printable(notice) + "\n")
	t.line("%s", t.in.Say(trip.Cautions()[0]))
	t.heading("Rig")
	t.rig(r.Best.Rig)
	t.heading("Route")
	t.route()
	t.order(r.Order)
	t.heading("Ways")
	t.ways(r)
	t.difference(r.Difference)
	t.reasons(r)
	t.list("Taken for granted", t.in.Each(r.Best.Assumptions))
	t.list("Cautions", t.in.Each(r.Best.Cautions))
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
	t.line("  the stops are driven in this order, by their numbers in the request: %s", strings.Join(stops, ", "))
}

// ways writes a table of the best way and those beside it.
func (t *text) ways(r *trip.Routes) {
	name := "best"
	if r.Difference != nil {
		name = "given"
	}
	entries := []entry{t.wayEntry(name, r.Best, "-")}
	for i := range r.Others {
		entries = append(entries, t.optionEntry(fmt.Sprintf("other %d", i+1), &r.Others[i]))
	}
	var apart []string
	switch {
	case r.Free != nil:
		e := t.optionEntry("unhindered", r.Free)
		e.below = append([]string{"NOT ONE TO DRIVE: the way if no structure and no sign shut the rig out"}, e.below...)
		entries = append(entries, e)
	case r.Difference == nil && !r.Best.Passable:
		apart = append(apart, "unhindered: the way above, which is SHUT to the rig")
	case r.Difference == nil:
		apart = append(apart, "unhindered: nothing that is known makes the rig leave the way that it would take "+
			"if no structure and no sign shut it out")
	}
	if r.Without != nil {
		entries = append(entries, t.optionEntry("permit-free", r.Without))
	} else if !r.WithoutWhy.None() {
		apart = append(apart, "permit-free: "+t.in.Say(r.WithoutWhy))
	}
	if d := r.Difference; d != nil && d.Best != nil {
		entries = append(entries, t.wayEntry("best", d.Best,
			t.later(driving.Duration{Duration: -d.ExtraTime.Duration, Unknown: d.ExtraTime.Unknown})))
	}
	t.table([]string{"way", "length", "driving", "extra", "permits", "unknown"}, entries)
	for _, s := range apart {
		t.line("  %s", s)
	}
}

func (t *text) wayEntry(name string, p *trip.Plan, extra string) entry {
	driving := "UNKNOWN"
	if p.Time.Unknown.None() {
		driving = t.duration(p.Time)
	}
	var through, roads []string
	for _, l := range p.Legs {
		through = append(through, codes(l.Jurisdictions))
		roads = append(roads, t.in.Each(l.Roads)...)
	}
	e := entry{
		cells: []string{name, t.in.Quantity(p.Length), driving, extra,
			fmt.Sprint(len(p.Permits)), fmt.Sprint(p.Verdict.Unknowns)},
		below: []string{fmt.Sprintf("%s; through %s", outcome(p.Verdict.Outcome()),
			strings.Join(slices.Compact(through), ", "))},
	}
	if !p.Time.Unknown.None() {
		e.below = append(e.below, t.duration(p.Time))
	}
	if len(roads) > 0 {
		e.below = append(e.below, "by "+strings.Join(slices.Compact(roads), ", "))
	}
	return e
}

func (t *text) optionEntry(name string, o *trip.Option) entry {
	e := t.wayEntry(name, o.Plan, t.later(o.ExtraTime))
	compared := fmt.Sprintf("%s; %.0f %% of it is on no way above", t.longer(o.Extra), 100*o.New)
	if len(o.Permits) > 0 {
		compared += "; asks for a permit also in " + strings.Join(o.Permits, ", ")
	}
	if len(o.Spared) > 0 {
		compared += "; spares the permit of " + strings.Join(o.Spared, ", ")
	}
	e.below = append(e.below, compared)
	return e
}

// later prints how much more or less time a way takes, in a cell.
func (t *text) later(d driving.Duration) string {
	switch {
	case !d.Unknown.None():
		return "UNKNOWN"
	case d.Duration < 0:
		return "-" + t.duration(driving.Duration{Duration: -d.Duration})
	default:
		return "+" + t.duration(d)
	}
}

func (t *text) longer(d measure.Distance) string {
	if d < 0 {
		return t.in.Quantity(-d) + " shorter"
	}
	return t.in.Quantity(d) + " longer"
}

// difference says where a given route leaves the best way.
func (t *text) difference(d *trip.Difference) {
	if d == nil {
		return
	}
	t.heading("The given route against the best way")
	if d.Best == nil {
		t.line("  nothing to compare with: %s", t.in.Say(d.Why))
		return
	}
	time := "how much longer it takes is UNKNOWN: " + t.in.Say(d.ExtraTime.Unknown)
	if d.ExtraTime.Unknown.None() {
		time = "its driving time differs by " + t.later(d.ExtraTime)
	}
	t.line("  the given route is %s; %s", t.longer(d.Extra), time)
	if len(d.Apart) == 0 {
		t.line("  it leaves the best way nowhere")
	}
	for _, s := range d.Apart {
		roads := strings.Join(t.in.Each(s.Roads), ", ")
		t.line("  after %s it leaves the best way for %s, by %s", s.At, s.Length, roads)
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
		t.line("  There is more than was looked into, so this is NOT ALL.")
	}
}

func (t *text) bent(r *choosing.Reasons) {
	t.heading("What bent the way")
	if r.Complete && len(r.Bent) == 0 && r.Together == nil {
		t.line("  nothing that is known; what is unknown may still stand in it")
	}
	var lines []reason
	for _, b := range r.Bent {
		lines = append(lines, reason{t.barrier(b.Barrier),
			fmt.Sprintf("lifting it alone %s; as the only one it %s", t.saves(b.Saves), t.costs(b.Alone))})
	}
	t.each(lines)
	switch g := r.Together; {
	case g == nil:
	case g.Costs > 0:
		t.line("  only together these cost %s:", t.spent(g.Costs))
		t.barriers(g.Barriers)
	default:
		t.line("  these cost nothing by themselves, alone or together, but with those above: lifting all of "+
			"them saves %s:", t.spent(g.Saves))
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
		many := ""
		if n > 1 {
			many = fmt.Sprintf(" (%d of them)", n)
		}
		t.line("  - %s%s", r.what, many)
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
	t.heading("What closes every way")
	t.line("  these are enough to leave no way, and none of them is to spare for that; there may be more in the way:")
	t.barriers(r.Closing)
	if len(r.Nearest) == 0 {
		t.line("  no other size in one measurement alone was found that passes")
	}
	for _, n := range r.Nearest {
		t.line("  with a %s of %s at the most it would pass, all else as it is; the rig has %s. What then "+
			"limits it: %s", n.Quantity, t.in.Down(n.Most), t.in.Quantity(n.Is), t.in.Say(n.By))
	}
}

func (t *text) barrier(b *standing.Barrier) string {
	out := t.in.Say(b.What)
	if b.When != "" && b.Kind != standing.BySign { // a sign says it itself
		out += " (" + b.When + ")"
	}
	for _, r := range b.Citations {
		out += " [" + r.ID + ": " + origin(r) + "]"
	}
	return out
}

func (t *text) saves(d search.Millis) string {
	if d <= 0 {
		return "saves nothing"
	}
	return "saves " + t.spent(d)
}

func (t *text) costs(d search.Millis) string {
	if d <= 0 {
		return "would cost nothing"
	}
	return "would cost " + t.spent(d)
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
