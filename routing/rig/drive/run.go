package drive

import (
	"math"
	"time"

	"wayhouse/regs/measure"
)

// Section is a stretch of road of one grade, surface and speed.
type Section struct {
	Length  measure.Distance
	Grade   float64       // rise over run; 0 where it is not known
	Speed   measure.Speed // to be driven where the engine holds it; 0: not known, and the section burns nothing
	Surface Surface
	Heading float64 // degrees from north, for the wind
}

// Vehicle is a rig as a road sees it.
type Vehicle struct {
	DragArea Range[measure.Area]
	Mass     Range[measure.Mass]
	Fuel     Fuel
	Power    *measure.Power // of the engine; nil: not known, and then it holds every speed
}

// end is a vehicle with everything at one end.
type end struct {
	drag  measure.Area
	air   measure.Density
	mass  measure.Mass
	gain  float64
	roll  func(Surface) float64
	line  Driveline
	idles measure.Volume // per second, where nothing drives the wheels
}

// ends are both ends of a vehicle in the weather: all that costs little, and all
// that costs much. At the low end an engine in overrun burns nothing.
func (v Vehicle) ends(w Weather) (low, high end) {
	kind := fuels[v.Fuel]
	low = end{
		v.DragArea.Low, w.Air.Low, v.Mass.Low, yawGain.Low, func(s Surface) float64 { return s.of().Low },
		Driveline{kind.engine.High, drivelineRange.High, auxiliaryRange.Low, kind.heating}, 0,
	}
	high = end{
		v.DragArea.High, w.Air.High, v.Mass.High, yawGain.High, func(s Surface) float64 { return s.of().High },
		Driveline{kind.engine.Low, drivelineRange.Low, auxiliaryRange.High, kind.heating}, idling.High,
	}
	return low, high
}

// Energy is where the work at the wheels goes, in joules.
type Energy struct{ Air, Rolling, Climb, Brakes float64 }

// add takes in a section. What the air, the tires and the climb take more than the
// engine gives, the brakes take: over a way that ends as high as it began, what the
// engine gave is what air, tires and brakes took.
func (e *Energy) add(air, rolling, climb measure.Force, length measure.Distance) {
	e.Air += float64(air) * float64(length)
	e.Rolling += float64(rolling) * float64(length)
	e.Climb += float64(climb) * float64(length)
	e.Brakes += max(-float64(air+rolling+climb), 0) * float64(length)
}

// Wheels is what the engine gave at the wheels.
func (e Energy) Wheels() float64 { return e.Air + e.Rolling + e.Climb + e.Brakes }

// Run is what a way takes.
type Run struct {
	Length measure.Distance
	Time   time.Duration
	Fuel   Range[measure.Volume]
	Energy Energy // at the high end
	// Unknown is the length of sections without a speed, or of all where the fuel of
	// the vehicle is not known: nothing of them is in it.
	Unknown measure.Distance
	// Slowed is the length on which the engine does not hold the speed, Stuck that on
	// which it may not climb at all.
	Slowed, Stuck measure.Distance
}

// Add returns both runs, one after the other.
func (r Run) Add(o Run) Run {
	e, f := r.Energy, o.Energy
	return Run{
		r.Length + o.Length, r.Time + o.Time, r.Fuel.Add(o.Fuel), Energy{e.Air + f.Air, e.Rolling + f.Rolling,
			e.Climb + f.Climb, e.Brakes + f.Brakes},
		r.Unknown + o.Unknown, r.Slowed + o.Slowed, r.Stuck + o.Stuck,
	}
}

// Over drives sections, never faster than a cap; a cap of 0 is none. Where a climb
// is perhaps too steep to hold a crawl, the crawl counts.
func (v Vehicle) Over(sections []Section, w Weather, top measure.Speed) Run {
	low, high := v.ends(w)
	var out Run
	for _, s := range sections {
		v.drive(&out, s, w, top, low, high)
	}
	return out
}

