package driving

import (
	"time"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/drive"
)

// Conditions are what fuel is reckoned with beside the road. What is nil is not
// known.
type Conditions struct {
	Kelvins  *float64          // of the air
	Altitude *measure.Distance // above the sea
	Wind     *measure.Speed
	WindFrom *float64 // degrees from north; nil: from anywhere
	Idle     time.Duration
	Reserve  float64 // share of the tank that is not planned with
	// WindwardShare is that of [rig.Rig]; 0 is its default.
	WindwardShare float64
}

// DefaultReserve is the share of a tank that is not planned with: this project's
// choice.
const DefaultReserve = 0.25

// weather is the air that the rig drives through.
func (c Conditions) weather() drive.Weather {
	var altitude measure.Distance
	if c.Altitude != nil {
		altitude = *c.Altitude
	}
	w := drive.AnyWeather(altitude)
	if c.Kelvins != nil {
		w.Air = drive.OfKelvins(altitude, *c.Kelvins).Air
	}
	if c.Wind != nil {
		w.Wind, w.From = *c.Wind, c.WindFrom
	}
	return w
}

// Says is what the air was taken for.
func (c Conditions) Says() say.Remark {
	air := say.That("air.any")
	if c.Kelvins != nil {
		air = say.That("air.celsius", "degrees", *c.Kelvins-273.15)
	}
	at := say.That("air.at_sea_level")
	if c.Altitude != nil {
		at = say.That("air.at", "altitude", measure.Rise(*c.Altitude))
	}
	switch {
	case c.Wind == nil:
		return say.That("air.any_wind", "air", air, "at", at, "wind", drive.AnyWeather(0).Wind)
	case *c.Wind == 0:
		return say.That("air.still", "air", air, "at", at)
	case c.WindFrom == nil:
		return say.That("air.wind_from_anywhere", "air", air, "at", at, "wind", *c.Wind)
	default:
		return say.That("air.wind", "air", air, "at", at, "wind", *c.Wind, "from", *c.WindFrom)
	}
}
