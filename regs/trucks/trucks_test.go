package trucks

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
)

// Every row in this file is invented.

const head = "id,jurisdiction,use,vehicle_over,rig_over,beyond,words,note,status,source,section,source_year,source_url,read_on\n"

func TestReadsAndRefusesRows(t *testing.T) {
	for line, column := range map[string]string{
		"a,XA-A,,4500 kg,,at_or_over,trucks,,published,a law,,,,2026-01-01":         "",
		"a,XA-A,commercial,,5 t,over,trucks,,memory,a law,,,,":                      "",
		"a,XA-A/Town,private,4500 kg,5 t,over,trucks,a note,secondary,a by-law,,,,": "",
		"a,XA-A,,,,over,trucks,,published,a law,,,,2026-01-01":                      "vehicle_over",
		"a,XA-A,,4500,,over,trucks,,published,a law,,,,2026-01-01":                  "vehicle_over",
		"a,XA-A,,4500 kg,heavy,over,trucks,,published,a law,,,,2026-01-01":          "rig_over",
		"a,XA-A,farm,4500 kg,,over,trucks,,published,a law,,,,2026-01-01":           "use",
		"a,XA-A,,4500 kg,,beyond,trucks,,published,a law,,,,2026-01-01":             "beyond",
		"a,XA-A,,4500 kg,,over,,,published,a law,,,,2026-01-01":                     "words",
		"a,,,4500 kg,,over,trucks,,published,a law,,,,2026-01-01":                   "jurisdiction",
		"a,XA-A,,4500 kg,,over,trucks,,published,,,,,2026-01-01":                    "source",
	} {
		_, _, err := Table().ReadCSV([]byte(head + line + "\n"))
		var cell *rows.CellError
		if got := ""; errors.As(err, &cell) || err != nil {
			if cell != nil {
				got = cell.Column
			}
			if got != column {
				t.Errorf("%s: refused for %q (%v), want %q", line, got, err, column)
			}
		} else if column != "" {
			t.Errorf("%s: taken, want %q refused", line, column)
		}
	}
}

func kg(n int64) measure.Known[measure.Mass] {
	return measure.Exactly(measure.Mass(n) * measure.Kilogram)
}

// A combination is a truck in Quebec from a rating of 4,500 kg of one of its vehicles
// (C-24.2, r. 41, s. 1.1).
func TestBinds(t *testing.T) {
	quebec, _, err := Table().ReadCSV([]byte(head + "a,CA-QC,,4500 kg,,at_or_over,trucks,,published,C-24.2 r. 41,s. 1.1,,,2026-11-29\n"))
	if err != nil {
		t.Fatal(err)
	}
	registered, _, err := Table().ReadCSV([]byte(head + "a,XA-A,commercial,,5 t,over,trucks,,published,a by-law,,,,2026-11-29\n"))
	if err != nil {
		t.Fatal(err)
	}
	for name, tc := range map[string]struct {
		row  Row
		of   Case
		want limit.Applies
	}{
		"4,499 kg":                  {quebec[0], Case{Vehicle: kg(4499), Rig: kg(8000)}, limit.No},
		"4,500 kg":                  {quebec[0], Case{Vehicle: kg(4500)}, limit.Yes},
		"not rated":                 {quebec[0], Case{Rig: kg(8000)}, limit.Perhaps},
		"at least 3 t":              {quebec[0], Case{Vehicle: kg(3000).OrMore()}, limit.Perhaps},
		"at least 4.5 t":            {quebec[0], Case{Vehicle: kg(4500).OrMore()}, limit.Yes},
		"registered for 5 t":        {registered[0], Case{Use: limit.Commercial, Rig: kg(5000)}, limit.No},
		"registered for more":       {registered[0], Case{Use: limit.Commercial, Rig: kg(5001)}, limit.Yes},
		"more, privately":           {registered[0], Case{Use: limit.Private, Rig: kg(5001)}, limit.No},
		"more, use not said":        {registered[0], Case{Rig: kg(5001)}, limit.Perhaps},
		"less, use not said":        {registered[0], Case{Rig: kg(4000)}, limit.No},
		"commercial, mass not said": {registered[0], Case{Use: limit.Commercial}, limit.Perhaps},
	} {
		if got := tc.row.Binds(tc.of); got != tc.want {
			t.Errorf("%s: %v, want %v", name, got, tc.want)
		}
	}
}

// More mass never frees, and what is known of it never decides otherwise than the mass
// itself would.
func TestMoreMassNeverFrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		over := measure.Mass(rapid.Int64Range(1, 100).Draw(t, "over"))
		r := Row{VehicleOver: &over, Inclusive: rapid.Bool().Draw(t, "inclusive")}
		is := measure.Mass(rapid.Int64Range(1, 100).Draw(t, "is"))
		binds := r.Binds(Case{Vehicle: measure.Exactly(is)})
		if r.Binds(Case{Vehicle: measure.Exactly(is + 1)}) < binds {
			t.Fatalf("%d binds as %v, one more is milder", is, binds)
		}
		least := measure.AtLeast(measure.Mass(rapid.Int64Range(1, int64(is)).Draw(t, "least")))
		if got := r.Binds(Case{Vehicle: least}); got != limit.Perhaps && got != binds {
			t.Fatalf("%v of a least mass, %v of the mass", got, binds)
		}
	})
}

func FuzzReadCSV(f *testing.F) {
	f.Add([]byte(head + "a,XA-A,,4500 kg,,at_or_over,trucks,,published,a law,,,,2026-01-01\n"))
	f.Add([]byte(strings.ToUpper(head)))
	f.Fuzz(func(t *testing.T, raw []byte) {
		all, _, err := Table().ReadCSV(raw)
		if err != nil {
			return
		}
		for _, r := range all {
			if r.VehicleOver == nil && r.RigOver == nil {
				t.Fatalf("a row of no mass: %+v", r)
			}
		}
	})
}
