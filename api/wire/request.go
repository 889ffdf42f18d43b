package wire

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs"
	"wayhouse/regs/area"
	"wayhouse/regs/clearance"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/place"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/drive"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
)

// TripRequest is a trip to plan, as it stands in JSON and in a trip file. A
// quantity comes as text with a unit (height) or as a number in the unit of
// its suffix (height_m), never both. What is left out is unknown.
type TripRequest struct {
	Name            string             `json:"name,omitempty" maxLength:"200"`
	Invented        bool               `json:"invented,omitempty" doc:"The trip is an example"`
	Unit            UnitRequest        `json:"unit,omitzero"`
	Tow             *TowRequest        `json:"tow,omitempty"`
	Rig             *RigRequest        `json:"rig,omitempty" doc:"Measurements of the whole rig, where no tow vehicle is described"`
	Use             Use                `json:"use,omitempty"`
	Stops           []StopRequest      `json:"stops,omitempty" maxItems:"25"`
	Depart          string             `json:"depart,omitempty" doc:"2027-05-11T08:00 on the clock of the first stop, or with an offset; now when left out" maxLength:"40"`
	StructuresCSV   string             `json:"structures_csv,omitempty" doc:"Structures with their clear heights, as CSV"`
	Route           *GivenRequest      `json:"route,omitempty" doc:"A prescribed route, to be checked as it is"`
	Allowances      *AllowancesRequest `json:"allowances,omitempty"`
	TablesRevision  int                `json:"tables_revision,omitempty" minimum:"0" doc:"Plan with the tables as they were at this revision; the newest when left out"`
	AvoidUnmeasured bool               `json:"avoid_unmeasured,omitempty" doc:"Go round what hangs over the road without a usable clear height: up to an hour for each"`
	Conditions      *ConditionsRequest `json:"conditions,omitempty" doc:"Air, wind, idling and reserve that fuel is reckoned with"`
	Wishes          *WishesRequest     `json:"wishes,omitempty" doc:"What is asked of the way beside that the rig fits"`
	Confirm         []string           `json:"confirm,omitempty" doc:"Words of questions that were answered yes"`
}

// UnitRequest is the house on its trailer.
type UnitRequest struct {
	Name     string `json:"name,omitempty" maxLength:"200"`
	Invented bool   `json:"invented,omitempty" doc:"It is an example"`
	SizeRequest
	HeightBasis        HeightBasis     `json:"height_basis,omitempty" doc:"Designed unless it was measured on the finished unit, loaded, tires at pressure"`
	MeasuredOn         string          `json:"measured_on,omitempty" format:"date"`
	Kind               UnitKind        `json:"kind,omitempty" doc:"What the law takes it for; unknown when left out"`
	Coupling           Coupling        `json:"coupling,omitempty"`
	CouplingToRear     Length          `json:"coupling_to_rear,omitzero"`
	CouplingToLastAxle Length          `json:"coupling_to_last_axle,omitzero" doc:"From the coupling point to the centre of the last axle"`
	Axles              int             `json:"axles,omitempty" minimum:"0" maximum:"20" doc:"How many; left out where running_gear describes them"`
	Trailer            *TrailerRequest `json:"trailer,omitempty" doc:"With kind load_on_trailer: the trailer by itself. The unit's own length, width and mass are then those of the load; its height, its outline, its couplings and its axles stay those of both together"`
	FrameRequest
}

// TowRequest is the tow vehicle.
type TowRequest struct {
	Name     string  `json:"name,omitempty" maxLength:"200"`
	Invented bool    `json:"invented,omitempty" doc:"It is an example"`
	Form     TowForm `json:"form,omitempty" doc:"What the law takes it for: a truck tractor carries no load of its own, a car may be a van; unknown when left out"`
	SizeRequest
	OverMirrors     Length   `json:"over_mirrors,omitzero" doc:"Over its mirrors as they are set for the unit, for what it passes between; width leaves them out, as laws do"`
	FrontToCoupling Length   `json:"front_to_coupling,omitzero"`
	Axles           int      `json:"axles,omitempty" minimum:"0" maximum:"20"`
	Fuel            FuelKind `json:"fuel,omitempty"`
	TruckRequest
}

