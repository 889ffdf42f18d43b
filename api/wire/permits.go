package wire

import (
	"time"
	"wayhouse/regs/finding"

	"wayhouse/regs"
	"wayhouse/regs/permit"
)

// PermitNeed is what to ask for in one jurisdiction.
type PermitNeed struct {
	Jurisdiction string          `json:"jurisdiction"`
	Because      []finding.Rule  `json:"because" doc:"Rules that ask for a permit"`
	Office       string          `json:"office"`
	LengthM      float64         `json:"length_m"`
	From         string          `json:"from,omitempty"`
	Until        string          `json:"until,omitempty"`
	Measurements []Measurement   `json:"measurements"`
	Permits      []PermitOffer   `json:"permits" doc:"Rows of the table that may be the permit to ask for"`
	Log          []PermitContact `json:"log"`
	Unknown      []string        `json:"unknown"`
}

// Measurement is one measurement for an application.
type Measurement struct {
	Quantity string   `json:"quantity"`
	Value    string   `json:"value,omitempty" doc:"Rounded for people; left out where it is not known"`
	ValueM   *float64 `json:"value_m,omitempty" doc:"The length exactly"`
	ValueKG  *float64 `json:"value_kg,omitempty" doc:"The mass exactly"`
}

// PermitOffer is one row of the table of permits.
type PermitOffer struct {
	Citation
	Name       string `json:"name"`
	Contact    string `json:"contact,omitempty"`
	Fee        string `json:"fee,omitempty" doc:"Amount and currency; left out where it is not known"`
	FeeUnknown string `json:"fee_unknown,omitempty"`
	FeeNote    string `json:"fee_note,omitempty"`
	AskBy      string `json:"ask_by,omitempty" doc:"The last day to ask, by the office's working days"`
	AskUnknown string `json:"ask_by_unknown,omitempty"`
	LeadNote   string `json:"lead_note,omitempty"`
	Validity   string `json:"validity,omitempty"`
	Signs      string `json:"signs,omitempty" doc:"Signs, flags and lamps"`
	Insurance  string `json:"insurance,omitempty"`
	Note       string `json:"note,omitempty"`
}

// PermitContact is one entry of the log of contacts.
type PermitContact struct {
	ID           string `json:"id"`
	Asked        string `json:"asked"`
	AskedOn      string `json:"asked_on,omitempty"`
	AnsweredBy   string `json:"answered_by,omitempty"`
	AnsweredOn   string `json:"answered_on,omitempty"`
	Outcome      string `json:"outcome,omitempty"`
	Reference    string `json:"reference,omitempty"`
	PermitNumber string `json:"permit_number,omitempty"`
	Document     string `json:"document,omitempty"`
	ValidFrom    string `json:"valid_from,omitempty"`
	ExpiresOn    string `json:"expires_on,omitempty"`
	// What was asked about, or a permit is for; what is left out was not stated.
	Sizes []Measurement `json:"sizes,omitempty" doc:"Up to which"`
	Kind  string        `json:"kind,omitempty"`
	Use   string        `json:"use,omitempty"`
	Roads string        `json:"roads,omitempty"`
}

func (tell teller) newPermitNeed(n regs.Need) PermitNeed {
	return PermitNeed{
		Jurisdiction: n.Jurisdiction, Because: n.Because, Office: tell.Say(n.Office),
		LengthM: round(float64(n.Length)), From: moment(n.From), Until: moment(n.Until),
		Measurements: each(n.Sizes, tell.newMeasurement), Permits: each(n.Permits, tell.newPermitOffer),
		Log: each(n.Log, tell.newPermitContact), Unknown: append([]string{}, tell.Each(n.Unknown)...),
	}
}

func (tell teller) newMeasurement(s regs.Size) Measurement {
	m, kg := exactly(s.Value)
	return Measurement{string(s.Quantity), tell.Quantity(s.Value), m, kg}
}

func (tell teller) newPermitOffer(o regs.Offer) PermitOffer {
	return PermitOffer{
		Citation: tell.newRow(o.Row), Name: o.Name, Contact: o.Contact, Fee: o.Fee,
		FeeUnknown: tell.Say(o.FeeUnknown), FeeNote: o.FeeNote, AskBy: day(o.AskBy),
		AskUnknown: tell.Say(o.AskUnknown), LeadNote: o.LeadNote, Validity: o.Validity, Signs: o.Signs,
		Insurance: o.Insurance, Note: o.Note,
	}
}

func (tell teller) newPermitContact(c *permit.Contact) PermitContact {
	out := PermitContact{
		ID: c.ID, Asked: c.Asked, AskedOn: day(c.AskedOn), AnsweredBy: c.AnsweredBy,
		AnsweredOn: day(c.AnsweredOn), Outcome: string(c.Outcome), Reference: c.Reference,
		PermitNumber: c.PermitNumber, Document: c.Document, ValidFrom: day(c.From), ExpiresOn: day(c.Expires),
		Kind: string(c.Kind), Use: string(c.Use), Roads: c.Roads.String(),
	}
	for _, q := range c.Stated() {
		out.Sizes = append(out.Sizes, tell.newMeasurement(regs.Size{Quantity: q, Value: q.Of(c.Sizes[q])}))
	}
	return out
}

// moment prints a time, "" where it is not known.
func moment(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.RFC3339)
}
