package timetable

import "slices"

// Along is the part of a table from one stop of its journey to another, as a table of the
// journey between the two: its stops and drives are numbered from there, and ways count from
// there. The entries at both stops are in it.
func (t *Table) Along(first, last int) *Table {
	out := &Table{Calls: slices.Clone(t.Calls[first : last+1])}
	for _, e := range t.Entries {
		if e.Stop >= 0 && (e.Stop < first || e.Stop > last) || e.Drive >= 0 && (e.Drive < first || e.Drive >= last) {
			continue
		}
		if e.Stop >= 0 {
			e.Stop -= first
		} else {
			e.Drive -= first
		}
		out.Entries = append(out.Entries, e)
	}
	if len(out.Entries) > 0 {
		begins := out.Entries[0].Begins
		for i := range out.Entries {
			e := &out.Entries[i]
			e.Begins, e.Ends = e.Begins-begins, e.Ends-begins
			out.IfHolidays = out.IfHolidays || e.IfHolidays
		}
		over := out.Entries[len(out.Entries)-1]
		out.Over = Moment{over.To, over.Likely}
	}
	out.Departure, out.Arrival = out.Calls[0].Leave.Slow, out.Calls[last-first].Arrive
	out.days()
	return out
}
