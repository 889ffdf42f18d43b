package main

import (
	"cmp"
	"errors"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/keep"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/compare"
	"wayhouse/regs/store"
	"wayhouse/routing/trip"
)

func tripsCommand(clock func() time.Time) *cobra.Command {
	c := &cobra.Command{
		Use:  "trips",
		Args: noArguments, RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	c.AddCommand(tripsSave(clock), tripsRenew(clock), tripsList(clock), tripsHistory(clock), tripsShow(clock),
		tripsQuote(clock), tripsChanges(clock))
	return c
}

// withTrips runs f on the saved trips of the store that the flags name, with roads where it
// plans.
func withTrips(cmd *cobra.Command, from sources, clock func() time.Time, of assembly,
	f func(service.Trips) error) error {
	return withTables(cmd, from, clock, func(t *service.Tables) error {
		known, err := serviceOf(cmd.Context(), from, t.Store, clock, of)
		if err != nil {
			return err
		}
		return f(service.Trips{Tables: t, Service: known})
	})
}

// newest is the newest version of a saved trip, 0 where none was saved.
func newest(cmd *cobra.Command, t service.Trips, id string) (int, error) {
	saved, err := t.SavedTrip(cmd.Context(), id, 0)
	if none := (*store.NoDocumentError)(nil); errors.As(err, &none) {
		return 0, nil
	}
	return saved.Version, err
}

func tripsSave(clock func() time.Time) *cobra.Command {
	f := planFlags{form: formOf[wire.SavedTrips]()}
	c := &cobra.Command{
		Use: "save NAME [trip.yaml] --why TEXT", Args: arguments(1, 2),
		Example: "  wayhouse trips save thimmerel-2027 data/example/trip.yaml --why \"first enquiry\" --store tables.db",
		RunE: func(cmd *cobra.Command, args []string) error {
			_, r, err := reasonOf(cmd)
			if err = cmp.Or(err, f.form.choose()); err != nil {
				return err
			}
			a, err := f.request(cmd, args[1:])
			if err != nil {
				return err
			}
			delete(a.fields, "who") // of the saving, not of the trip
			delete(a.fields, "why")
			return withTrips(cmd, f.sources, clock, withRoads, func(t service.Trips) error {
				was, err := newest(cmd, t, args[0])
				if err != nil {
					return err
				}
				saved, err := t.Save(cmd.Context(), args[0], r, wire.DecodeValue[wire.TripRequest](a.fields), was)
				if err != nil {
					return a.named(err)
				}
				return f.form.write(cmd.OutOrStdout(), keep.Listed(f.form.view.In, []keep.Trip{saved}))
			})
		},
	}
	f.ofQuote(c.Flags())
	f.form.ofList(c.Flags())
	reasonFlags(c)
	return c
}

func tripsRenew(clock func() time.Time) *cobra.Command {
	var from sources
	form := formOf[wire.SavedTrips]()
	c := &cobra.Command{
		Use: "renew NAME --why TEXT", Args: arguments(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			_, r, err := reasonOf(cmd)
			if err = cmp.Or(err, form.choose()); err != nil {
				return err
			}
			return withTrips(cmd, from, clock, withRoads, func(t service.Trips) error {
				was, err := newest(cmd, t, args[0])
				if err != nil {
					return err
				}
				saved, err := t.Renew(cmd.Context(), args[0], r, was)
				if err != nil {
					return err
				}
				return form.write(cmd.OutOrStdout(), keep.Listed(form.view.In, []keep.Trip{saved}))
			})
		},
	}
	from.ofTrips(c)
	form.ofList(c.Flags())
	reasonFlags(c)
	return c
}

func tripsList(clock func() time.Time) *cobra.Command {
	return savedList("list", 0, clock, func(cmd *cobra.Command, t service.Trips, _ []string) ([]keep.Trip, error) {
		return t.Saved(cmd.Context())
	})
}

func tripsHistory(clock func() time.Time) *cobra.Command {
	return savedList(
		"history NAME",
		1,
		clock,
		func(cmd *cobra.Command, t service.Trips, args []string) ([]keep.Trip, error) {
			return t.TripVersions(cmd.Context(), args[0])
		},
	)
}

func savedList(use string, names int, clock func() time.Time,
	list func(*cobra.Command, service.Trips, []string) ([]keep.Trip, error)) *cobra.Command {
	var from sources
	form := formOf[wire.SavedTrips]()
	c := &cobra.Command{
		Use: use, Args: arguments(names, names),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := form.choose(); err != nil {
				return err
			}
			return withTables(cmd, from, clock, func(t *service.Tables) error {
				all, err := list(cmd, service.Trips{Tables: t}, args)
				if err != nil {
					return err
				}
				return form.write(cmd.OutOrStdout(), keep.Listed(form.view.In, all))
			})
		},
	}
	from.flags(c.Flags())
	form.ofList(c.Flags())
	return c
}

func tripsShow(clock func() time.Time) *cobra.Command {
	form := formOf[*trip.Plan]()
	c := savedAnswer(
		"show NAME",
		form,
		clock,
		func(cmd *cobra.Command, t service.Trips, id string, version int) (*trip.Plan, error) {
			plan, _, err := t.Replan(cmd.Context(), id, version)
			return plan, err
		},
	)
	form.sheetFlag(c.Flags())
	return c
}

func tripsQuote(clock func() time.Time) *cobra.Command {
	var from sources
	var version int
	var customer bool
	form := formOf[*trip.Priced]()
	c := &cobra.Command{
		Use: "quote NAME", Args: arguments(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := form.choose(); err != nil {
				return err
			}
			return withTables(cmd, from, clock, func(t *service.Tables) error {
				out, err := service.Trips{Tables: t}.SavedQuote(cmd.Context(), args[0], version)
				if err != nil {
					return err
				}
				if cmd.Flags().Changed("customer") {
					out.CustomerCopy = customer
				}
				return form.write(cmd.OutOrStdout(), out)
			})
		},
	}
	from.flags(c.Flags())
	form.flags(c.Flags())
	c.Flags().IntVar(&version, "saved-version", 0, "")
	c.Flags().BoolVar(&customer, "customer", false, "")
	return c
}

func tripsChanges(clock func() time.Time) *cobra.Command {
	return savedAnswer("changes NAME", formOf[*compare.Comparison](), clock,
		func(cmd *cobra.Command, t service.Trips, id string, version int) (*compare.Comparison, error) {
			return t.Changed(cmd.Context(), id, version)
		})
}

// savedAnswer is a command that answers about a version of a saved trip by the roads of now.
func savedAnswer[A any](use string, form *form, clock func() time.Time,
	ask func(cmd *cobra.Command, t service.Trips, id string, version int) (A, error)) *cobra.Command {
	var from sources
	var version int
	c := &cobra.Command{
		Use: use, Args: arguments(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := form.choose(); err != nil {
				return err
			}
			return withTrips(cmd, from, clock, withRoads, func(t service.Trips) error {
				form.view.Called = t.Planner.Areas.Called
				out, err := ask(cmd, t, args[0], version)
				if err != nil {
					return err
				}
				return form.write(cmd.OutOrStdout(), out)
			})
		},
	}
	from.ofTrips(c)
	form.flags(c.Flags())
	c.Flags().IntVar(&version, "saved-version", 0, "")
	return c
}

// ofTrips adds the flags of a command that plans a saved trip.
func (f *sources) ofTrips(c *cobra.Command) {
	f.flags(c.Flags())
	c.Flags().StringVar(&f.network, "network", "", "")
}
