package parts

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
)

// record is a good row with some cells changed.
func record(change map[string]string) rows.Record {
	cells := map[string]string{
		"id": "a-part", "name": "a part", "group": "wall", "per": "m2", "low": "1 kg", "typical": "2 kg", "high": "3 kg",
		"status": "memory", "source": "made up",
	}
	for column, value := range change {
		cells[column] = value
	}
	var out rows.Record
	for _, column := range Table().Columns {
		out = append(out, cells[column])
	}
	return out
}

func csvOf(t testing.TB, records ...rows.Record) []byte {
	t.Helper()
	var out strings.Builder
	if err := Table().WriteCSV(&out, records); err != nil {
		t.Fatal(err)
	}
	return []byte(out.String())
}

func TestReadRow(t *testing.T) {
	got, err := Table().Row(1, record(map[string]string{
		"id": "wall-x", "low": "6 lb", "typical": "7 lb", "high": "8.5 kg", "published": "7 lb", "note": "n", "status": "secondary", "section": "s", "read_on": "2026-11-26",
	}))
	if err != nil {
		t.Fatal(err)
	}
	if got.ID != "wall-x" || got.Name != "a part" || got.Group != Wall || got.Per != SquareMetre || got.Published != "7 lb" || got.Note != "n" {
		t.Errorf("%+v", got)
	}
	if got.Low != 6*measure.Pound || got.Typical != 7*measure.Pound || got.High != 8*measure.Kilogram+measure.Kilogram/2 {
		t.Errorf("masses %v, %v, %v", got.Low, got.Typical, got.High)
	}
	if got.Status != finding.Secondary || got.Cite() != "made up, s" || got.ReadOn.IsZero() {
		t.Errorf("proof %+v", got.Proof)
	}
}

// Good and bad side by side: each bad row names its line, its column and what
// is wrong.
func TestReadRowBad(t *testing.T) {
	for name, tc := range map[string]struct {
		good, bad    map[string]string
		column, says string
	}{
		"order below":      {map[string]string{"low": "2 kg"}, map[string]string{"low": "2.0001 kg"}, "low", "error.above_typical"},
		"order above":      {map[string]string{"high": "2 kg"}, map[string]string{"high": "1.9999 kg"}, "high", "error.below_typical"},
		"zero":             {map[string]string{"low": "0.001 kg"}, map[string]string{"low": "0 kg"}, "low", "error.zero"},
		"negative":         {nil, map[string]string{"low": "-1 kg"}, "low", "error.negative"},
		"no low":           {nil, map[string]string{"low": ""}, "low", "error.empty"},
		"no typical":       {nil, map[string]string{"typical": ""}, "typical", "error.empty"},
		"no high":          {nil, map[string]string{"high": ""}, "high", "error.empty"},
		"no unit":          {nil, map[string]string{"typical": "2"}, "typical", "error.no_unit"},
		"not a number":     {nil, map[string]string{"high": "NaN kg"}, "high", "error.not_a(quantity: mass)"},
		"infinite":         {nil, map[string]string{"high": "Inf kg"}, "high", "error.not_a(quantity: mass)"},
		"too heavy":        {map[string]string{"high": "1000000 t"}, map[string]string{"high": "1000001 t"}, "high", "error.absurdly_large"},
		"low of layers":    {map[string]string{"layers": "first", "low": "", "typical": "", "high": ""}, map[string]string{"layers": "first"}, "low", "error.stands_beside_layers"},
		"layers by the m":  {nil, map[string]string{"layers": "first", "low": "", "typical": "", "per": "m"}, "per", "error.layers_not_by_m2"},
		"group":            {map[string]string{"group": "goods"}, map[string]string{"group": "walls"}, "group", "error.not_known"},
		"no group":         {nil, map[string]string{"group": ""}, "group", "error.not_known"},
		"unit":             {map[string]string{"per": "L"}, map[string]string{"per": "l"}, "per", "error.not_known"},
		"no name":          {nil, map[string]string{"name": " "}, "name", "error.empty"},
		"no source":        {nil, map[string]string{"source": ""}, "source", "error.empty"},
		"no status":        {nil, map[string]string{"status": ""}, "status", "error.not_known"},
		"capitals":         {map[string]string{"id": "wall-2x4"}, map[string]string{"id": "Wall-2x4"}, "id", "error.no_id_of_a"},
		"two dashes":       {map[string]string{"id": "a-b"}, map[string]string{"id": "a--b"}, "id", "error.no_id_of_a"},
		"dash at the end":  {nil, map[string]string{"id": "a-"}, "id", "error.no_id_of_a"},
		"recalled, quoted": {nil, map[string]string{"published": "8 psf"}, "published", "error.stands_in_a_row"},
		"made up, quoted":  {map[string]string{"status": "invented"}, map[string]string{"status": "invented", "published": "8 psf"}, "published", "error.stands_in_a_row"},
		"read, not quoted": {map[string]string{"status": "secondary", "published": "8 psf"}, map[string]string{"status": "secondary"}, "published", "error.empty_in_a_row"},
		"published, empty": {map[string]string{"status": "published", "published": "8 psf"}, map[string]string{"status": "published"}, "published", "error.empty_in_a_row"},
		"by the user":      {map[string]string{"status": "verified"}, map[string]string{"status": "weighed"}, "status", "error.not_known"},
	} {
		first := record(map[string]string{"id": "first"})
		if _, err := Read(csvOf(t, first, record(tc.good))); err != nil {
			t.Errorf("%s: the good one: %v", name, err)
		}
		got, err := Read(csvOf(t, first, record(tc.bad)))
		var cell *rows.CellError
		if got != nil || !errors.As(err, &cell) || cell.Line != 3 || cell.Column != tc.column || !strings.Contains(cell.Problem.String(), tc.says) {
			t.Errorf("%s: %v, want line 3, column %s: %s", name, err, tc.column, tc.says)
		}
	}
}

