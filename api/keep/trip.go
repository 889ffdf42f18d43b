package keep

import (
	"encoding/json"
	"fmt"
	"time"

	"wayhouse/api/phrase"
	"wayhouse/api/wire"
	"wayhouse/regs/store"
	"wayhouse/routing/trip"
)

// Kind is under what documents of the store trips are kept.
const Kind = "trips"

// Trip is a version of a trip that was saved.
type Trip struct {
	ID       string
	Version  int
	MadeAt   time.Time
	Who, Why string
	Request  wire.TripRequest // as it was asked
	Answer   Digest           // as it was answered then
	Quote    *Quoted          // as it was quoted then; nil: no price was asked for
}

// body is a trip in its document.
type body struct {
	Request wire.TripRequest `json:"request"`
	Answer  Digest           `json:"answer"`
	Quote   *Quoted          `json:"quote,omitempty"`
}

// Document is a trip to be stored with what is answered now, and its quote, nil for none.
func Document(id string, r wire.Reason, q wire.TripRequest, p *trip.Plan, quote *Quoted) (store.Document, error) {
	raw, err := json.Marshal(body{q, NewDigest(p), quote})
	if err != nil {
		return store.Document{}, fmt.Errorf("trip %s: %w", id, err)
	}
	return store.Document{Kind: Kind, ID: id, Who: r.Who, Why: r.Why, Body: raw}, nil
}

// NewTrip reads a document of the store.
func NewTrip(d store.Document) (Trip, error) {
	var b body
	if err := json.Unmarshal(d.Body, &b); err != nil {
		return Trip{}, fmt.Errorf("trip %s, version %d: %w", d.ID, d.Version, err)
	}
	return Trip{d.ID, d.Version, d.MadeAt, d.Who, d.Why, b.Request, b.Answer, b.Quote}, nil
}

// NewTrips reads documents of the store.
func NewTrips(all []store.Document) (out []Trip, err error) {
	for _, d := range all {
		one, err := NewTrip(d)
		if err != nil {
			return nil, err
		}
		out = append(out, one)
	}
	return out, nil
}

// Brief is a trip as lists have it.
func (t Trip) Brief() wire.SavedTrip {
	verdict := t.Answer.side(nil).Verdict
	out := wire.SavedTrip{
		ID: t.ID, Version: t.Version, MadeAt: t.MadeAt, Who: t.Who, Why: t.Why, Name: t.Request.Name,
		Tables: t.Answer.Tables, Network: t.Answer.Network, Outcome: verdict.Outcome(),
		Unknowns: verdict.Unknowns,
	}
	if t.Answer.Invented || t.Quote != nil && t.Quote.Invented {
		out.Mark = wire.InventedMark
	}
	if t.Quote != nil {
		out.Quote = wire.NewSavedQuote(t.Quote.Priced().Quote)
	}
	return out
}

// Whole is a trip with what was asked.
func (t Trip) Whole() wire.SavedTrip {
	out := t.Brief()
	out.Request = &t.Request
	return out
}

// Listed are trips as a list has them.
func Listed(in *phrase.Language, all []Trip) wire.SavedTrips {
	out := wire.SavedTrips{Cautions: in.Each(trip.Cautions()), Trips: []wire.SavedTrip{}}
	for _, t := range all {
		out.Trips = append(out.Trips, t.Brief())
	}
	return out
}
