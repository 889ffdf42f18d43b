package api

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/api/keep"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/compare"
	"wayhouse/routing/trip"
)

// registerTrips adds the routes of the trips that users save.
func (s *Server) registerTrips(api huma.API, running chan struct{}) {
	if s.Tables == nil {
		return
	}
	at := func(id, method, path, summary string) huma.Operation {
		return huma.Operation{OperationID: id, Method: method, Path: "/v1/trips" + path, Summary: summary}
	}
	offer[wire.SavedTrips](s, api, at("list-trips", http.MethodGet, "", "Saved trips, by name"), s.listTrips)
	save := at("save-trip", http.MethodPut, "/{id}", "Save a trip under a new name (If-None-Match: *), or its next "+
		"version (If-Match)")
	save.MaxBodyBytes = maxBody
	register(api, save, s.saveTrip)
	offer[*wire.Trip](s, api, at("replan-trip", http.MethodGet, "/{id}", "A saved trip, planned by the tables and "+
		"roads of now"), searching(running, s.replanTrip))
	register(api, at("get-saved-trip", http.MethodGet, "/{id}/request", "A saved trip as it was asked; its ETag is "+
		"its version"), s.getTrip)
	offer[wire.SavedTrips](s, api, at("list-trip-versions", http.MethodGet, "/{id}/versions", "Versions of a saved "+
		"trip, the newest first"), s.listTripVersions)
	offer[*wire.Quote](s, api, at("get-saved-quote", http.MethodGet, "/{id}/quote", "The quote of a saved trip with the "+
		"figures that it had"), s.savedQuote)
	offer[*wire.Comparison](s, api, at("compare-trip", http.MethodGet, "/{id}/changes", "In what a saved trip is "+
		"answered otherwise by the tables and roads of now"), searching(running, s.compareTrip))
}

func (s *Server) trips() service.Trips { return service.Trips{Tables: s.Tables, Service: s.Service} }

// TripAddress is the saved trip of an address.
type TripAddress struct {
	ID string `path:"id" maxLength:"80" doc:"Under what it was saved"`
}

// VersionAddress is a version of a saved trip.
type VersionAddress struct {
	TripAddress
	Viewing
	Version int `query:"version" minimum:"0" doc:"Of the saved trip; the newest when left out"`
}

func (s *Server) listTrips(ctx context.Context, _ *struct{ Speaking }) (wire.SavedTrips, error) {
	all, err := s.trips().Saved(ctx)
	return keep.Listed(viewOf(ctx).In, all), err
}

func (s *Server) listTripVersions(ctx context.Context, in *struct {
	Speaking
	TripAddress
}) (wire.SavedTrips, error) {
	all, err := s.trips().TripVersions(ctx, in.ID)
	return keep.Listed(viewOf(ctx).In, all), err
}

func (s *Server) getTrip(ctx context.Context, in *VersionAddress) (*tagged[wire.SavedTrip], error) {
	saved, err := s.trips().SavedTrip(ctx, in.ID, in.Version)
	if err != nil {
		return nil, s.problem(err)
	}
	return &tagged[wire.SavedTrip]{ETag: etag(saved.Version), Body: saved.Whole()}, nil
}

func (s *Server) replanTrip(ctx context.Context, in *VersionAddress) (*trip.Plan, error) {
	plan, _, err := s.trips().Replan(ctx, in.ID, in.Version)
	return plan, err
}

func (s *Server) savedQuote(ctx context.Context, in *struct {
	VersionAddress
	Customer string `query:"customer_copy" enum:"true,false" doc:"Which copy; that which was asked for when left out"`
}) (*trip.Priced, error) {
	out, err := s.trips().SavedQuote(ctx, in.ID, in.Version)
	if err == nil && in.Customer != "" {
		out.CustomerCopy = in.Customer == "true"
	}
	return out, err
}

func (s *Server) compareTrip(ctx context.Context, in *VersionAddress) (*compare.Comparison, error) {
	return s.trips().Changed(ctx, in.ID, in.Version)
}

func (s *Server) saveTrip(ctx context.Context, in *struct {
	Matching
	ID string `path:"id" maxLength:"80" doc:"Under what it is saved: small letters, digits, dots, dashes"`
	change[wire.SaveRequest]
}) (*tagged[wire.SavedTrip], error) {
	if err := service.TripName(in.ID); err != nil {
		return nil, s.problem(err)
	}
	was, err := in.was()
	if err != nil {
		return nil, err
	}
	q := in.Body.Said
	saved, err := s.trips().Save(ctx, in.ID, q.Reason, wire.Asked[wire.TripRequest]{Said: q.Trip}, was)
	if err != nil {
		return nil, s.problem(wire.Within("trip", err))
	}
	return &tagged[wire.SavedTrip]{ETag: etag(saved.Version), Body: saved.Brief()}, nil
}
