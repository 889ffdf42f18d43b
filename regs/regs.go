// Package regs asks the tables what the authorities ask of a vehicle at a
// place and a time. It knows nothing of rigs or roads: [Vehicle] is all that a
// rule reads.
//
// Its one promise: what is not known is answered as unknown. A row clears only
// if it is published or verified by the user, in force, read recently enough,
// and names the kind of vehicle, the quantity and the number of axles without
// a condition that a person must read. Every other row can only tighten.
package regs

import (
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/clearance"
	"wayhouse/regs/duty"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/rates"
	"wayhouse/regs/roads"
	"wayhouse/regs/say"
	"wayhouse/regs/trucks"
	"wayhouse/regs/window"
	"wayhouse/regs/word"
)

// Vehicle is the plain measurements of a rig that rules read.
type Vehicle struct {
	limit.Subject
	Measures map[limit.Quantity]Measure // a quantity that is missing is unknown
	Loads    []limit.AxleLoad           // every axle from the front; none: not described
	Across   []limit.Across             // every axle of the unit; none: not described
	Told     []Told                     // of rows whether they are about it
	// Uncertain is by how much the vehicle on the road may be more than its
	// measures; a quantity that is missing is exact.
	Uncertain map[limit.Quantity]Uncertainty
}

// Uncertainty is by how much a quantity may be more than its measure.
type Uncertainty struct {
	By       limit.Amount
	Designed bool // it was drawn and not yet measured
}

// over tells how surely a vehicle is beyond a size.
func (v Vehicle) over(q limit.Quantity, size limit.Amount) limit.Applies {
	value := v.Measures[q]
	least, _ := value.Least()
	switch {
	case least > size:
		return limit.Yes
	case !value.Known() || least+v.Uncertain[q].By > size:
		return limit.Perhaps
	default:
		return limit.No
	}
}

// Measure is one measurement of a vehicle. Of a rig of which a part was not measured
// a least value is known: it can exceed a limit but never clears.
type Measure = measure.Known[limit.Amount]

// Stay is where a vehicle is to be checked, and until when.
type Stay struct {
	Jurisdictions []string // ISO 3166-2; none: unknown; several: near a border, each is checked
	OwnerKnown    bool     // whether it is known that the road is the jurisdiction's own
	// Towns are the municipalities of the place by name; "" and none: not known.
	Towns []string
	// Owners is what is said of who runs the roads. It is shown and
	// settles nothing: an operator or a road number is no proof of whose rules
	// bind. OwnerKnown does.
	Owners []say.Remark
	// Roads are those that are used there, each once; none: not known.
	Roads []roads.Road
	// Until is when the vehicle leaves the place again; zero: not known.
	Until time.Time
	// Latest is the latest moment at which it may still be there, where Until is
	// not known; zero: [OpenEnd] after it may come.
	Latest time.Time
	// Ends are where it enters and leaves, for the sun; none: not known.
	Ends []orb.Point
}

// OpenEnd is for how long a vehicle may be at a place of which nobody knows when
// it leaves: this project's choice.
const OpenEnd = 14 * 24 * time.Hour

// DefaultTerm is how long after a row was read or verified it can clear.
const DefaultTerm = 365 * 24 * time.Hour

// Rows are the rows of every table, by id.
type Rows struct {
	Limits   []*limit.Row
	Hours    []*window.Hours
	Holidays []*window.Holiday
	Permits  []*permit.Permit
	Offices  []*permit.Office
	Contacts []*permit.Contact

	Clearances []*clearance.Structure
	Letters    []*clearance.Letter
	Notices    []*clearance.Notice
	Duty       []*duty.Row
	Trucks     []*trucks.Row
	Rates      []*rates.Rate
}

