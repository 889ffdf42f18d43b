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
	"slices"
	"strings"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
)

// Vehicle is the plain measurements of a rig that rules read.
type Vehicle struct {
	limit.Subject
	Measures map[limit.Quantity]Measure // a quantity that is missing is unknown
}

// Measure is one measurement of a vehicle.
type Measure struct {
	limit.Amount
	// AtLeast: the true value may be higher, because a part of the rig was not
	// measured. Such a value can exceed a limit but never clears.
	AtLeast bool
}

// Place is where a vehicle is to be checked.
type Place struct {
	Jurisdictions []string // ISO 3166-2; none: unknown; several: near a border, each is checked
	OwnerKnown    bool     // whether it is known that the road is the jurisdiction's own
	// Towns are the municipalities of the place by name; "" and none: not known.
	Towns []string
	// Owners is what is said of who runs the roads, in words. It is shown and
	// settles nothing: an operator or a road number is no proof of whose rules
	// bind. OwnerKnown does.
	Owners []string
}

// DefaultTerm is how long after a row was read or verified it can clear.
const DefaultTerm = 365 * 24 * time.Hour

// Tables is one immutable state of the tables, safe for use by many
// goroutines.
type Tables struct {
	Revision    string
	Term        time.Duration
	rows        map[string][]limit.Row // by jurisdiction, municipalities under their own
	authorities map[string]limit.Authority
}

// NewTables makes a state of the tables from rows and authorities.
func NewTables(revision string, rows []limit.Row, authorities []limit.Authority) *Tables {
	t := &Tables{Revision: revision, Term: DefaultTerm, rows: map[string][]limit.Row{}, authorities: map[string]limit.Authority{}}
	for _, r := range rows {
		t.rows[r.Jurisdiction] = append(t.rows[r.Jurisdiction], r)
	}
	for _, a := range authorities {
		t.authorities[a.Jurisdiction] = a
	}
	return t
}

// Rows lists the rows of a jurisdiction and its municipalities, or all of them
// for "", by id.
func (t *Tables) Rows(jurisdiction string) []limit.Row {
	var out []limit.Row
	for code, rows := range t.rows {
		if jurisdiction == "" || code == jurisdiction || strings.HasPrefix(code, jurisdiction+"/") {
			out = append(out, rows...)
		}
	}
	slices.SortFunc(out, func(a, b limit.Row) int { return strings.Compare(a.ID, b.ID) })
	return out
}

// Ask says whom to ask about a jurisdiction.
func (t *Tables) Ask(jurisdiction string) string {
	if a, ok := t.authorities[jurisdiction]; ok {
		return a.String()
	}
	if jurisdiction == "" {
		return "the road authority of the place"
	}
	return "the office of " + jurisdiction + " that gives oversize permits"
}

// Check answers every quantity of the table, and who owns the road, for each
// jurisdiction of the place. It returns findings, never an error: what cannot
// be decided is one of them.
//
// It does not consider hours of the day, seasons or classes of road; a row
// that hangs on them binds with the words of its rule and never clears.
func (t *Tables) Check(v Vehicle, p Place, at time.Time) []finding.Finding {
	if len(p.Jurisdictions) == 0 {
		p.Jurisdictions = []string{""}
	}
	var out []finding.Finding
	for _, code := range p.Jurisdictions {
		for _, q := range limit.Quantities() {
			out = append(out, t.checkQuantity(v, code, q, at)...)
		}
		for _, town := range t.townsOf(code, p.Towns) {
			out = append(out, t.checkTown(v, town, at)...)
		}
		if !p.OwnerKnown {
			out = append(out, t.ownerUnknown(code, p))
		}
	}
	return out
}

// ownerUnknown says that rows bind the roads of their authority only.
func (t *Tables) ownerUnknown(code string, p Place) finding.Finding {
	summary := "who owns these roads is not known; city streets, county roads, toll roads and bridges may ask for less size, or for a permit of their own"
	if len(p.Owners) > 0 {
		summary += "; the map says: " + strings.Join(p.Owners, ", ")
	}
	var unchecked []string
	found := t.townsOf(code, p.Towns)
	for _, town := range t.municipalities(code) {
		if !slices.Contains(found, code+"/"+town) {
			unchecked = append(unchecked, town)
		}
	}
	switch {
	case len(unchecked) > 0 && (len(p.Towns) == 0 || slices.Contains(p.Towns, "")):
		summary += "; the table has rows of " + strings.Join(unchecked, ", ") + ", not checked because the municipality is not known"
	case len(unchecked) > 0:
		summary += "; the table has rows of " + strings.Join(unchecked, ", ") + ", not checked because the map puts the road elsewhere"
	}
	return finding.Finding{
		Rule: "road owner", Jurisdiction: code, Outcome: finding.Unknown, Summary: summary,
		Ask: "the city, county or operator of each road",
	}
}

// townsOf lists the keys of the municipalities that have rows and that a place
// lies in.
func (t *Tables) townsOf(code string, towns []string) (keys []string) {
	for _, name := range towns {
		if key := code + "/" + name; name != "" && len(t.rows[key]) > 0 && !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	slices.Sort(keys)
	return keys
}

// checkTown answers the quantities that a municipality has rows of.
func (t *Tables) checkTown(v Vehicle, key string, at time.Time) []finding.Finding {
	var out []finding.Finding
	for _, q := range limit.Quantities() {
		if slices.ContainsFunc(t.rows[key], func(r limit.Row) bool { return r.Quantity == q }) {
			out = append(out, t.checkQuantity(v, key, q, at)...)
		}
	}
	return out
}

func (t *Tables) municipalities(code string) []string {
	var names []string
	for key := range t.rows {
		if town, ok := strings.CutPrefix(key, code+"/"); ok && code != "" {
			names = append(names, town)
		}
	}
	slices.Sort(names)
	return names
}
