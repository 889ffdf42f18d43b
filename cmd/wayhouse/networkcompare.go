package main

import (
	"context"
	"fmt"
	"os"
	"time"

	"github.com/paulmach/orb"
	"github.com/spf13/cobra"

	"wayhouse/api/export"
	"wayhouse/api/report"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/change"
	"wayhouse/routing/network"
	"wayhouse/routing/trip"
)

// comparing is how two network files are compared.
type comparing struct {
	trips  []string // files
	saved  bool     // the saved trips too
	from   sources  // of saved trips
	within string
	full   bool
	json   *bool
}

// listedChanges is how many changes are listed where not all are asked for, firstChanges
// where none are, and alongWay how far from the way of a trip they may lie where nothing else
// is said: the next streets too.
const (
	listedChanges = 30
	firstChanges  = 10
	alongWay      = "500 m"
)

func networkCompare(clock func() time.Time) *cobra.Command {
	var f comparing
	c := &cobra.Command{
		Use: "compare OLD NEW", Args: cobra.ExactArgs(2),
		Example: "  wayhouse network compare east-2026.wayroads east.wayroads --along trip.yaml",
		RunE: func(cmd *cobra.Command, args []string) error {
			return compareNetworks(cmd, args[0], args[1], f, clock)
		},
	}
	c.Flags().StringArrayVar(&f.trips, "along", nil, "")
	c.Flags().BoolVar(&f.saved, "saved", false, "")
	f.from.flags(c.Flags())
	c.Flags().StringVar(&f.within, "within", alongWay, "")
	c.Flags().BoolVar(&f.full, "full", false, "")
	f.json = jsonFlag(c)
	return c
}

func compareNetworks(cmd *cobra.Command, older, newer string, f comparing, clock func() time.Time) error {
	before, err := openNetwork(cmd.Context(), older, nil)
	if err != nil {
		return err
	}
	defer before.Close()
	after, err := openNetwork(cmd.Context(), newer, nil)
	if err != nil {
		return err
	}
	defer after.Close()
	for i, n := range []*network.Network{before, after} {
		if !change.Comparable(n) {
			return &measure.FieldError{
				Field: "network compare", Value: []string{older, newer}[i], Problem: say.That("error.no_elements"),
				Fix: say.That("fix.give_one_that_wayhouse_network"),
			}
		}
	}
	of := report.Changed{
		Before: before.About, After: after.About, Changes: change.Between(before, after), Most: listedChanges,
	}
	if len(f.trips) > 0 || f.saved {
		if err := f.along(cmd, older, &of, clock); err != nil {
			return err
		}
	}
	if f.full {
		of.Most = len(of.Changes)
	}
	if *f.json {
		return export.JSON(cmd.OutOrStdout(),
			wire.NewNetworkChanges(speaks(cmd), of.Before, of.After, of.Changes, of.Trips))
	}
	return report.Changes(cmd.OutOrStdout(), speaks(cmd), of)
}

// along keeps the changes along the ways of trips, as they are planned on the old network.
func (f comparing) along(cmd *cobra.Command, old string, of *report.Changed, clock func() time.Time) error {
	within, err := measure.ParseLength(f.within)
	if err != nil {
		return &measure.FieldError{
			Field: "--within", Value: f.within, Problem: say.Of(err), Fix: say.That("fix.like", "text", alongWay),
		}
	}
	if len(f.trips) > 0 {
		if of.Trips, err = f.ofFiles(cmd.Context(), old, clock); err != nil {
			return err
		}
	}
	if f.saved {
		saved, err := f.ofStore(cmd, old, clock)
		if err != nil {
			return err
		}
		of.Trips = append(of.Trips, saved...)
	}
	reach := measure.Distance(within.Metres())
	of.Changes = change.Along(of.Changes, of.Trips, reach)
	of.Along = say.That("change.trips", "count", len(of.Trips), "within", reach)
	return nil
}

// ofFiles plans the trips of files on the old network.
func (f comparing) ofFiles(ctx context.Context, old string, clock func() time.Time) (out []change.Trip, err error) {
	known, done, err := loadToAsk(ctx, sources{network: old}, clock, withRoads)
	if err != nil {
		return nil, err
	}
	defer done()
	for _, file := range f.trips {
		a, err := tripOf(file)
		if err != nil {
			return nil, err
		}
		plan, err := known.Plan(ctx, wire.DecodeValue[wire.TripRequest](a.fields))
		if err != nil {
			return nil, a.named(err)
		}
		out = append(out, change.Trip{Name: file, Ways: waysOf(plan)})
	}
	return out, nil
}

// ofStore plans the saved trips on the old network. One that cannot be planned there, such
// as one elsewhere, says why.
func (f comparing) ofStore(cmd *cobra.Command, old string, clock func() time.Time) (out []change.Trip, err error) {
	f.from.network = old
	return out, withTrips(cmd, f.from, clock, withRoads, func(t service.Trips) error {
		saved, err := t.Saved(cmd.Context())
		if err != nil {
			return err
		}
		for _, s := range saved {
			plan, _, err := t.Replan(cmd.Context(), s.ID, s.Version)
			switch {
			case cmd.Context().Err() != nil:
				return cmd.Context().Err()
			case err != nil:
				out = append(out, change.Trip{Name: s.ID, Why: say.Of(err)})
			default:
				out = append(out, change.Trip{Name: s.ID, Ways: waysOf(plan)})
			}
		}
		return nil
	})
}

func waysOf(p *trip.Plan) (out []orb.LineString) {
	for _, leg := range p.Legs {
		out = append(out, leg.Line)
	}
	return out
}

// sinceEarlier works out what a network changes of the file that it is to take the place of,
// before that is replaced, and returns what says so: in counts, and along the saved trips of
// the store that is named. Nothing where there was none.
func sinceEarlier(cmd *cobra.Command, path string, after *network.Network, from sources,
	clock func() time.Time) func() error {
	if _, err := os.Stat(path); err != nil {
		return func() error { return nil }
	}
	not := func(why say.Remark) func() error {
		return func() error { return says(cmd, say.That("change.not_compared", "why", why)) }
	}
	before, err := openNetwork(cmd.Context(), path, nil)
	if err != nil {
		return not(say.Of(err))
	}
	defer before.Close()
	of := report.Changed{
		Before: before.About, After: after.About, Changes: change.Between(before, after), Most: firstChanges,
	}
	w, in := cmd.OutOrStdout(), speaks(cmd)
	near, along := of, func() error { return nil }
	if from.kept() {
		f := comparing{saved: true, from: from, within: alongWay}
		if err := f.along(cmd, path, &near, clock); err != nil { // the network itself is worth keeping
			along = not(say.Of(err))
		} else if len(near.Trips) > 0 {
			along = func() error { return report.ChangesAlong(w, in, near) }
		}
	}
	return func() error {
		fmt.Fprintln(w)
		if err := report.Changes(w, in, of); err != nil {
			return err
		}
		return along()
	}
}
