package permit

import (
	"strings"

	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Permit is one kind of permit that an authority gives.
type Permit struct {
	ID           string
	Jurisdiction string
	Name         string // in plain words
	For          []Subject
	OverHeight   *measure.Length // from which sizes on it is asked; both nil: any
	OverWidth    *measure.Length
	Office       string // who gives it, where that is not the jurisdiction's office
	Contact      string
	Fee          Fee
	FeeNote      string
	LeadDays     measure.Known[int] // working days of the office before the move
	LeadNote     string
	Calendar     string // holidays of the office; "" for those of the jurisdiction
	ValidDays    int    // 0: not known, or not in days
	Validity     string
	Signs        string // signs, flags and lamps, and when
	Insurance    string
	Wants        []string // measurements that the application asks for; none: not known
	Note         string
	rows.Proof
}

// Subject is what a permit is for.
type Subject string

// The subjects.
const (
	Size     Subject = "size"
	Mass     Subject = "mass"
	Building Subject = "building" // moved from its foundation, or by wires that must be lifted
	Escort   Subject = "escort"
)

// Permits is the table of permits.
func Permits() rows.Table[Permit] {
	return rows.Table[Permit]{
		Name: "permits",
		Columns: append([]string{
			"id", "jurisdiction", "name", "for", "over_height", "over_width", "office", "contact", "currency", "fee",
			"fee_per_km", "fee_per_tonne_km", "fee_bands", "fee_note",
			"lead_days", "lead_note", "calendar", "valid_days", "validity", "signs", "insurance", "wants", "note",
		}, rows.ProofColumns()...),
		Read: readPermit,
	}
}

func readPermit(c *rows.Cells) Permit {
	p := Permit{
		ID: c.Need("id"), Jurisdiction: c.Code("jurisdiction"), Name: c.Need("name"), Office: c.Get("office"),
		Contact: c.Get("contact"), Fee: readFee(c), FeeNote: c.Get("fee_note"), LeadDays: leadDays(c),
		LeadNote: c.Get("lead_note"), OverHeight: c.Length("over_height"), OverWidth: c.Length("over_width"),
		Calendar: c.Get("calendar"), ValidDays: int(c.Number("valid_days")), Validity: c.Get("validity"),
		Signs: c.Get("signs"), Insurance: c.Get("insurance"), Wants: list[string](c.Get("wants")),
		Note: c.Get("note"), Proof: rows.ReadProof(c),
	}
	if p.Calendar == "" {
		p.Calendar = p.Jurisdiction
	}
	for _, word := range strings.Fields(c.Need("for")) {
		switch s := Subject(word); s {
		case Size, Mass, Building, Escort:
			p.For = append(p.For, s)
		default:
			c.Fail("for", say.That("error.nothing_for_permit", "word", word), say.That("fix.use_size_mass_building"))
		}
	}
	return p
}

func leadDays(c *rows.Cells) measure.Known[int] {
	if days := c.Count("lead_days"); c.Get("lead_days") != "" {
		return measure.Exactly(days)
	}
	return measure.Known[int]{}
}

// list splits a cell at semicolons.
func list[S ~string](text string) []S {
	var out []S
	for _, part := range strings.Split(text, ";") {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, S(part))
		}
	}
	return out
}
