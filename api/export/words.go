package export

import (
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

// state is an outcome in the words of screens.
func state(o finding.Outcome) say.Remark { return say.Remark{Code: say.Word("state", string(o))} }

// title names a trip.
func title(p *trip.Plan) say.Remark {
	from, to := p.Ends()
	return named(p.Name, from, to)
}

func named(name string, from, to say.Remark) say.Remark {
	ends := say.That("export.ends", "from", from, "to", to)
	if name == "" {
		return ends
	}
	return say.That("export.title", "name", name, "ends", ends)
}

// about is what whoever gets a line without the plan must know of it: for which rig, by
// which tables, what it comes to, and whose the data is.
func about(p *trip.Plan) []say.Remark {
	return append(p.Notice(), say.That("caution.aid"),
		say.That("export.rig", "height", sized(p.Rig.Height), "width", sized(p.Rig.Width),
			"length", sized(p.Rig.Length), "mass", sized(p.Rig.Mass)),
		say.That("export.data", "tables", p.Tables, "network", p.About.Revision, "departure", p.Departure))
}

// sized is a size of a rig, at least which it is, or that it is not known.
func sized[T measure.Length | measure.Mass](of measure.Known[T]) any {
	if q := finding.Sized(of, finding.Of[T]); q.Known() {
		return q
	}
	return state(finding.Unknown)
}

// legName numbers a leg.
func legName(i int, l trip.Leg) say.Remark {
	return say.That("export.leg", "number", i+1, "from", l.From, "to", l.To)
}

// legSays is what a map says of a leg.
func legSays(l trip.Leg) say.Remark {
	v := l.Verdict()
	return say.That("export.leg_says", "state", state(v.Outcome()), "unknowns", v.Unknowns, "length", l.Length,
		"areas", l.Jurisdictions, "roads", l.Roads)
}

// way is one with its name.
type way struct {
	name  say.Remark
	plan  *trip.Plan
	drawn bool // to look at, and not to drive
}

// ways are those of an answer, the best one first.
func ways(r *trip.Routes) []way {
	out := []way{{say.That("export.best"), r.Best, false}}
	for i, o := range r.Others {
		out = append(out, way{say.That("export.alternative", "number", i+1), o.Plan, false})
	}
	if r.Without != nil {
		out = append(out, way{say.That("export.permit_free"), r.Without.Plan, false})
	}
	if r.Free != nil {
		out = append(out, way{say.That("export.free"), r.Free.Plan, true})
	}
	return out
}
