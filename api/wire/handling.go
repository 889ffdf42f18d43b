package wire

import (
	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
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
