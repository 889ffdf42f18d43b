package trip

import (
	"testing"

	"wayhouse/regs/finding"
)

// A border between Canada and the United States asks for papers and for whoever is a
// carrier, of the country that is entered; one between provinces does not.
func TestABorderBetweenCountriesIsATask(t *testing.T) {
	for _, c := range []struct {
		first, second, papers, carriers string
	}{
		{"CA-ON", "US-NY", "US:customs", "US:carriers"},
		{"US-NY", "CA-ON", "CA:customs", "CA:carriers"},
		{"CA-ON", "CA-QC", "", ""},
	} {
		roads := fork(road{})
		for i := range roads {
			roads[i].code = c.first
		}
		roads[4].code = c.second
		p := plan(t, world(t, roads, nil), house())
		for rule, of := range map[finding.Rule]string{customsPapers: c.papers, carrierStatus: c.carriers} {
			found := byRule(p, string(rule))
			if of == "" {
				if len(found) > 0 {
					t.Errorf("%s to %s: %+v", c.first, c.second, found)
				}
				continue
			}
			if len(found) != 1 || found[0].Outcome != finding.Unknown || found[0].Jurisdiction != c.second {
				t.Fatalf("%s to %s: %+v", c.first, c.second, found)
			}
			if step := found[0].Settles[0][0]; step.By != finding.Office || step.Of != of || step.Whom.None() {
				t.Errorf("%s to %s: %+v", c.first, c.second, step)
			}
			if _, ok := p.Tasks().Find("office:" + of); !ok {
				t.Errorf("%s to %s: no task", c.first, c.second)
			}
		}
	}
}

// Legs within the reach of a border lie on both sides, and cross it once.
func TestABorderIsCrossedOnce(t *testing.T) {
	b := builder{plan: &Plan{Legs: []Leg{
		{Jurisdictions: []string{"CA-ON"}}, {Jurisdictions: []string{"CA-ON", "US-NY"}}, {Jurisdictions: []string{"US-NY"}},
		{Jurisdictions: []string{"US-PA"}}, {}, {Jurisdictions: []string{"CA-QC"}},
	}}}
	found := b.customs()
	if len(found) != 4 || found[0].Jurisdiction != "US-NY" || found[2].Jurisdiction != "CA-QC" {
		t.Errorf("%+v", found)
	}
}
