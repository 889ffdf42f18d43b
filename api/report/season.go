package report

import (
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/money"
	"wayhouse/regs/say"
)

// Season writes a paragraph for each job, and who decides.
func Season(w io.Writer, v View, s wire.Season) error {
	for _, j := range s.Jobs {
		if err := Job(w, v, j); err != nil {
			return err
		}
	}
	return SeasonFoot(w, v)
}

// SeasonFoot writes what stands below the jobs: that this is no permission to drive.
func SeasonFoot(w io.Writer, v View) error {
	return paragraph(w, v, say.That("caution.aid"), "")
}

// Job writes one paragraph: what a job comes to, how long it is and what it costs, or why it has
// no plan.
func Job(w io.Writer, v View, j wire.Job) error {
	said := say.That("season.failed", "id", j.ID, "why", j.Error)
	if j.Error == "" {
		said = say.That("season.job", "id", j.ID, "state", stateOf(j.Outcome), "unknowns", *j.Unknowns,
			"open", *j.Unknowns > 0 && j.Outcome != finding.Forbidden, "length", measure.Distance(*j.LengthM),
			"time", takes(j.DrivingS), "permits", *j.Permits, "escorts", *j.Escorts,
			"permits_open", j.PermitsOpen, "escorts_open", j.EscortsOpen, "priced", j.Quote != nil,
			"price", price(j.Quote), "invented", j.Mark != "")
	}
	return paragraph(w, v, said, "")
}

// paragraph writes what is said behind an indent, folded to the screen.
func paragraph(w io.Writer, v View, said say.Remark, indent string) error {
	lines := folded(Printable(v.In.Say(said)), screenWidth-len(indent), math.MaxInt)
	_, err := fmt.Fprintln(w, indent+strings.Join(lines, "\n"+indent))
	return err
}

func takes(seconds *float64) any {
	if seconds == nil {
		return nil
	}
	return say.That("screen.time", "time", time.Duration(*seconds*float64(time.Second)))
}

// price is the total of a job in the words of its quote, nil where nothing has a price.
func price(q *wire.JobQuote) any {
	if q == nil || q.Total.Likely == nil {
		return nil
	}
	if q.Nothing {
		return say.That("quote.total_unknown", "unpriced", q.Unpriced)
	}
	amount := func(text *string) any {
		if text == nil {
			return nil
		}
		d, _, err := apd.NewFromString(*text)
		if err != nil {
			return nil
		}
		return money.Money{Amount: d, Currency: q.Currency}
	}
	return say.That("quote.total", "likely", amount(q.Total.Likely), "low", amount(q.Total.Low),
		"high", amount(q.Total.High), "spread", true, "unpriced", q.Unpriced)
}
