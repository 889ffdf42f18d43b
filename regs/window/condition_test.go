package window_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wayhouse/regs/window"
)

// Values in the form of the OpenStreetMap wiki, Conditional restrictions
// (2025, from memory).
func TestParseConditional(t *testing.T) {
	for text, want := range map[string][]window.Conditional{
		"no @ (Mo-Fr 07:00-09:00)":                                   {{"no", "Mo-Fr 07:00-09:00"}},
		"120 @ (06:00-20:00); 100 @ (22:00-06:00)":                   {{"120", "06:00-20:00"}, {"100", "22:00-06:00"}},
		"no @ (10:00-18:00 AND length>5)":                            {{"no", "10:00-18:00 AND length>5"}},
		"destination @ wet":                                          {{"destination", "wet"}},
		"no @ (Mo-Fr 07:00-09:00; Sa 08:00-10:00)":                   {{"no", "Mo-Fr 07:00-09:00; Sa 08:00-10:00"}},
		`yes @ ("by permit"); no @ ((sunset-01:00)-(sunrise+01:00))`: {{"yes", `"by permit"`}, {"no", "(sunset-01:00)-(sunrise+01:00)"}},
		"no @ (sunset+01:00)-(sunrise-01:00)":                        {{"no", "(sunset+01:00)-(sunrise-01:00)"}},
	} {
		got, err := window.ParseConditional(text)
		if err != nil || !cmp.Equal(got, want) {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "no", "no @", "@ wet", "no @ wet; yes"} {
		var parse *window.ParseError
		if _, err := window.ParseConditional(text); !errors.As(err, &parse) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func TestConditionAt(t *testing.T) {
	monday8, monday12 := clock(t, "Mon 2026-06-01 08:00"), clock(t, "Mon 2026-06-01 12:00")
	for _, c := range []struct {
		when string
		at   time.Time
		want window.State
	}{
		{"Mo-Fr 07:00-09:00", monday8, window.Open},
		{"Mo-Fr 07:00-09:00", monday12, window.Closed},
		{"Mo-Fr 07:00-09:00 AND wet", monday8, window.Unknown},
		{"Mo-Fr 07:00-09:00 AND wet", monday12, window.Closed}, // whether or not it rains
		{"wet", monday12, window.Unknown},
		{"weight>5.5", monday12, window.Unknown},
		{"Nov-Mar", monday12, window.Closed},
	} {
		if got := window.ParseCondition(c.when).At(c.at, window.Env{}); got != c.want {
			t.Errorf("%s at %s: %s, want %s", c.when, c.at, got, c.want)
		}
	}
}

func TestConditionDuring(t *testing.T) {
	from := clock(t, "Mon 2026-06-01 09:30")
	c := window.ParseCondition("Mo-Fr 10:00-10:15")
	for hours, want := range map[float64]window.State{0: window.Closed, 0.25: window.Closed, 0.5: window.Open, 5: window.Open} {
		if got := c.During(from, from.Add(time.Duration(hours*float64(time.Hour))), window.Env{}); got != want {
			t.Errorf("%v h from %s: %s, want %s", hours, from, got, want)
		}
	}
}
