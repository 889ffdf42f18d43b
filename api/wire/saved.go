package wire

import (
	"time"

	"wayhouse/regs/finding"
	"wayhouse/routing/trip/quote"
)

// SaveRequest saves a trip, as it is asked of /v1/trips.
type SaveRequest struct {
	Reason
	Trip TripRequest `json:"trip" doc:"A body of /v1/trips"`
}

// SavedTrip is a version of a trip that was saved.
type SavedTrip struct {
	Mark    string          `json:"mark,omitempty"`
	ID      string          `json:"id" doc:"Under what it was saved"`
	Version int             `json:"version" doc:"From 1; nothing that was saved is overwritten"`
	MadeAt  time.Time       `json:"made_at"`
	Who     string          `json:"who"`
	Why     string          `json:"why"`
	Name    string          `json:"name,omitempty"`
	Tables  string          `json:"tables" doc:"Revision of the tables by which it was answered then"`
	Network string          `json:"network_revision" doc:"Revision of the roads by which it was answered then"`
	Outcome finding.Outcome `json:"outcome" doc:"What it came to then"`
	// Unknowns stand beside it, since an outcome without them reads milder than it is.
	Unknowns int          `json:"unknowns" doc:"How many answers were not known then"`
	Quote    *SavedQuote  `json:"quote,omitempty" doc:"What it was quoted at then; left out where no price was asked for"`
	Request  *TripRequest `json:"request,omitempty" doc:"As it was asked; left out of lists"`
}

// SavedQuote is what the quote of a saved version comes to.
type SavedQuote struct {
	JobQuote
	Counted    string `json:"number,omitempty" doc:"Of the quote, as it was given"`
	Version    int    `json:"version" doc:"Of the quote of this number"`
	Quoted     string `json:"quoted_on" doc:"The day of the quote"`
	ValidUntil string `json:"valid_until,omitempty"`
}

// NewSavedQuote is a quote that was saved in short.
func NewSavedQuote(q *quote.Quote) *SavedQuote {
	return &SavedQuote{
		JobQuote: jobQuote(q), Counted: q.Number, Version: q.Version,
		Quoted: day(q.Quoted), ValidUntil: day(q.ValidUntil),
	}
}

// SavedTrips are saved trips, or the versions of one.
type SavedTrips struct {
	Cautions []string    `json:"cautions"`
	Trips    []SavedTrip `json:"trips" doc:"The newest version of each, or the versions of one, the newest first"`
}
