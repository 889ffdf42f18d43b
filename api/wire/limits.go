package wire

import (
	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
)

// Limit is one row of the table of limits.
type Limit struct {
	Citation
	Jurisdiction string          `json:"jurisdiction"`
	Kind         limit.Kind      `json:"kind"`
	Combination  limit.Form      `json:"combination"`
	Tow          limit.Tows      `json:"tow,omitempty" doc:"The tow vehicles that it names"`
	Quantity     limit.Quantity  `json:"quantity"`
	Threshold    string          `json:"threshold"`
	Inclusive    bool            `json:"inclusive" doc:"The threshold itself is already beyond"`
	Outcome      finding.Outcome `json:"outcome" doc:"Beyond the threshold"`
	Demands      Demands         `json:"demands"`
	When         string          `json:"when,omitempty"`
	Road         string          `json:"road,omitempty"`
	Condition    string          `json:"condition,omitempty"`
	Note         string          `json:"note,omitempty"`
}

// NewLimit writes a row of the table of limits as it stands in JSON.
func NewLimit(in *phrase.Language, r *limit.Row, revision string) Limit {
	tell := teller{in}
	return Limit{
		Citation: tell.newRow(finding.Citation{ID: r.ID, Revision: revision, Published: r.Published, Status: r.Status,
			Source: r.Source, Section: r.Section,
			Year: r.Year, URL: r.URL, ReadOn: r.ReadOn, Tier: string(r.Tier)}),
		Jurisdiction: r.Jurisdiction, Kind: r.Kind, Combination: r.Form, Tow: r.Tows, Quantity: r.Quantity,
		Threshold: r.Text, Inclusive: r.Inclusive,
		Outcome: r.Outcome, Demands: tell.newDemands(r.Demands), When: r.When, Road: r.Road, Condition: r.Condition,
		Note: r.Note,
	}
}

// Limits is a list of rows, with the state of the table they stand in.
type Limits struct {
	Edition
	Limits      []Limit `json:"limits"`
	Attribution string  `json:"attribution"`
	Caution     string  `json:"caution"`
}
