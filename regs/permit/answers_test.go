package permit

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
)

// answered is an entry of the log in which an office answers for a height, a
// width, a length and a mass, with some cells replaced; it is invented.
func answered(change map[string]string) (Contact, error) {
	cells := map[string]string{
		"id": "k", "jurisdiction": "CA-XX", "asked": "whether it may pass", "asked_on": "2027-04-01", "answered_by": "A. Clerk", "answered_on": "2027-04-03",
		"outcome": "clear", "settles": "height; road owner", "height": "4.3 m", "width": `8'6"`, "length": "25 m", "mass": "63 500 kg",
	}
	for column, value := range change {
		cells[column] = value
	}
	return Contacts().Row(1, record(Contacts(), cells))
}

func TestReadAnswer(t *testing.T) {
	k, err := answered(map[string]string{
		"trailer_length": "12.5 m", "reference": "file 7", "permit_number": "P-1", "document": "mail", "valid_from": "2027-05-01", "expires_on": "2027-05-31", "note": "a note",
	})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(k.Settles, []finding.Rule{"height", "road owner"}) || k.Outcome != finding.Clear || k.PermitNumber != "P-1" || k.AnsweredOn.Day() != 3 || k.From.Day() != 1 || k.Expires.Day() != 31 || k.Note != "a note" {
		t.Errorf("read %+v", k)
	}
	for q, want := range map[limit.Quantity]limit.Amount{
		limit.Height: limit.Amount(4300 * measure.Millimetre), limit.Width: limit.Amount(102 * measure.Inch), limit.CombinationLength: limit.Amount(25 * measure.Metre),
		limit.TrailerLength: limit.Amount(12500 * measure.Millimetre), limit.GrossMass: limit.Amount(63500 * measure.Kilogram),
	} {
		if got, ok := k.Sizes[q]; !ok || got != want {
			t.Errorf("up to %v of %s, %v", got, q, ok)
		}
	}
	if _, ok := k.Sizes[limit.RearOverhang]; ok {
		t.Error("it answers for an overhang")
	}
	for name, change := range map[string]map[string]string{
		"asked and not yet answered":     {"answered_by": "", "answered_on": "", "outcome": "", "settles": ""},
		"an answer that settles no rule": {"settles": "", "height": "", "width": ""},
		"a refusal, whatever the size":   {"outcome": "forbidden", "height": "", "width": "", "length": "", "mass": ""},
		"on a condition":                 {"outcome": "conditional", "condition": "in daylight"},
		"of escorts and hours":           {"settles": "width escorts; hours"},
		"one size alone":                 {"settles": "width; width escorts", "height": "", "length": "", "mass": ""},
		"a review":                       {"outcome": "review"},
		"for one day":                    {"valid_from": "2027-05-01", "expires_on": "2027-05-01"},
	} {
		if _, err := answered(change); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// An answer that settles a rule says up to which size; that whose road it is, or
// when it may be used, hangs on all of them.
func TestAnswersNameTheirSizes(t *testing.T) {
	for _, tc := range []struct{ settles, without, column string }{
		{"height", "height", "height"}, {"height escorts", "height", "height"}, {"width", "width", "width"}, {"combination_length", "length", "length"},
		{"trailer_length", "", "trailer_length"}, {"gross_mass", "mass", "mass"}, {"road owner", "mass", "mass"}, {"hours", "length", "length"}, {"road owner", "height", "height"},
	} {
		change := map[string]string{"settles": tc.settles}
		if tc.without != "" {
			change[tc.without] = ""
		}
		for _, outcome := range []string{"clear", "review"} {
			change["outcome"] = outcome
			_, err := answered(change)
			var cell *rows.CellError
			if !errors.As(err, &cell) || cell.Column != tc.column || !strings.Contains(cell.Fix.String(), "fix.say_up_to_which") {
				t.Errorf("%s %s without %s: %v", outcome, tc.settles, tc.without, err)
			}
		}
	}
	for _, rule := range Rules() {
		if len(Needs(rule)) == 0 {
			t.Errorf("%s hangs on no size", rule)
		}
	}
}

func TestReadAnswerBad(t *testing.T) {
	for name, tc := range map[string]struct {
		change map[string]string
		column string
		says   string
	}{
		"a rule that is none":             {map[string]string{"settles": "height; colour"}, "settles", "error.no_rule(rule: colour)"},
		"a rule of another name":          {map[string]string{"settles": "Height"}, "settles", "error.no_rule(rule: Height)"},
		"an outcome without who answered": {map[string]string{"answered_by": ""}, "answered_on", "fix.say_who_answered_and"},
		"an outcome without a day":        {map[string]string{"answered_on": ""}, "answered_on", "fix.say_who_answered_and"},
		"rules without an outcome":        {map[string]string{"outcome": ""}, "settles", "fix.leave_it_empty_until"},
		"a conditional one without":       {map[string]string{"outcome": "conditional"}, "condition", "fix.say_on_what_the"},
		"a clear one with a condition":    {map[string]string{"condition": "in daylight"}, "condition", "fix.make_the_outcome_conditional"},
		"an end before its start":         {map[string]string{"valid_from": "2027-05-02", "expires_on": "2027-05-01"}, "expires_on", "fix.check_both_days"},
		"unknown is no answer":            {map[string]string{"outcome": "unknown"}, "outcome", "fix.one_of(words: [ clear conditional"},
		"a height without a unit":         {map[string]string{"height": "4.3"}, "height", "unit"},
		"a mass that is a length":         {map[string]string{"mass": "4.3 m"}, "mass", ""},
		"nothing asked":                   {map[string]string{"asked": ""}, "asked", "fix.fill_it_in"},
		"no jurisdiction":                 {map[string]string{"jurisdiction": ""}, "jurisdiction", "fix.fill_it_in"},
		"a day that is none":              {map[string]string{"asked_on": "1 April"}, "asked_on", "fix.it_must_be_a_day"},
	} {
		_, err := answered(tc.change)
		var cell *rows.CellError
		if !errors.As(err, &cell) || cell.Column != tc.column || !strings.Contains(err.Error(), tc.says) || cell.Fix.None() {
			t.Errorf("%s: %v", name, err)
		}
	}
}
