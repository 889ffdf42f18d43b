package regs

import (
	"slices"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/window"
)

// travelling are tables in which a manufactured home over 4.16 m takes a permit, whose hours
// are weekdays by the sun, and all are kept off the roads around noon.
func travelling(t *testing.T, calendar ...window.Holiday) *Tables {
	home := read(t, map[string]string{"kind": "manufactured_home", "permit": "yes"})
	return NewTables("test", Rows{Limits: []*limit.Row{&home}, Hours: pointers([]window.Hours{
		hoursRow(t, map[string]string{"open": "Mo-Fr (sunrise-00:30)-(sunset+00:30); PH off"}),
		hoursRow(t, map[string]string{"id": "noon", "for": "all", "open": "00:00-11:30,12:15-24:00"}),
	}), Holidays: pointers(calendar)}, nil)
}

// A moment is open for planning exactly where Check forbids a minute of it by no hours, by
// the stricter of the suns at both ends; what it does not know for want of holidays is open
// if the list is right, and marked.
func TestTravelIsWhatCheckDoesNotForbid(t *testing.T) {
	tables, v := travelling(t, holiday(t, map[string]string{"status": "memory"})), high(430)
	place := leg(on("13:00"), winnipeg, east)
	from := on("00:00").AddDate(0, 0, -3)
	until := from.AddDate(0, 0, 10)
	travel := tables.Travel(v, place, from, until)
	marked := 0
	for at := from; at.Before(until); at = at.Add(7 * time.Minute) {
		place.Until = at.Add(time.Minute)
		forbids, unknown := false, false
		for _, f := range tables.Check(v, place, at) {
			if f.Topic == finding.Hours {
				forbids, unknown = forbids || f.Outcome == finding.Forbidden, unknown || f.Outcome == finding.Unknown
			}
		}
		i := slices.IndexFunc(travel.Open, func(s window.Stretch) bool { return !at.Before(s.From) && at.Before(s.To) })
		if (i >= 0) == forbids {
			t.Fatalf("%s: open %v, forbidden %v", at, i >= 0, forbids)
		}
		if i >= 0 && travel.Open[i].IfListed != unknown {
			t.Fatalf("%s: marked %v, unknown %v", at, travel.Open[i].IfListed, unknown)
		}
		if i >= 0 && unknown {
			marked++
		}
	}
	if marked == 0 || len(travel.Rules) != 2 {
		t.Errorf("%d moments hang on the list, %d rules", marked, len(travel.Rules))
	}
}

// Without a permit only what binds everyone takes hours away, and where nothing does there
// is nothing to keep to.
func TestTravelOfWhomNothingBinds(t *testing.T) {
	from := on("00:00")
	low := travelling(t).Travel(high(400), leg(from, winnipeg), from, from.AddDate(0, 0, 1))
	if len(low.Rules) != 1 || len(low.Open) != 2 {
		t.Errorf("of a low one: %+v", low)
	}
	if free := withHours().Travel(high(430), leg(from, winnipeg), from, from.AddDate(0, 0, 60)); free.Open != nil || free.Rules != nil {
		t.Errorf("without rows: %+v", free)
	}
}

// Two months of hours by the sun and holidays take no longer than a plan can spare.
func BenchmarkTravel(b *testing.B) {
	rule := hoursRow(b, map[string]string{"for": "all", "open": "Mo-Fr (sunrise-00:30)-(sunset+00:30); PH off"})
	day := holiday(b, nil)
	tables := NewTables("test", Rows{Hours: []*window.Hours{&rule}, Holidays: []*window.Holiday{&day}}, nil)
	from := on("00:00")
	for b.Loop() {
		tables.Travel(high(430), leg(from, winnipeg, orb.Point{-80, 45}), from, from.AddDate(0, 0, 60))
	}
}
