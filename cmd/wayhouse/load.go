package main

import (
	"context"
	"fmt"
	"time"

	"github.com/spf13/pflag"

	"wayhouse/api/service"
	"wayhouse/data"
	"wayhouse/regs"
	"wayhouse/regs/area"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
	"wayhouse/routing/network"
	"wayhouse/routing/place"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/standing"
)

// sources are the files that a service works on. An empty store keeps the
// tables in memory and writes nothing, a database is PostgreSQL instead of a
// file; an empty network is the bundled roads.
type sources struct{ store, database, network string }

// flags adds the flags that say where the tables are.
func (f *sources) flags(set *pflag.FlagSet) {
	set.StringVar(&f.store, "store", "", "")
	set.StringVar(&f.database, "database", "", "")
}

// loadToAsk lets a service be made of the tables of a store or, where none is named, of
// those that come with the program, for which none is opened. The caller calls done.
func loadToAsk(ctx context.Context, from sources, clock func() time.Time,
	of assembly) (known *service.Service, done func(), err error) {
	if from.kept() {
		known, tables, err := load(ctx, from, clock, of)
		return known, func() { tables.Close() }, err
	}
	tables, err := store.Shipped()
	if err != nil {
		return nil, nil, err
	}
	known, err = of(ctx, from, tables)
	if err != nil {
		return nil, nil, err
	}
	known.Clock, known.Past = clock, store.NoPast
	return known, func() {}, nil
}

// load opens the store and lets a service be made of it. The caller closes the store.
func load(ctx context.Context, from sources, clock func() time.Time,
	of assembly) (*service.Service, *store.Store, error) {
	tables, err := openStore(ctx, from, clock)
	if err != nil {
		return nil, nil, err
	}
	known, err := serviceOf(ctx, from, tables, clock, of)
	if err != nil {
		tables.Close()
		return nil, nil, err
	}
	return known, tables, nil
}

// serviceOf makes a service of the newest tables of a store.
func serviceOf(ctx context.Context, from sources, tables *store.Store, clock func() time.Time,
	of assembly) (*service.Service, error) {
	snapshot, err := tables.Snapshot(ctx)
	if err != nil {
		return nil, err
	}
	known, err := of(ctx, from, snapshot)
	if err != nil {
		return nil, err
	}
	known.Clock, known.Past = clock, tables.SnapshotAt
	return known, nil
}

// kept reports whether tables outlive the process.
func (f sources) kept() bool { return f.store != "" || f.database != "" }

func openStore(ctx context.Context, from sources, clock func() time.Time) (*store.Store, error) {
	switch {
	case from.store != "" && from.database != "":
		return nil, &measure.FieldError{
			Field: "--store", Value: from.store, Problem: say.That("error.given_beside_database"),
			Fix: say.That("fix.give_one_of_the"),
		}
	case from.database != "":
		return store.OpenDatabase(ctx, from.database, clock)
	case from.store != "":
		if err := writable("store", from.store, "tables.db"); err != nil {
			return nil, err
		}
		return store.OpenFile(ctx, from.store, clock)
	default:
		return store.OpenMemory(ctx, clock)
	}
}

// assembly makes a service that knows some tables.
type assembly func(context.Context, sources, *regs.Tables) (*service.Service, error)

// rulesAlone makes a service that knows the areas, and no roads: a check needs none.
func rulesAlone(_ context.Context, _ sources, tables *regs.Tables) (*service.Service, error) {
	areas, err := shipped("areas/jurisdictions.bin", area.Read)
	if err != nil {
		return nil, err
	}
	planner := &trip.Planner{Atlas: standing.Atlas{Areas: areas, Tables: tables}}
	return &service.Service{Planner: planner}, nil
}

// withRoads makes a service that knows the areas, the roads and the places.
func withRoads(ctx context.Context, from sources, tables *regs.Tables) (*service.Service, error) {
	known, err := rulesAlone(ctx, from, tables)
	if err != nil {
		return nil, err
	}
	roads, err := openRoads(ctx, from.network)
	if err != nil {
		return nil, err
	}
	areas := known.Planner.Areas
	known.Places, err = shipped("places/places.csv", func(raw []byte) (*place.Gazetteer, error) {
		return place.Read(raw, areas.Called)
	})
	if err != nil {
		return nil, err
	}
	known.Places.Add(settlements(roads))
	known.Places.Roads = roads
	known.Planner, err = trip.New(ctx, roads, areas, known.Planner.Tables)
	return known, err
}

// openRoads opens a network file, or the bundled roads. The file stays mapped until it is
// closed.
func openRoads(ctx context.Context, path string) (*network.Network, error) {
	if path == "" {
		return shipped("roads/network.wayroads", network.Read)
	}
	return openNetwork(ctx, path, nil)
}

// settlements lists the places of a network that have a name and one
// jurisdiction at least; near a border the first counts.
func settlements(n *network.Network) []place.Place {
	var out []place.Place
	for p := range n.Places() {
		if p.Kind.Settlement() && p.Name != "" && len(p.Jurisdictions) > 0 {
			out = append(out, place.Place{Kind: place.Town, Name: p.Name, Jurisdiction: p.Jurisdictions[0], Point: p.Point})
		}
	}
	return out
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