func (v Vehicle) drive(out *Run, s Section, w Weather, top measure.Speed, low, high end) {
	speed := s.Speed
	if top > 0 {
		speed = min(speed, top)
	}
	if !(speed > 0) || low.line.Heating == 0 {
		out.Unknown += s.Length
		return
	}
	if held, ok := v.holds(s, w, speed, high); held < speed {
		out.Slowed += s.Length
		if !ok {
			out.Stuck += s.Length
		}
		speed = held
	}
	seconds := float64(s.Length) / float64(speed)
	out.Length += s.Length
	out.Time += time.Duration(seconds * float64(time.Second))
	out.Fuel.Low += low.burn(s, w, speed, nil)
	out.Fuel.High += high.burn(s, w, speed, &out.Energy)
}

// burn is the fuel of a section at a speed, never less than what the engine burns
// where nothing drives the wheels: a little drag more on a descent does not save
// fuel. Energy is added to where it is asked for.
func (e end) burn(s Section, w Weather, v measure.Speed, energy *Energy) measure.Volume {
	air, rolling, grade := e.against(s, w, v)
	if energy != nil {
		energy.add(air, rolling, grade, s.Length)
	}
	force := float64(air + rolling + grade)
	idle := e.idles * measure.Volume(float64(s.Length)/float64(v))
	if force <= 0 {
		return idle
	}
	return max(idle, e.line.burn(force, v, s.Length))
}

func (e end) against(s Section, w Weather, v measure.Speed) (air, rolling, grade measure.Force) {
	l := Load{DragArea: e.drag, Air: e.air, Rolling: e.roll(s.Surface), Mass: e.mass, Grade: s.Grade}
	return l.against(w.push(v, s.Heading, e.gain))
}

// AtSpeed is a way at no more than a speed.
type AtSpeed struct {
	Top  measure.Speed
	Time time.Duration
	Fuel Range[measure.Volume]
}

// OverSpeed is the fuel and the time of a way over speed.
func (v Vehicle) OverSpeed(sections []Section, w Weather, tops []measure.Speed) []AtSpeed {
	out := make([]AtSpeed, 0, len(tops))
	for _, top := range tops {
		run := v.Over(sections, w, top)
		out = append(out, AtSpeed{top, run.Time, run.Fuel})
	}
	return out
}

// Saves is by how much a vehicle with less drag burns less on the same way, all else
// at the same end: from nothing, where nothing says that it does, to the most.
func (v Vehicle) Saves(sections []Section, w Weather, better Range[measure.Area]) Range[measure.Volume] {
	now := v.Over(sections, w, 0).Fuel
	v.DragArea = better
	then := v.Over(sections, w, 0).Fuel
	low, high := max(now.Low-then.Low, 0), max(now.High-then.High, 0)
	return Range[measure.Volume]{min(low, high), max(low, high)}
}

// FuelStops lists how far along a way the tank reaches its reserve by the high
// figure, each time filled up there; fuel is what each section takes. The range
// that a tank gives is where it first does, on a way that is long enough.
func FuelStops(tank measure.Volume, reserve float64, sections []Section, fuel []measure.Volume) []measure.Distance {
	usable := tank * measure.Volume(1-reserve)
	if usable <= 0 {
		return nil
	}
	var out []measure.Distance
	var at measure.Distance
	left := usable
	for i, s := range sections {
		need, done := fuel[i], measure.Distance(0)
		if math.IsInf(float64(need), 1) { // no number of stops is enough
			return append(out, at)
		}
		for need > left { // the tank runs down inside the section
			done += (s.Length - done) * measure.Distance(left/need)
			out = append(out, at+done)
			need -= left
			left = usable
		}
		left -= need
		at += s.Length
	}
	return out
}

// EachHigh is what each section burns at the high end, without a cap, appended to
// a slice.
func (v Vehicle) EachHigh(sections []Section, w Weather, out []measure.Volume) []measure.Volume {
	low, high := v.ends(w)
	for _, s := range sections {
		var run Run
		v.drive(&run, s, w, 0, low, high)
		out = append(out, run.Fuel.High)
	}
	return out
}