// Tables is one immutable state of the tables, safe for use by many
// goroutines.
type Tables struct {
	Revision string // which change, and which content
	Number   int    // of the change; 0 for tables that no store keeps
	Term     time.Duration
	given    Rows
	rows     map[string]map[limit.Quantity][]*limit.Row // by jurisdiction, municipalities under their own
	spelled  map[string]string                          // a spelling of each municipality, by its folded name
	towns    map[string][]string                        // names of the municipalities with rows, by jurisdiction
	offices  map[string]*permit.Office

	hours     map[string][]*window.Hours // by jurisdiction, municipalities under their own
	calendars map[string]window.Calendar
	permits   map[string][]*permit.Permit // by jurisdiction, as contacts are
	contacts  map[string][]*permit.Contact

	clearances *clearance.Index
	letters    map[string][]*clearance.Letter // by structure
	notices    map[string][]*clearance.Notice // by jurisdiction
	duty       map[string][]*duty.Row
	trucks     map[string][]*trucks.Row // by jurisdiction, municipalities under their own
}

// NewTables makes a state of the tables from rows. Of an earlier state, nil for
// none, it takes over what was made from the same rows.
func NewTables(revision string, rows Rows, before *Tables) *Tables {
	t := &Tables{Revision: revision, Term: DefaultTerm, given: rows, spelled: spellings(rows)}
	if before != nil && same(rows.Limits, before.given.Limits) && maps.Equal(t.spelled, before.spelled) {
		t.rows = before.rows
	} else {
		t.rows = t.byQuantity(rows.Limits)
	}
	if before != nil && same(rows.Clearances, before.given.Clearances) {
		t.clearances = before.clearances
	} else {
		t.clearances = clearance.NewIndex(rows.Clearances)
	}
	t.hours = group(rows.Hours, func(r *window.Hours) string { return t.key(r.Jurisdiction) })
	t.permits = group(rows.Permits, func(r *permit.Permit) string { return t.key(r.Jurisdiction) })
	t.contacts = t.contactsOf("")
	t.letters = group(rows.Letters, func(r *clearance.Letter) string { return r.Structure })
	t.notices = group(rows.Notices, func(r *clearance.Notice) string { return t.key(r.Jurisdiction) })
	t.duty = group(rows.Duty, func(r *duty.Row) string { return t.key(r.Jurisdiction) })
	t.trucks = group(rows.Trucks, func(r *trucks.Row) string { return t.key(r.Jurisdiction) })
	t.calendars = map[string]window.Calendar{}
	for _, h := range rows.Holidays {
		t.calendars[h.Calendar] = append(t.calendars[h.Calendar], h)
	}
	t.towns = towns(slices.Collect(maps.Keys(t.rows)), slices.Collect(maps.Keys(t.hours)),
		slices.Collect(maps.Keys(t.notices)))
	t.offices = map[string]*permit.Office{}
	// by id: of an office and the one that an upgrade brought beside it, the user's counts
	for _, o := range rows.Offices {
		if key := t.key(o.Jurisdiction); t.offices[key] == nil {
			t.offices[key] = o
		}
	}
	return t
}

// ForTrip is the tables as they are for a trip that was saved under a name: what an office
// said of it counts for it alone.
func (t *Tables) ForTrip(name string) *Tables {
	out := *t
	out.contacts = t.contactsOf(name)
	return &out
}

// contactsOf lists what offices said of any trip and of one.
func (t *Tables) contactsOf(trip string) map[string][]*permit.Contact {
	said := slices.DeleteFunc(slices.Clone(t.given.Contacts), func(r *permit.Contact) bool {
		return r.Trip != "" && r.Trip != trip
	})
	return group(said, func(r *permit.Contact) string { return t.key(r.Jurisdiction) })
}

