package window_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs/window"
)

// The oracle of this file looks at every minute. What is asked of stretches of
// time must answer as it does.

// asks is what Schedule and Condition have in common.
type asks interface {
	At(time.Time, window.Env) window.State
}

// each lists the states of the minutes from one moment to another, both
// included.
func each(s asks, from, to time.Time, env window.Env) []window.State {
	var out []window.State
	for t := from; ; t = t.Add(minute) {
		if t.After(to) {
			t = to
		}
		if out = append(out, s.At(t, env)); !t.Before(to) {
			return out
		}
	}
}

func count(states []window.State, s window.State) (n int) {
	for _, one := range states {
		if one == s {
			n++
		}
	}
	return n
}

// through is open where every minute is, and closed where any is.
func through(states []window.State) window.State {
	switch {
	case count(states, closed) > 0:
		return closed
	case count(states, unknown) > 0:
		return unknown
	default:
		return open
	}
}

// during is open where any minute is, and closed where every one is.
func during(states []window.State) window.State {
	switch {
	case count(states, open) > 0:
		return open
	case count(states, unknown) > 0:
		return unknown
	default:
		return closed
	}
}

// nextOpen is the first minute from which so many are open.
func nextOpen(s asks, from time.Time, stay, horizon time.Duration, env window.Env) (time.Time, bool) {
	all := each(s, from, from.Add(horizon+stay), env)
	n := int(stay / minute)
	run := 0
	for i := len(all) - 1; i >= 0; i-- { // run: how many are open from i on
		if all[i] == open {
			run++
		} else {
			run = 0
		}
		all[i] = closed
		if run > n {
			all[i] = open
		}
	}
	for i, state := range all {
		if state == open && i <= int(horizon/minute) {
			return from.Add(time.Duration(i) * minute), true
		}
	}
	return time.Time{}, false
}

// drifting is a sun that rises and sets at odd seconds, a little later each
// day; every seventh day it stays away.
func drifting(day time.Time) (rise, set time.Time, ok bool) {
	y, m, d := day.Date()
	at := func(hour int) time.Time {
		return time.Date(y, m, d, hour, 0, 0, 0, day.Location()).Add(time.Duration(day.YearDay()) * 97 * time.Second % time.Hour)
	}
	return at(6), at(19), day.YearDay()%7 != 0
}

// gappy is a calendar that knows some days only.
func gappy(day time.Time) (public, school, known bool) {
	return day.YearDay()%5 == 0, day.YearDay()%4 == 0, day.YearDay()%11 != 0
}

var (
	someDays  = []string{"", "Mo-Fr ", "Sa ", "Sa,Su ", "Fr-Mo ", "PH ", "SH ", "PH -1 day ", "Jun 01-03 ", "Fr[1] ", "week 23 Mo-Su ", "2026 Jun 04 "}
	someClock = []string{"00:00", "00:30", "06:00", "06:45", "12:00", "17:59", "22:00", "23:59", "sunrise", "sunset", "dawn", "dusk", "(sunrise-00:30)", "(sunset+00:30)", "(sunset-01:20)"}
	someLate  = append([]string{"24:00", "26:00", "30:15", "48:00"}, someClock...)
	someWords = []string{"", "", "", " off", " closed", " unknown", ` "by permit"`, " open"}
)

// schedules draws values of the grammar with everything in it that turns the
// state.
func schedules(t *rapid.T) string {
	var out strings.Builder
	for i := range rapid.IntRange(1, 4).Draw(t, "rules") {
		if i > 0 {
			out.WriteString(rapid.SampledFrom([]string{"; ", ", ", " || "}).Draw(t, "join"))
		}
		days := rapid.SampledFrom(someDays).Draw(t, "days")
		out.WriteString(days)
		for k := range rapid.IntRange(0, 2).Draw(t, "spans") {
			if k > 0 {
				out.WriteString(",")
			}
			from := rapid.SampledFrom(someClock).Draw(t, "from")
			fmt.Fprintf(&out, "%s-%s%s", from, rapid.SampledFrom(someLate).Draw(t, "to"), rapid.SampledFrom([]string{"", "", "", "+"}).Draw(t, "end"))
		}
		word := rapid.SampledFrom(someWords).Draw(t, "word")
		if strings.HasSuffix(out.String(), "; ") || strings.HasSuffix(out.String(), ", ") || strings.HasSuffix(out.String(), " || ") || out.Len() == 0 {
			out.WriteString("24/7") // a rule must say something
		}
		out.WriteString(word)
	}
	return out.String()
}

