package trip

import (
	"slices"
	"testing"
	"time"

	"wayhouse/regs/say"
	"wayhouse/routing/trip/choosing"
)

// Whoever asks for an hour that clocks show twice, by the time zone database 01:30 of 2027-11-07
// in Toronto, is told which one is taken.
func TestAnHourShownTwiceIsSaid(t *testing.T) {
	night := time.Date(2027, 11, 7, 1, 30, 0, 0, time.UTC)
	for name, tc := range map[string]struct {
		change func(*Request)
		says   bool
	}{
		"departure": {func(r *Request) { r.Departure = night }, true},
		"deadline": {func(r *Request) {
			r.Departure, r.Stops[1].Visit.By = night.AddDate(0, 0, -1), choosing.Clock{At: night, Local: true}
		}, true},
		"another night": {func(r *Request) { r.Departure = night.AddDate(0, 0, 1) }, false},
	} {
		r := request(4050)
		tc.change(&r)
		p := plan(t, planner(t), r)
		if says := slices.ContainsFunc(p.Assumptions, func(a say.Remark) bool {
			return a.Code == "assume.shown_twice"
		}); says != tc.says {
			t.Errorf("%s: said %v", name, says)
		}
	}
}