// same reports whether two slices are one and the same.
func same[T any](a, b []*T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

func group[T any](rows []*T, key func(*T) string) map[string][]*T {
	out := map[string][]*T{}
	for _, r := range rows {
		out[key(r)] = append(out[key(r)], r)
	}
	return out
}

// byQuantity groups rows, the strictest first.
func (t *Tables) byQuantity(rows []*limit.Row) map[string]map[limit.Quantity][]*limit.Row {
	out := map[string]map[limit.Quantity][]*limit.Row{}
	for _, r := range rows {
		key := t.key(r.Jurisdiction)
		if out[key] == nil {
			out[key] = map[limit.Quantity][]*limit.Row{}
		}
		out[key][r.Quantity] = append(out[key][r.Quantity], r)
	}
	for _, quantities := range out {
		for _, rows := range quantities {
			slices.SortFunc(rows, strictest)
		}
	}
	return out
}

// spellings returns how municipalities are written, by jurisdiction and folded
// name: as the first of all that the rows write.
func spellings(rows Rows) map[string]string {
	out := map[string]string{}
	note := func(code string) {
		if folded, ok := folded(code); ok && (out[folded] == "" || code < out[folded]) {
			out[folded] = code
		}
	}
	each(rows.Limits, func(r *limit.Row) { note(r.Jurisdiction) })
	each(rows.Hours, func(r *window.Hours) { note(r.Jurisdiction) })
	each(rows.Permits, func(r *permit.Permit) { note(r.Jurisdiction) })
	each(rows.Offices, func(r *permit.Office) { note(r.Jurisdiction) })
	each(rows.Contacts, func(r *permit.Contact) { note(r.Jurisdiction) })
	each(rows.Notices, func(r *clearance.Notice) { note(r.Jurisdiction) })
	each(rows.Duty, func(r *duty.Row) { note(r.Jurisdiction) })
	each(rows.Trucks, func(r *trucks.Row) { note(r.Jurisdiction) })
	return out
}

func each[T any](rows []*T, do func(*T)) {
	for _, r := range rows {
		do(r)
	}
}

// folded writes a municipality as all spellings of its name have it; ok is false
// for a jurisdiction that is none.
func folded(code string) (string, bool) {
	code, town, ok := strings.Cut(code, "/")
	if !ok {
		return code, false
	}
	return code + "/" + word.Town(town), true
}

// key is what the tables hold a jurisdiction under: one spelling of a municipality
// for all.
func (t *Tables) key(code string) string {
	if f, ok := folded(code); ok && t.spelled[f] != "" {
		return t.spelled[f]
	}
	return code
}

// towns lists the municipalities among the keys of tables, by jurisdiction.
func towns(keys ...[]string) map[string][]string {
	out := map[string][]string{}
	for _, key := range slices.Concat(keys...) {
		if code, town, ok := strings.Cut(key, "/"); ok {
			out[code] = append(out[code], town)
		}
	}
	for code, names := range out {
		slices.Sort(names)
		out[code] = slices.Compact(names)
	}
	return out
}

// Rows lists the rows of a jurisdiction and its municipalities, or all of them
// for "", by id.
func (t *Tables) Rows(jurisdiction string) []*limit.Row {
	jurisdiction = t.key(jurisdiction)
	var out []*limit.Row
	for code, quantities := range t.rows {
		if jurisdiction == "" || code == jurisdiction || strings.HasPrefix(code, jurisdiction+"/") {
			for _, rows := range quantities {
				out = append(out, rows...)
			}
		}
	}
	slices.SortFunc(out, func(a, b *limit.Row) int { return strings.Compare(a.ID, b.ID) })
	return out
}

// HasLimit reports whether the limits have a row.
func (t *Tables) HasLimit(id string) bool {
	return withID(t.given.Limits, id, func(r *limit.Row) string { return r.ID }) != nil
}

// Rates lists every price and every tax.
func (t *Tables) Rates() []*rates.Rate { return t.given.Rates }

// Office is whom to ask about a jurisdiction.
func (t *Tables) Office(jurisdiction string) say.Remark {
	if a, ok := t.offices[t.key(jurisdiction)]; ok {
		return say.That("office.named", "name", a.Name, "contact", a.Contact)
	}
	if jurisdiction == "" {
		return say.That("office.road")
	}
	return say.That("office.permits", "of", say.Jurisdiction(jurisdiction))
}

// OfficeName is whom to ask about a jurisdiction, without how they are reached.
func (t *Tables) OfficeName(jurisdiction string) say.Remark {
	if a, ok := t.offices[t.key(jurisdiction)]; ok {
		return say.Text(a.Name)
	}
	return t.Office(jurisdiction)
}

// Check answers every quantity of the table, and who owns the road, for each
// jurisdiction of the place. It returns findings, never an error: what cannot
// be decided is one of them.
//
// A row that hangs on words (a time, a road or a condition that no data
// decides) binds with the words of its rule and never clears.
//
// Where it is not known when the vehicle leaves, it may be there at any moment
// from at on: what clears must hold at each of them, and what holds at some
// binds perhaps.
func (t *Tables) Check(v Vehicle, p Stay, at time.Time) []finding.Finding {
	if len(p.Jurisdictions) == 0 {
		p.Jurisdictions = []string{""}
	}
	var out []finding.Finding
	c := &checking{t: t, v: v, p: p, at: at}
	for _, code := range p.Jurisdictions {
		var found []finding.Finding
		for _, q := range limit.Quantities() {
			found = append(found, c.quantity(code, q)...)
		}
		found = append(found, c.hours(code, asksPermit(found))...)
		found = append(found, c.notices(code)...)
		for _, town := range t.townsOf(code, p.Towns) {
			found = append(found, c.town(town, asksPermit(found))...)
		}
		if !p.OwnerKnown {
			found = append(found, t.ownerUnknown(code, p))
		}
		out = append(out, c.answered(code, found, permit.Rules())...)
	}
	return out
}

// ownerUnknown says that rows bind the roads of their authority only.
func (t *Tables) ownerUnknown(code string, p Stay) finding.Finding {
	says := []say.Remark{say.That("owner.unknown")}
	if len(p.Owners) > 0 {
		says = append(says, say.That("owner.map", "owners", p.Owners))
	}
	var unchecked []string
	found := t.townsOf(code, p.Towns)
	for _, town := range t.towns[code] {
		if !slices.Contains(found, code+"/"+town) {
			unchecked = append(unchecked, town)
		}
	}
	switch {
	case len(unchecked) > 0 && (len(p.Towns) == 0 || slices.Contains(p.Towns, "")):
		says = append(says, say.That("owner.town_open", "towns", unchecked))
	case len(unchecked) > 0:
		says = append(says, say.That("owner.elsewhere", "towns", unchecked))
	}
	return finding.Finding{
		Topic: finding.Owner, Rule: permit.RoadOwner, Jurisdiction: code, Outcome: finding.Unknown, Reason: finding.NotMapped,
		Says: says, Settles: finding.By(AskingRoads(say.That("task.owner"))),
	}
}

// townsOf lists the keys of the municipalities that have rows and that a place
// lies in.
func (t *Tables) townsOf(code string, towns []string) (keys []string) {
	for _, name := range towns {
		key := t.key(code + "/" + name)
		if slices.Contains(t.towns[code], strings.TrimPrefix(key, code+"/")) && !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	slices.Sort(keys)
	return keys
}

// town answers the quantities that a municipality has rows of, and its hours;
// permit reports whether the jurisdiction around it asks for one.
func (c *checking) town(key string, permit bool) []finding.Finding {
	var out []finding.Finding
	for _, q := range limit.Quantities() {
		if len(c.t.rows[key][q]) > 0 {
			out = append(out, c.quantity(key, q)...)
		}
	}
	out = append(out, c.hours(key, permit || asksPermit(out))...)
	return append(out, c.notices(key)...)
}

// asksPermit reports whether a permit is asked for, be it only perhaps.
func asksPermit(found []finding.Finding) bool {
	return slices.ContainsFunc(found, func(f finding.Finding) bool { return len(f.Demands.Permits) > 0 })
}
