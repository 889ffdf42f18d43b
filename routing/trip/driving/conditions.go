package driving

import (
	"fmt"
	"time"

	"wayhouse/regs/measure"
	"wayhouse/routing/rig/drive"
)

// Conditions are what fuel is reckoned with beside the road. What is nil is not
// known.
type Conditions struct {
	Kelvins  *float64          // of the air
	Altitude *measure.Distance // above the sea
	Wind     measure.Speed
	WindFrom *float64 // degrees from north; nil: from where it costs most
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
	w := drive.StillAir(altitude)
	if c.Kelvins != nil {
		air := drive.Air(altitude, *c.Kelvins)
		w.Air = drive.Range[measure.Density]{Low: air, High: air}
	}
	w.Wind, w.From = c.Wind, c.WindFrom
	return w
}

// Words says what the air was taken for.
func (c Conditions) Words() string {
	air := "air of -20 to +30 degrees Celsius"
	if c.Kelvins != nil {
		air = fmt.Sprintf("air of %.0f degrees Celsius", *c.Kelvins-273.15)
	}
	if c.Altitude != nil {
		air += fmt.Sprintf(" at %.0f m", float64(*c.Altitude))
	} else {
		air += " at sea level"
	}
	switch {
	case c.Wind == 0:
		return air + ", no wind"
	case c.WindFrom == nil:
		return air + ", a wind of " + c.Wind.String() + " from where it costs most"
	default:
		return air + fmt.Sprintf(", a wind of %s from %.0f degrees", c.Wind, *c.WindFrom)
	}
}
