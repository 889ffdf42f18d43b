package api_test

import (
	"math"
	"testing"
)

// ballRig is a rig on a ball, weighed, with bars of which nothing or something is known.
func ballRig(bars object) object {
	return object{
		"unit": object{
			"coupling": "ball", "running_gear": []object{
				{"behind_coupling": "5.5 m", "rating": "2000 kg", "tires": 2, "tire_rating": "1200 kg", "track": "1.9 m"},
				{"behind_coupling": "6.5 m", "rating": "2000 kg", "tires": 2, "tire_rating": "1200 kg", "track": "1.9 m"},
			},
			"scale_ticket": object{"weighed_on": "2026-09-01", "coupling": "500 kg", "axles": []string{"1750 kg", "1750 kg"}},
		},
		"tow": object{
			"coupling_behind_first_axle": "5.2 m", "load_distribution": bars, "running_gear": []object{
				{"empty": "1800 kg", "tires": 2}, {"behind_first": "4 m", "empty": "1200 kg", "tires": 2},
			},
		},
	}
}

// Bars that return all that the ball takes off the first axle leave it as it is
// uncoupled, and put a sixth of what rests on the ball onto the unit (worked by hand in
// package rig); where nobody says how they are set they do so at the most.
func TestLoadDistributingHitch(t *testing.T) {
	set := reported(t, ballRig(object{"returned": 1, "vertical_rating": "600 kg", "towed_rating": "6000 kg"}))
	open := reported(t, ballRig(object{"vertical_rating_kg": 600, "towed_rating_kg": 6000}))
	if set.Bars == nil || open.Bars == nil || set.Steering == nil {
		t.Fatalf("%+v", set)
	}
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 0.01 {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	near("first axle", set.Steering.Coupled.LikelyKG, 1800)
	near("onto the unit", set.Bars.ToUnit.LikelyKG, 500.0/6)
	near("moment", set.Bars.MomentNM, 500*9.80665)
	near("unset, least", open.Bars.ToUnit.LowKG, 0)
	near("unset, most", open.Bars.ToUnit.HighKG, 500.0/6)
}
