package wire

import (
	"cmp"
	"fmt"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/drive"
)

// coupled reads a rig, of its parts or as one.
func (r *reader) coupled(u UnitRequest, t *TowRequest, w *RigRequest, use Use) (rig.Rig, rig.Overall) {
	before := len(r.errs)
	unit, tow, whole := r.unit(u), r.tow(t), r.rig(w)
	r.note(rig.CheckBounds(unit, tow, whole))
	if len(r.errs) > before || r.left("unit") || r.left("tow") || r.left("rig") {
		return rig.Rig{Unit: unit}, whole // what is not read would contradict what is
	}
	coupled, err := rig.Assemble(unit, tow, whole, limit.Use(cmp.Or(use, u.Use)))
	if err != nil {
		r.note(err)
		return rig.Rig{Unit: unit}, whole
	}
	r.note(rig.CheckBounds(coupled.Unit, coupled.Tow, whole))
	return coupled, whole
}

func (r *reader) unit(q UnitRequest) rig.Unit {
	u := rig.Unit{
		Name: q.Name, Kind: limit.Kind(q.Kind), Coupling: rig.Coupling(q.Coupling), Axles: q.Axles,
		Height: q.Height.Is, Width: measure.Given(q.Width.Is), Length: q.Length.Is, Mass: measure.Given(q.Mass.Is),
		CouplingToRear: q.CouplingToRear.Is,
		CouplingToAxle: q.CouplingToLastAxle.Is,
		Combination:    limit.Form(q.Combination), Told: r.told(q.Answers), Done: r.done("unit.done", q.Done),
		HeightMeasured: q.HeightBasis == Gauged, Frame: r.frame(q.FrameRequest, q.Axles), Trailer: trailer(q.Trailer),
	}
	if q.MeasuredOn != "" {
		u.MeasuredOn = r.date("unit.measured_on", q.MeasuredOn)
	}
	r.combined(u)
	if r.future(u.MeasuredOn) {
		r.fail("unit.measured_on", q.MeasuredOn, say.That("error.lies_in_the_future"),
			say.That("fix.give_the_day_it"))
	}
	if u.HeightMeasured && u.MeasuredOn.IsZero() {
		r.fail("unit.measured_on", nil, say.That("error.missing_a_measured_height"),
			say.That("fix.add_the_day_or"))
	}
	if u.Kind != limit.LoadOnTrailer && u.CouplingToRear != nil && u.Length != nil && *u.CouplingToRear > *u.Length {
		r.fail("unit.coupling_to_rear", u.CouplingToRear.String(),
			say.That("error.longer_than_unit", "length", u.Length.String()),
			say.That("fix.check_both_figures"))
	}
	if u.CouplingToAxle != nil && u.CouplingToRear != nil && *u.CouplingToAxle > *u.CouplingToRear {
		r.fail(
			"unit.coupling_to_last_axle",
			u.CouplingToAxle.String(),
			say.That("error.longer_than_to_rear", "length", u.CouplingToRear.String()),
			say.That("fix.check_both_figures"),
		)
	}
	return u
}

func (r *reader) tow(q *TowRequest) rig.Tow {
	if q == nil {
		return rig.Tow{}
	}
	return rig.Tow{
		Name: q.Name, Form: limit.Tow(q.Form), Fuel: drive.Fuel(q.Fuel), Axles: q.Axles, Height: q.Height.Is,
		Width: measure.Given(q.Width.Is), Length: q.Length.Is, Mass: q.Mass.Is, OverMirrors: q.OverMirrors.Is,
		FrontToCoupling: q.FrontToCoupling.Is, Truck: r.truck(q.TruckRequest),
	}
}

func (r *reader) rig(q *RigRequest) rig.Overall {
	if q == nil {
		return rig.Overall{}
	}
	return rig.Overall{
		Height: q.Height.Is, Width: q.Width.Is, Length: q.Length.Is, Mass: q.Mass.Is,
		Rated: q.RatedMass.Is, FrontOverhang: q.FrontOverhang.Is, RearOverhang: q.RearOverhang.Is,
		Loads: r.loads(q.Axles),
	}
}

// loads reads the axles of a rig. They stand one behind the other.
func (r *reader) loads(in []AxleRequest) []limit.AxleLoad {
	var out []limit.AxleLoad
	for i, q := range in {
		field := fmt.Sprintf("rig.axles[%d]", i)
		l := limit.AxleLoad{
			Mass: measure.Given(q.Mass.Is), Steering: q.Steering, Tires: q.Tires, At: q.BehindFirst.Or(0),
			Width: q.TireWidth.Or(0),
		}
		switch {
		case i == 0 && l.At != 0:
			r.fail(field+".behind_first", l.At.String(), say.That("error.not_0"), say.That("fix.places_count_from_the_first"))
		case i > 0 && l.At <= out[i-1].At:
			r.fail(field+".behind_first", l.At.String(), say.That("error.not_behind_the_axle"),
				say.That("fix.list_the_axles_from"))
		}
		out = append(out, l)
	}
	return out
}
