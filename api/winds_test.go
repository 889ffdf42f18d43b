package api_test

import "testing"

// Winds of a rig without a way are reckoned at the speed and in the air that are given:
// the slower and the warmer, the more wind it bears.
func TestWindsAtTheSpeedThatIsGiven(t *testing.T) {
	gust := func(more object) float64 {
		t.Helper()
		r := reported(t, described(t, more))
		if r.Wind.ComputedKMH == nil {
			t.Fatalf("%+v", r.Wind)
		}
		return *r.Wind.ComputedKMH
	}
	usual := gust(nil)
	slow := gust(object{"wishes": object{"top_speed": "60 km/h"}})
	warm := gust(object{"conditions": object{"temperature_c": 25}})
	if slow <= usual || warm <= usual || slow <= warm {
		t.Errorf("%v km/h, slow %v, warm %v", usual, slow, warm)
	}
}
