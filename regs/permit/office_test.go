package permit

import (
	"strings"
	"testing"

	"wayhouse/data"
)

const head = "id,jurisdiction,name,contact,status,source,section,source_year,source_url,read_on\n"

func TestShippedFileIsRead(t *testing.T) {
	raw, err := data.Files.ReadFile("tables/offices.csv")
	if err != nil {
		t.Fatal(err)
	}
	offices, records, err := Offices().ReadCSV(raw)
	if err != nil || len(offices) != 27 || len(records) != 27 {
		t.Fatalf("%d offices from %d records, %v; want 27", len(offices), len(records), err)
	}
	of := map[string]string{}
	for _, o := range offices {
		if o.Jurisdiction == "" || o.Name == "" || o.Source == "" {
			t.Errorf("office %+v", o)
		}
		if other, ok := of[o.Jurisdiction]; ok {
			t.Errorf("%s and %s are of %s: one of the two is never named", other, o.ID, o.Jurisdiction)
		}
		of[o.Jurisdiction] = o.ID
	}
}

func TestReadOffices(t *testing.T) {
	got, _, err := Offices().ReadCSV([]byte(head + "x-1,CA-XX,An office,555,published,A text,s. 1,2020,,2026-11-25\n"))
	if err != nil || len(got) != 1 || got[0].Name != "An office" || got[0].Contact != "555" || got[0].Cite() != "A text, s. 1, 2020" {
		t.Errorf("%+v, %v", got, err)
	}
	got, _, err = Offices().ReadCSV([]byte(head + "x-1,CA-XX,An office,,memory,A text,,,,\n"))
	if err != nil || len(got) != 1 || got[0].Name != "An office" || got[0].Contact != "" || got[0].Cite() != "A text" {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestReadOfficesBad(t *testing.T) {
	for name, tc := range map[string]struct{ text, says string }{
		"no head":         {"", "error.head_empty"},
		"another head":    {"jurisdiction,office\nCA-XX,An office\n", "error.head_strange(columns: [office])"},
		"the former head": {"jurisdiction,authority,contact,source,section,source_year,read_on\nCA-XX,An office,555,A text,s. 1,2020,\n", "fix.head(head: id,"},
		"no id":           {head + ",CA-XX,An office,555,published,A text,,,,\n", "line 2, column id"},
		"id twice":        {head + "x-1,CA-XX,An office,555,published,A text,,,,\nx-1,CA-YY,An office,555,published,A text,,,,\n", "line 3, column id"},
		"no jurisdiction": {head + "x-1,,An office,555,published,A text,,,,\n", "line 2, column jurisdiction"},
		"no office":       {head + "x-1,CA-XX,,555,published,A text,,,,\n", "line 2, column name"},
		"no status":       {head + "x-1,CA-XX,An office,555,,A text,,,,\n", "line 2, column status"},
		"no source":       {head + "x-1,CA-XX,An office,555,published,,,,,\n", "line 2, column source"},
		"no day":          {head + "x-1,CA-XX,An office,555,published,A text,,,,25.11.2026\n", "line 2, column read_on"},
	} {
		got, records, err := Offices().ReadCSV([]byte(tc.text))
		if err == nil || got != nil || records != nil || !strings.Contains(err.Error(), "offices: ") || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: %d offices, %v; want none and an error that says %q", name, len(got), err, tc.says)
		}
	}
}
