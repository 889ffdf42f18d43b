package wire

import (
	"time"

	"wayhouse/regs/finding"
)

// InventedMark stands on every object that rests on invented data.
const InventedMark = "INVENTED"

func mark(invented bool) string {
	if invented {
		return InventedMark
	}
	return ""
}

// Verdict is a roll-up: the worst known outcome and the number of unknowns.
type Verdict struct {
	Outcome  finding.Outcome `json:"outcome" doc:"clear only where nothing is unknown"`
	Worst    finding.Outcome `json:"worst_known" doc:"unknown where nothing is known"`
	Unknowns int             `json:"unknowns"`
	Demands  Demands         `json:"demands"`
}

// Demands is what must be done.
type Demands struct {
	Permits      []string `json:"permits,omitempty"`
	EscortsFront int      `json:"escorts_front,omitempty"`
	EscortsRear  int      `json:"escorts_rear,omitempty"`
	EscortsAny   int      `json:"escorts_any,omitempty" doc:"Place not stated"`
	HeightPole   bool     `json:"height_pole,omitempty"`
	Survey       bool     `json:"survey,omitempty"`
	Hours        []string `json:"hours,omitempty"`
	Conditions   []string `json:"conditions,omitempty"`
}

func (tell teller) newDemands(d finding.Demands) Demands {
	return Demands{
		Permits: tell.Each(d.Permits), EscortsFront: d.EscortsFront, EscortsRear: d.EscortsRear, EscortsAny: d.EscortsAny,
		HeightPole: d.HeightPole, Survey: d.Survey, Hours: tell.Each(d.Hours), Conditions: tell.Each(d.Conditions),
	}
}

// Finding is one answer about one rule at one place.
type Finding struct {
	Mark         string          `json:"mark,omitempty"`
	Topic        finding.Topic   `json:"topic" doc:"What it is about"`
	Rule         finding.Rule    `json:"rule" doc:"What was asked within the topic"`
	Jurisdiction string          `json:"jurisdiction,omitempty"`
	Place        string          `json:"place,omitempty"`
	Outcome      finding.Outcome `json:"outcome"`
	Reason       finding.Reason  `json:"reason,omitempty" doc:"Why it is not settled"`
	Demands      Demands         `json:"demands"`
	Value        string          `json:"value,omitempty" doc:"Rounded for people"`
	ValueM       *float64        `json:"value_m,omitempty" doc:"The length exactly"`
	ValueKG      *float64        `json:"value_kg,omitempty" doc:"The mass exactly"`
	AtLeast      bool            `json:"value_at_least,omitempty" doc:"The value may be more"`
	Margin       string          `json:"margin,omitempty" doc:"What is left, rounded down; below zero what is too much"`
	MarginM      *float64        `json:"margin_m,omitempty" doc:"The length exactly"`
	MarginKG     *float64        `json:"margin_kg,omitempty" doc:"The mass exactly"`
	Summary      string          `json:"summary" doc:"What says says, as a sentence"`
	Says         []Remark        `json:"says"`
	Ask          string          `json:"ask,omitempty" doc:"Whom to ask first"`
	Settles      [][]Step        `json:"settles" doc:"What would settle it: ways, the best first, each the steps that are needed together"`
	Rows         []Citation      `json:"rows"`
	Told         finding.Outcome `json:"told,omitempty" doc:"The gravest that somebody told of what would settle it; left out where nobody did"`
	Met          bool            `json:"met,omitempty" doc:"All that it asks was seen to, as somebody told"`
}

// Citation is where a finding comes from.
type Citation struct {
	Mark      string         `json:"mark,omitempty"`
	ID        string         `json:"id"`
	Revision  string         `json:"revision"`
	Published string         `json:"published" doc:"The figure as the source prints it"`
	Status    finding.Status `json:"status"`
	Source    string         `json:"source"`
	Section   string         `json:"section,omitempty"`
	Year      string         `json:"year,omitempty"`
	URL       string         `json:"url,omitempty"`
	ReadOn    string         `json:"read_on,omitempty"`
	Tier      string         `json:"tier,omitempty" doc:"legal: no permit is asked up to it; beyond: a step further up; unsure: the source does not say"`
	Decides   bool           `json:"decides" doc:"It made the outcome; otherwise it is shown beside"`
	Words     string         `json:"words,omitempty"`
}

func (tell teller) newVerdict(r finding.RollUp) Verdict {
	return Verdict{Outcome: r.Outcome(), Worst: r.Worst, Unknowns: r.Unknowns, Demands: tell.newDemands(r.Demands)}
}

func (tell teller) newFindings(in []finding.Finding) []Finding {
	return each(in, func(f finding.Finding) Finding {
		out := Finding{
			Mark: mark(f.Invented), Topic: f.Topic, Rule: f.Rule, Jurisdiction: f.Jurisdiction,
			Place: tell.Say(f.Place), Outcome: f.Outcome, Reason: f.Reason, Demands: tell.newDemands(f.Demands),
			Value: tell.Value(f), Margin: tell.Down(f.Margin), Summary: tell.Summary(f),
			Says: newRemarks(f.Says, mark(f.Invented)), Ask: tell.Ask(f),
			Settles: tell.newWays(f.Settles, mark(f.Invented)), Rows: tell.newRows(f.Citations),
			AtLeast: f.Value.AtLeast, Told: f.Told, Met: f.Met,
		}
		out.ValueM, out.ValueKG = exactly(f.Value)
		out.MarginM, out.MarginKG = exactly(f.Margin)
		return out
	})
}

func (tell teller) newRows(in []finding.Citation) []Citation { return each(in, tell.newRow) }

func (tell teller) newRow(r finding.Citation) Citation {
	return Citation{
		Mark: mark(r.Status == finding.Invented), ID: r.ID, Revision: r.Revision,
		Published: tell.Figure(r), Status: r.Status, Source: tell.Ours(r.Source), Section: r.Section,
		Year: tell.Ours(r.Year), URL: r.URL, ReadOn: day(r.ReadOn), Tier: r.Tier,
		Decides: r.Decides, Words: tell.Bearing(r),
	}
}

func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}
