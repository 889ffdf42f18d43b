package drive

// Surface is what a road is made of.
type Surface uint8

// The surfaces.
const (
	SurfaceUnknown Surface = iota
	Paved
	Gravel
	Loose
)

// rolling is the coefficient of rolling resistance. Paved: tires of light vehicles have
// 0.010 on the average, all of them 0.007 to 0.017 (Transportation Research Board Special
// Report 286, 2006, read second-hand), those of heavy trucks 0.0082 (21st Century Truck
// Partnership review, National Academies, 2012, read); tires of pickups and of houses lie
// between these, and nine of ten are taken to have 0.007 to 0.0125. A coarse surface may
// add up to a fifth, which is within that spread. Gravel: 0.02
// packed, from memory, the spread this project's. Loose: 0.03 to 0.1, from memory. What
// is not known is paved, and see unpaved.
var rolling = [...]Band[float64]{
	SurfaceUnknown: {0.009, 0.007, 0.0125}, Paved: {0.009, 0.007, 0.0125}, Gravel: {0.020, 0.015, 0.030},
	Loose: {0.050, 0.030, 0.100},
}

// unpaved is the share of roads of an unknown surface that is gravel: between none and
// all, a quarter likely. This project's choice.
var unpaved = Band[float64]{0.25, 0, 1}

// Flow is how freely traffic runs on a road.
type Flow uint8

// The flows.
const (
	Broken Flow = iota // by towns, lights and stop signs
	Free               // a motorway or what is built like one
)

// stopping is how often a rig comes to a full stop, or loses as much by slowing down, a
// metre: once in 12 km of a road that is broken, nine of ten once in 4 to 40 km; once in
// 50 km of one that is free, in 15 to 200. This project's estimate; it does not count
// the stops of the map. Each takes the energy of motion, which the brakes take.
var stopping = [...]Band[float64]{
	Broken: {1.0 / 12_000, 1.0 / 40_000, 1.0 / 4000}, Free: {1.0 / 50_000, 1.0 / 200_000, 1.0 / 15_000},
}

// turning is by how much wheels and engine that turn add to the mass that is brought up
// to speed: 1.03 to 1.08, from memory.
const turning = 1.05

// hilliness is by what climbs and descents that nobody knows multiply the fuel of a
// level road. The high end is what one owner burnt in hills over what she burnt on flat
// ground, 27.7 to 23.5 L/100 km, with one tow vehicle and one house (see the logs of the
// tests); the likely one is of gentle country, this project's estimate.
var hilliness = Band[float64]{1.06, 1, 27.7 / 23.5}
