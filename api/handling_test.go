package api_test

import (
	"maps"
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

// A ball 60 mm too high lifts the nose, electric brakes stop the rig sooner than none, and
// a rig of which nothing is said of its brakes is told how it stops without them.
func TestStandsAndStops(t *testing.T) {
	q := ballRig(object{})
	unit, tow := q["unit"].(object), q["tow"].(object)
	unit["coupling_height"], tow["coupling_height"], tow["gross_rating"] = "0.5 m", "0.56 m", "4000 kg"
	unit["height"], unit["coupling_to_rear"] = "3.9 m", "8.5 m"
	unit["brakes"], unit["suspension"] = "electric", "independent"
	gear := unit["running_gear"].([]object)
	maps.Copy(gear[0], object{
		"brake_rating": "1800 kg", "tire_pressure": "65 psi", "tire_rated_pressure": "80 psi", "tire_service": "trailer",
		"tire_speed_symbol": "N",
	})
	gear[1]["brake_rating_kg"] = 1800
	maps.Copy(tow["running_gear"].([]object)[1], object{
		"tire_pressure_kpa": 450, "tire_rated_pressure_kpa": 550, "tire_service": "light_truck", "tire_speed_symbol": "R",
		"tire_rating": "1200 kg",
	})
	gear[1]["unbraked"], gear[1]["tire_pressure_kpa"], gear[1]["tire_rated_pressure_kpa"] = true, 450, 550
	braked := reported(t, q)
	unit["brakes"] = "none"
	alone := reported(t, q)
	delete(unit, "brakes")
	silent := reported(t, q)
	if l := braked.Level; l.PitchDeg == nil || *l.PitchDeg != 0.57 || l.Onto == nil || *l.HigherM != 0.06 {
		t.Errorf("%+v", l)
	}
	if braked.Stopping.Slows == nil || alone.Stopping.Slows == nil || silent.Stopping.Slows != nil || silent.Stopping.Unknown == "" {
		t.Fatalf("%+v, %+v, %+v", braked.Stopping, alone.Stopping, silent.Stopping)
	}
	if braked.Stopping.Slows.Likely <= alone.Stopping.Slows.Likely || alone.Stopping.Slows.Likely != silent.Stopping.Alone.Likely {
		t.Errorf("%+v, %+v, %+v", braked.Stopping.Slows, alone.Stopping.Slows, silent.Stopping.Alone)
	}
	if d := braked.Stopping.From[1]; d.SpeedKMH != 80 || d.Wet.Likely <= d.Dry.Likely || d.Alone.Likely <= d.Dry.Likely {
		t.Errorf("%+v", d)
	}
}
