package regs

import (
	"cmp"
	"slices"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/permit"
	"wayhouse/regs/roads"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Held is a permit of the log, compared with the rig and the trip.
type Held struct {
	*permit.Contact
	SomeDays, AllDays bool         // of those on which the trip is or may be there
	Beyond            []say.Remark // in what the rig or the way surely is not what it is for
	Open              []say.Remark // in what that is not known
}

// newHeld compares a permit with a vehicle, its way through the jurisdiction and
// the rules that ask for a permit there: one of them whose size the permit does
// not state is open.
func newHeld(k *permit.Contact, v Vehicle, p Passage, because []finding.Rule) Held {
	h := Held{Contact: k, SomeDays: true, AllDays: k.From.IsZero() && k.Expires.IsZero()}
	if from, until := p.stay(); !from.IsZero() {
		h.SomeDays, h.AllDays = rows.Holds(k.From, k.Expires, from, until)
	}
	switch about, hangs := k.About(v.Subject); about {
	case limit.No:
		h.Beyond = append(h.Beyond, say.That("held.meant", "meant", k.Meant()))
	case limit.Perhaps:
		h.Open = append(h.Open, hangs...)
	}
	h.sizes(v, because)
	h.roads(p.Roads)
	return h
}

func (h *Held) sizes(v Vehicle, because []finding.Rule) {
	for _, q := range limit.Quantities() {
		most, stated := h.Sizes[q]
		switch {
		case !stated && slices.Contains(because, finding.Rule(q)):
			h.Open = append(h.Open, say.That("held.size_unstated", "quantity", q))
		case !stated:
		case v.over(q, most) == limit.Yes:
			has := q.Known(v.Measures[q]).Exactly()
			h.Beyond = append(h.Beyond, say.That("held.size_beyond", "quantity", q, "most", q.Of(most), "has", has))
		case v.over(q, most) == limit.Perhaps:
			h.Open = append(h.Open, say.That("held.size_open", "quantity", q, "most", q.Of(most)))
		}
	}
}

func (h *Held) roads(used []roads.Road) {
	if h.Roads.Any() {
		return
	}
	worst, which := limit.Yes, say.Remark{}
	for _, road := range orAny(used) {
		if applies, _ := h.Over([]roads.Road{road}); applies < worst {
			worst, which = applies, called(road)
		}
	}
	switch others := say.That("held.roads", "roads", h.Roads.String(), "by", which); worst {
	case limit.No:
		h.Beyond = append(h.Beyond, others)
	case limit.Perhaps:
		h.Open = append(h.Open, others)
	}
}

// called names a road.
func called(r roads.Road) say.Remark {
	if name := cmp.Or(strings.Join(r.Refs, ", "), r.Name); name != "" {
		return say.Text(name)
	}
	return say.That("road.no_number")
}

// held answers for the permits of the log: nothing where one of them is for this
// rig and way and holds all the time. One of another time, size or road is none:
// a permit is then still to be asked for.
func (t *Tables) held(n Need) []finding.Finding {
	f := n.finding()
	for _, h := range n.Held {
		row := t.contactRow(h.Contact, held(h.Contact))
		row.Says = slices.Concat(h.Beyond, h.Open, row.Says)
		f.Citations = append(f.Citations, row)
	}
	here := say.Jurisdiction(n.Jurisdiction)
	fits := func(ok func(Held) bool) bool {
		return slices.ContainsFunc(n.Held, func(h Held) bool { return len(h.Beyond) == 0 && ok(h) })
	}
	timed := !n.From.IsZero() && !n.Until.IsZero()
	says := func(o finding.Outcome, why finding.Reason, said say.Remark) []finding.Finding {
		f.Answer(o, why, said)
		return []finding.Finding{f}
	}
	switch {
	case fits(func(h Held) bool { return h.AllDays && len(h.Open) == 0 }):
		return nil
	case fits(func(h Held) bool { return h.AllDays }):
		return says(finding.Unknown, finding.Perhaps, say.That("permit.held_perhaps", "where", here))
	case !timed && fits(func(h Held) bool { return h.SomeDays }):
		return says(finding.Unknown, finding.TimeOpen, say.That("permit.held_time_open", "where", here))
	case fits(func(h Held) bool { return h.SomeDays }):
		ends := say.That("permit.held_in_part", "from", n.From, "until", n.Until, "where", here)
		return says(finding.Forbidden, finding.Exceeded, ends)
	case slices.ContainsFunc(n.Held, func(h Held) bool { return h.SomeDays }):
		return says(finding.Review, finding.NoRow, say.That("permit.held_for_others", "where", here))
	case n.From.IsZero():
		return says(finding.Review, finding.NoRow, say.That("permit.held_at_no_time", "where", here))
	default:
		return says(finding.Review, finding.NoRow, say.That("permit.held_not_on", "day", say.Day(n.From), "where", here))
	}
}
