package main

import (
	"context"
	"fmt"
	"log/slog"
	"time"

	"wayhouse/api"
	"wayhouse/data"
	"wayhouse/regs/area"
	"wayhouse/regs/store"
	"wayhouse/routing/network"
	"wayhouse/routing/place"
	"wayhouse/routing/trip"
)

// load opens the store and reads the shipped data. An empty path keeps the
// tables in memory and writes nothing. The caller closes the store.
func load(ctx context.Context, path string, clock func() time.Time, log *slog.Logger) (*api.Service, *store.Store, error) {
	tables, err := openStore(ctx, path, clock)
	if err != nil {
		return nil, nil, err
	}
	service, err := assemble(ctx, tables, clock, log)
	if err != nil {
		tables.Close()
		return nil, nil, err
	}
	return service, tables, nil
}

func openStore(ctx context.Context, path string, clock func() time.Time) (*store.Store, error) {
	if path == "" {
		return store.OpenMemory(ctx, clock)
	}
	return store.OpenFile(ctx, path, clock)
}

func assemble(ctx context.Context, tables *store.Store, clock func() time.Time, log *slog.Logger) (*api.Service, error) {
	snapshot, err := tables.Snapshot(ctx)
	if err != nil {
		return nil, err
	}
	areas, err := shipped("areas/jurisdictions.geojson", area.Read)
	if err != nil {
		return nil, err
	}
	roads, err := shipped("roads/network.geojson", network.ReadGeoJSON)
	if err != nil {
		return nil, err
	}
	places, err := shipped("places/places.csv", func(raw []byte) (*place.Gazetteer, error) {
		return place.Read(raw, func(code string) string {
			j, _ := areas.ByCode(code)
			return j.Name
		})
	})
	if err != nil {
		return nil, err
	}
	return &api.Service{
		Planner: &trip.Planner{Network: roads, Index: network.NewIndex(roads), Areas: areas, Tables: snapshot},
		Places:  places, Clock: clock, Log: log, Version: version, Ready: tables.Ping,
	}, nil
}

// shipped reads one embedded file.
func shipped[T any](path string, read func([]byte) (T, error)) (T, error) {
	raw, err := data.Files.ReadFile(path)
	if err != nil {
		var none T
		return none, fmt.Errorf("shipped data: %w", err)
	}
	return read(raw)
}
