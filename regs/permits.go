package regs

import (
	"slices"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/roads"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// Passage is the way of a trip through one jurisdiction.
type Passage struct {
	Jurisdiction string
	Length       measure.Distance
	From, Until  time.Time // zero: not known
	// Earliest and Latest bound what is not known of From and Until; zero: not known.
	Earliest, Latest time.Time
	Roads            []roads.Road // that are used; none: not known
	Findings         []finding.Finding
}

// stay is the time within which the vehicle is there, as far as it is known.
func (p Passage) stay() (from, until time.Time) {
	if from = p.From; from.IsZero() {
		from = p.Earliest
	}
	if until = p.Until; until.IsZero() {
		until = p.Latest
	}
	if until.IsZero() && !from.IsZero() {
		until = from.Add(OpenEnd)
	}
	return from, later(from, until)
}

// Need is the permits to ask for in one jurisdiction.
type Need struct {
	Jurisdiction string
	Because      []finding.Rule // quantities that ask for it
	Office       say.Remark     // whom to ask
	Length       measure.Distance
	From, Until  time.Time
	Sizes        []Size // what the application wants to know
	Permits      []Offer
	Held         []Held            // entries of the log with a permit number
	Log          []*permit.Contact // every entry of the jurisdiction
	Unknown      []say.Remark      // what the table does not say
}

// Size is one measurement for an application.
type Size struct {
	Quantity limit.Quantity
	Value    finding.Quantity // none where it is not known
}

// Offer is one row that may be the permit to ask for.
type Offer struct {
	*permit.Permit
	Fee        string     // amount and currency; "" where not known
	FeeUnknown say.Remark // why, or on what it hangs
	AskBy      time.Time
	AskUnknown say.Remark // why AskBy is not known, or on what it hangs
	Row        finding.Citation
}

// Permits lists what to ask for on a trip, a jurisdiction each, in the order of
// the way. What is asked for only perhaps ("if it counts as ...") is listed too.
func (t *Tables) Permits(v Vehicle, way []Passage) []Need {
	var out []Need
	for _, p := range merged(way) {
		because := reasons(p.Findings)
		if len(because) == 0 {
			continue
		}
		n := Need{
			Jurisdiction: p.Jurisdiction, Because: because, Office: t.Office(p.Jurisdiction), Length: p.Length,
			From: p.From, Until: p.Until,
		}
		n.Log = t.contacts[t.key(p.Jurisdiction)]
		for _, c := range n.Log {
			if c.PermitNumber != "" {
				n.Held = append(n.Held, newHeld(c, v, p, because))
			}
		}
		t.offers(&n, v, p)
		out = append(out, n)
	}
	return out
}

// merged joins the passages of a jurisdiction: the permit is for all of them.
func merged(way []Passage) []Passage {
	var out []Passage
	for _, p := range way {
		i := slices.IndexFunc(out, func(o Passage) bool { return o.Jurisdiction == p.Jurisdiction })
		if i < 0 {
			p.Findings = slices.Clone(p.Findings)
			out = append(out, p)
			continue
		}
		o := &out[i]
		o.Length += p.Length
		o.Latest = later(o.Latest, p.Latest)
		o.Roads = append(orAny(o.Roads), orAny(p.Roads)...)
		o.Findings = append(o.Findings, p.Findings...)
		if o.Until = p.Until; p.Until.IsZero() {
			o.Until = time.Time{}
		}
	}
	return out
}

// orAny returns roads, or one that may be any where none is known.
func orAny(used []roads.Road) []roads.Road {
	if len(used) == 0 {
		return []roads.Road{{}}
	}
	return slices.Clone(used)
}

// reasons lists the rules that ask for a permit.
func reasons(found []finding.Finding) []finding.Rule {
	var out []finding.Rule
	for _, f := range found {
		if len(f.Demands.Permits) > 0 && !slices.Contains(out, f.Rule) {
			out = append(out, f.Rule)
		}
	}
	return out
}

// offers fills in what the table of permits says.
func (t *Tables) offers(n *Need, v Vehicle, p Passage) {
	subjects := subjectsOf(n.Because, v.Kind, p.Findings)
	wants := []string{}
	for _, row := range t.permits[t.key(n.Jurisdiction)] {
		if !slices.ContainsFunc(row.For, func(s permit.Subject) bool {
			return slices.Contains(subjects, s)
		}) || surelyWithin(v, row) {
			continue
		}
		o := Offer{Permit: row, Row: row.Finding(row.ID, t.Revision, "")}
		o.Row.Shows = say.That("permit.row")
		o.Fee, o.FeeUnknown = row.Fee.Of(t.feeCase(v, p))
		if o.FeeUnknown.None() && !row.Firm(p.From, t.Term) {
			o.FeeUnknown = say.That("fee.not_verified")
		}
		o.AskBy, o.AskUnknown = t.askBy(row, p.From)
		n.Permits = append(n.Permits, o)
		wants = append(wants, row.Wants...)
	}
	if len(n.Permits) == 0 {
		n.Unknown = append(n.Unknown, say.That("permit.no_row", "where", say.Jurisdiction(n.Jurisdiction)))
	}
	n.Sizes = sizes(v, wants)
}

// subjectsOf tells what permits may be about. Only a recreational trailer is
// surely no building.
func subjectsOf(because []finding.Rule, kind limit.Kind, found []finding.Finding) []permit.Subject {
	var out []permit.Subject
	add := func(s permit.Subject) {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	for _, rule := range because {
		if q := limit.Quantity(rule); q == limit.GrossMass || q.OfAxles() {
			add(permit.Mass)
		} else {
			add(permit.Size)
		}
	}
	if kind != limit.RecreationalTrailer {
		add(permit.Building)
	}
	for _, f := range found {
		if f.Demands.EscortsAny+f.Demands.EscortsFront+f.Demands.EscortsRear > 0 {
			add(permit.Escort)
		}
	}
	return out
}

// surelyWithin reports whether the vehicle is within the sizes from which on a
// permit is asked.
func surelyWithin(v Vehicle, row *permit.Permit) bool {
	if row.OverHeight == nil && row.OverWidth == nil {
		return false
	}
	for _, one := range []struct {
		q    limit.Quantity
		over *measure.Length
	}{{limit.Height, row.OverHeight}, {limit.Width, row.OverWidth}} {
		if one.over != nil && v.over(one.q, limit.Amount(*one.over)) != limit.No {
			return false
		}
	}
	return true
}

// basics are the measurements that an application wants where its row does not
// say which (common practice, no source).
var basics = []limit.Quantity{limit.Height, limit.Width, limit.TrailerLength, limit.CombinationLength,
	limit.GrossMass, limit.RearOverhang}

func sizes(v Vehicle, wants []string) []Size {
	var out []Size
	for _, q := range limit.Quantities() {
		if !slices.Contains(basics, q) && !slices.Contains(wants, string(q)) {
			continue
		}
		out = append(out, Size{Quantity: q, Value: q.Known(v.Measures[q])})
	}
	return out
}

// feeCase is what a fee hangs on. What is over the legal mass is known where one
// legal row surely binds the rig, or all that do have one threshold.
func (t *Tables) feeCase(v Vehicle, p Passage) permit.Case {
	out := permit.Case{Way: p.Length, Sizes: map[limit.Quantity]limit.Amount{}}
	for q, m := range v.Measures {
		if a, exact := m.Value(); exact {
			out.Sizes[q] = a
		}
	}
	mass, exact := v.Measures[limit.GrossMass].Value()
	if !exact {
		return out
	}
	c := &checking{t: t, v: v, p: Stay{Jurisdictions: []string{p.Jurisdiction}, Until: p.From}, at: p.From}
	for _, b := range c.applied(p.Jurisdiction, limit.GrossMass) {
		over := measure.Mass(mass - b.row.Threshold)
		switch {
		case b.row.Tier != limit.Legal || over <= 0 && (b.umbrella || !b.firm()):
		case over <= 0 || !b.firm() || b.umbrella || out.OverMass != nil && *out.OverMass != over:
			out.OverMass = nil
			return out
		default:
			out.OverMass = &over
		}
	}
	return out
}

// askBy is the last day on which to ask for a permit: so many working days of
// the office lie between it and the day of the move.
func (t *Tables) askBy(row *permit.Permit, move time.Time) (time.Time, say.Remark) {
	lead, known := row.LeadDays.Value()
	if !known {
		return time.Time{}, say.That("permit.lead_open", "note", row.LeadNote)
	}
	if move.IsZero() {
		return time.Time{}, say.That("permit.day_open")
	}
	calendar := t.calendars[row.Calendar]
	day := move
	for left, looked := lead, 0; left > 0 || !works(calendar, day); looked++ {
		if looked > furthestBack {
			return time.Time{}, say.That("permit.never_works", "calendar", row.Calendar)
		}
		day = day.AddDate(0, 0, -1)
		if works(calendar, day) {
			left--
		}
	}
	y, m, d := day.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, move.Location()), calendar.Doubt(row.Calendar, t.Term, move)
}

// furthestBack is for how many days before a move working days are looked for.
const furthestBack = 400

// works reports whether an office works on a day: no weekend, and no holiday that
// the table knows of.
func works(c window.Calendar, day time.Time) bool {
	return day.Weekday() != time.Saturday && day.Weekday() != time.Sunday && len(c.On(day)) == 0
}

// PermitFindings answers for permits that the log says are held, and for those
// that last too short.
func (t *Tables) PermitFindings(needs []Need) []finding.Finding {
	var out []finding.Finding
	for _, n := range needs {
		if len(n.Held) > 0 {
			out = append(out, t.held(n)...)
		}
		for _, o := range n.Permits {
			if f, short := n.tooShort(o); short {
				out = append(out, f)
			}
		}
	}
	return out
}

// finding is an answer about a permit.
func (n Need) finding() finding.Finding {
	return finding.Finding{
		Topic: finding.Permits, Rule: "permit", Jurisdiction: n.Jurisdiction, Outcome: finding.Review,
		Settles: finding.By(
			finding.Step{By: finding.Office, Whom: n.Office, Of: n.Jurisdiction, Asks: say.That("task.held")},
		),
	}
}

// tooShort answers for a permit that is valid for fewer days than the trip takes,
// or may take.
func (n Need) tooShort(o Offer) (f finding.Finding, short bool) {
	f = n.finding()
	f.Citations, f.Invented = []finding.Citation{o.Row}, o.Row.Status == finding.Invented
	here := say.Jurisdiction(n.Jurisdiction)
	switch end := n.From.AddDate(0, 0, o.ValidDays); {
	case o.ValidDays == 0:
		return f, false
	case n.From.IsZero() || n.Until.IsZero():
		f.Answer(finding.Unknown, finding.TimeOpen,
			say.That("permit.days_open", "name", o.Name, "days", o.ValidDays, "where", here))
		return f, true
	default:
		f.Answer(finding.Review, finding.Exceeded,
			say.That("permit.too_short", "name", o.Name, "days", o.ValidDays, "where", here, "until", n.Until))
		return f, n.Until.After(end)
	}
}

// held is a permit of the log by its number and days.
func held(c *permit.Contact) say.Remark {
	return say.That("permit.number", "number", c.PermitNumber, "from", stated(c.From), "to", stated(c.Expires))
}

// stated is a day for a remark, "" where none is stated.
func stated(day time.Time) any {
	if day.IsZero() {
		return ""
	}
	return say.Day(day)
}

// contactRow shows an entry of the log as what it is: verified by the user.
func (t *Tables) contactRow(c *permit.Contact, shows say.Remark) finding.Citation {
	return finding.Citation{
		ID: c.ID, Revision: t.Revision, Shows: shows, Status: finding.Verified, Decides: true, ReadOn: c.AnsweredOn,
		Source: c.AnsweredBy, Section: c.Reference,
		Says: append([]say.Remark{say.That("permit.answered")}, say.Each([]string{c.Note})...),
	}
}