// RigRequest is the whole rig, coupled.
type RigRequest struct {
	SizeRequest
	FrontOverhang Span          `json:"front_overhang,omitzero" doc:"What sticks out before the foremost point of the tow vehicle; may be 0 m"`
	RearOverhang  Span          `json:"rear_overhang,omitzero" doc:"What sticks out behind the centre of the last axle"`
	Axles         []AxleRequest `json:"axles,omitempty" maxItems:"20" doc:"Every axle of the rig, from the front, as it stands on the road"`
}

// AxleRequest is one axle of the rig.
type AxleRequest struct {
	BehindFirst Span   `json:"behind_first,omitzero" doc:"How far behind the first axle of the rig; the first may leave it out"`
	Mass        Mass   `json:"mass,omitzero" doc:"What it carries on the scale"`
	Steering    bool   `json:"steering,omitempty"`
	Tires       int    `json:"tires,omitempty" minimum:"0" maximum:"16"`
	TireWidth   Length `json:"tire_width,omitzero" doc:"Nominal, of one tire, such as 235 mm"`
}

// SizeRequest is how large and how heavy something is as it travels: a unit
// overall with its coupling, a tow vehicle uncoupled with driver and fuel. Of the
// width and the tires that are described the greater counts.
type SizeRequest struct {
	Height Length `json:"height,omitzero"`
	Width  Length `json:"width,omitzero"`
	Length Length `json:"length,omitzero"`
	Mass   Mass   `json:"mass,omitzero"`
}

// StopRequest is a stop: a place by name, or coordinates.
type StopRequest struct {
	Place string   `json:"place,omitempty" maxLength:"200" doc:"Such as Cornwall, ON"`
	Lat   *float64 `json:"lat,omitempty"`
	Lon   *float64 `json:"lon,omitempty"`
}

// GivenRequest is a prescribed route in one of three forms.
type GivenRequest struct {
	GeoJSON any      `json:"geojson,omitempty" doc:"A LineString, or a Feature or FeatureCollection with one"`
	GPX     string   `json:"gpx,omitempty" doc:"A GPX 1.1 document with a track"`
	Roads   []string `json:"roads,omitempty" maxItems:"100" doc:"Road numbers in order"`
}

// AllowancesRequest changes what is taken off a clearance. What is left out
// keeps its default.
type AllowancesRequest struct {
	Base          Span  `json:"base,omitzero"`
	Bounce        Span  `json:"bounce,omitzero"`
	Snow          Span  `json:"snow,omitzero"`
	DesignedError Span  `json:"designed_error,omitzero"`
	MeasuredError Span  `json:"measured_error,omitzero"`
	Side          Span  `json:"side,omitzero" doc:"To either side, where the width is limited"`
	WinterMonths  []int `json:"winter_months,omitempty" maxItems:"12" minimum:"1" maximum:"12"`
	FigureDays    int   `json:"figure_days,omitempty" minimum:"1" maximum:"36500" doc:"How many days after its measurement a clearance can clear; 731 when left out"`
}

// reader collects every value of a request that cannot be used, so that the
// user mends them in one go.
type reader struct {
	errs []FieldError
	now  time.Time // no scale's ticket is later; zero: any may be
	// refused is what does not fit and was left out: what is missed because of that is
	// no further mistake.
	refused []FieldError
}

// left reports whether something of a field was left out.
func (r *reader) left(field string) bool {
	return slices.ContainsFunc(r.refused, func(e FieldError) bool { return strings.HasPrefix(e.Field, field) })
}

func (r *reader) note(err error) {
	if err == nil {
		return
	}
	refusal, ok := AsRefusal(err)
	if !ok {
		r.errs = append(r.errs, FieldError{Problem: err.Error()})
		return
	}
	for _, e := range refusal.Errors {
		r.fail(e.Field, e.Value, e.Problem, e.Fix)
	}
}

func (r *reader) fail(field string, value any, problem, fix string) {
	if r.left(field) {
		return
	}
	r.errs = append(r.errs, FieldError{Field: field, Value: value, Problem: problem, Fix: fix})
}

