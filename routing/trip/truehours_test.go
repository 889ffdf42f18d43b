package trip

import (
	"testing"
	"time"

	"wayhouse/regs/finding"
)

// A road that is shut at certain hours counts at the hours of the timetable: one that would
// be open on a drive without a rest, and is shut after it, is gone round, and the other way
// about. The crew rests 8 h after every three minutes; the short road is come to after the first rest.
func TestRoadsAreShutAtTheHoursOfTheTimetable(t *testing.T) {
	for name, tc := range map[string]struct {
		shut  string
		rests bool
		want  string
	}{
		"at once, shut":           {"07:00-09:00", false, "long"},
		"at once, shut later":     {"15:00-23:00", false, "short"},
		"after a rest, shut then": {"15:00-23:00", true, "long"},
		"after a rest, shut now":  {"07:00-09:00", true, "short"},
	} {
		r := house()
		if tc.rests {
			r.Crew.Driving, r.Crew.Rest = 3*time.Minute, 8*time.Hour
		}
		p := plan(t, world(t, fork(road{signs: signs(access(everyone, refused).at(tc.shut))}), nil), r)
		takes(t, name, p, tc.want)
		for _, f := range p.Findings {
			if f.Topic == finding.Sign && (f.Outcome == finding.Review || f.Outcome == finding.Forbidden) {
				t.Errorf("%s: %+v", name, f)
			}
		}
		if (len(p.Legs) > 3) != tc.rests || p.Timetable == nil {
			t.Errorf("%s: %d legs", name, len(p.Legs))
		}
	}
}
