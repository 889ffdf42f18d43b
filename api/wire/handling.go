package wire

import (
	"math"

	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/drive"
)

// SteeringAxle is what the coupling does to the first axle of the tow vehicle.
type SteeringAxle struct {
	EmptyKG float64    `json:"empty_kg" doc:"What it carries uncoupled"`
	Coupled MassRange  `json:"coupled" doc:"What it carries coupled"`
	Remains ShareRange `json:"remains" doc:"Of what it carries uncoupled"`
	Share   ShareRange `json:"share" doc:"Of the tow vehicle with what rests on it"`
}

// HitchBars is what the bars of a load-distributing hitch move.
type HitchBars struct {
	Returned ShareRange `json:"returned" doc:"Of what the ball takes off the first axle; 0 to 1 where nobody said how they are set"`
	ToFirst  MassRange  `json:"onto_first_axle" doc:"Of the tow vehicle"`
	ToUnit   MassRange  `json:"onto_unit_axles" doc:"All of them together"`
	MomentNM float64    `json:"moment_nm" doc:"That they transmit, as is likely"`
}

func (tell teller) newSteering(known measure.Known[rig.Steering]) *SteeringAxle {
	s, ok := known.Value()
	if !ok {
		return nil
	}
	return &SteeringAxle{s.Empty.Kilograms(), *tell.massRange(s.Coupled), ShareRange(s.Remains), ShareRange(s.Share)}
}

func (tell teller) newBars(b *rig.Bars) *HitchBars {
	if b == nil {
		return nil
	}
	return &HitchBars{ShareRange(b.Returned), *tell.massRange(b.ToFirst), *tell.massRange(b.ToUnit), b.Moment}
}

// Level is how the unit stands on its coupling.
type Level struct {
	OffM     *float64   `json:"coupling_off_m,omitempty" doc:"How much higher the coupling stands than where the unit is level; negative: lower"`
	PitchDeg *float64   `json:"pitch_deg,omitempty" doc:"Nose up positive"`
	HigherM  *float64   `json:"higher_m,omitempty" doc:"How much higher its highest place stands than while it is level, at the most"`
	TailM    *float64   `json:"tail_lower_m,omitempty" doc:"How much lower its rear end stands"`
	Onto     *MassRange `json:"onto_last_axle,omitempty" doc:"What the last of independent axles takes more, and the first less"`
	EachInch *MassRange `json:"onto_last_axle_each_inch,omitempty" doc:"The same for each inch, 25.4 mm, that the coupling stands higher"`
	Unknown  string     `json:"unknown,omitempty"`
}

// Stopping is how the rig stops on a level paved road.
type Stopping struct {
	Slows   *NineOfTen     `json:"slows_g,omitempty" doc:"Dry, as brakes that work are made for; left out where the brakes of the unit are not known"`
	Alone   *NineOfTen     `json:"slows_without_unit_brakes_g,omitempty" doc:"Dry, by the tow vehicle alone"`
	From    []StoppingFrom `json:"from,omitempty" doc:"From what the driver sees to where it stands"`
	Unknown string         `json:"unknown,omitempty"`
}

// StoppingFrom is how far the rig goes from one speed.
type StoppingFrom struct {
	SpeedKMH float64    `json:"speed_kmh" doc:"That it stops from"`
	Dry      *NineOfTen `json:"dry_m,omitempty" doc:"Left out where the brakes of the unit are not known"`
	Wet      *NineOfTen `json:"wet_m,omitempty" doc:"Left out where the brakes of the unit are not known"`
	Alone    NineOfTen  `json:"without_unit_brakes_m" doc:"Dry, with no brakes working at the unit"`
}

// NineOfTen is a figure with the ends that nine of ten lie between.
type NineOfTen struct {
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
}

func (tell teller) newLevel(known measure.Known[rig.Level]) Level {
	l, ok := known.Value()
	if !ok {
		return Level{Unknown: tell.Say(known.Why())}
	}
	pitch := math.Round(100*l.Pitch) / 100
	out := Level{OffM: metres(&l.Off), PitchDeg: &pitch, HigherM: metres(&l.Higher), TailM: metres(&l.Tail)}
	if l.Onto != nil {
		out.Onto, out.EachInch = tell.massRange(*l.Onto), tell.massRange(*l.EachInch)
	}
	return out
}

func (tell teller) newStopping(known measure.Known[rig.Stops]) Stopping {
	s, ok := known.Value()
	if !ok {
		return Stopping{Unknown: tell.Say(known.Why())}
	}
	out := Stopping{Alone: nineOfTen(s.Alone, 1000), Unknown: tell.Say(s.Unknown)}
	if s.Unknown.None() {
		out.Slows = nineOfTen(s.Slows, 1000)
	}
	for _, at := range s.At {
		from := StoppingFrom{
			SpeedKMH: math.Round(float64(at.Speed / measure.KilometrePerHour)),
			Alone:    *nineOfTen(at.Alone, 10),
		}
		if s.Unknown.None() {
			from.Dry, from.Wet = nineOfTen(at.Dry, 10), nineOfTen(at.Wet, 10)
		}
		out.From = append(out.From, from)
	}
	return out
}

// nineOfTen rounds a figure to so many parts of its unit.
func nineOfTen[T ~float64](b drive.Band[T], parts float64) *NineOfTen {
	round := func(v T) float64 { return math.Round(parts*float64(v)) / parts }
	return &NineOfTen{round(b.Low), round(b.Likely), round(b.High)}
}