// Known is what a request is read against.
type Known struct {
	Places *place.Gazetteer
	Areas  *area.Index
	Tables *regs.Tables
	Now    time.Time // no scale's ticket is later
	// Refused is what was refused of the request before.
	Refused *Refusal
}

func (k Known) reader() *reader {
	r := &reader{now: k.Now}
	if k.Refused != nil {
		r.errs, r.refused = slices.Clone(k.Refused.Errors), k.Refused.Errors
	}
	return r
}

// Read reads quantities, places, structures, the route and the wishes. The error is
// a [*Refusal] that names every field to mend.
func (q TripRequest) Read(k Known) (trip.Request, error) { return q.read(k.reader(), k) }

func (q TripRequest) read(r *reader, k Known) (trip.Request, error) {
	out := trip.Request{
		Name: q.Name, Invented: invented(q.Invented, q.Unit, q.Tow), AvoidUnmeasured: q.AvoidUnmeasured, Departure: k.Now, Allowances: allowances(q.Allowances),
	}
	coupled, whole := r.coupled(q.Unit, q.Tow, q.Rig, q.Use)
	unit := coupled.Unit
	out.Rig = coupled
	out.Stops = r.stops(q.Stops, k.Places)
	if q.Depart != "" {
		out.Departure, out.Local = r.departure(q.Depart)
	}
	if day := unit.MeasuredOn; day.After(out.Departure.AddDate(0, 0, 1)) {
		r.fail("unit.measured_on", q.Unit.MeasuredOn, "lies after the departure", "give the day it was measured, or leave height_basis out")
	}
	if q.StructuresCSV != "" {
		structures, err := clearance.ReadCSV([]byte(q.StructuresCSV))
		r.structures(err)
		out.Structures, out.StructuresRevision = structures, revision(q.StructuresCSV)
	}
	out.Given = r.route(q.Route)
	out.Wishes = r.wishes(q.Wishes, k.Areas)
	out.Conditions = r.conditions(q.Conditions)
	if len(r.errs) > 0 {
		return out, Refuse(r.errs...)
	}
	return out, confirmed(unit, whole, q.Confirm)
}

// revision names a state of a table by its content.
func revision(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:6])
}

// invented reports whether any part of a rig or its trip is an example.
func invented(trip bool, u UnitRequest, t *TowRequest) bool {
	return trip || u.Invented || t != nil && t.Invented
}

// coupled reads a rig, of its parts or as one.
func (r *reader) coupled(u UnitRequest, t *TowRequest, w *RigRequest, use Use) (rig.Rig, rig.Overall) {
	before := len(r.errs)
	unit, tow, whole := r.unit(u), r.tow(t), r.rig(w)
	r.note(rig.CheckBounds(unit, tow, whole))
	if len(r.errs) > before || r.left("unit") || r.left("tow") || r.left("rig") {
		return rig.Rig{Unit: unit}, whole // what is not read would contradict what is
	}
	coupled, err := rig.Assemble(unit, tow, whole, limit.Use(use))
	if err != nil {
		r.note(err)
		return rig.Rig{Unit: unit}, whole
	}
	r.note(rig.CheckBounds(coupled.Unit, coupled.Tow, whole))
	return coupled, whole
}

// confirmed asks the questions that were not answered yet.
func confirmed(u rig.Unit, whole rig.Overall, confirm []string) error {
	open := slices.DeleteFunc(rig.Questions(u, whole), func(q rig.Question) bool { return slices.Contains(confirm, q.Confirm) })
	if len(open) > 0 {
		return asked(open)
	}
	return nil
}

func (r *reader) structures(err error) {
	if err == nil {
		return
	}
	if refusal, ok := AsRefusal(err); ok {
		r.errs = append(r.errs, refusal.Errors...)
		return
	}
	r.fail("structures", nil, err.Error(), "data/example/structures.csv shows the columns")
}

