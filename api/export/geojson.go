package export

import (
	"encoding/json"
	"io"
	"strconv"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
)

// asGeoJSON is for maps (RFC 7946).
func asGeoJSON() Format {
	return Format{"geojson", "application/geo+json", []writer{of(tripFeatures), of(wayFeatures), of(ladderFeatures)}}
}

// tripFeatures writes a trip as a FeatureCollection: a line for each leg, a point for
// each thing to look at on the way and for each structure that it goes round. What stands
// at the head of the plan stands in a foreign member.
func tripFeatures(w io.Writer, v report.View, p *trip.Plan) error {
	fc, t := geojson.NewFeatureCollection(), wire.NewTrip(v.In, p)
	fc.ExtraMembers = geojson.Properties{"wayhouse": head(t)}
	from := 0.0
	for i, leg := range t.Legs {
		f := geojson.NewFeature(degrees(p.Legs[i].Line))
		f.Properties = geojson.Properties{
			"feature": "leg", "leg": i + 1, "from": leg.From, "to": leg.To, "jurisdictions": leg.Jurisdictions,
			"roads": leg.Roads, "length_m": leg.LengthM, "from_m": tenths(from), "to_m": tenths(from + leg.LengthM),
			"distances_m": distances(p.Legs[i].Line, from, leg.LengthM), "outcome": leg.Verdict.Outcome,
			"unknowns": leg.Verdict.Unknowns, "unmatched": leg.Unmatched, "mark": leg.Mark,
		}
		from += leg.LengthM
		fc.Append(f)
	}
	for _, s := range spots(p, t) {
		f, err := featureOf(s.feature, s.point, s.of)
		if err != nil {
			return err
		}
		f.Properties["from_start_m"] = tenths(float64(s.at))
		fc.Append(f)
	}
	for _, a := range t.Avoided {
		for _, s := range a.Structures {
			f, err := featureOf("avoided_structure", orb.Point{s.Lon, s.Lat}, s)
			if err != nil {
				return err
			}
			fc.Append(f)
		}
	}
	return writeFeatures(w, fc)
}

// head is what the answer says of a trip as a whole.
func head(t *wire.Trip) map[string]any {
	return map[string]any{
		"notice": t.Notice, "verdict": t.Verdict, "cautions": t.Cautions, "attributions": t.Attributions, "mark": t.Mark,
		"findings": t.Findings, "road": t.Road, "tables_revision": t.Number, "tables_sum": t.Sum, "network": t.Network,
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

// featureOf is a feature with the fields that JSON has of a value, but for those that its
// geometry has.
func featureOf(kind string, at orb.Geometry, v any) (*geojson.Feature, error) {
	f := geojson.NewFeature(at)
	raw, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	if err := json.Unmarshal(raw, &f.Properties); err != nil {
		return nil, err
	}
	delete(f.Properties, "lat")
	delete(f.Properties, "lon")
	f.Properties["feature"] = kind
	return f, nil
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
		fc.Append(optionFeature("alternative "+strconv.Itoa(i+1), &r.Alternatives[i], &routes.Others[i]))
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
	f := geojson.NewFeature(lines(p))
	f.Properties = geojson.Properties{
		"feature": "way", "way": way, "length_m": t.LengthM, "driving_s": t.DrivingS, "driving_slow_s": t.SlowS,
		"outcome":  t.Verdict.Outcome,
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

// ladderFeatures writes the steps of both ladders, a line each. The rest of the answer
// stands in a foreign member.
func ladderFeatures(w io.Writer, v report.View, l *trip.Ladders) error {
	fc, out := geojson.NewFeatureCollection(), wire.NewLadders(v.In, l)
	for _, one := range []struct {
		name  string
		steps []wire.LadderStep
		of    choosing.Ladder
	}{{"unmeasured_open", out.Open.Steps, l.Open}, {"unmeasured_shut", out.Shut.Steps, l.Shut}} {
		for i, s := range one.steps {
			f, err := featureOf("step", degrees(one.of.Steps[i].Line), s)
			if err != nil {
				return err
			}
			f.Properties["ladder"], f.Properties["step"] = one.name, i+1
			fc.Append(f)
		}
	}
	out.Open.Steps, out.Shut.Steps = nil, nil
	fc.ExtraMembers = geojson.Properties{"wayhouse": out}
	return writeFeatures(w, fc)
}
