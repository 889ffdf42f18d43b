package permit

import (
	"slices"
	"strings"
	"testing"
	"time"

	"wayhouse/regs/limit"
)

func contactOf(changes map[string]string) (Contact, error) {
	cells := map[string]string{
		"id": "k", "jurisdiction": "CA-XX", "asked": "may it pass", "asked_on": "2027-05-01", "answered_by": "A person", "answered_on": "2027-05-02",
		"outcome": "clear", "settles": "width; road owner", "height": "4.1 m", "width": "3.5 m", "length": "20 m", "mass": "12 t", "valid_from": "2027-05-03", "expires_on": "2027-06-21",
	}
	for column, text := range changes {
		cells[column] = text
	}
	return Contacts().Row(1, record(Contacts(), cells))
}

func TestReadContact(t *testing.T) {
	for name, cells := range map[string]map[string]string{
		"settled":               {},
		"no answer yet":         {"answered_by": "", "answered_on": "", "outcome": "", "settles": ""},
		"conditional":           {"outcome": "conditional", "condition": "with an escort"},
		"refused without sizes": {"outcome": "forbidden", "height": "", "width": "", "length": "", "mass": ""},
		"by mass":               {"settles": "gross_mass", "height": "", "width": "", "length": ""},
		"by a length":           {"settles": "combination_length escorts", "height": "", "width": "", "mass": ""},
		"by another length":     {"settles": "trailer_length", "trailer_length": "12 m", "height": "", "width": "", "length": "", "mass": ""},
		"escorts":               {"settles": "width escorts; height; hours"},
		"one day":               {"valid_from": "2027-06-21"},
	} {
		if _, err := contactOf(cells); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, tc := range map[string]struct {
		cells map[string]string
		says  string
	}{
		"nobody answered":          {map[string]string{"answered_by": ""}, "answered_on"},
		"never answered":           {map[string]string{"answered_on": ""}, "answered_on"},
		"settles without answer":   {map[string]string{"outcome": ""}, "settles"},
		"settles what is no rule":  {map[string]string{"settles": "width; colour"}, "colour"},
		"unknown is no answer":     {map[string]string{"outcome": "unknown"}, "outcome"},
		"conditional on nothing":   {map[string]string{"outcome": "conditional"}, "condition"},
		"clear under a condition":  {map[string]string{"condition": "with an escort"}, "condition"},
		"settles loads of axles":   {map[string]string{"settles": "tandem_mass"}, "tandem_mass"},
		"clear of any size":        {map[string]string{"settles": "width", "width": ""}, "column width"},
		"review of any size":       {map[string]string{"settles": "width", "width": "", "outcome": "review"}, "column width"},
		"a condition of any size":  {map[string]string{"settles": "width escorts", "width": "", "outcome": "conditional", "condition": "with an escort"}, "column width"},
		"of another length":        {map[string]string{"settles": "trailer_length"}, "column trailer_length"},
		"the owner, of any height": {map[string]string{"settles": "road owner", "height": ""}, "column height"},
		"the owner, of any width":  {map[string]string{"settles": "road owner", "width": ""}, "column width"},
		"hours of any length":      {map[string]string{"settles": "hours", "length": ""}, "column length"},
		"hours of any mass":        {map[string]string{"settles": "hours", "mass": ""}, "column mass"},
		"expires before it begins": {map[string]string{"expires_on": "2027-05-02"}, "expires_on"},
		"asked nothing":            {map[string]string{"asked": ""}, "asked"},
	} {
		if k, err := contactOf(tc.cells); err == nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: %+v, %v; want an error that names %s", name, k, err, tc.says)
		}
	}
}

// What an answer can state the size of can be settled, and its escorts, the
// owner and the hours; nothing else.
func TestRules(t *testing.T) {
	rules := Rules()
	stated := []limit.Quantity{limit.Height, limit.Width, limit.CombinationLength, limit.TrailerLength, limit.GrossMass}
	for _, q := range limit.Quantities() {
		if can := slices.Contains(stated, q); slices.Contains(rules, string(q)) != can || slices.Contains(rules, string(q)+" escorts") != can {
			t.Errorf("%s can be settled, or cannot", q)
		}
	}
	if !slices.Contains(rules, "road owner") || !slices.Contains(rules, "hours") || len(rules) != 2+2*len(stated) {
		t.Errorf("%q", rules)
	}
	all := []limit.Quantity{limit.Height, limit.Width, limit.CombinationLength, limit.GrossMass}
	for rule, want := range map[string][]limit.Quantity{
		"road owner": all, "hours": all, "width": {limit.Width}, "width escorts": {limit.Width}, "trailer_length": {limit.TrailerLength},
	} {
		if got := Needs(rule); !slices.Equal(got, want) {
			t.Errorf("%s needs %v, want %v", rule, got, want)
		}
	}
}

// Days of an entry are those of the place, both included; the whole way must lie
// in them.
func TestContactHolds(t *testing.T) {
	k, err := contactOf(nil)
	if err != nil {
		t.Fatal(err)
	}
	zone := time.FixedZone("CDT", -5*3600)
	at := func(text string) time.Time {
		v, err := time.ParseInLocation("2006-01-02 15:04", text, zone)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for _, tc := range []struct {
		from, to string
		want     bool
	}{
		{"2027-05-02 23:59", "2027-05-03 01:00", false}, {"2027-05-03 00:00", "2027-05-03 01:00", true}, {"2027-06-21 22:00", "2027-06-21 23:59", true},
		{"2027-06-21 22:00", "2027-06-22 00:00", false}, {"2027-05-02 08:00", "2027-06-22 08:00", false},
	} {
		if got := k.Holds(at(tc.from), at(tc.to)); got != tc.want {
			t.Errorf("from %s to %s: %v", tc.from, tc.to, got)
		}
	}
	for _, tc := range []struct {
		from, to string
		want     bool
	}{
		{"2027-05-02 08:00", "2027-05-02 23:59", false}, {"2027-05-02 08:00", "2027-05-03 00:00", true}, {"2027-06-21 23:59", "2027-06-25 08:00", true},
		{"2027-06-22 00:00", "2027-06-25 08:00", false}, {"2027-05-01 08:00", "2027-07-01 08:00", true},
	} {
		if got := k.Meets(at(tc.from), at(tc.to)); got != tc.want {
			t.Errorf("on some day from %s to %s: %v", tc.from, tc.to, got)
		}
	}
	k.From, k.Expires = time.Time{}, time.Time{}
	if !k.Holds(at("1990-01-01 00:00"), at("2090-01-01 00:00")) {
		t.Error("without days it does not hold")
	}
}
