package drive

import (
	"math"
	"time"

	"wayhouse/regs/measure"
)

// Section is a stretch of road of one grade, surface and speed.
type Section struct {
	Length  measure.Distance
	Grade   float64       // rise over run
	NoGrade bool          // the grade is not known: a level road, and see hilliness
	Speed   measure.Speed // to be driven where the engine holds it; 0: not known, and the section burns nothing
	Surface Surface
	Flow    Flow
	Heading float64 // degrees from north, for the wind
}

// Vehicle is a rig as a road sees it.
type Vehicle struct {
	DragArea Band[measure.Area]
	Mass     Band[measure.Mass]
	Fuel     Fuel
	Power    *measure.Power // of the engine; nil: not known, and then it holds every speed
	Learnt   Learnt         // from logs of its fuel
}

// Energy is where the work at the wheels goes, in joules.
type Energy struct{ Air, Rolling, Climb, Brakes float64 }

// add takes in a section. What the air, the tires and the climb take more than the
// engine gives, and what stops take, the brakes take: over a way that ends as high as it
// began, what the engine gave is what air, tires and brakes took.
func (e *Energy) add(air, rolling, climb, stops measure.Force, length measure.Distance) {
	e.Air += float64(air) * float64(length)
	e.Rolling += float64(rolling) * float64(length)
	e.Climb += float64(climb) * float64(length)
	e.Brakes += (max(-float64(air+rolling+climb), 0) + float64(stops)) * float64(length)
}

// Wheels is what the engine gave at the wheels.
func (e Energy) Wheels() float64 { return e.Air + e.Rolling + e.Climb + e.Brakes }

// Run is what a way takes.
type Run struct {
	Length measure.Distance
	Time   time.Duration
	Fuel   Burn
	Energy Energy // with every figure at its likely value
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
	var out Run
	e := v.engine(w)
	for _, s := range sections {
		e.drive(&out, s, top)
	}
	return out
}

// engine is a vehicle in the weather, with all points that its fuel is worked out at.
type engine struct {
	Vehicle
	weather         Weather
	likely, dearest point
	cheaper, dearer [causes]point

	last   measure.Speed // that pushes are of, and the heading
	headed float64
	pushes Band[float64]
}

func (v Vehicle) engine(w Weather) *engine {
	likely, dearest, cheaper, dearer := v.places()
	out := &engine{Vehicle: v, weather: w, likely: v.at(likely, w), dearest: v.at(dearest, w)}
	for c := range causes {
		out.cheaper[c], out.dearer[c] = v.at(cheaper[c], w), v.at(dearer[c], w)
	}
	return out
}

func (e *engine) drive(out *Run, s Section, top measure.Speed) {
	speed := s.Speed
	if top > 0 {
		speed = min(speed, top)
	}
	if !(speed > 0) || e.likely.line.Heating == 0 {
		out.Unknown += s.Length
		return
	}
	if held, ok := e.holds(s, e.weather, speed, e.dearest); held < speed {
		out.Slowed += s.Length
		if !ok {
			out.Stuck += s.Length
		}
		speed = held
	}
	seconds := float64(s.Length) / float64(speed)
	out.Length += s.Length
	out.Time += time.Duration(seconds * float64(time.Second))
	e.fuel(out, s, speed)
}

// fuel adds what a section burns at a speed.
func (e *engine) fuel(out *Run, s Section, v measure.Speed) {
	if v != e.last || s.Heading != e.headed {
		e.last, e.headed, e.pushes = v, s.Heading, e.weather.pushes(v, s.Heading)
	}
	likely := e.likely.burn(s, e.pushes, v)
	out.Fuel.Likely += likely
	out.Fuel.dear += e.dearest.burn(s, e.pushes, v)
	for c := range causes {
		out.Fuel.less[c] += e.cheaper[c].burn(s, e.pushes, v) - likely
		out.Fuel.more[c] += e.dearer[c].burn(s, e.pushes, v) - likely
	}
	air, rolling, climb := e.likely.against(s, e.pushes, v)
	out.Energy.add(air, rolling, climb, e.likely.halts(s, v), s.Length)
}

// burn is the fuel of a section at a speed, never less than what the engine burns
// where nothing drives the wheels: a little drag more on a descent does not save fuel.
func (p *point) burn(s Section, pushes Band[float64], v measure.Speed) measure.Volume {
	air, rolling, grade := p.against(s, pushes, v)
	force := max(float64(air+rolling+grade), 0) + float64(p.halts(s, v))
	burnt := p.idles * measure.Volume(float64(s.Length)/float64(v))
	if force > 0 {
		burnt = max(burnt, p.line.burn(force, v, s.Length))
	}
	if s.NoGrade {
		burnt *= measure.Volume(p.hills)
	}
	return burnt
}

func (p *point) against(s Section, pushes Band[float64], v measure.Speed) (air, rolling, grade measure.Force) {
	l := Load{DragArea: p.drag, Air: p.air, Rolling: p.roll[s.surface()], Mass: p.mass, Grade: s.Grade}
	return l.against(pushes.straight(p.wind))
}

// halts is the force that bringing the rig up to speed again after stops takes, spread
// over the way.
func (p *point) halts(s Section, v measure.Speed) measure.Force {
	return measure.Force(0.5 * turning * p.mass.Kilograms() * float64(v*v) * p.stops[min(s.Flow, Free)])
}

// surface is that of a section; one that is not listed is one that is not known.
func (s Section) surface() Surface {
	if s.Surface > Loose {
		return SurfaceUnknown
	}
	return s.Surface
}

// AtSpeed is a way at no more than a speed.
type AtSpeed struct {
	Top  measure.Speed
	Time time.Duration
	Fuel Burn
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

// Saves is by how much a vehicle with another drag area burns less on the same way,
// everything else likely: the least that it may, 0 where it may save nothing, and the
// most.
func (v Vehicle) Saves(sections []Section, w Weather, better Band[measure.Area]) Band[measure.Volume] {
	with := func(a measure.Area) measure.Volume {
		v.DragArea = Exactly(a)
		return v.Over(sections, w, 0).Fuel.Likely
	}
	now := with(v.DragArea.Likely)
	return Band[measure.Volume]{
		max(now-with(better.Likely), 0), max(now-with(better.High), 0), max(now-with(better.Low), 0),
	}
}

// FuelStops lists how far along a way the tank reaches its reserve by what
// it burns at the most, each time filled up there; fuel is what each section takes. The range
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

// EachMost is what each section burns at the most, without a cap, appended to a slice.
func (v Vehicle) EachMost(sections []Section, w Weather, out []measure.Volume) []measure.Volume {
	e := v.engine(w)
	for _, s := range sections {
		var run Run
		e.drive(&run, s, 0)
		out = append(out, run.Fuel.dear)
	}
	return out
}
