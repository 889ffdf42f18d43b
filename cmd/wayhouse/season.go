package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api/export"
	"wayhouse/api/report"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

// season plans and prices a list of deliveries.
type season struct {
	planFlags
	folder string
}

func seasonCommand(clock func() time.Time) *cobra.Command {
	s := season{planFlags: planFlags{form: formOf[wire.Season]()}}
	c := &cobra.Command{
		Use: "season deliveries.csv", Args: arguments(1, 1),
		Example: "  wayhouse season data/example/season.csv\n" +
			"  wayhouse season data/example/season.csv --folder season --rates data/example/rates.csv",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := s.form.choose(); err != nil {
				return err
			}
			return s.run(cmd, args[0], clock)
		},
	}
	s.ofQuote(c.Flags())
	s.form.ofList(c.Flags())
	c.Flags().StringVar(&s.folder, "folder", "", "")
	return c
}

// job is a line of the list: what it asks, or why it asks nothing that can be used.
type job struct {
	id    string
	asked *asked
	err   error
	done  chan struct{} // closed when out is there
	out   wire.Job
}

// run answers every job of a list, as many at once as there are processors, and prints each
// in its turn. A job that cannot be planned stops no other; a signal stops all, and what
// is done by then stays.
func (s *season) run(cmd *cobra.Command, list string, clock func() time.Time) error {
	jobs, err := s.jobs(cmd, list)
	if err != nil {
		return err
	}
	if s.folder != "" {
		if err := os.MkdirAll(s.folder, 0o755); err != nil {
			return err
		}
	}
	known, done, err := loadToAsk(cmd.Context(), s.sources, clock, withRoads)
	if err != nil {
		return err
	}
	defer done()
	go s.work(cmd.Context(), known, jobs)
	out := wire.Season{Jobs: []wire.Job{}, Cautions: s.form.view.In.Each(trip.Cautions())}
	bar := countOf(cmd.ErrOrStderr(), len(jobs))
	for _, j := range jobs {
		select {
		case <-j.done:
		case <-cmd.Context().Done():
		}
		if cmd.Context().Err() != nil {
			break
		}
		out.Jobs = append(out.Jobs, j.out)
		bar(len(out.Jobs))
		if s.form.chosen.Name == "text" {
			if err := report.Job(cmd.OutOrStdout(), s.form.view, j.out); err != nil {
				return err
			}
		}
	}
	return errors.Join(s.finish(cmd, out), s.failed(out, len(jobs)), cmd.Context().Err())
}

// work answers jobs until all are, or the context ends.
func (s *season) work(ctx context.Context, known *service.Service, jobs []*job) {
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	for _, j := range jobs {
		select {
		case free <- struct{}{}:
		case <-ctx.Done():
			return
		}
		go func() {
			defer func() { <-free; close(j.done) }()
			j.out = s.answer(ctx, known, j)
		}()
	}
}

func (s *season) answer(ctx context.Context, known *service.Service, j *job) wire.Job {
	in := s.form.view.In
	if j.err != nil {
		return wire.FailedJob(in, j.id, j.err)
	}
	q := wire.DecodeValue[wire.TripRequest](j.asked.fields)
	var plan *trip.Plan
	var priced *trip.Priced
	var err error
	if known.HasCard(q.Said) {
		if priced, err = known.Quote(ctx, q); err == nil {
			plan = priced.Plan
		}
	} else {
		plan, err = known.Plan(ctx, q)
	}
	if err == nil {
		err = s.keep(j.id, plan, priced)
	}
	if err != nil {
		return wire.FailedJob(in, j.id, j.asked.named(err))
	}
	return wire.NewJob(in, j.id, plan, priced)
}

// keep writes the plan and the quote of a job into the folder.
func (s *season) keep(id string, p *trip.Plan, q *trip.Priced) error {
	if s.folder == "" {
		return nil
	}
	in := s.form.view.In
	if err := writeJSON(filepath.Join(s.folder, id+".plan.json"), wire.NewTrip(in, p)); err != nil || q == nil {
		return err
	}
	return writeJSON(filepath.Join(s.folder, id+".quote.json"), wire.NewQuote(in, q))
}

func writeJSON(path string, v any) error {
	var out bytes.Buffer
	if err := export.JSON(&out, v); err != nil {
		return err
	}
	return replaceFile(path, out.Bytes())
}

// finish writes what is written once at the end: all forms but text, and the sheet of the
// folder.
func (s *season) finish(cmd *cobra.Command, out wire.Season) (err error) {
	switch {
	case s.form.chosen.Name != "text":
		err = s.form.write(cmd.OutOrStdout(), out)
	case len(out.Jobs) > 0:
		err = report.SeasonFoot(cmd.OutOrStdout(), s.form.view)
	}
	if err != nil {
		return err
	}
	if s.folder == "" {
		return nil
	}
	sheet, err := export.Named("csv", export.For[wire.Season]())
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := sheet.Write(&b, s.form.view, out); err != nil {
		return err
	}
	return replaceFile(filepath.Join(s.folder, "season.csv"), b.Bytes())
}

