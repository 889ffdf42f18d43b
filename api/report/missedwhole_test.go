package report_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"wayhouse/api/tours"
	"wayhouse/routing/trip/timetable"
)

// What would keep a date that is missed is on the one screen, however little room there is.
func TestWhatWouldKeepADateIsNotCutOff(t *testing.T) {
	p := tours.Show(t, func(j *timetable.Journey) { j.Stops[1].By = j.Stops[1].By.Add(-34 * time.Hour) })
	day := p.Timetable.Days[0]
	for range 20 {
		p.Timetable.Days = slices.Insert(p.Timetable.Days, 0, day)
	}
	for _, v := range views() {
		text := planText(t, v, p)
		fits(t, text)
		for _, late := range []string{"3 h 00 min", "1 h 00 min"} { // the last of what was tried
			if !strings.Contains(strings.Join(strings.Fields(text), " "), late) {
				t.Errorf("%s is cut off in %s", late, text)
			}
		}
	}
}
