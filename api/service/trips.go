package service

import (
	"cmp"
	"context"
	"errors"
	"regexp"
	"slices"

	"wayhouse/api/keep"
	"wayhouse/api/wire"
	"wayhouse/regs/compare"
	"wayhouse/regs/measure"
	"wayhouse/regs/rates"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/quote"
)

// Trips are the trips that users save, in the database of the tables.
type Trips struct {
	*Tables
	*Service
}

// names are what a trip may be saved under, so that it stands in an address and in a file
// name as it is.
var names = regexp.MustCompile(`^[a-z0-9][a-z0-9._-]{0,79}$`)

// TripName refuses what is no name for a saved trip. The error is a [*measure.FieldError].
func TripName(id string) error {
	if names.MatchString(id) {
		return nil
	}
	return &measure.FieldError{Field: "id", Value: id, Problem: say.That("error.no_name_of_a_trip"),
		Fix: say.That("fix.like", "text", "thimmerel-2027")}
}

// Save plans a trip, and prices it, and keeps what was asked and answered as the next version
// of a name, which is that of its quote too unless the request counts otherwise;
// was is the newest so far, 0 for a new name. What cannot be planned is not kept.
func (t Trips) Save(ctx context.Context, id string, r wire.Reason, q wire.Asked[wire.TripRequest],
	was int) (keep.Trip, error) {
	if err := TripName(id); err != nil {
		return keep.Trip{}, err
	}
	if err := t.may(r); err != nil {
		return keep.Trip{}, err
	}
	counted := q
	counted.Said = quoting(q.Said, func(of *wire.QuoteRequest) { of.Version = cmp.Or(of.Version, was+1) })
	plan, quoted, err := t.answer(ctx, counted, id)
	if err != nil {
		return keep.Trip{}, err
	}
	d, err := keep.Document(id, r, q.Said, plan, quoted)
	if err != nil {
		return keep.Trip{}, err
	}
	if d, err = t.KeepDocument(ctx, d, was); err != nil {
		return keep.Trip{}, err
	}
	return keep.NewTrip(d)
}

// answer plans a trip of a name, and prices it where its request says what a quote rests on
// and there is a card; the quote is nil otherwise.
func (t Trips) answer(
	ctx context.Context,
	q wire.Asked[wire.TripRequest],
	id string,
) (*trip.Plan, *keep.Quoted, error) {
	if q.Said.Quote == nil || !t.HasCard(q.Said) {
		plan, err := t.planSaved(ctx, q, id)
		return plan, nil, err
	}
	priced, err := t.quoteSaved(ctx, q, id)
	if err != nil {
		return nil, nil, err
	}
	written, err := t.written(ctx, priced.Quote)
	if err != nil {
		return nil, nil, err
	}
	return priced.Plan, keep.NewQuoted(priced, func(l quote.Line) int { return written[l.RowID()] }), nil
}

// quoting is a request with something else about its quote, where it asks for one.
func quoting(q wire.TripRequest, change func(*wire.QuoteRequest)) wire.TripRequest {
	if q.Quote != nil {
		of := *q.Quote
		change(&of)
		q.Quote = &of
	}
	return q
}

// written are the revisions of the tables in which the rows of a quote were last written; a
// rate that came with the request is in none.
func (t Trips) written(ctx context.Context, q *quote.Quote) (map[string]int, error) {
	out, kept := map[string]int{}, t.Newest().Rates()
	for _, l := range q.Lines {
		table := "permits"
		if l.Row != nil {
			table = rates.Table().Name
		}
		if l.RowID() == "" || l.Row != nil && !slices.Contains(kept, l.Row) {
			continue
		}
		all, err := t.Store.Versions(ctx, table, l.RowID())
		if none := (*store.NoRowError)(nil); errors.As(err, &none) {
			continue
		}
		if err != nil {
			return nil, err
		}
		out[l.RowID()] = all[0].Number
	}
	return out, nil
}

// SavedQuote is the quote of a version of a saved trip, 0 for the newest, as it was answered
// then. The error is a [*store.NoDocumentError] where nothing of the name was saved, and a
// refusal where it was saved without a quote.
func (t Trips) SavedQuote(ctx context.Context, id string, version int) (*trip.Priced, error) {
	saved, err := t.SavedTrip(ctx, id, version)
	if err != nil {
		return nil, err
	}
	if saved.Quote == nil {
		return nil, wire.Refuse(wire.FieldError{
			Field: "id", Value: id, Problem: say.That("error.saved_without_quote", "version", saved.Version),
			Fix: say.That("fix.save_with_a_card"),
		})
	}
	out := saved.Quote.Priced()
	out.Quote.Shown = rows.DayOf(t.Tables.Clock())
	return out, nil
}

// Renew plans a saved trip by the tables and roads of now and keeps the answer as its next
// version.
func (t Trips) Renew(ctx context.Context, id string, r wire.Reason, was int) (keep.Trip, error) {
	saved, err := t.SavedTrip(ctx, id, 0)
	if err != nil {
		return saved, err
	}
	return t.Save(ctx, id, r, wire.Asked[wire.TripRequest]{Said: saved.Request}, was)
}

// Saved lists the newest version of every trip.
func (t Trips) Saved(ctx context.Context) ([]keep.Trip, error) {
	all, err := t.Documents(ctx, keep.Kind)
	if err != nil {
		return nil, err
	}
	return keep.NewTrips(all)
}

// TripVersions lists the versions of a trip, the newest first. The error is a
// [*store.NoDocumentError] where there is none.
func (t Trips) TripVersions(ctx context.Context, id string) ([]keep.Trip, error) {
	all, err := t.DocumentVersions(ctx, keep.Kind, id)
	if err != nil {
		return nil, err
	}
	return keep.NewTrips(all)
}

// SavedTrip returns a version of a trip, 0 for the newest. The error is a
// [*store.NoDocumentError] where there is none.
func (t Trips) SavedTrip(ctx context.Context, id string, version int) (keep.Trip, error) {
	d, err := t.Document(ctx, keep.Kind, id, version)
	if err != nil {
		return keep.Trip{}, err
	}
	return keep.NewTrip(d)
}

// Replan plans a saved trip by the tables and roads of now.
func (t Trips) Replan(ctx context.Context, id string, version int) (*trip.Plan, keep.Trip, error) {
	saved, err := t.SavedTrip(ctx, id, version)
	if err != nil {
		return nil, saved, err
	}
	plan, err := t.planSaved(ctx, wire.Asked[wire.TripRequest]{Said: saved.Request}, id)
	return plan, saved, err
}

// Changed says in what a saved trip is answered otherwise by the tables and roads of now, and
// what moved its price.
func (t Trips) Changed(ctx context.Context, id string, version int) (*compare.Comparison, error) {
	saved, err := t.SavedTrip(ctx, id, version)
	if err != nil {
		return nil, err
	}
	said := quoting(saved.Request, func(of *wire.QuoteRequest) {
		of.Final = false // a price that went is a change, not a fault of the request
	})
	plan, quoted, err := t.answer(ctx, wire.Asked[wire.TripRequest]{Said: said}, id)
	if err != nil {
		return nil, err
	}
	return keep.Changes(saved, plan, quoted), nil
}
