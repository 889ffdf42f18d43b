package wire

import (
	"time"

	"wayhouse/regs/finding"
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
	Request  *TripRequest `json:"request,omitempty" doc:"As it was asked; left out of lists"`
}

// SavedTrips are saved trips, or the versions of one.
type SavedTrips struct {
	Cautions []string    `json:"cautions"`
	Trips    []SavedTrip `json:"trips" doc:"The newest version of each, or the versions of one, the newest first"`
}
