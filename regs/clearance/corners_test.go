package clearance

import (
	"strings"
	"testing"
	"time"

	"wayhouse/regs/finding"
)

// A reading that grows stale while the rig may still come by clears no mass and
// no width on a bridge, as it clears no height, and a letter opens nothing.
func TestStaleOnTheWay(t *testing.T) {
	soonOld := func(s *Structure) { s.ReadOn = june.Add(-term + 48*time.Hour) }
	for name, s := range map[string]Structure{"width": thing(graded(On), wide(2900), soonOld), "mass": thing(graded(On), carries(9000), soonOld)} {
		if p, _ := Through(s, plainCase()); p.Outcome != finding.Unknown {
			t.Errorf("%s: %s, want unknown", name, p.Outcome)
		}
	}
	l := letter(4000, func(l *Letter) { l.ReadOn = june.Add(-term + 48*time.Hour) })
	if p, _ := Through(thing(signed(3900)), plainCase(func(c *Case) { c.Letters = []*Letter{l} })); p.Outcome != finding.Forbidden {
		t.Errorf("letter: %s, want forbidden", p.Outcome)
	}
}

// In doubt about the road, too, a taller rig never gets the milder answer.
func TestDoubtIsMonotone(t *testing.T) {
	s := thing(signed(4100), doubted("two roads are near"))
	low, _ := Through(s, plainCase(reviewed))
	tall, _ := Through(s, plainCase(reviewed, high(4200)))
	if low.Outcome == finding.Review && tall.Outcome != finding.Review {
		t.Errorf("0.1 m to spare is %s, 0.1 m too little %s", low.Outcome, tall.Outcome)
	}
}

// Of two roads below a bridge the height of item 54 may be over either: a row
// that names one of them takes it off the other.
func TestInventoryTwoRoadsBelow(t *testing.T) {
	for _, text := range []string{"US 9 & I-87             ", "I-87, US 9              ", "I-87 AND I-787          "} {
		_, all := takenFrom(t, record(t, overpass, "6A", text))
		var roads []string
		doubt := false
		for _, s := range all {
			roads, doubt = append(roads, s.Road), doubt || s.Doubt != ""
		}
		if len(all) < 2 && !doubt {
			t.Errorf("%q: bound to %s alone", text, strings.Join(roads, ", "))
		}
	}
}
