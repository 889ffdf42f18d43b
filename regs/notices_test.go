package regs

import (
	"strings"
	"testing"
	"time"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/roads"
)

// notice reads a notice of CA-XX (invented) for June.
func notice(t fataler, changes map[string]string) clearance.Notice {
	t.Helper()
	return readCells(t, clearance.Notices(), map[string]string{
		"id": "notice", "jurisdiction": "CA-XX", "place": "km 12 of a road", "text": "works", "valid_from": "2027-06-20", "valid_to": "2027-06-22",
		"status": "published", "source": "a bulletin", "read_on": "2027-06-01",
	}, changes)
}

// A notice binds on its days, both included, and on roads that it may mean. A
// person must read where it is, so it is for review at best.
func TestNoticesBind(t *testing.T) {
	interstate := []roads.Road{{Refs: []string{"I 5"}}}
	for _, tc := range []struct {
		name  string
		cells map[string]string
		roads []roads.Road
		from  time.Time
		stay  time.Duration
		want  finding.Outcome // "" where it does not bind
	}{
		{"on its days", nil, nil, on("12:00"), time.Hour, finding.Review},
		{"first day", nil, nil, on("00:00").AddDate(0, 0, -1), time.Hour, finding.Review},
		{"last day", nil, nil, on("23:00").AddDate(0, 0, 1), 30 * time.Minute, finding.Review},
		{"the day before", nil, nil, on("12:00").AddDate(0, 0, -2), time.Hour, ""},
		{"the day after", nil, nil, on("12:00").AddDate(0, 0, 2), time.Hour, ""},
		{"from the day before into it", nil, nil, on("23:00").AddDate(0, 0, -2), 2 * time.Hour, finding.Review},
		{"without days", map[string]string{"valid_from": "", "valid_to": ""}, nil, on("12:00"), time.Hour, finding.Review},
		{"on the road", map[string]string{"roads": "ref=I *"}, interstate, on("12:00"), time.Hour, finding.Review},
		{"on another road", map[string]string{"roads": "ref=US *"}, interstate, on("12:00"), time.Hour, ""},
		{"roads not known", map[string]string{"roads": "ref=I *"}, nil, on("12:00"), time.Hour, finding.Review},
		{"roads in words", map[string]string{"roads": "all of the valley"}, interstate, on("12:00"), time.Hour, finding.Review},
		{"elsewhere", map[string]string{"jurisdiction": "CA-YY"}, nil, on("12:00"), time.Hour, ""},
	} {
		n := notice(t, tc.cells)
		place := leg(tc.from.Add(tc.stay), winnipeg)
		place.Roads = tc.roads
		f, ok := by(NewTables("test", Rows{Notices: []*clearance.Notice{&n}}, nil).Check(high(400), place, tc.from), "notice")
		if f.Outcome != tc.want || ok != (tc.want != "") || ok && (whom(f) == "" || f.Place.String() != "km 12 of a road" || !strings.Contains(says(f), "notice.perhaps(")) {
			t.Errorf("%s: %v, %s, %q; want %s", tc.name, ok, f.Outcome, says(f), tc.want)
		}
	}
}

// What a notice limits is compared with the rig and said; of a least value only
// that it is beyond.
func TestNoticesCompare(t *testing.T) {
	n := notice(t, map[string]string{"height": "4.2 m", "closed": "yes", "status": "invented"})
	tables := NewTables("test", Rows{Notices: []*clearance.Notice{&n}}, nil)
	for _, tc := range []struct {
		v    Vehicle
		says string
	}{
		{high(420), "notice.within(quantity: height, most: 4.2 m"}, {high(421), "notice.beyond(quantity: height"}, {Vehicle{}, "notice.size_open(quantity: height"},
		{Vehicle{Measures: map[limit.Quantity]Measure{limit.Height: measure.AtLeast(4 * metre)}}, "notice.size_open(quantity: height"},
		{Vehicle{Measures: map[limit.Quantity]Measure{limit.Height: measure.AtLeast(5 * metre)}}, "notice.beyond(quantity: height"},
	} {
		f, _ := by(tables.Check(tc.v, leg(on("13:00"), winnipeg), on("12:00")), "notice")
		if f.Outcome != finding.Review || !strings.Contains(says(f), tc.says) || !strings.Contains(says(f), "notice.closed") || !f.Invented {
			t.Errorf("%s, %q, invented %v; want one that says %q", f.Outcome, says(f), f.Invented, tc.says)
		}
	}
}
