package export

import (
	"fmt"
	"io"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/routing/trip"
)

// asGeoJSON is for maps (RFC 7946).
func asGeoJSON() Format {
	return Format{"geojson", "application/geo+json", []writer{of(tripFeatures), of(wayFeatures)}}
}

// tripFeatures writes a trip as a FeatureCollection: a line for each leg, a point for
// each structure. What stands at the head of the plan stands in a foreign member.
func tripFeatures(w io.Writer, v report.View, p *trip.Plan) error {
	fc, t := geojson.NewFeatureCollection(), wire.NewTrip(v.In, p)
	fc.ExtraMembers = geojson.Properties{"wayhouse": head(t)}
	for i, leg := range t.Legs {
		f := geojson.NewFeature(p.Legs[i].Line)
		f.Properties = geojson.Properties{
			"leg": i + 1, "from": leg.From, "to": leg.To, "jurisdictions": leg.Jurisdictions, "roads": leg.Roads,
			"length_m": leg.LengthM, "outcome": leg.Verdict.Outcome, "unknowns": leg.Verdict.Unknowns,
			"unmatched": leg.Unmatched, "mark": leg.Mark,
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

// head is what the answer says of a trip as a whole.
func head(t *wire.Trip) map[string]any {
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
	_, err = w.Write(append(raw, '\n'))
	return err
}

func structureFeature(s wire.Structure) *geojson.Feature {
	f := geojson.NewFeature(orb.Point{s.Lon, s.Lat})
	f.Properties = geojson.Properties{
		"id": s.ID, "name": s.Name, "outcome": s.Outcome, "sum": s.Sum, "why": s.Why, "doubt": s.Doubt, "ask": s.Ask,
		"row": s.Row, "mark": s.Mark,
	}
	return f
}

// wayFeatures writes ways as a FeatureCollection, a feature for each. What stands at
// the head of the best one stands in a foreign member, with the reasons.
func wayFeatures(w io.Writer, v report.View, routes *trip.Routes) error {
	fc, r := geojson.NewFeatureCollection(), wire.NewRoutes(v.In, routes)
	said := head(r.Best)
	said["mark"], said["order"], said["reasons"] = r.Mark, r.Order, r.Reasons
	said["permit_free_none"], said["difference"] = r.PermitFreeWhy, r.Difference
	fc.ExtraMembers = geojson.Properties{"wayhouse": said}
	fc.Append(wayFeature("best", r.Best, routes.Best))
	for i := range r.Alternatives {
		fc.Append(optionFeature(fmt.Sprintf("alternative %d", i+1), &r.Alternatives[i], &routes.Others[i]))
	}
	if r.Free != nil {
		fc.Append(optionFeature("free", r.Free, routes.Free))
	}
	if r.PermitFree != nil {
		fc.Append(optionFeature("permit_free", r.PermitFree, routes.Without))
	}
	return writeFeatures(w, fc)
}

func wayFeature(way string, t *wire.Trip, p *trip.Plan) *geojson.Feature {
	var lines orb.MultiLineString
	for _, l := range p.Legs {
		lines = append(lines, l.Line)
	}
	f := geojson.NewFeature(lines)
	f.Properties = geojson.Properties{
		"way": way, "length_m": t.LengthM, "driving_s": t.DrivingS, "outcome": t.Verdict.Outcome,
		"unknowns": t.Verdict.Unknowns, "mark": t.Mark,
	}
	return f
}

func optionFeature(way string, o *wire.Option, planned *trip.Option) *geojson.Feature {
	f := wayFeature(way, o.Trip, planned.Plan)
	f.Properties["extra_m"], f.Properties["extra_driving_s"], f.Properties["new"] = o.ExtraM, o.ExtraS, o.New
	f.Properties["permits_added"], f.Properties["permits_spared"] = o.Permits, o.Spared
	f.Properties["jurisdictions"], f.Properties["roads"] = o.Jurisdictions, o.Roads
	return f
}
