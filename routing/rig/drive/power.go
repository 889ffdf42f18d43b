package drive

import "wayhouse/regs/measure"

// crawl is the speed below which a rig is stuck, 5 km/h: this project's choice.
const crawl = 5 * measure.KilometrePerHour

// Holds is the greatest speed up to a limit that the engine holds on a section, with all
// that resists at its high end; ok is false where it may not even hold a crawl,
// which is then returned. Where the power is not known it holds the limit.
//
// The engine is taken to give its power at every speed, in thin air too: that is
// too much for an engine without a turbocharger in the mountains.
func (v Vehicle) Holds(s Section, w Weather, limit measure.Speed) (speed measure.Speed, ok bool) {
	_, dearest, _, _ := v.places()
	return v.holds(s, w, limit, v.at(dearest, w))
}

func (v Vehicle) holds(s Section, w Weather, limit measure.Speed, worst point) (measure.Speed, bool) {
	if v.Power == nil {
		return limit, true
	}
	wheels := (float64(*v.Power) - float64(worst.line.Auxiliary)) * driveline.Low
	short := func(v measure.Speed) bool {
		air, rolling, grade := worst.against(s, w.pushes(v, s.Heading), v)
		return float64(air+rolling+grade)*float64(v) > wheels
	}
	switch {
	case !short(limit):
		return limit, true
	case limit <= crawl || short(crawl):
		return min(crawl, limit), false
	}
	// Up to the speed at which the power runs out what is needed only grows: on a
	// descent it is below 0 first, where nothing is short.
	low, top := crawl, limit
	for range 36 { // to less than a billionth of the limit
		if middle := (low + top) / 2; short(middle) {
			top = middle
		} else {
			low = middle
		}
	}
	return low, true
}
