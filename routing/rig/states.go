package rig

import (
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// State is how a unit is set up.
type State string

// The states.
const (
	Travelling State = "travelling"
	Standing   State = "standing"
)

// Term is the code of the state's name.
func (s State) Term() say.Code { return say.Word("rig_state", string(s)) }

// States lists the states.
func States() []State { return []State{Travelling, Standing} }

// position is where a movable is in a state; nil where it is not there. One that
// was forgotten travels as it stands.
func (m *Movable) position(state State, forgotten *Movable) *Position {
	if state == Standing || m == forgotten {
		return m.Stand
	}
	return m.Travel
}

// PartsIn lists what a unit weighs in a state, with its movables; forgotten is
// the one of them that was not made ready to travel, nil for none.
func (u Unit) PartsIn(state State, forgotten *Movable) []Part {
	out := append([]Part(nil), u.Parts...)
	for i := range u.Movables {
		m := &u.Movables[i]
		if at := m.position(state, forgotten); at != nil && m.Mass.High > 0 {
			out = append(out, Part{Name: m.Name, Mass: m.Mass, Place: at.Place, Row: m.Row})
		}
	}
	return out
}

// OutlineIn lists the boxes of a unit in a state.
func (u Unit) OutlineIn(state State, forgotten *Movable) []Box {
	out := append([]Box(nil), u.Outline...)
	for i := range u.Movables {
		m := &u.Movables[i]
		if at := m.position(state, forgotten); at != nil && at.Box != nil {
			box := *at.Box
			box.Name = m.Name
			out = append(out, box)
		}
	}
	return out
}

// Extent is what an outline measures over all.
type Extent struct {
	Front, Rear measure.Length // along: of the foremost and the rearmost point
	Left, Right measure.Length // from the middle line
	Bottom, Top measure.Length
}

// extent measures boxes; ok is false where there is none.
func extent(boxes []Box) (e Extent, ok bool) {
	for i, b := range boxes {
		if i == 0 {
			e = Extent{b.From, b.To, b.Left, b.Right, b.Bottom, b.Top}
			continue
		}
		e = Extent{
			min(e.Front, b.From), max(e.Rear, b.To), max(e.Left, b.Left), max(e.Right, b.Right), min(e.Bottom, b.Bottom),
			max(e.Top, b.Top),
		}
	}
	return e, len(boxes) > 0
}

// extent measures the outline of a unit in a state; ok is false where it is not
// described: what moves alone is no outline.
func (u Unit) extent(state State, forgotten *Movable) (e Extent, ok bool) {
	if len(u.Outline) == 0 {
		return e, false
	}
	return extent(u.OutlineIn(state, forgotten))
}

// Length is from the coupling point, or what reaches beyond it, to the rear.
func (e Extent) Length() measure.Length { return e.Rear - min(e.Front, 0) }

// Width is over all.
func (e Extent) Width() measure.Length { return e.Left + e.Right }

// beyond reports whether an extent reaches further than another to any side.
func (e Extent) beyond(o Extent) bool {
	return e.Top > o.Top || e.Left > o.Left || e.Right > o.Right || e.Rear > o.Rear || e.Front < o.Front ||
		e.Bottom < o.Bottom
}

// Measures of a unit in a state.
type Measures struct {
	State     State
	Forgotten string // a movable; "" for none
	Does      Motion // what it should have done
	Check     string
	Extent    Extent   // with its tires as far as they are known
	Outline   Extent   // without them
	Shaped    bool     // the outline is described, and both extents are of it
	Mass      Estimate // of the parts
	Coupling  measure.Known[Estimate]
	Hits      bool // it reaches beyond the unit that travels
	// Above is how high it then is, where no outline is described but the height of the
	// unit is given and it is higher; 0: it is not.
	Above measure.Length
}

// States measures a unit as it travels, as it stands, and once for each movable
// that was forgotten.
func (r Rig) States() []Measures {
	travel := r.measures(Travelling, nil)
	out := []Measures{travel, r.measures(Standing, nil)}
	for i := range r.Unit.Movables {
		m := r.measures(Travelling, &r.Unit.Movables[i])
		m.Hits = m.Shaped && m.Outline.beyond(travel.Outline)
		if at := r.Unit.Movables[i].Stand; !m.Shaped && at != nil && at.Box != nil && r.Unit.Height != nil &&
			at.Box.Top > *r.Unit.Height {
			m.Hits, m.Above = true, at.Box.Top
		}
		out = append(out, m)
	}
	return out
}

func (r Rig) measures(state State, forgotten *Movable) Measures {
	m := Measures{State: state}
	if forgotten != nil {
		m.Forgotten, m.Does, m.Check = forgotten.Name, forgotten.Does, forgotten.Check
	}
	m.Outline, m.Shaped = r.Unit.extent(state, forgotten)
	tires, _ := overTires(r.Unit.Frame.Axles)
	m.Extent = m.Outline.over(tires)
	parts := r.Unit.PartsIn(state, forgotten)
	s := Statics{Unit: total(parts), Centre: centreOfGravity(parts)}
	m.Mass = s.Unit
	if len(parts) > 0 {
		s.lever(r.Unit, parts)
		m.Coupling = s.Coupling
	}
	return m
}

// Changes say what a forgotten movable changes, none for nothing known.
func (m Measures) Changes(travel Measures) []say.Remark {
	if m.Above > 0 {
		return []say.Remark{say.That("rig.height_then", "is", m.Above)}
	}
	if !m.Shaped || !travel.Shaped {
		return nil
	}
	var out []say.Remark
	is, was := m.Extent, travel.Extent
	if is.Top != was.Top {
		out = append(out, say.That("rig.height_changes", "is", is.Top, "was", was.Top))
	}
	if is.Width() != was.Width() {
		out = append(out, say.That("rig.width_changes", "is", is.Width(), "was", was.Width()))
	} else if over, before := m.Outline.Width(), travel.Outline.Width(); over != before { // its tires reach as far
		out = append(out, say.That("rig.width_above_tires_changes", "is", over, "was", before))
	}
	if is.Length() != was.Length() {
		out = append(out, say.That("rig.length_changes", "is", is.Length(), "was", was.Length()))
	}
	if is.Bottom != was.Bottom {
		out = append(out, say.That("rig.lowest_changes", "is", is.Bottom, "was", was.Bottom))
	}
	return out
}

// Departure lists what to look at before the rig leaves: each movable, then what
// every rig needs (common practice, no source).
func (r Rig) Departure() []say.Remark {
	var out []say.Remark
	for _, m := range r.Unit.Movables {
		switch {
		case m.Does == Folds:
			out = append(out, say.That("rig.folded", "name", m.Name, "check", m.Check))
		case m.Does == Slides:
			out = append(out, say.That("rig.slid_in", "name", m.Name, "check", m.Check))
		case m.Does == Latches:
			out = append(out, say.That("rig.latched", "name", m.Name, "check", m.Check))
		case m.Travel != nil:
			out = append(out, say.That("rig.stowed", "name", m.Name, "check", m.Check))
		default:
			out = append(out, say.That("rig.taken_off", "name", m.Name, "check", m.Check))
		}
	}
	return append(out,
		say.That("rig.check_coupling"), say.That("rig.check_jacks"), say.That("rig.check_lamps"),
		say.That("rig.check_tires", "after", 80*measure.Distance(1000)),
		say.That("rig.check_tanks"), say.That("rig.check_doors"), say.That("rig.check_height"),
	)
}
