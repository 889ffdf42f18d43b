package duty

import (
	"bytes"
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

type cells = map[string]string

// hoursRow and massRow are invented rows that can be read, changed by cells.
func hoursRow(changes cells) cells {
	return merged(cells{
		"id": "xa-driving", "jurisdiction": "XA", "topic": "driving", "use": "commercial", "hours": "13", "beyond": "over", "demand": "at most 13 h",
		"status": "invented", "source": "invented for this test",
	}, changes)
}

func massRow(changes cells) cells {
	return merged(cells{
		"id": "xa-licence", "jurisdiction": "XA", "topic": "licence", "unit_over": "4600 kg", "beyond": "over", "demand": "another class",
		"status": "invented", "source": "invented for this test",
	}, changes)
}

func merged(a, b cells) cells {
	out := maps.Clone(a)
	maps.Copy(out, b)
	return out
}

// csvOf writes rows as the table writes them.
func csvOf(t testing.TB, all ...cells) []byte {
	t.Helper()
	var records []rows.Record
	for _, one := range all {
		r := make(rows.Record, len(Table().Columns))
		for name, text := range one {
			r[slices.Index(Table().Columns, name)] = text
		}
		records = append(records, r)
	}
	var out bytes.Buffer
	if err := Table().WriteCSV(&out, records); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func readOne(t testing.TB, c cells) Row {
	t.Helper()
	read, _, err := Table().ReadCSV(csvOf(t, c))
	if err != nil {
		t.Fatal(err)
	}
	return read[0]
}

func TestReadsRows(t *testing.T) {
	driving := readOne(t, hoursRow(cells{"hours": "10.5", "north_of": "60", "rig_over": "10001 lb", "beyond": "at_or_over"}))
	if driving.Topic != Driving || driving.Hours != 10*time.Hour+30*time.Minute || driving.NorthOf != 60 || driving.SouthOf != 0 ||
		*driving.RigOver != 10_001*measure.Pound || driving.UnitOver != nil || !driving.Inclusive || driving.Use != limit.Commercial || !driving.OfHours() {
		t.Errorf("%+v", driving)
	}
	licence := readOne(t, massRow(cells{"note": "a remark", "read_on": "2026-11-25"}))
	if licence.Topic != Licence || licence.Hours != 0 || *licence.UnitOver != 4600*measure.Kilogram || licence.RigOver != nil || licence.Inclusive ||
		licence.Use != limit.UseUnknown || licence.Note != "a remark" || licence.ReadOn.IsZero() || licence.OfHours() {
		t.Errorf("%+v", licence)
	}
	if free := readOne(t, hoursRow(cells{"hours": "none", "use": "private"})); !free.Free || free.Hours != 0 {
		t.Errorf("%+v", free)
	}
	if worded := readOne(t, massRow(cells{"unit_over": "none"})); !worded.Worded || worded.UnitOver != nil {
		t.Errorf("%+v", worded)
	}
	for _, topic := range slices.Concat(Hours(), Thresholds()) {
		c := massRow(cells{"topic": string(topic)})
		if slices.Contains(Hours(), topic) {
			c = hoursRow(cells{"topic": string(topic)})
		}
		if topic == Cycle {
			c["days"] = "7"
		}
		if r := readOne(t, c); r.Topic != topic || r.OfHours() != slices.Contains(Hours(), topic) {
			t.Errorf("%s: read as %+v", topic, r)
		}
	}
}

// An error names line, column and value, and how to mend it.
func TestRefusesRows(t *testing.T) {
	for name, tc := range map[string]struct {
		row     cells
		column  string
		problem string
	}{
		"no id":                   {hoursRow(cells{"id": ""}), "id", "empty"},
		"no jurisdiction":         {hoursRow(cells{"jurisdiction": ""}), "jurisdiction", "empty"},
		"unknown topic":           {hoursRow(cells{"topic": "sleep"}), "topic", "error.not_known_here"},
		"unknown use":             {hoursRow(cells{"use": "holiday"}), "use", "error.not_known_here"},
		"no demand":               {hoursRow(cells{"demand": ""}), "demand", "empty"},
		"no beyond":               {massRow(cells{"beyond": ""}), "beyond", "error.not_known_here"},
		"hours in words":          {hoursRow(cells{"hours": "thirteen"}), "hours", "error.no_number_of_hours"},
		"hours with a unit":       {hoursRow(cells{"hours": "13 h"}), "hours", "error.no_number_of_hours"},
		"no hours at all":         {hoursRow(cells{"hours": "0"}), "hours", "error.no_number_of_hours"},
		"hours below nothing":     {hoursRow(cells{"hours": "-1"}), "hours", "error.no_number_of_hours"},
		"hours that are none":     {hoursRow(cells{"hours": "NaN"}), "hours", "error.no_number_of_hours"},
		"endless hours":           {hoursRow(cells{"hours": "Inf"}), "hours", "error.no_number_of_hours"},
		"hours of a month":        {hoursRow(cells{"hours": "1001"}), "hours", "error.no_number_of_hours"},
		"hours left out":          {hoursRow(cells{"hours": ""}), "hours", "error.topic(topic: driving)"},
		"hours of a licence":      {massRow(cells{"hours": "13"}), "hours", "error.topic(topic: licence)"},
		"none for everybody":      {hoursRow(cells{"hours": "none", "use": ""}), "use", "error.empty_beside_hours_of"},
		"a licence of no hours":   {massRow(cells{"hours": "none"}), "hours", "error.topic(topic: licence)"},
		"hours of no mass":        {hoursRow(cells{"unit_over": "none"}), "unit_over", "error.topic(topic: driving)"},
		"cycle without days":      {hoursRow(cells{"topic": "cycle"}), "days", "error.topic(topic: cycle)"},
		"days of no cycle":        {hoursRow(cells{"days": "7"}), "days", "error.topic(topic: driving)"},
		"hours off the driving":   {hoursRow(cells{"off": "8"}), "off", "error.topic(topic: driving)"},
		"hours off in words":      {hoursRow(cells{"topic": "break", "off": "half"}), "off", "error.no_number_of_hours"},
		"days below nothing":      {hoursRow(cells{"topic": "cycle", "days": "-7"}), "days", "error.no_count"},
		"no mass":                 {massRow(cells{"unit_over": ""}), "unit_over", "error.empty_and_so_is"},
		"mass without a unit":     {massRow(cells{"unit_over": "4600"}), "unit_over", "error.no_unit"},
		"rig mass in metres":      {massRow(cells{"rig_over": "4 m"}), "rig_over", "error.no_unit_of(unit: m"},
		"latitude off Earth":      {hoursRow(cells{"north_of": "91"}), "north_of", "degrees"},
		"latitude in words":       {hoursRow(cells{"south_of": "sixty"}), "south_of", "degrees"},
		"unknown status":          {hoursRow(cells{"status": "heard"}), "status", "error.not_known_here"},
		"no source":               {hoursRow(cells{"source": ""}), "source", "empty"},
		"read on no day":          {hoursRow(cells{"read_on": "yesterday"}), "read_on", "error.no_day"},
		"id of the row before it": {hoursRow(cells{"id": "first"}), "id", "error.stands_twice"},
	} {
		_, _, err := Table().ReadCSV(csvOf(t, massRow(cells{"id": "first"}), tc.row))
		var cell *rows.CellError
		if !errors.As(err, &cell) {
			t.Errorf("%s: %v, want a cell", name, err)
			continue
		}
		if cell.Line != 3 || cell.Column != tc.column || !strings.Contains(cell.Problem.String(), tc.problem) || cell.Fix.None() || cell.Value != tc.row[tc.column] {
			t.Errorf("%s: %v, want line 3, column %s, %q", name, err, tc.column, tc.problem)
		}
	}
}

func kg(n int64) *measure.Mass {
	m := measure.Mass(n) * measure.Kilogram
	return &m
}

func TestBinds(t *testing.T) {
	unit, rig := Row{UnitOver: kg(4600)}, Row{RigOver: kg(4500)}
	both := Row{UnitOver: kg(4536), RigOver: kg(11793)}
	inclusive := Row{UnitOver: kg(4600), Inclusive: true}
	commercial := Row{Use: limit.Commercial}
	north, south := Row{NorthOf: 60}, Row{SouthOf: 60}
	gram := func(m *measure.Mass, more measure.Mass) *measure.Mass {
		v := *m + more
		return &v
	}
	for name, tc := range map[string]struct {
		row   Row
		asked Case
		want  limit.Applies
		hangs string
	}{
		"words alone decide":            {Row{Worded: true}, Case{Unit: measure.Given(kg(20_000)), Rig: measure.Given(kg(20_000))}, limit.Perhaps, "duty.worded"},
		"anybody":                       {Row{}, Case{}, limit.Yes, ""},
		"at the mass":                   {unit, Case{Unit: measure.Given(kg(4600))}, limit.No, ""},
		"the least above the mass":      {unit, Case{Unit: measure.Given(gram(kg(4600), 1))}, limit.Yes, ""},
		"at the mass, inclusive":        {inclusive, Case{Unit: measure.Given(kg(4600))}, limit.Yes, ""},
		"the least below, inclusive":    {inclusive, Case{Unit: measure.Given(gram(kg(4600), -1))}, limit.No, ""},
		"mass of the unit not known":    {unit, Case{Rig: measure.Given(kg(20_000))}, limit.Perhaps, "duty.unit_over"},
		"mass of the rig not known":     {rig, Case{Unit: measure.Given(kg(3000))}, limit.Perhaps, "duty.rig_over"},
		"the unit at least below":       {unit, Case{Unit: measure.AtLeast(*kg(3000))}, limit.Perhaps, "duty.unit_over"},
		"the unit at least above":       {unit, Case{Unit: measure.AtLeast(*kg(5000))}, limit.Yes, ""},
		"the unit alone below":          {rig, Case{Rig: measure.AtLeast(*kg(3000))}, limit.Perhaps, "duty.rig_over"},
		"the unit alone above":          {rig, Case{Rig: measure.AtLeast(*kg(5000))}, limit.Yes, ""},
		"one mass of two":               {both, Case{Unit: measure.Given(kg(5000)), Rig: measure.Given(kg(9000))}, limit.No, ""},
		"both masses":                   {both, Case{Unit: measure.Given(kg(5000)), Rig: measure.Given(kg(12_000))}, limit.Yes, ""},
		"one mass over, one not known":  {both, Case{Unit: measure.Given(kg(5000))}, limit.Perhaps, "duty.rig_over"},
		"one mass below, one not known": {both, Case{Unit: measure.Given(kg(4000))}, limit.No, ""},
		"commercial":                    {commercial, Case{Use: limit.Commercial}, limit.Yes, ""},
		"private":                       {commercial, Case{Use: limit.Private}, limit.No, ""},
		"use not known":                 {commercial, Case{}, limit.Perhaps, "hangs.use(use: commercial)"},
		"wholly south":                  {north, Case{MostNorth: 59.9, MostSouth: 50}, limit.No, ""},
		"partly north":                  {north, Case{MostNorth: 60.1, MostSouth: 50}, limit.Yes, ""},
		"wholly north":                  {south, Case{MostNorth: 65, MostSouth: 60.1}, limit.No, ""},
		"partly south":                  {south, Case{MostNorth: 65, MostSouth: 59.9}, limit.Yes, ""},
	} {
		got, hangs := tc.row.Binds(tc.asked)
		if got != tc.want || tc.want == limit.Perhaps && !slices.Contains(say.Strings(hangs), tc.hangs) || tc.want == limit.Yes && len(hangs) > 0 {
			t.Errorf("%s: %v, %q; want %v, %q", name, got, hangs, tc.want, tc.hangs)
		}
	}
}

// More mass, or a mass that is no longer known, never frees anybody.
func TestMoreMassNeverFrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mass := rapid.Int64Range(1, 20_000)
		r := Row{Inclusive: rapid.Bool().Draw(t, "inclusive")}
		if rapid.Bool().Draw(t, "of the unit") {
			r.UnitOver = kg(mass.Draw(t, "unit over"))
		} else {
			r.RigOver = kg(mass.Draw(t, "rig over"))
		}
		unit, rig := measure.Exactly(*kg(mass.Draw(t, "unit"))), measure.Exactly(*kg(mass.Draw(t, "rig")))
		light := Case{Unit: unit, Rig: rig}
		heavy := Case{Unit: measure.Sum(unit, measure.Given(kg(mass.Draw(t, "more unit")))), Rig: measure.Sum(rig, measure.Given(kg(mass.Draw(t, "more rig"))))}
		a, _ := r.Binds(light)
		b, _ := r.Binds(heavy)
		unknown, _ := r.Binds(Case{})
		atLeast, _ := rig.Least()
		least, _ := r.Binds(Case{Unit: unit, Rig: measure.AtLeast(atLeast)})
		if b < a || unknown == limit.No || least < a {
			t.Fatalf("light %v, heavy %v, not known %v, at least %v", a, b, unknown, least)
		}
	})
}

