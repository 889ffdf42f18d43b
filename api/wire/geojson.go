package wire

import (
	"fmt"
	"io"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
)

// WriteGeoJSON writes the trip as a FeatureCollection (RFC 7946): a line for
// each leg, a point for each structure. What stands at the head of the plan
// stands in a foreign member.
func (t *Trip) WriteGeoJSON(w io.Writer) error {
	fc := geojson.NewFeatureCollection()
	fc.ExtraMembers = geojson.Properties{"wayhouse": t.head()}
	for i, l := range t.plan.Legs {
		f := geojson.NewFeature(l.Line)
		leg := t.Legs[i]
		f.Properties = geojson.Properties{
			"leg": i + 1, "from": leg.From, "to": leg.To, "jurisdictions": leg.Jurisdictions, "roads": leg.Roads,
			"length_m": leg.LengthM, "outcome": leg.Verdict.Outcome, "unknowns": leg.Verdict.Unknowns, "unmatched": leg.Unmatched, "mark": leg.Mark,
		}
		fc.Append(f)
		for _, s := range leg.Structures {
			fc.Append(structureFeature(s))
		}
	}
	for _, a := range t.Avoided {
		for _, s := range a.Structures {
			f := structureFeature(s)
			f.Properties["avoided"] = true
			fc.Append(f)
		}
	}
	return writeFeatures(w, fc)
}

// head is what every form of the answer says of the trip as a whole.
func (t *Trip) head() map[string]any {
	return map[string]any{
		"notice": t.Notice, "verdict": t.Verdict, "cautions": t.Cautions, "attributions": t.Attributions, "mark": t.Mark,
		"findings": t.Findings, "road": t.Road, "tables": t.Tables, "network": t.Network,
	}
}

func writeFeatures(w io.Writer, fc *geojson.FeatureCollection) error {
	raw, err := fc.MarshalJSON()
	if err != nil {
		return err
	}
	_, err = w.Write(raw)
	return err
}

func structureFeature(s Structure) *geojson.Feature {
	f := geojson.NewFeature(orb.Point{s.Lon, s.Lat})
	f.Properties = geojson.Properties{"id": s.ID, "name": s.Name, "outcome": s.Outcome, "sum": s.Sum, "why": s.Why, "doubt": s.Doubt, "ask": s.Ask, "row": s.Row, "mark": s.Mark}
	return f
}

// WriteGeoJSON writes the ways as a FeatureCollection (RFC 7946), a feature for
// each. What stands at the head of the best one stands in a foreign member, with
// the reasons.
func (r *Routes) WriteGeoJSON(w io.Writer) error {
	fc := geojson.NewFeatureCollection()
	head := r.Best.head()
	head["mark"], head["order"], head["reasons"], head["permit_free_none"], head["difference"] = r.Mark, r.Order, r.Reasons, r.PermitFreeWhy, r.Difference
	fc.ExtraMembers = geojson.Properties{"wayhouse": head}
	fc.Append(wayFeature("best", r.Best))
	for i := range r.Alternatives {
		fc.Append(optionFeature(fmt.Sprintf("alternative %d", i+1), &r.Alternatives[i]))
	}
	if r.Free != nil {
		fc.Append(optionFeature("free", r.Free))
	}
	if r.PermitFree != nil {
		fc.Append(optionFeature("permit_free", r.PermitFree))
	}
	return writeFeatures(w, fc)
}

func wayFeature(way string, t *Trip) *geojson.Feature {
	var lines orb.MultiLineString
	for _, l := range t.plan.Legs {
		lines = append(lines, l.Line)
	}
	f := geojson.NewFeature(lines)
	f.Properties = geojson.Properties{
		"way": way, "length_m": t.LengthM, "driving_s": t.DrivingS, "outcome": t.Verdict.Outcome, "unknowns": t.Verdict.Unknowns, "mark": t.Mark,
	}
	return f
}

func optionFeature(way string, o *Option) *geojson.Feature {
	f := wayFeature(way, o.Trip)
	f.Properties["extra_m"], f.Properties["extra_driving_s"], f.Properties["new"] = o.ExtraM, o.ExtraS, o.New
	f.Properties["permits_added"], f.Properties["permits_spared"] = o.Permits, o.Spared
	f.Properties["jurisdictions"], f.Properties["roads"] = o.Jurisdictions, o.Roads
	return f
}
