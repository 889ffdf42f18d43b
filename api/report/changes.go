package report

import (
	"fmt"
	"io"

	"wayhouse/api/phrase"
	"wayhouse/regs/say"
	"wayhouse/routing/change"
	"wayhouse/routing/network"
)

// Changed is what differs between two networks, along some trips or everywhere.
type Changed struct {
	Before, After network.About
	Changes       []change.Change
	Trips         []change.Trip // along which the changes are
	Along         say.Remark    // says so; none: they are everywhere
	Most          int           // how many changes are listed
}

// Changes prints counts by risk, and the first changes.
func Changes(w io.Writer, in *phrase.Language, of Changed) error {
	p := &lines{w: w, in: in}
	p.line(say.That("change.before"), edition(of.Before))
	p.line(say.That("change.after"), edition(of.After))
	return p.changes(of)
}

// ChangesAlong prints counts by risk and by trip, and the first changes, beneath those of
// everywhere.
func ChangesAlong(w io.Writer, in *phrase.Language, of Changed) error {
	return (&lines{w: w, in: in}).changes(of)
}

func (p *lines) changes(of Changed) error {
	if !of.Along.None() {
		p.line(say.That("change.along"), of.Along)
	}
	for _, t := range of.Trips {
		p.write("  " + Printable(p.in.Say(alongTrip(t, change.Of(of.Changes, t.Name)))))
	}
	if len(of.Changes) == 0 {
		p.line(say.That("change.changes"), say.That("change.none"))
		return p.err
	}
	for _, c := range change.Counts(of.Changes) {
		p.line(say.That("change.kind", "kind", c.Kind), count(c))
	}
	for _, c := range of.Changes[:min(of.Most, len(of.Changes))] {
		p.write("  " + Printable(p.in.Say(changed(c))))
	}
	if more := len(of.Changes) - of.Most; more > 0 {
		p.write("  " + p.in.Say(say.That("change.more", "count", more)))
	}
	return p.err
}

// alongTrip says how much of what changed along a trip.
func alongTrip(t change.Trip, changes []change.Change) say.Remark {
	var counts []say.Remark
	for _, c := range change.Counts(changes) {
		counts = append(counts, say.That("change.kinds", "kind", c.Kind, "count", c.Gone+c.Altered+c.Added))
	}
	return say.That("change.trip", "name", t.Name, "counts", counts, "why", t.Why)
}

func edition(a network.About) say.Remark {
	return say.That("change.network", "name", a.Name, "vintage", a.Vintage, "revision", a.Revision)
}

func count(c change.Count) say.Remark {
	return say.That("change.count", "gone", c.Gone, "changed", c.Altered, "added", c.Added)
}

// changed is one change in a line.
func changed(c change.Change) say.Remark {
	return say.That("change.line", "kind", c.Kind, "how", c.How, "what", c.What, "before", c.Before, "after", c.After,
		"road", c.Road, "lat", c.Point.Lat(), "lon", c.Point.Lon(),
		"element", fmt.Sprintf("%s %d", c.Element.Type, c.Element.ID))
}