func envs(t *rapid.T) window.Env {
	var env window.Env
	if rapid.Bool().Draw(t, "sun") {
		env.Sun, env.Twilight = drifting, drifting
	}
	if rapid.Bool().Draw(t, "calendar") {
		env.Holiday = gappy
	}
	return env
}

// stretch draws a stretch of up to two days in June 2026, where no clocks
// change.
func stretch(t *rapid.T) (from, to time.Time) {
	loc := time.FixedZone("drawn", rapid.SampledFrom([]int{0, -4 * 3600, -12600, 13 * 3600}).Draw(t, "zone"))
	from = time.Date(2026, 6, 1, 0, rapid.IntRange(0, 6*1440).Draw(t, "from"), 0, 0, loc)
	return from, from.Add(time.Duration(rapid.IntRange(0, 2*1440).Draw(t, "stay")) * minute)
}

func TestThroughIsEveryMinute(t *testing.T) {
	seen := map[window.State]int{}
	rapid.Check(t, func(t *rapid.T) {
		text := schedules(t)
		s, err := window.Parse(text)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		env := envs(t)
		from, to := stretch(t)
		if rapid.Bool().Draw(t, "short") {
			to = from.Add(to.Sub(from) % (4 * time.Hour))
		}
		got, want := s.Through(from, to, env), through(each(s, from, to, env))
		if got != want {
			t.Fatalf("%q from %s to %s: %s, want %s", text, from, to, got, want)
		}
		seen[got]++
	})
	for _, s := range []window.State{open, closed, unknown} {
		if seen[s] == 0 {
			t.Errorf("nothing drawn is %s: %v", s, seen)
		}
	}
}

func TestNextOpenIsTheFirstMinute(t *testing.T) {
	found := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		text := schedules(t)
		s, err := window.Parse(text)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		env := envs(t)
		from, _ := stretch(t)
		stay := time.Duration(rapid.SampledFrom([]int{0, 1, 45, 180, 600, 1500}).Draw(t, "minutes")) * minute
		horizon := time.Duration(rapid.SampledFrom([]int{0, 300, 1800}).Draw(t, "horizon")) * minute
		got, ok := s.NextOpen(from, stay, horizon, []window.Env{env})
		want, wantOK := nextOpen(s, from, stay, horizon, env)
		if ok != wantOK || !got.Equal(want) {
			t.Fatalf("%q from %s for %s within %s: %s, %v; want %s, %v", text, from, stay, horizon, got, ok, want, wantOK)
		}
		found[ok]++
	})
	if found[true] == 0 || found[false] == 0 {
		t.Errorf("drawn on one side only: %v", found)
	}
}

// A condition of several parts, some of them words that no clock decides.
func TestDuringIsAnyMinute(t *testing.T) {
	seen := map[window.State]int{}
	rapid.Check(t, func(t *rapid.T) {
		var parts []string
		for range rapid.IntRange(1, 3).Draw(t, "parts") {
			part := schedules(t)
			if rapid.IntRange(0, 5).Draw(t, "words") == 0 {
				part = rapid.SampledFrom([]string{"wet", "weight>5.5", "delivery"}).Draw(t, "part")
			}
			parts = append(parts, part)
		}
		c := window.ParseCondition(strings.Join(parts, " AND "))
		env := envs(t)
		from, to := stretch(t)
		got, want := c.During(from, to, env), during(each(c, from, to, env))
		if got != want {
			t.Fatalf("%q from %s to %s: %s, want %s", parts, from, to, got, want)
		}
		seen[got]++
	})
	for _, s := range []window.State{open, closed, unknown} {
		if seen[s] == 0 {
			t.Errorf("nothing drawn is %s: %v", s, seen)
		}
	}
}

// Both ends belong to the stretch: a rig that arrives as the hours end is late.
func TestThroughEnds(t *testing.T) {
	s := parsed(t, "Mo-Fr 08:00-18:00")
	for _, tc := range []struct {
		from, to string
		want     window.State
	}{
		{"Mon 2026-06-01 08:00", "Mon 2026-06-01 17:59", open},
		{"Mon 2026-06-01 08:00", "Mon 2026-06-01 18:00", closed},
		{"Mon 2026-06-01 07:59", "Mon 2026-06-01 09:00", closed},
		{"Mon 2026-06-01 12:00", "Mon 2026-06-01 12:00", open},
		{"Mon 2026-06-01 18:00", "Mon 2026-06-01 18:00", closed},
		{"Mon 2026-06-01 12:00", "Tue 2026-06-02 12:00", closed}, // the night between
	} {
		if got := s.Through(clock(t, tc.from), clock(t, tc.to), window.Env{}); got != tc.want {
			t.Errorf("%s to %s: %s, want %s", tc.from, tc.to, got, tc.want)
		}
	}
	from := clock(t, "Sat 2026-06-06 10:00")
	for _, tc := range []struct {
		stay, horizon time.Duration
		want          string // "" for none
	}{
		{9 * time.Hour, 72 * time.Hour, "Mon 2026-06-08 08:00"},
		{10 * time.Hour, 72 * time.Hour, ""}, // it would end as the hours do
		{time.Hour, 45 * time.Hour, ""},
		{time.Hour, 46 * time.Hour, "Mon 2026-06-08 08:00"},
	} {
		at, ok := s.NextOpen(from, tc.stay, tc.horizon, []window.Env{{}})
		if ok != (tc.want != "") || ok && at.Format(layout) != tc.want {
			t.Errorf("%s within %s: %s, %v; want %q", tc.stay, tc.horizon, at, ok, tc.want)
		}
	}
}

