package report

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"time"

	"wayhouse/api/phrase"
	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
)

// Places writes a line for each place: where it is, and what it is called.
func Places(w io.Writer, _ View, list wire.Places) error {
	for _, p := range list.Places {
		fmt.Fprintf(w, "%.5f,%.5f  %s\n", p.Lat, p.Lon, Printable(p.Called()))
	}
	_, err := fmt.Fprintln(w, list.Attribution)
	return err
}

// Parts writes the catalogue of parts, two lines for each.
func Parts(w io.Writer, v View, list *wire.PartList) error {
	for _, p := range list.Parts {
		fmt.Fprintf(w, "%s: %s\n  %s\n", p.ID, p.Name, v.In.Say(say.That("command.part", "low", p.LowKG, "likely",
			p.TypicalKG, "high", p.HighKG, "per", p.Per, "status", finding.Status(p.Status), "source", p.Source)))
	}
	_, err := fmt.Fprintln(w, list.Caution)
	return err
}

// Sources writes where data comes from, and on what terms.
func Sources(w io.Writer, v View, list wire.Sources) error {
	for _, a := range list.Sources {
		fmt.Fprintln(w, a.Name)
		for _, line := range []struct {
			label say.Remark
			text  string
		}{
			{say.That("command.source_from"), a.From}, {say.That("command.source_date"), a.Date},
			{say.That("command.source_credit"), a.Attribution}, {say.That("command.source_licence"), a.Licence},
			{say.That("command.source_changes"), a.Changes},
		} {
			fmt.Fprintf(w, "  %-8s %s\n", v.In.Say(line.label), line.text)
		}
		if a.LicenceText != "" {
			fmt.Fprintf(w, "\n%s\n", a.LicenceText)
		}
	}
	_, err := fmt.Fprint(w, list.Notices)
	return err
}

// Tables writes each table with its columns, and what their cells take.
func Tables(w io.Writer, _ View, list wire.TableList) error {
	for _, t := range list.Tables {
		fmt.Fprintln(w, t.Name)
		for _, c := range t.Columns {
			needed := " "
			if c.Needed {
				needed = "*"
			}
			fmt.Fprintf(w, "  %s %-18s %s", needed, c.Name, c.Form)
			for _, word := range c.Among {
				fmt.Fprintf(w, " %s", word)
			}
			fmt.Fprintln(w)
		}
	}
	return nil
}

// Rows writes rows of a table, a line for each cell that says anything.
func Rows(w io.Writer, v View, list wire.RowList) error {
	for _, r := range list.Rows {
		fmt.Fprintln(w, v.In.Say(say.That("command.row", "id", r.ID, "revision", r.Revision)))
		cells(w, r.Table, r.Cells)
	}
	_, err := fmt.Fprintln(w, v.In.Say(say.That("list.rows_shown", "shown", len(list.Rows), "rows", list.All,
		"after", list.After)))
	return err
}

// cells writes those of a row in the order of its table.
func cells(w io.Writer, table string, of map[string]string) {
	for _, column := range columnsOf(table, of) {
		if text := of[column]; text != "" && column != "id" {
			fmt.Fprintf(w, "    %-14s %s\n", column, Printable(text))
		}
	}
}

// columnsOf are those of a table in order; of one that this version has not, those of a row.
func columnsOf(table string, of map[string]string) []string {
	if t, err := store.TableNamed(table); err == nil {
		return t.ColumnNames()
	}
	return slices.Sorted(maps.Keys(of))
}

// Revisions writes a line for each change of the tables.
func Revisions(w io.Writer, v View, list wire.Revisions) error {
	for _, r := range list.Revisions {
		fmt.Fprintln(w, revision(v.In, r))
	}
	return nil
}

// revision is a change in one line.
func revision(in *phrase.Language, r wire.Revision) string {
	at := r.MadeAt
	if made, err := time.Parse(time.RFC3339, at); err == nil {
		at = in.Moment(made)
	}
	return fmt.Sprintf("%6d  %s  %s: %s", r.Number, at, Printable(r.Who), Printable(in.Ours(r.Why)))
}

// Versions writes what became of a row, the newest first: each change, and in what the row
// differed from what it was before.
func Versions(w io.Writer, v View, list wire.RowVersions) error {
	for i, is := range list.Versions {
		fmt.Fprintln(w, revision(v.In, is.Revision))
		d := wire.Difference{Table: list.Table, ID: list.ID, After: is.Cells}
		if i+1 < len(list.Versions) && !list.Versions[i+1].Removed {
			d.Before = list.Versions[i+1].Cells
		}
		if is.Removed {
			d.Before, d.After = is.Cells, nil
		}
		Difference(w, v.In, d)
	}
	return nil
}

// Differences writes in what rows differ.
func Differences(w io.Writer, v View, list wire.Compared) error {
	for _, d := range list.Differences {
		Difference(w, v.In, d)
	}
	if len(list.Differences) > 0 {
		return nil
	}
	_, err := fmt.Fprintln(w, v.In.Sentences([]say.Remark{say.That("list.same_rows")}))
	return err
}

// Difference writes how one row differs, column by column.
func Difference(w io.Writer, in *phrase.Language, d wire.Difference) {
	word := say.That("command.changed")
	switch {
	case d.Before == nil:
		word = say.That("command.added")
	case d.After == nil:
		word = say.That("command.removed")
	}
	fmt.Fprintf(w, "%-8s %s %s\n", in.Say(word), d.Table, Printable(d.ID))
	both := maps.Clone(d.Before)
	if both == nil {
		both = map[string]string{}
	}
	maps.Copy(both, d.After)
	for _, column := range columnsOf(d.Table, both) {
		if before, after := d.Before[column], d.After[column]; before != after {
			fmt.Fprintf(w, "         %-14s %q -> %q\n", column, before, after)
		}
	}
}

// dayIn is a day of an answer to be said as days are, nil where it is none.
func dayIn(text string) any {
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return nil
	}
	return say.Day(day)
}

// SavedTrips writes two lines for each saved trip: what it came to and when, then who saved
// it and why.
func SavedTrips(w io.Writer, v View, list wire.SavedTrips) error {
	for _, t := range list.Trips {
		saved := say.That("keep.trip", "id", t.ID, "version", t.Version, "name", t.Name,
			"outcome", t.Outcome, "unknowns", t.Unknowns, "day", say.Day(t.MadeAt), "invented", t.Mark != "")
		if err := paragraph(w, v, saved, ""); err != nil {
			return err
		}
		if q := t.Quote; q != nil {
			quoted := say.That("keep.quoted", "number", q.Counted, "version", q.Version, "day", dayIn(q.Quoted),
				"price", price(&q.JobQuote), "until", dayIn(q.ValidUntil))
			if err := paragraph(w, v, quoted, "  "); err != nil {
				return err
			}
		}
		by := say.That("keep.saved_by", "who", t.Who, "why", t.Why)
		if _, err := fmt.Fprintln(w, "  "+Printable(v.In.Say(by))); err != nil {
			return err
		}
	}
	foot := say.That("caution.aid")
	if len(list.Trips) == 0 {
		foot = say.That("keep.none")
	}
	_, err := fmt.Fprintln(w, v.In.Say(foot))
	return err
}
