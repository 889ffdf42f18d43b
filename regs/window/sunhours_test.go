package window_test

import (
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/window"
)

func envAt(p orb.Point) window.Env {
	return window.Env{Sun: window.SunAt(p), Twilight: window.TwilightAt(p)}
}

func parsed(t testing.TB, text string) *window.Schedule {
	t.Helper()
	s, err := window.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// On 2026-12-21 the sun rises at Ottawa at 07:40 and sets at 16:22; on 06-21 at
// 05:14 and 20:55; on 03-20 at 07:06 and 19:15 (facts/engineering.md section
// 6.2, CALC). Two minutes on either side keep clear of rounding.
func TestHoursByTheSun(t *testing.T) {
	ottawa, loc := orb.Point{-75.6972, 45.4215}, zone(t, "America/Toronto")
	for _, tc := range []struct {
		value string
		at    []moment
	}{
		{"sunrise-sunset", []moment{
			{"Mon 2026-12-21 07:38", closed}, {"Mon 2026-12-21 07:42", open}, {"Mon 2026-12-21 16:20", open}, {"Mon 2026-12-21 16:24", closed},
			{"Sun 2026-06-21 05:12", closed}, {"Sun 2026-06-21 05:16", open}, {"Sun 2026-06-21 20:53", open}, {"Sun 2026-06-21 20:57", closed},
		}},
		{"(sunrise-00:30)-(sunset+00:30)", []moment{
			{"Mon 2026-12-21 07:08", closed}, {"Mon 2026-12-21 07:12", open}, {"Mon 2026-12-21 16:50", open}, {"Mon 2026-12-21 16:54", closed},
		}},
		{"(sunrise+01:00)-(sunset-01:00)", []moment{
			{"Mon 2026-12-21 08:38", closed}, {"Mon 2026-12-21 08:42", open}, {"Mon 2026-12-21 15:20", open}, {"Mon 2026-12-21 15:24", closed},
		}},
		{"sunset-sunrise", []moment{ // over midnight
			{"Mon 2026-12-21 16:20", closed}, {"Mon 2026-12-21 16:24", open}, {"Tue 2026-12-22 00:00", open}, {"Tue 2026-12-22 07:38", open}, {"Tue 2026-12-22 07:43", closed},
		}},
		{"Mo (sunset+00:30)-(sunrise-00:30)", []moment{ // Monday's night goes on into Tuesday, Sunday's is not meant
			{"Mon 2026-12-21 05:00", closed}, {"Mon 2026-12-21 16:54", open}, {"Tue 2026-12-22 07:08", open}, {"Tue 2026-12-22 07:13", closed}, {"Tue 2026-12-22 20:00", closed},
		}},
		{"Mo-Fr sunrise-sunset; Sa sunrise-12:00; Su off", []moment{
			{"Fri 2026-03-20 12:00", open}, {"Sat 2026-03-21 07:00", closed}, {"Sat 2026-03-21 07:10", open}, {"Sat 2026-03-21 12:00", closed}, {"Sun 2026-03-22 12:00", closed},
		}},
		{"22:00-sunrise", []moment{
			{"Mon 2026-12-21 21:59", closed}, {"Mon 2026-12-21 22:00", open}, {"Tue 2026-12-22 07:38", open}, {"Tue 2026-12-22 07:43", closed},
		}},
	} {
		s := parsed(t, tc.value)
		for _, m := range tc.at {
			at := clock(t, m.at)
			at = time.Date(at.Year(), at.Month(), at.Day(), at.Hour(), at.Minute(), 0, 0, loc)
			if got := s.At(at, envAt(ottawa)); got != m.want {
				t.Errorf("%s at %s: %s, want %s", tc.value, m.at, got, m.want)
			}
		}
	}
}

// The window of daylight with half an hour on either side at Edmonton on
// 2026-12-21 is from 15:18:24 to 23:46:00 of UTC, 8 h 27 min 36 s
// (facts/engineering.md section 6.3, CALC).
func TestDaylightOfEdmonton(t *testing.T) {
	edmonton, loc := orb.Point{-113.4938, 53.5461}, zone(t, "America/Edmonton")
	s := parsed(t, "(sunrise-00:30)-(sunset+00:30)")
	for clock, want := range map[string]window.State{"15:17": closed, "15:20": open, "23:45": open, "23:48": closed} {
		if got := s.At(utc(t, "2026-12-21", clock).In(loc), envAt(edmonton)); got != want {
			t.Errorf("%s: %s, want %s", clock, got, want)
		}
	}
	from := utc(t, "2026-12-21", "15:20").In(loc)
	for _, tc := range []struct {
		stay time.Duration
		want window.State
	}{{8*time.Hour + 24*minute, open}, {8*time.Hour + 30*minute, closed}} {
		if got := s.Through(from, from.Add(tc.stay), envAt(edmonton)); got != tc.want {
			t.Errorf("%s from %s: %s, want %s", tc.stay, from, got, tc.want)
		}
	}
}

// Where the sun neither rises nor sets a rule that hangs on it is not known, at
// noon too, and one that does not is.
func TestHoursWithoutASun(t *testing.T) {
	alert, noon := orb.Point{-62.35, 82.50}, time.Date(2026, 6, 21, 12, 0, 0, 0, time.UTC)
	for text, want := range map[string]window.State{
		"sunrise-sunset": unknown, "dawn-dusk": unknown, "08:00-18:00": open, "13:00-18:00": closed,
		"sunrise-sunset; 11:00-13:00": open, // the later rule replaces the first
		"24/7; sunrise-sunset off":    unknown,
	} {
		if got := parsed(t, text).At(noon, envAt(alert)); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
	if got := parsed(t, "sunrise-sunset").Through(noon, noon.Add(2*time.Hour), envAt(alert)); got != unknown {
		t.Errorf("through two hours: %s, want unknown", got)
	}
	if at, ok := parsed(t, "sunrise-sunset").NextOpen(noon, time.Hour, 24*time.Hour, []window.Env{envAt(alert)}); ok {
		t.Errorf("open from %v, though nobody knows", at)
	}
}

func TestBySun(t *testing.T) {
	for text, want := range map[string]bool{
		"sunrise-sunset": true, "08:00-sunset": true, "Mo-Fr 08:00-18:00; Sa (sunrise+01:00)-12:00": true, "24/7": false, "Mo-Fr 08:00-18:00; PH off": false,
	} {
		if got := parsed(t, text).BySun(); got != want {
			t.Errorf("%s: %v", text, got)
		}
	}
}

// On the days on which clocks change the hours are those of the clock: what is
// skipped never comes, what comes twice counts twice.
func TestHoursWhenClocksChange(t *testing.T) {
	loc := zone(t, "America/Toronto")
	spring := func(h, m int) time.Time { return time.Date(2026, 3, 8, h, m, 0, 0, loc) } // 02:00 becomes 03:00
	fall := func(h, m int) time.Time {
		return time.Date(2026, 11, 1, 0, 0, 0, 0, loc).Add(time.Duration(h)*time.Hour + time.Duration(m)*minute)
	} // hours since midnight: 01:30 is 1:30 and 2:30
	for _, tc := range []struct {
		value string
		at    time.Time
		want  window.State
	}{
		{"02:30-03:15", spring(1, 59), closed},
		{"02:30-03:15", spring(3, 0), open},
		{"02:30-03:15", spring(3, 14), open},
		{"02:30-03:15", spring(3, 15), closed},
		{"00:00-24:00", spring(23, 59), open},
		{"22:00-26:30", spring(1, 59), open}, // of the evening before; its end is skipped
		{"22:00-26:30", spring(3, 0), closed},
		{"01:15-01:45", fall(1, 0), closed},
		{"01:15-01:45", fall(1, 30), open},
		{"01:15-01:45", fall(1, 50), closed},
		{"01:15-01:45", fall(2, 30), open}, // 01:30 again
		{"01:15-01:45", fall(2, 50), closed},
		{"02:00-03:00", fall(2, 30), closed}, // 01:30 again
		{"02:00-03:00", fall(3, 30), open},
		{"00:00-24:00", fall(24, 30), open}, // 23:30
		{"Su 08:00-18:00", fall(18, 30), open},
		{"Su 08:00-18:00", fall(19, 0), closed},
	} {
		if got := parsed(t, tc.value).At(tc.at, window.Env{}); got != tc.want {
			t.Errorf("%s at %s: %s, want %s", tc.value, tc.at, got, tc.want)
		}
	}
	// The sun knows nothing of clocks: at Ottawa it rises at 06:30 by the old
	// clock on Saturday and an hour later by the new one on Sunday.
	env := envAt(orb.Point{-75.6972, 45.4215})
	saturday, _, _ := env.Sun(time.Date(2026, 3, 7, 0, 0, 0, 0, loc))
	sunday, _, _ := env.Sun(spring(0, 0))
	if step := sunday.Sub(saturday); step < 23*time.Hour+55*minute || step > 24*time.Hour {
		t.Errorf("from one sunrise to the next: %s", step)
	}
	s := parsed(t, "sunrise-sunset")
	for off, want := range map[time.Duration]window.State{-2 * minute: closed, 2 * minute: open} {
		if got := s.At(sunday.Add(off), env); got != want {
			t.Errorf("%s from the sunrise of %s: %s, want %s", off, sunday, got, want)
		}
	}
}

// Where the sun soon stays up for weeks the next opening is found, or not, in the
// time that a plan has: Inuvik, 22 May 2027.
func TestNextOpenUnderTheMidnightSun(t *testing.T) {
	loc := zone(t, "America/Inuvik")
	env := envAt(orb.Point{-133.72, 68.36})
	env.Holiday = shippedCalendars(t)["CA-NT"].Tells(year)
	done := make(chan bool)
	go func() {
		defer close(done)
		if at, ok := parsed(t, "Mo-Fr sunrise-sunset; PH off").NextOpen(time.Date(2027, 5, 22, 23, 50, 0, 0, loc), 3*time.Hour, 8*24*time.Hour, []window.Env{env}); ok {
			t.Errorf("open from %s, though the sun neither rises nor sets then", at)
		}
	}()
	select {
	case <-done:
	case <-time.After(10 * time.Second): // it once took 15 s on a busy machine
		t.Error("not found within 10 s")
	}
}
