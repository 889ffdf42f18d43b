package wire

import (
	"strings"
	"time"

	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/quote"
)

// Season is what became of the jobs of a season.
type Season struct {
	Jobs     []Job    `json:"jobs" doc:"In the order of the list"`
	Cautions []string `json:"cautions"`
}

// Job is one delivery of a season: what its plan and its quote come to. Lengths are metres,
// times seconds, fuel litres; a null is not known.
type Job struct {
	Mark     string          `json:"mark,omitempty"`
	ID       string          `json:"id" doc:"As the list has it"`
	Error    string          `json:"error,omitempty" doc:"Why there is no plan"`
	Outcome  finding.Outcome `json:"outcome,omitempty"`
	Unknowns *int            `json:"unknowns" doc:"How many answers are not known"`
	LengthM  *float64        `json:"length_m"`
	DrivingS *float64        `json:"driving_s"`
	SlowS    *float64        `json:"driving_slow_s"`
	Depart   *time.Time      `json:"departure"`
	Arrival  *time.Time      `json:"arrival"`
	Late     *time.Time      `json:"arrival_slow"`
	FuelL    *float64        `json:"fuel_likely_l"`
	Permits  *int            `json:"permits" doc:"How many jurisdictions ask for one, as far as is known"`
	Escorts  *int            `json:"escorts" doc:"The most vehicles that go with it, as far as is known"`

	PermitsOpen []string `json:"permits_not_known" doc:"Jurisdictions in which it is not known whether one is asked for"`
	EscortsOpen []string `json:"escorts_not_known" doc:"Jurisdictions in which it is not known whether more are asked for"`

	Quote *JobQuote `json:"quote" doc:"null where no price was asked for"`
}

// JobQuote is what the quote of a job comes to.
type JobQuote struct {
	Total    QuoteAmount `json:"total" doc:"With taxes, without what has no price"`
	Currency string      `json:"currency"`
	Unpriced int         `json:"unpriced" doc:"How many items have no price; the total is without them"`
	Nothing  bool        `json:"-"` // no item has a price: the total is a sum of nothing
}

// NewJob is a job that was planned, and priced where it was asked for.
func NewJob(in *phrase.Language, id string, p *trip.Plan, q *trip.Priced) Job {
	t := NewTrip(in, p)
	permits, escorts := len(p.Permits), p.Verdict.Demands.Escorts()
	out := Job{
		Mark: t.Mark, ID: id, Outcome: p.Verdict.Outcome(), Unknowns: &p.Verdict.Unknowns, LengthM: &t.LengthM,
		DrivingS: t.DrivingS, SlowS: t.SlowS, Depart: &t.Departure, Arrival: t.Arrival, Late: t.Late,
		FuelL: t.Fuel.LikelyL, Permits: &permits, Escorts: &escorts,
		PermitsOpen: append([]string{}, p.PermitsOpen()...), EscortsOpen: append([]string{}, p.EscortsOpen()...),
	}
	if q != nil {
		priced := jobQuote(q.Quote)
		out.Quote = &priced
	}
	return out
}

func jobQuote(q *quote.Quote) JobQuote {
	return JobQuote{amounts(q.Total, q.Currency), q.Currency, q.Unpriced(), q.NothingPriced()}
}

// FailedJob is a job that could not be planned.
func FailedJob(in *phrase.Language, id string, err error) Job {
	out := Job{ID: id, Error: in.Say(say.Of(err))}
	if refusal, ok := AsRefusal(err); ok {
		var faults []string
		for _, e := range refusal.Errors {
			faults = append(faults, e.In(in).String())
		}
		out.Error = strings.Join(faults, "; ")
	}
	return out
}