func (r *reader) unit(q UnitRequest) rig.Unit {
	u := rig.Unit{
		Name: q.Name, Kind: limit.Kind(q.Kind), Coupling: rig.Coupling(q.Coupling), Axles: q.Axles,
		Height: q.Height.Is, Width: q.Width.Is, Length: q.Length.Is, Mass: q.Mass.Is,
		CouplingToRear: q.CouplingToRear.Is,
		CouplingToAxle: q.CouplingToLastAxle.Is,
		HeightMeasured: q.HeightBasis == Gauged, Frame: r.frame(q.FrameRequest, q.Axles), Trailer: trailer(q.Trailer),
	}
	if q.MeasuredOn != "" {
		day, err := time.Parse(time.DateOnly, q.MeasuredOn)
		if err != nil {
			r.fail("unit.measured_on", q.MeasuredOn, "is no day", "write it like 2027-05-01")
		}
		u.MeasuredOn = day
	}
	if u.HeightMeasured && u.MeasuredOn.IsZero() {
		r.fail("unit.measured_on", nil, "is missing: a measured height counts with its day", "add the day, or leave height_basis out")
	}
	if u.Kind != limit.LoadOnTrailer && u.CouplingToRear != nil && u.Length != nil && *u.CouplingToRear > *u.Length {
		r.fail("unit.coupling_to_rear", u.CouplingToRear.String(), "is longer than the unit, "+u.Length.String(), "check both figures")
	}
	if u.CouplingToAxle != nil && u.CouplingToRear != nil && *u.CouplingToAxle > *u.CouplingToRear {
		r.fail("unit.coupling_to_last_axle", u.CouplingToAxle.String(), "is longer than from the coupling to the rear, "+u.CouplingToRear.String(), "check both figures")
	}
	return u
}

func (r *reader) tow(q *TowRequest) rig.Tow {
	if q == nil {
		return rig.Tow{}
	}
	return rig.Tow{
		Name: q.Name, Form: limit.Tow(q.Form), Fuel: drive.Fuel(q.Fuel), Axles: q.Axles,
		Height: q.Height.Is, Width: q.Width.Is, Length: q.Length.Is, Mass: q.Mass.Is, OverMirrors: q.OverMirrors.Is,
		FrontToCoupling: q.FrontToCoupling.Is, Truck: r.truck(q.TruckRequest),
	}
}

func (r *reader) rig(q *RigRequest) rig.Overall {
	if q == nil {
		return rig.Overall{}
	}
	return rig.Overall{
		Height: q.Height.Is, Width: q.Width.Is, Length: q.Length.Is, Mass: q.Mass.Is,
		FrontOverhang: q.FrontOverhang.Is, RearOverhang: q.RearOverhang.Is, Loads: r.loads(q.Axles),
	}
}

// loads reads the axles of a rig. They stand one behind the other.
func (r *reader) loads(in []AxleRequest) []limit.AxleLoad {
	var out []limit.AxleLoad
	for i, q := range in {
		field := fmt.Sprintf("rig.axles[%d]", i)
		l := limit.AxleLoad{Mass: q.Mass.Is, Steering: q.Steering, Tires: q.Tires}
		if at := q.BehindFirst.Is; at != nil {
			l.At = *at
		}
		if width := q.TireWidth.Is; width != nil {
			l.Width = *width
		}
		switch {
		case i == 0 && l.At != 0:
			r.fail(field+".behind_first", l.At.String(), "is not 0", "places count from the first axle of the rig")
		case i > 0 && l.At <= out[i-1].At:
			r.fail(field+".behind_first", l.At.String(), "is not behind the axle before it", "list the axles from the front, each with how far behind the first it stands")
		}
		out = append(out, l)
	}
	return out
}

