package window_test

import (
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs/window"
)

// ruleOf is a published row of hours that is open at some hours.
func ruleOf(t rapid.TB, open, when string) *window.Hours {
	t.Helper()
	head := "id,jurisdiction,for,over_height,over_width,over_length,over_mass,roads,open,calendar,demand,when,valid_from,valid_to,note,status,source,section,source_year,source_url,read_on\n"
	all, _, err := window.HoursTable().ReadCSV([]byte(head + `x,CA-XX,all,,,,,,"` + strings.ReplaceAll(open, `"`, `""`) + `",,,"` + when + `",2026-06-02,2026-06-09,,published,a law,,,,2026-01-01` + "\n"))
	if err != nil {
		t.Fatal(err)
	}
	return &all[0]
}

// The stretches of a rule are the minutes in which, by the oracle that looks at each of
// them, it lets a vehicle travel: sharp to the minute, and never one too many.
func TestStretchesAreTheMinutes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := schedules(t)
		schedule, err := window.Parse(text)
		if err != nil {
			t.Skip(err)
		}
		when := rapid.SampledFrom([]string{"", "", "Jun 04-06", "rain", "Mo-Fr 07:00-21:30"}).Draw(t, "when")
		rule, env := ruleOf(t, text, when), envs(t)
		season := window.ParseCondition(when)
		listed := env
		listed.Holiday = func(day time.Time) (public, school, known bool) {
			if env.Holiday != nil {
				public, school, _ = env.Holiday(day)
			}
			return public, school, true
		}
		from := time.Date(2026, 6, 1, 22, rapid.IntRange(0, 59).Draw(t, "minute"), 0, 0, time.UTC)
		to := from.Add(time.Duration(rapid.IntRange(1, 10*24*60).Draw(t, "minutes")) * time.Minute)
		found := rule.Stretches(from, to, env)
		for at := from; at.Before(to); at = at.Add(time.Minute) {
			may := func(env window.Env) bool { // all of a minute
				for _, s := range []time.Duration{0, 59 * time.Second} {
					inForce := at.Day() >= 2 && at.Day() <= 9
					if inForce && (when == "" || season.At(at.Add(s), env) != window.Closed) && schedule.At(at.Add(s), env) != window.Open {
						return false
					}
				}
				return true
			}
			if got, want := within(found, at), may(listed); got != want {
				t.Fatalf("%q when %q at %s: %v, want %v; %v", text, when, at, got, want, found)
			}
			if s := holding(found, at); s != nil && !s.IfListed && !may(env) {
				t.Fatalf("%q at %s is marked as sure", text, at)
			}
		}
	})
}

func holding(list []window.Stretch, at time.Time) *window.Stretch {
	for i, s := range list {
		if !at.Before(s.From) && at.Before(s.To) {
			return &list[i]
		}
	}
	return nil
}

func within(list []window.Stretch, at time.Time) bool { return holding(list, at) != nil }

// Both holds where either list does, and lists stay sorted and apart.
func TestBothStretches(t *testing.T) {
	zero := time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)
	draw := func(t *rapid.T, name string) (out []window.Stretch) {
		at := zero
		for range rapid.IntRange(0, 6).Draw(t, name) {
			at = at.Add(time.Duration(rapid.IntRange(0, 5).Draw(t, "gap")) * time.Minute)
			end := at.Add(time.Duration(rapid.IntRange(1, 9).Draw(t, "long")) * time.Minute)
			out, at = window.Joined(out, window.Stretch{From: at, To: end, IfListed: rapid.Bool().Draw(t, "if")}), end
		}
		return out
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := draw(t, "a"), draw(t, "b")
		both := window.Both(a, b)
		for m := range 90 {
			at := zero.Add(time.Duration(m) * time.Minute)
			x, y, got := holding(a, at), holding(b, at), holding(both, at)
			if (got != nil) != (x != nil && y != nil) || got != nil && got.IfListed != (x.IfListed || y.IfListed) {
				t.Fatalf("minute %d of %v and %v: %v", m, a, b, both)
			}
		}
	})
}

// Where the sun does not set, light lasts all day; where it does not rise, there is none.
// Longyearbyen (78.2 N) has midnight sun from 20 April to 22 August and polar night from
// 26 October to 15 February (Norwegian Meteorological Institute, as public almanacs have it).
func TestLightNearThePole(t *testing.T) {
	rule := ruleOf(t, "(sunrise-00:30)-(sunset+00:30)", "")
	far := orb.Point{15.6, 78.2}
	env := window.LightAt(far)
	oslo := zone(t, "Europe/Oslo")
	start := time.Date(2026, 6, 3, 0, 0, 0, 0, oslo)
	if got := rule.Stretches(start, start.AddDate(0, 0, 3), env); len(got) != 1 || got[0].To.Sub(got[0].From) != 72*time.Hour {
		t.Errorf("in June %v", got)
	}
	winter := *rule
	winter.From, winter.To = time.Time{}, time.Time{}
	start = time.Date(2026, 12, 3, 0, 0, 0, 0, oslo)
	if got := winter.Stretches(start, start.AddDate(0, 0, 3), env); len(got) != 0 {
		t.Errorf("in December %v", got)
	}
}
