package regs

import (
	"testing"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/trucks"
)

// Every row in this file is invented.

func truckRow(code string, kg int64, changes ...func(*trucks.Row)) *trucks.Row {
	r := &trucks.Row{
		ID: code + "-trucks", Jurisdiction: code, VehicleOver: kilograms(kg), Words: "trucks",
		Proof: rows.Proof{Status: finding.Published, Source: "a law", ReadOn: june},
	}
	for _, change := range changes {
		change(r)
	}
	return r
}

// Signs for trucks free a rig only by a row that somebody vouches for; every row may
// bind it.
func TestSignsForTrucks(t *testing.T) {
	light := trucks.Case{Vehicle: measure.Exactly(3000 * measure.Kilogram)}
	heavy := trucks.Case{Vehicle: measure.Exactly(8000 * measure.Kilogram)}
	status := func(s finding.Status) func(*trucks.Row) { return func(r *trucks.Row) { r.Status = s } }
	old := func(r *trucks.Row) { r.ReadOn = june.AddDate(-2, 0, 0) }
	for name, tc := range map[string]struct {
		rows     []*trucks.Row
		of       trucks.Case
		codes    []string
		town     string
		want     limit.Applies
		byRating bool
	}{
		"no row":                         {nil, light, []string{"XA-A"}, "", limit.Perhaps, false},
		"nowhere known":                  {[]*trucks.Row{truckRow("XA-A", 4500)}, light, nil, "", limit.Perhaps, false},
		"below":                          {[]*trucks.Row{truckRow("XA-A", 4500)}, light, []string{"XA-A"}, "", limit.No, true},
		"above":                          {[]*trucks.Row{truckRow("XA-A", 4500)}, heavy, []string{"XA-A"}, "", limit.Yes, true},
		"not rated":                      {[]*trucks.Row{truckRow("XA-A", 4500)}, trucks.Case{}, []string{"XA-A"}, "", limit.Perhaps, true},
		"below, recalled":                {[]*trucks.Row{truckRow("XA-A", 4500, status(finding.Memory))}, light, []string{"XA-A"}, "", limit.Perhaps, false},
		"below, read long ago":           {[]*trucks.Row{truckRow("XA-A", 4500, old)}, light, []string{"XA-A"}, "", limit.Perhaps, false},
		"above, recalled":                {[]*trucks.Row{truckRow("XA-A", 4500, status(finding.Memory))}, heavy, []string{"XA-A"}, "", limit.Yes, false},
		"below, of the country":          {[]*trucks.Row{truckRow("XA", 4500)}, light, []string{"XA-A"}, "", limit.Perhaps, false},
		"above, of the country":          {[]*trucks.Row{truckRow("XA", 4500)}, heavy, []string{"XA-A"}, "", limit.Yes, false},
		"of another":                     {[]*trucks.Row{truckRow("XA-B", 4500)}, light, []string{"XA-A"}, "", limit.Perhaps, false},
		"near a border":                  {[]*trucks.Row{truckRow("XA-B", 4500)}, light, []string{"XA-A", "XA-B"}, "", limit.Perhaps, false},
		"near a border, both say":        {[]*trucks.Row{truckRow("XA-A", 4500), truckRow("XA-B", 2000)}, light, []string{"XA-A", "XA-B"}, "", limit.Yes, true},
		"a municipality asks more":       {[]*trucks.Row{truckRow("XA-A", 4500), truckRow("XA-A/Town", 2000)}, light, []string{"XA-A"}, "Town", limit.Yes, true},
		"another municipality asks more": {[]*trucks.Row{truckRow("XA-A", 4500), truckRow("XA-A/Town", 2000)}, light, []string{"XA-A"}, "Ham", limit.No, true},
		"by use, which is not said":      {[]*trucks.Row{truckRow("XA-A", 4500, func(r *trucks.Row) { r.Use = limit.Commercial })}, heavy, []string{"XA-A"}, "", limit.Perhaps, false},
		"the shipped one of a changed":   {[]*trucks.Row{truckRow("XA-A", 4500, func(r *trucks.Row) { r.ID += rows.RivalSuffix })}, light, []string{"XA-A"}, "", limit.Perhaps, false},
	} {
		tables := NewTables("test", Rows{Trucks: tc.rows}, nil)
		got := tables.Trucks(tc.of, tc.codes, tc.town, june.Add(time.Hour))
		if got.Binds != tc.want || got.ByRating != tc.byRating {
			t.Errorf("%s: binds %v, by the rating %t; want %v, %t", name, got.Binds, got.ByRating, tc.want, tc.byRating)
		}
	}
}
