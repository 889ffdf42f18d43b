package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api/wire"
	"wayhouse/routing/trip"
)

// moving plans how one crew makes the deliveries of a list.
type moving struct {
	season
	own *pflag.FlagSet // of all moves
}

func movesCommand(clock func() time.Time) *cobra.Command {
	m := moving{season{planFlags: planFlags{form: formOf[*trip.Moves]()}}, pflag.NewFlagSet("", pflag.ContinueOnError)}
	c := &cobra.Command{
		Use: "moves deliveries.csv", Args: arguments(1, 1),
		Example: "  wayhouse moves data/example/moves.csv\n" +
			"  wayhouse moves data/example/moves.csv --base \"Ottawa, ON\" --back --best-order",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := m.form.choose(); err != nil {
				return err
			}
			if err := m.mustBe.check(); err != nil {
				return err
			}
			return m.run(cmd, args[0], clock)
		},
	}
	m.ofTrip(c.Flags())
	m.form.flags(c.Flags())
	textFlags(m.own, [2]string{"base", "base"}, [2]string{"begin", "begin"})
	boolFlags(m.own, [2]string{"back", "back"}, [2]string{"best-order", "best_order"})
	c.Flags().AddFlagSet(m.own)
	m.mustBe.flag(c.Flags())
	return c
}

func (m *moving) run(cmd *cobra.Command, list string, clock func() time.Time) error {
	jobs, err := m.jobs(cmd, list)
	if err != nil {
		return err
	}
	a := newAsked()
	var moves []any
	for _, j := range jobs {
		if j.err != nil {
			return j.err
		}
		j.asked.fields["id"] = j.id
		moves = append(moves, j.asked.fields)
	}
	a.lay(m.own)
	a.fields["moves"] = moves
	known, done, err := loadToAsk(cmd.Context(), m.sources, clock, withRoads)
	if err != nil {
		return err
	}
	defer done()
	m.form.view.Called, m.form.view.Printed = known.Planner.Areas.Called, clock()
	out, err := known.Moves(cmd.Context(), wire.DecodeValue[wire.MovesRequest](a.fields))
	if err != nil {
		return ofLines(jobs, a.named(err))
	}
	if err := m.form.write(cmd.OutOrStdout(), out); err != nil {
		return err
	}
	return m.mustBe.met(out.Verdict)
}

// ofLines says of what is wrong with a move which line of the list it is.
func ofLines(jobs []*job, err error) error {
	refusal, ok := wire.AsRefusal(err)
	if !ok {
		return err
	}
	out := *refusal
	out.Errors = slices.Clone(out.Errors)
	for i := range out.Errors {
		for k, j := range jobs {
			if inside, of := strings.CutPrefix(out.Errors[i].Field, fmt.Sprintf("moves[%d].", k)); of {
				out.Errors[i].Field = j.id + ", " + inside
			}
		}
	}
	return &out
}