// The night on which clocks go forward has an hour less; hours that begin or end
// in it are looked for at each minute.
func TestThroughWhenClocksGoForward(t *testing.T) {
	for _, name := range []string{"America/Toronto", "America/St_Johns", "America/Vancouver"} {
		start := time.Date(2026, 3, 7, 23, 0, 0, 0, zone(t, name))
		for _, text := range []string{"02:30-03:15", "24/7; 02:30-03:15 off", "24/7; 02:00-02:30 off", "24/7; 01:59-02:01 off", "22:00-26:30", "24/7; 03:00-03:01 off"} {
			s := parsed(t, text)
			for off := 0; off < 300; off += 10 {
				from := start.Add(time.Duration(off) * minute)
				for _, stay := range []int{20, 90, 200} {
					to := from.Add(time.Duration(stay) * minute)
					if got, want := s.Through(from, to, window.Env{}), through(each(s, from, to, window.Env{})); got != want {
						t.Errorf("%q from %s to %s: %s, want %s", text, from, to, got, want)
					}
				}
			}
		}
	}
}

// Where the sun is not known a stretch is as its minutes are: far in the north,
// where it neither rises nor sets, at a place that is not known, and on single
// days.
func TestStretchesWithoutASun(t *testing.T) {
	alert := envAt(orb.Point{-62.35, 82.50})
	for name, env := range map[string]window.Env{"midnight sun": alert, "no place": {}, "some days": {Sun: drifting}, "no sun, a calendar": {Holiday: gappy}} {
		for _, text := range []string{
			"sunrise-sunset", "dawn-dusk", "sunset-sunrise", "(sunrise-00:30)-(sunset+00:30)", "(sunset+01:15)-30:15", "sunrise-12:00", "13:59-sunset", "sunset+", "06:00-sunrise",
			"24/7; sunrise-sunset off", "Mo-Fr sunrise-sunset; Sa off; Su 10:00-dusk", "PH off; sunset-24:00", "22:00-(sunrise+02:00) || unknown",
		} {
			s := parsed(t, text)
			c := window.ParseCondition(text)
			start := time.Date(2026, 6, 2, 20, 0, 0, 0, time.FixedZone("", -4*3600)) // the sun of some days stays away on 3 June
			for off := 0; off < 8; off++ {
				from := start.Add(time.Duration(off*317) * minute)
				for _, stay := range []int{0, 59, 301, 1500} {
					to := from.Add(time.Duration(stay) * minute)
					all := each(s, from, to, env)
					if got, want := s.Through(from, to, env), through(all); got != want {
						t.Errorf("%s, %q through %s to %s: %s, want %s", name, text, from, to, got, want)
					}
					if got, want := c.During(from, to, env), during(all); got != want {
						t.Errorf("%s, %q during %s to %s: %s, want %s", name, text, from, to, got, want)
					}
				}
			}
		}
	}
}

// And it takes no look at each of them.
func TestStretchesWithoutASunAreQuick(t *testing.T) {
	asked := 0
	away := func(time.Time) (rise, set time.Time, ok bool) { asked++; return rise, set, false }
	env := window.Env{Sun: away, Twilight: away}
	from := time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)
	const days = 30
	for _, text := range []string{"sunrise-sunset", "dawn-dusk", "Mo-Su (sunrise-00:30)-(sunset+00:30)"} {
		asked = 0
		s := parsed(t, text)
		if _, ok := s.NextOpen(from, time.Hour, days*24*time.Hour, []window.Env{env}); ok {
			t.Errorf("%s: open, though nobody knows", text)
		}
		if got := window.ParseCondition(text).During(from, from.AddDate(0, 0, days), env); got != unknown {
			t.Errorf("%s: %s", text, got)
		}
		if asked > days*24*60/4 {
			t.Errorf("%s: the sun of %d days is asked for %d times", text, days, asked)
		}
	}
}
