package limit

import (
	"strings"
	"testing"

	"wayhouse/regs/measure"
)

func across(tires int, millimetres ...int) (out []Across) {
	for _, n := range millimetres {
		out = append(out, Across{Over: measure.Length(n) * measure.Millimetre, Tires: tires})
	}
	return out
}

// Quebec, Regulation on load and size standards for road vehicles, C-24.2, r. 31, s. 10
// (as amended D. 24-2013): every axle 2.5 m or more over its tire sidewalls, 2.45 m on
// 2 wide-base tires.
func TestConditionOverTires(t *testing.T) {
	const text = "every axle >= 2.5 m over tires, or >= 2.45 m on 2 wide-base tires"
	for name, tc := range map[string]struct {
		axles []Across
		want  Applies
	}{
		"not described":                 {nil, Perhaps},
		"all as wide":                   {across(4, 2500, 2600), Yes},
		"one a millimetre less":         {across(4, 2500, 2499), No},
		"one not known":                 {across(4, 2500, 0), Perhaps},
		"one not known, one surely not": {across(2, 0, 2200), No},
		"two tires, perhaps wide-base":  {across(2, 2450, 2500), Perhaps},
		"how many tires is not known":   {across(0, 2450), Perhaps},
		"four are no two":               {across(4, 2450), No},
		"too narrow for wide-base":      {across(2, 2449), No},
	} {
		for prefix, want := range map[string]Applies{"": tc.want, "unless ": Yes - tc.want} {
			test, err := parseTireTest(prefix + text)
			if err != nil {
				t.Fatal(err)
			}
			if got := test.Of(tc.axles); got != want {
				t.Errorf("%s%s: %d, want %d", prefix, name, got, want)
			}
		}
	}
	test, _ := parseTireTest("every axle >= 98.4 in over tires") // 2.49936 m, of no other kind
	if test.Of(across(2, 2500)) != Yes || test.Of(across(2, 2490)) != No {
		t.Error("without wide-base tires every axle is taken alike")
	}
}

func TestConditionsOverTiresAreRead(t *testing.T) {
	for _, words := range []string{"", "with air brakes", "every axle braked", "unless the load is wider"} {
		if test, err := parseTireTest(words); err != nil || test != (TireTest{}) {
			t.Errorf("%q: %+v, %v", words, test, err)
		}
	}
	for text, want := range map[string]string{
		"every axle >= 2.5 over tires":                                     "unit",
		"every axle >= 2.5 m":                                              "every axle >= 2.5 m over tires",
		"unless every axle >= 2.5 m over tires, or so":                     "every axle >= 2.5 m over tires",
		"every axle >= 2.5 m over tires, or >= 2.5 m on 2 wide-base tires": "parse_error.wide_base",
	} {
		if _, err := parseTireTest(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// The row that is settled says by what, and the table keeps its own.
func TestRowForTires(t *testing.T) {
	r := Row{Condition: "every axle >= 2.5 m over tires", Note: "incl. load"}
	r.Tires, _ = parseTireTest(r.Condition)
	said, ok := r.For(across(4, 2600))
	if !ok || said.Condition != "" || said.Note != r.Note || said.Met != r.Condition || r.Condition == "" {
		t.Errorf("%v: %+v", ok, said)
	}
	if said, ok := r.For(nil); !ok || said != &r {
		t.Errorf("not described: %v, %+v", ok, said)
	}
	if _, ok := r.For(across(4, 2400)); ok {
		t.Error("a row holds whose condition surely does not")
	}
}