// Whatever is read keeps to what the topics say, and is written as it was read.
func FuzzReadCSV(f *testing.F) {
	f.Add(csvOf(f, hoursRow(nil), massRow(nil)))
	f.Add(csvOf(f, hoursRow(cells{"topic": "cycle", "days": "7", "north_of": "60"})))
	f.Add(csvOf(f, hoursRow(cells{"hours": "1e3"}), massRow(cells{"rig_over": "26,000 lb"})))
	f.Add([]byte("id\n"))
	f.Add([]byte(nil))
	f.Fuzz(func(t *testing.T, raw []byte) {
		read, records, err := Table().ReadCSV(raw)
		if err != nil {
			return
		}
		for _, r := range read {
			if r.OfHours() != (r.Hours > 0 || r.Free) || (r.Topic == Cycle && !r.Free) != (r.Days > 0) || !r.OfHours() && !r.Worded && r.UnitOver == nil && r.RigOver == nil || r.Demand == "" || r.Source == "" {
				t.Errorf("%+v", r)
			}
			r.Binds(Case{})
		}
		var out bytes.Buffer
		if err := Table().WriteCSV(&out, records); err != nil {
			t.Fatal(err)
		}
		if again, err := Table().Records(out.Bytes()); err != nil || !slices.EqualFunc(records, again, slices.Equal) {
			t.Errorf("%q, then %q, %v", records, again, err)
		}
	})
}