// failed says how many jobs have no plan; nil where all have.
func (s *season) failed(out wire.Season, all int) error {
	n := 0
	for _, j := range out.Jobs {
		if j.Error != "" {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	return &measure.FieldError{Field: "season", Problem: say.That("error.jobs_failed", "n", n, "all", all),
		Fix: say.That("fix.jobs_failed")}
}

// idOf are the names that a job may have: they are those of files.
var idOf = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]{0,79}$`)

// jobs reads the list. Its columns are id, trip (a file) and flags of quote; a cell stands in
// the place of the flag. What is wrong with the list as a whole refuses it, what is wrong with
// one line that line.
func (s *season) jobs(cmd *cobra.Command, list string) ([]*job, error) {
	raw, err := readFile(list)
	if err != nil {
		return nil, err
	}
	columns, err := s.columns(list, raw)
	if err != nil {
		return nil, err
	}
	var out []*job
	seen := map[string]bool{}
	err = rows.Each(raw, columns, func(c *rows.Cells) error {
		j := &job{id: c.Need("id"), done: make(chan struct{})}
		switch {
		case j.id != "" && !idOf.MatchString(j.id):
			return c.Fail("id", say.That("error.no_name_of_a_job"), say.That("fix.like", "text", "D-118"))
		case seen[j.id]:
			return c.Fail("id", say.That("error.twice"), say.That("fix.take_one_of_them"))
		}
		seen[j.id] = true
		j.asked, j.err = s.line(cmd, list, columns, c.Get)
		out = append(out, j)
		return nil
	})
	if cell := (*rows.CellError)(nil); errors.As(err, &cell) {
		return nil, wire.Refuse(wire.FieldError{
			Field: list, At: cell.At(), Value: cell.Value, Problem: cell.Problem, Fix: cell.Fix,
		})
	}
	unusable := say.That("error.empty")
	switch {
	case err != nil:
		unusable = say.Of(err)
	case len(out) > 0:
		return out, nil
	}
	return nil, &measure.FieldError{
		Field: list, Problem: unusable, Fix: say.That("fix.season_columns", "columns", s.known()),
	}
}

// columns are those of the head line; one that is none is refused.
func (s *season) columns(list string, raw []byte) ([]string, error) {
	head, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(raw, []byte("\xef\xbb\xbf")))).Read()
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, &measure.FieldError{
			Field:   list,
			Problem: say.Of(err),
			Fix:     say.That("fix.season_columns", "columns", s.known()),
		}
	}
	for i, name := range head {
		head[i] = strings.TrimSpace(name)
		if !slices.Contains(s.known(), head[i]) {
			return nil, &measure.FieldError{Field: list, Value: head[i], Problem: say.That("error.no_column", "table", list),
				Fix: say.That("fix.season_columns", "columns", s.known())}
		}
	}
	if !slices.Contains(head, "id") {
		return nil, &measure.FieldError{Field: list, Problem: say.That("error.no_id_column"),
			Fix: say.That("fix.season_columns", "columns", s.known())}
	}
	return head, nil
}

// known are the columns that a list may have.
func (s *season) known() []string {
	out := []string{"id", "trip"}
	var f planFlags
	f.form = formOf[wire.Season]()
	set := pflag.NewFlagSet("", pflag.ContinueOnError)
	f.ofQuote(set)
	set.VisitAll(func(flag *pflag.Flag) {
		if !slices.Contains([]string{"store", "database", "network"}, flag.Name) {
			out = append(out, flag.Name)
		}
	})
	return out
}

// line is what a line of the list asks: its cells over the flags of the command.
func (s *season) line(cmd *cobra.Command, list string, columns []string, cell func(string) string) (*asked, error) {
	f := planFlags{form: s.form, sources: s.sources}
	row := &cobra.Command{}
	f.ofQuote(row.Flags())
	var err error
	several := func(name string, values []string) bool {
		flag := row.Flags().Lookup(name)
		slice, ok := flag.Value.(pflag.SliceValue)
		if ok {
			err, flag.Changed = errors.Join(err, slice.Replace(values)), true
		}
		return ok
	}
	set := func(name, value string) {
		if wrong := row.Flags().Set(name, value); wrong != nil {
			err = errors.Join(
				err,
				&measure.FieldError{Field: name, Value: value, Problem: say.That("error.no_value_of_a_column"),
					Fix: say.That("fix.leave_it_out")},
			)
		}
	}
	cmd.Flags().Visit(func(given *pflag.Flag) {
		if row.Flags().Lookup(given.Name) == nil {
			return
		}
		if slice, ok := given.Value.(pflag.SliceValue); !ok || !several(given.Name, slice.GetSlice()) {
			set(given.Name, given.Value.String())
		}
	})
	var args []string
	for _, name := range columns {
		switch value := cell(name); {
		case value == "" || name == "id":
		case name == "trip":
			args = []string{besideFile(list, value)}
		case !several(name, parts(value)):
			set(name, value)
		}
	}
	if err != nil {
		return nil, err
	}
	return f.request(row, args)
}

// parts are the values of a cell that takes several.
func parts(cell string) (out []string) {
	for part := range strings.SplitSeq(cell, ";") {
		out = append(out, strings.TrimSpace(part))
	}
	return out
}

// countOf draws a bar of jobs on a terminal, and nothing elsewhere.
func countOf(w io.Writer, all int) func(done int) {
	f := terminal(w)
	if f == nil {
		return func(int) {}
	}
	bar := progressbar.NewOptions(all, progressbar.OptionSetWriter(f), progressbar.OptionClearOnFinish())
	return func(done int) { _ = bar.Set(done) } // a bar that cannot be drawn stops nothing
}