func (r *reader) stops(in []StopRequest, places *place.Gazetteer) []choosing.Stop {
	var out []choosing.Stop
	for i, q := range in {
		field := fmt.Sprintf("stops[%d]", i)
		switch {
		case q.Place != "" && (q.Lat != nil || q.Lon != nil):
			r.fail(field, q.Place, "has a name and coordinates", "give one of the two")
		case q.Place != "":
			p, err := places.Find(q.Place)
			if err != nil {
				if refusal, ok := AsRefusal(err); ok {
					refusal.Errors[0].Field = field + ".place"
					err = refusal
				}
				r.note(err)
				continue
			}
			out = append(out, choosing.Stop{Label: p.String(), Point: p.Point})
		case q.Lat == nil || q.Lon == nil:
			r.fail(field, nil, "has no place", "give place, or lat and lon")
		case !(*q.Lat >= -90 && *q.Lat <= 90) || !(*q.Lon >= -180 && *q.Lon <= 180):
			r.fail(field, fmt.Sprintf("%v, %v", *q.Lat, *q.Lon), "is no place on Earth", "give lat from -90 to 90 and lon from -180 to 180")
		default:
			out = append(out, choosing.Stop{Label: fmt.Sprintf("%.5f, %.5f", *q.Lat, *q.Lon), Point: orb.Point{*q.Lon, *q.Lat}})
		}
	}
	return out
}

// departure reads a time with an offset, or a wall clock.
func (r *reader) departure(text string) (at time.Time, local bool) {
	if t, err := time.Parse(time.RFC3339, text); err == nil {
		return t, false
	}
	for _, layout := range []string{"2006-01-02T15:04", "2006-01-02 15:04", "2006-01-02T15:04:05", "2006-01-02T15:04Z07:00"} {
		if t, err := time.Parse(layout, text); err == nil {
			return t, !strings.HasSuffix(layout, "Z07:00")
		}
	}
	r.fail("depart", text, "is no time", "write it like 2027-05-11T08:00, or with an offset like 2027-05-11T08:00-04:00")
	return time.Time{}, false
}

func allowances(q *AllowancesRequest) clearance.Allowances {
	a := clearance.DefaultAllowances()
	if q == nil {
		return a
	}
	a.Base, a.Bounce, a.Snow, a.Side = q.Base.Or(a.Base), q.Bounce.Or(a.Bounce), q.Snow.Or(a.Snow), q.Side.Or(a.Side)
	a.DesignedError, a.MeasuredError = q.DesignedError.Or(a.DesignedError), q.MeasuredError.Or(a.MeasuredError)
	if q.FigureDays > 0 {
		a.FigureTerm = time.Duration(q.FigureDays) * 24 * time.Hour
	}
	if q.WinterMonths != nil {
		a.WinterMonths = nil
	}
	for _, m := range q.WinterMonths {
		a.WinterMonths = append(a.WinterMonths, time.Month(m))
	}
	return a
}

func (r *reader) route(q *GivenRequest) *trip.Given {
	if q == nil {
		return nil
	}
	given := 0
	for _, has := range []bool{q.GeoJSON != nil, q.GPX != "", len(q.Roads) > 0} {
		if has {
			given++
		}
	}
	if given != 1 {
		r.fail("route", nil, fmt.Sprintf("is given in %d forms", given), "give exactly one of geojson, gpx, roads")
		return nil
	}
	switch {
	case q.GeoJSON != nil:
		line, err := geoJSONLine(q.GeoJSON)
		if err != nil {
			r.fail("route.geojson", nil, err.Error(), "give a LineString with longitude first")
		}
		return &trip.Given{Line: line}
	case q.GPX != "":
		line, err := gpxLine(strings.NewReader(q.GPX))
		if err != nil {
			r.fail("route.gpx", nil, err.Error(), "give a GPX 1.1 document with one track")
		}
		return &trip.Given{Line: line}
	default:
		return &trip.Given{Roads: q.Roads}
	}
}

var errNoLine = errors.New("has no line of two points or more")

// geoJSONObject is what is read of a GeoJSON object (RFC 7946).
type geoJSONObject struct {
	Type        string           `json:"type"`
	Coordinates json.RawMessage  `json:"coordinates"`
	Geometry    *geoJSONObject   `json:"geometry"`
	Features    []*geoJSONObject `json:"features"`
}

// readGeoJSON reads what a decoded JSON value says as GeoJSON.
func readGeoJSON(v any) (*geoJSONObject, error) {
	raw, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	var object geoJSONObject
	if err := json.Unmarshal(raw, &object); err != nil {
		return nil, errors.New("is no GeoJSON object")
	}
	return &object, nil
}

