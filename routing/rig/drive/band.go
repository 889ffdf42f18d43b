package drive

import (
	"math"

	"wayhouse/regs/measure"
)

// Coverage is the share of all cases that the ends of a [Band] lie around.
const Coverage = 0.90

// Band is a likely value of a figure and the ends that nine of ten lie between.
type Band[T ~float64 | ~int64] struct{ Likely, Low, High T }

// Exactly is a figure that is known.
func Exactly[T ~float64 | ~int64](v T) Band[T] { return Band[T]{v, v, v} }

// at is the value so far from the likely one: -1 is the low end, 1 the high one, equal
// steps multiply by equal factors.
func (b Band[T]) at(step float64) T {
	switch {
	case step == 0 || b.Likely == 0:
		return b.Likely
	case step > 0:
		return T(float64(b.Likely) * math.Pow(float64(b.High)/float64(b.Likely), step))
	default:
		return T(float64(b.Likely) * math.Pow(float64(b.Low)/float64(b.Likely), -step))
	}
}

// straight is at by equal differences, for figures that may lie on both sides of 0.
func (b Band[T]) straight(step float64) T {
	if step > 0 {
		return b.Likely + T(step)*(b.High-b.Likely)
	}
	return b.Likely + T(step)*(b.Likely-b.Low)
}

// Cause is a figure that what is burnt rests on, and that is not known exactly.
type Cause uint8

// The causes. Those that a log of fuel tells of come first: they are of the rig and go
// with it from way to way.
const (
	ByDrag Cause = iota
	ByRolling
	ByEngine
	ByAuxiliary
	ByMass
	ByAir
	ByWind
	BySurface
	ByStops
	ByHills
	causes

	learnt = ByAuxiliary // as many are told of by a log
)

// place is where every figure lies, in steps of [Band.at]; up is what costs more.
type place [causes]float64

// point is a vehicle in the weather with every figure at one place.
type point struct {
	drag  measure.Area
	air   measure.Density
	mass  measure.Mass
	roll  [Loose + 1]float64
	line  Driveline
	idles measure.Volume // per second, where nothing drives the wheels
	stops [Free + 1]float64
	hills float64
	wind  float64 // of [Weather.pushes], a step
}

// at puts a vehicle and the weather at a place.
func (v Vehicle) at(p place, w Weather) point {
	kind := fuels[v.Fuel]
	out := point{
		drag: v.DragArea.at(p[ByDrag]), air: w.Air.at(p[ByAir]), mass: v.Mass.at(p[ByMass]),
		line: Driveline{
			withDriveline(kind.engine).at(-p[ByEngine]), driveline.Likely, auxiliary.at(p[ByAuxiliary]), kind.heating,
		},
		idles: overrun.at(p[ByAuxiliary]), hills: hilliness.at(p[ByHills]), wind: p[ByWind],
	}
	for s := range out.roll {
		out.roll[s] = rolling[s].at(p[ByRolling])
	}
	out.roll[SurfaceUnknown] += unpaved.straight(p[BySurface]) * (out.roll[Gravel] - out.roll[SurfaceUnknown])
	for f := range out.stops {
		out.stops[f] = stopping[f].at(p[ByStops])
	}
	return out
}

// places are those that the fuel of a way is worked out at: the likely one, the dearest,
// and for each cause the cheaper and the dearer end. What a log tells of errs together:
// each of its ends moves all that it tells of.
func (v Vehicle) places() (likely, dearest place, cheaper, dearer [causes]place) {
	copy(likely[:], v.Learnt.mean[:])
	dearest = likely
	for c := range causes {
		cheaper[c], dearer[c] = likely, likely
		if c >= learnt {
			cheaper[c][c], dearer[c][c], dearest[c] = -1, 1, 1
			continue
		}
		aside := v.Learnt.aside(c)
		for k, step := range aside {
			cheaper[c][k] -= step
			dearer[c][k] += step
		}
		dearest[c] += v.Learnt.spread(c)
	}
	return likely, dearest, cheaper, dearer
}