// Every group and every unit named in the package is listed, and no other.
func TestLists(t *testing.T) {
	for _, g := range Groups() {
		if _, err := Table().Row(1, record(map[string]string{"group": string(g)})); err != nil {
			t.Errorf("%s: %v", g, err)
		}
	}
	for _, u := range Units() {
		if _, err := Table().Row(1, record(map[string]string{"per": string(u)})); err != nil {
			t.Errorf("%s: %v", u, err)
		}
	}
	if groups := Groups(); len(groups) != 18 || len(slices.Compact(slices.Sorted(slices.Values(groups)))) != 18 {
		t.Errorf("groups %v", groups)
	}
	if units := Units(); len(units) != 5 || len(slices.Compact(slices.Sorted(slices.Values(units)))) != 5 {
		t.Errorf("units %v", units)
	}
}

// The same masses in pounds and in kilograms are the same part.
func TestUnitsOfMass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.IntRange(1, 500).Draw(t, "low")
		typical := low + rapid.IntRange(0, 500).Draw(t, "more")
		high := typical + rapid.IntRange(0, 500).Draw(t, "most")
		lb := func(n int) string { return fmt.Sprintf("%d lb", n) }
		kg := func(n int) string {
			return fmt.Sprintf("%d.%08d kg", n*int(measure.Pound)/int(measure.Kilogram), n*int(measure.Pound)%int(measure.Kilogram))
		}
		a, err := Table().Row(1, record(map[string]string{"low": lb(low), "typical": lb(typical), "high": lb(high)}))
		b, errB := Table().Row(1, record(map[string]string{"low": kg(low), "typical": kg(typical), "high": kg(high)}))
		if err := errors.Join(err, errB); err != nil || a != b {
			t.Fatalf("%+v and %+v, %v", a, b, err)
		}
	})
}
