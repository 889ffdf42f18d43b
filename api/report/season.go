package report

import (
	"fmt"
	"io"
	"time"

	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Season writes a line for each job.
func Season(w io.Writer, v View, s wire.Season) error {
	for _, j := range s.Jobs {
		if err := Job(w, v, j); err != nil {
			return err
		}
	}
	return nil
}

// Job writes one line: what a job comes to, how long it is and what it costs, or why it has
// no plan.
func Job(w io.Writer, v View, j wire.Job) error {
	said := say.That("season.failed", "id", j.ID, "why", j.Error)
	if j.Error == "" {
		said = say.That("season.job", "id", j.ID, "state", stateOf(j.Outcome), "unknowns", j.Unknowns,
			"length", measure.Distance(*j.LengthM), "time", takes(j.DrivingS), "permits", j.Permits,
			"escorts", j.Escorts, "price", price(j.Quote), "invented", j.Mark != "")
	}
	_, err := fmt.Fprintln(w, Printable(v.In.Say(said)))
	return err
}

func takes(seconds *float64) any {
	if seconds == nil {
		return nil
	}
	return say.That("screen.time", "time", time.Duration(*seconds*float64(time.Second)))
}

func price(q *wire.JobQuote) any {
	if q == nil || q.Total.Likely == nil {
		return nil
	}
	return say.That("season.price", "likely", *q.Total.Likely, "currency", q.Currency, "unpriced", q.Unpriced)
}
