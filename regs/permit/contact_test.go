package permit

import (
	"slices"
	"strings"
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/roads"
	"wayhouse/regs/say"
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
	stated := []limit.Quantity{limit.Height, limit.Width, limit.CombinationLength, limit.TrailerLength, limit.GrossMass, limit.FrontOverhang, limit.RearOverhang}
	for _, q := range limit.Quantities() {
		if can := slices.Contains(stated, q); slices.Contains(rules, finding.Rule(q)) != can || slices.Contains(rules, finding.Rule(q)+" escorts") != can {
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
		if got := Needs(finding.Rule(rule)); !slices.Equal(got, want) {
			t.Errorf("%s needs %v, want %v", rule, got, want)
		}
	}
}

// A table that was written before entries had overhangs, kind, use and roads is
// read as it was: such an entry is about any.
func TestContactsOfFewerColumns(t *testing.T) {
	const older = "id,jurisdiction,asked,asked_on,answered_by,answered_on,outcome,settles,condition,height,width,length,trailer_length,mass," +
		"reference,permit_number,document,valid_from,expires_on,note\n" +
		"k,CA-XX,may it pass,2027-05-01,A person,2027-05-02,clear,width,,,3.5 m,,,,,,,,,\n"
	list, records, err := Contacts().ReadCSV([]byte(older))
	if err != nil || len(list) != 1 || len(records[0]) != len(Contacts().Columns) {
		t.Fatalf("%+v, %v", list, err)
	}
	k := list[0]
	if applies, hangs := k.About(limit.Subject{}); applies != limit.Yes || len(hangs) > 0 {
		t.Errorf("about any rig: %v, %q", applies, hangs)
	}
	if some, all := k.Over(nil); some != limit.Yes || !all {
		t.Errorf("on any road: %v, %v", some, all)
	}
	if !slices.Equal(k.Stated(), []limit.Quantity{limit.Width}) || len(k.Meant()) != 0 {
		t.Errorf("%+v", k)
	}
}

// An entry is about the kind, the use and the roads that it names.
func TestContactsNameKindUseAndRoads(t *testing.T) {
	k, err := contactOf(map[string]string{"kind": "tiny_home", "use": "private", "roads": "ref=7|17", "rear_overhang": "2 m"})
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		subject limit.Subject
		want    limit.Applies
	}{
		{limit.Subject{Kind: limit.TinyHome, Use: limit.Private}, limit.Yes}, {limit.Subject{Kind: limit.TinyHome}, limit.Perhaps},
		{limit.Subject{Kind: limit.TinyHome, Use: limit.Commercial}, limit.No}, {limit.Subject{Kind: limit.ManufacturedHome, Use: limit.Private}, limit.No},
		{limit.Subject{Use: limit.Private}, limit.Perhaps},
	} {
		if got, hangs := k.About(tc.subject); got != tc.want || (got == limit.Perhaps) != (len(hangs) > 0) {
			t.Errorf("%+v: %v, %q; want %v", tc.subject, got, hangs, tc.want)
		}
	}
	if some, all := k.Over([]roads.Road{{Refs: []string{"7"}}, {Refs: []string{"8"}}}); some != limit.Yes || all {
		t.Errorf("on one of two: %v, %v", some, all)
	}
	if got := k.Stated(); !slices.Contains(got, limit.RearOverhang) || !slices.Equal(k.Meant(), []say.Term{limit.TinyHome, limit.Private}) {
		t.Errorf("%v, %q", got, k.Meant())
	}
	for column, text := range map[string]string{"kind": "car", "use": "trade", "rear_overhang": "2"} {
		if _, err := contactOf(map[string]string{column: text}); err == nil || !strings.Contains(err.Error(), "column "+column) {
			t.Errorf("%s %q: %v", column, text, err)
		}
	}
}