// geometries lists the geometries of a geometry, a feature or a collection.
func (g *geoJSONObject) geometries() (all []*geoJSONObject) {
	switch {
	case g == nil:
		return nil
	case g.Type == "Feature":
		return g.Geometry.geometries()
	case g.Type == "FeatureCollection":
		for _, f := range g.Features {
			all = append(all, f.geometries()...)
		}
		return all
	default:
		return []*geoJSONObject{g}
	}
}

// geoJSONLine finds the one line in a geometry, a feature or a collection.
func geoJSONLine(v any) (orb.LineString, error) {
	object, err := readGeoJSON(v)
	if err != nil {
		return nil, err
	}
	var found []orb.LineString
	for _, g := range object.geometries() {
		line, err := g.line()
		if err != nil {
			return nil, err
		}
		if line != nil {
			found = append(found, line)
		}
	}
	switch len(found) {
	case 0:
		return nil, errNoLine
	case 1:
		return found[0], nil
	default:
		return nil, fmt.Errorf("has %d lines", len(found))
	}
}

// line reads the line of a geometry; nil where it has none.
func (g *geoJSONObject) line() (orb.LineString, error) {
	switch g.Type {
	case "MultiLineString", "GeometryCollection":
		return nil, fmt.Errorf("has a %s, whose parts need not follow each other", g.Type)
	case "LineString":
		line, err := positions(g.Coordinates)
		if err != nil || len(line) < 2 {
			return nil, err
		}
		return line, nil
	default:
		return nil, nil
	}
}

// positions reads longitude and latitude, and leaves altitudes out.
func positions(raw json.RawMessage) (orb.LineString, error) {
	var in [][]*float64 // a null is no number
	if err := json.Unmarshal(raw, &in); err != nil {
		return nil, errors.New("has coordinates that are no list of positions")
	}
	var line orb.LineString
	for i, p := range in {
		if len(p) < 2 || p[0] == nil || p[1] == nil {
			return nil, fmt.Errorf("has a position %d without longitude and latitude", i)
		}
		line = append(line, orb.Point{*p[0], *p[1]})
	}
	return line, nil
}

// segmentGap is how far apart two segments of a track may be and still be one
// line, as after a pause.
const segmentGap measure.Distance = 1000

// gpxLine reads the track points of a GPX 1.1 document (topografix.com/GPX/1/1)
// in order.
func gpxLine(in io.Reader) (orb.LineString, error) {
	var doc struct {
		XMLName xml.Name `xml:"gpx"`
		Tracks  []struct {
			Segments []struct {
				Points []struct {
					Lat *float64 `xml:"lat,attr"`
					Lon *float64 `xml:"lon,attr"`
				} `xml:"trkpt"`
			} `xml:"trkseg"`
		} `xml:"trk"`
	}
	d := xml.NewDecoder(in)
	d.CharsetReader = func(name string, _ io.Reader) (io.Reader, error) {
		return nil, fmt.Errorf("it is written in %s; save it as UTF-8", name)
	}
	if err := d.Decode(&doc); err != nil {
		return nil, fmt.Errorf("cannot be read: %w", err)
	}
	if len(doc.Tracks) > 1 {
		return nil, fmt.Errorf("has %d tracks", len(doc.Tracks))
	}
	var line orb.LineString
	for _, t := range doc.Tracks {
		for i, s := range t.Segments {
			for k, p := range s.Points {
				if p.Lat == nil || p.Lon == nil {
					return nil, errors.New("has a track point without lat or lon")
				}
				at := orb.Point{*p.Lon, *p.Lat}
				if k == 0 && len(line) > 0 && geodesic.Between(line[len(line)-1], at) > segmentGap {
					return nil, fmt.Errorf("has %s between its segments %d and %d: what was driven there is not known", geodesic.Between(line[len(line)-1], at), i, i+1)
				}
				line = append(line, at)
			}
		}
	}
	if len(line) < 2 {
		return nil, errNoLine
	}
	return line, nil
}
