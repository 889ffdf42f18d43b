package regs

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

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
	SomeDays, AllDays bool     // of those on which the trip is or may be there
	Beyond            []string // in what the rig or the way surely is not what it is for
	Open              []string // in what that is not known
}

// newHeld compares a permit with a vehicle, its way through the jurisdiction and
// the rules that ask for a permit there: one of them whose size the permit does
// not state is open.
func newHeld(k *permit.Contact, v Vehicle, p Passage, because []string) Held {
	h := Held{Contact: k, SomeDays: true, AllDays: k.From.IsZero() && k.Expires.IsZero()}
	if from, until := p.stay(); !from.IsZero() {
		h.SomeDays, h.AllDays = rows.Holds(k.From, k.Expires, from, until)
	}
	switch about, hangs := k.About(v.Subject); about {
	case limit.No:
		h.Beyond = append(h.Beyond, "it is for another kind or use of rig: "+strings.Join(k.Meant(), ", "))
	case limit.Perhaps:
		h.Open = append(h.Open, say.Strings(hangs)...)
	}
	h.sizes(v, because)
	h.roads(p.Roads)
	return h
}

func (h *Held) sizes(v Vehicle, because []string) {
	for _, q := range limit.Quantities() {
		most, stated := h.Sizes[q]
		switch {
		case !stated && slices.Contains(because, string(q)):
			h.Open = append(h.Open, fmt.Sprintf("it does not say up to which %s", q.Words()))
		case !stated:
		case v.over(q, most) == limit.Yes:
			h.Beyond = append(h.Beyond, fmt.Sprintf("it is for a %s up to %s, and the rig has %s", q.Words(), q.Print(most), q.Print(v.Measures[q].Amount)))
		case v.over(q, most) == limit.Perhaps:
			h.Open = append(h.Open, fmt.Sprintf("it is for a %s up to %s, and that of the rig is not known so exactly", q.Words(), q.Print(most)))
		}
	}
}

func (h *Held) roads(used []roads.Road) {
	if h.Roads.Any() {
		return
	}
	worst, which := limit.Yes, ""
	for _, road := range orAny(used) {
		if applies, _ := h.Over([]roads.Road{road}); applies < worst {
			worst, which = applies, called(road)
		}
	}
	switch words := fmt.Sprintf("it is for the roads %s; the way goes by %s", h.Roads, which); worst {
	case limit.No:
		h.Beyond = append(h.Beyond, words)
	case limit.Perhaps:
		h.Open = append(h.Open, words)
	}
}

// called names a road.
func called(r roads.Road) string {
	if name := cmp.Or(strings.Join(r.Refs, ", "), r.Name); name != "" {
		return name
	}
	return "a road whose number is not known"
}

// held answers for the permits of the log: nothing where one of them is for this
// rig and way and holds all the time. One of another time, size or road is none:
// a permit is then still to be asked for.
func (t *Tables) held(n Need) []finding.Finding {
	f := finding.Finding{Rule: "permit", Jurisdiction: n.Jurisdiction, Outcome: finding.Review, Ask: n.Office}
	for _, h := range n.Held {
		row := t.contactRow(h.Contact, fmt.Sprintf("permit %s, %s", h.PermitNumber, term(h.Contact)))
		row.Words = strings.Join(slices.DeleteFunc(slices.Concat(h.Beyond, h.Open, []string{row.Words}), func(s string) bool { return s == "" }), "; ")
		f.Citations = append(f.Citations, row)
	}
	here := in(n.Jurisdiction)
	fits := func(ok func(Held) bool) bool {
		return slices.ContainsFunc(n.Held, func(h Held) bool { return len(h.Beyond) == 0 && ok(h) })
	}
	timed := !n.From.IsZero() && !n.Until.IsZero()
	switch {
	case fits(func(h Held) bool { return h.AllDays && len(h.Open) == 0 }):
		return nil
	case fits(func(h Held) bool { return h.AllDays }):
		f.Outcome, f.Summary = finding.Unknown, "whether a permit of the log is for this rig and way "+here+" is not known"
	case !timed && fits(func(h Held) bool { return h.SomeDays }):
		f.Outcome, f.Summary = finding.Unknown, "whether a permit of the log holds when the trip is "+here+" is not known: neither is when that is"
	case fits(func(h Held) bool { return h.SomeDays }):
		f.Outcome = finding.Forbidden
		f.Summary = fmt.Sprintf("no permit of the log holds all the way from %s to %s, while the trip is %s", clock(n.From), clock(n.Until), here)
	case slices.ContainsFunc(n.Held, func(h Held) bool { return h.SomeDays }):
		f.Summary = fmt.Sprintf("no permit of the log is for this rig on this way %s: ask for one that is", here)
	case n.From.IsZero():
		f.Summary = fmt.Sprintf("no permit of the log holds while the trip may be %s: ask for one that does", here)
	default:
		f.Summary = fmt.Sprintf("no permit of the log holds on %s, when the trip is %s: ask for one that does", n.From.Format(time.DateOnly), here)
	}
	return []finding.Finding{f}
}
