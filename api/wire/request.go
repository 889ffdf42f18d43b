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
)

// TripRequest is a trip to plan, as it stands in JSON and in a trip file. A
// quantity comes as text with a unit (height) or as a number in the unit of
// its suffix (height_m), never both. What is left out is unknown.
type TripRequest struct {
	Name            string             `json:"name,omitempty" maxLength:"200"`
	Invented        bool               `json:"invented,omitempty" doc:"The trip is an example"`
	Unit            UnitRequest        `json:"unit"`
	Tow             *TowRequest        `json:"tow,omitempty"`
	Rig             *RigRequest        `json:"rig,omitempty" doc:"Measurements of the whole rig, where no tow vehicle is described"`
	Use             string             `json:"use,omitempty" enum:"commercial,private"`
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
	HeightBasis         string          `json:"height_basis,omitempty" enum:"designed,measured" doc:"Designed unless it was measured on the finished unit, loaded, tires at pressure"`
	MeasuredOn          string          `json:"measured_on,omitempty" format:"date"`
	Kind                string          `json:"kind,omitempty" enum:"recreational_trailer,house_trailer,manufactured_home,tiny_home,load_on_trailer" doc:"What the law takes it for; unknown when left out"`
	Coupling            string          `json:"coupling,omitempty" enum:"ball,pintle,fifth_wheel,gooseneck"`
	CouplingToRearM     *float64        `json:"coupling_to_rear_m,omitempty"`
	CouplingToRear      *string         `json:"coupling_to_rear,omitempty"`
	CouplingToLastAxleM *float64        `json:"coupling_to_last_axle_m,omitempty"`
	CouplingToLastAxle  *string         `json:"coupling_to_last_axle,omitempty" doc:"From the coupling point to the centre of the last axle"`
	Axles               int             `json:"axles,omitempty" minimum:"0" maximum:"20" doc:"How many; left out where running_gear describes them"`
	Trailer             *TrailerRequest `json:"trailer,omitempty" doc:"With kind load_on_trailer: the trailer by itself. The unit's own length, width and mass are then those of the load; its height, its outline, its couplings and its axles stay those of both together"`
	FrameRequest
}

// TowRequest is the tow vehicle.
type TowRequest struct {
	Name     string `json:"name,omitempty" maxLength:"200"`
	Invented bool   `json:"invented,omitempty" doc:"It is an example"`
	Form     string `json:"form,omitempty" enum:"truck_tractor,truck,pickup,car" doc:"What the law takes it for: a truck tractor carries no load of its own, a car may be a van; unknown when left out"`
	SizeRequest
	OverMirrorsM     *float64 `json:"over_mirrors_m,omitempty"`
	OverMirrors      *string  `json:"over_mirrors,omitempty" doc:"Over its mirrors as they are set for the unit, for what it passes between; width leaves them out, as laws do"`
	FrontToCouplingM *float64 `json:"front_to_coupling_m,omitempty"`
	FrontToCoupling  *string  `json:"front_to_coupling,omitempty"`
	Axles            int      `json:"axles,omitempty" minimum:"0" maximum:"20"`
	Fuel             string   `json:"fuel,omitempty" enum:"diesel,gasoline"`
	TruckRequest
}

// RigRequest is the whole rig, coupled.
type RigRequest struct {
	SizeRequest
	FrontOverhangM *float64      `json:"front_overhang_m,omitempty" minimum:"0"`
	FrontOverhang  *string       `json:"front_overhang,omitempty" doc:"What sticks out before the foremost point of the tow vehicle; may be 0 m"`
	RearOverhangM  *float64      `json:"rear_overhang_m,omitempty" minimum:"0"`
	RearOverhang   *string       `json:"rear_overhang,omitempty" doc:"What sticks out behind the centre of the last axle"`
	Axles          []AxleRequest `json:"axles,omitempty" maxItems:"20" doc:"Every axle of the rig, from the front, as it stands on the road"`
}

// AxleRequest is one axle of the rig.
type AxleRequest struct {
	BehindFirstM *float64 `json:"behind_first_m,omitempty" minimum:"0" doc:"How far behind the first axle of the rig; the first may leave it out"`
	BehindFirst  *string  `json:"behind_first,omitempty"`
	MassKG       *float64 `json:"mass_kg,omitempty"`
	Mass         *string  `json:"mass,omitempty" doc:"What it carries on the scale"`
	Steering     bool     `json:"steering,omitempty"`
	Tires        int      `json:"tires,omitempty" minimum:"0" maximum:"16"`
	TireWidthM   *float64 `json:"tire_width_m,omitempty"`
	TireWidth    *string  `json:"tire_width,omitempty" doc:"Nominal, of one tire, such as 235 mm"`
}

// SizeRequest is how large and how heavy something is as it travels: a unit
// overall with its coupling, a tow vehicle uncoupled with driver and fuel. Of the
// width and the tires that are described the greater counts.
type SizeRequest struct {
	HeightM *float64 `json:"height_m,omitempty"`
	Height  *string  `json:"height,omitempty"`
	WidthM  *float64 `json:"width_m,omitempty"`
	Width   *string  `json:"width,omitempty"`
	LengthM *float64 `json:"length_m,omitempty"`
	Length  *string  `json:"length,omitempty"`
	MassKG  *float64 `json:"mass_kg,omitempty"`
	Mass    *string  `json:"mass,omitempty"`
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
	Base          *string `json:"base,omitempty"`
	Bounce        *string `json:"bounce,omitempty"`
	Snow          *string `json:"snow,omitempty"`
	DesignedError *string `json:"designed_error,omitempty"`
	MeasuredError *string `json:"measured_error,omitempty"`
	Side          *string `json:"side,omitempty" doc:"To either side, where the width is limited"`
	WinterMonths  []int   `json:"winter_months,omitempty" minItems:"0" maxItems:"12"`
	FigureDays    int     `json:"figure_days,omitempty" minimum:"1" maximum:"36500" doc:"How many days after its measurement a clearance can clear; 731 when left out"`
}

// reader collects every value of a request that cannot be used, so that the
// user mends them in one go.
type reader struct {
	errs []FieldError
	now  time.Time // no scale's ticket is later; zero: any may be
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
	r.errs = append(r.errs, refusal.Errors...)
}

func (r *reader) fail(field string, value any, problem, fix string) {
	r.errs = append(r.errs, FieldError{Field: field, Value: value, Problem: problem, Fix: fix})
}

func (r *reader) length(field string, metres *float64, text *string) *measure.Length {
	l, err := measure.LengthField(field, metres, text)
	r.note(err)
	return l
}

func (r *reader) mass(field string, kilograms *float64, text *string) *measure.Mass {
	m, err := measure.MassField(field, kilograms, text)
	r.note(err)
	return m
}

func (r *reader) oneOf(field, value string, allowed ...string) {
	if value != "" && !slices.Contains(allowed, value) {
		r.fail(field, value, "is not known", "use one of "+strings.Join(allowed, ", ")+", or leave it out")
	}
}

// Known is what a request is read against.
type Known struct {
	Places *place.Gazetteer
	Areas  *area.Index
	Tables *regs.Tables
	Now    time.Time // no scale's ticket is later
}

// Read reads quantities, places, structures, the route and the wishes. The error is
// a [*Refusal] that names every field to mend.
func (q TripRequest) Read(k Known) (trip.Request, error) { return q.read(&reader{now: k.Now}, k) }

func (q TripRequest) read(r *reader, k Known) (trip.Request, error) {
	out := trip.Request{
		Name: q.Name, Invented: invented(q.Invented, q.Unit, q.Tow), AvoidUnmeasured: q.AvoidUnmeasured, Departure: k.Now, Allowances: r.allowances(q.Allowances),
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
func (r *reader) coupled(u UnitRequest, t *TowRequest, w *RigRequest, use string) (rig.Rig, rig.Overall) {
	before := len(r.errs)
	unit, tow, whole := r.unit(u), r.tow(t), r.rig(w)
	r.oneOf("use", use, string(limit.Commercial), string(limit.Private))
	r.note(rig.CheckBounds(unit, tow, whole))
	if len(r.errs) > before {
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
	var kinds, couplings []string
	for _, k := range limit.UnitKinds() {
		kinds = append(kinds, string(k))
	}
	for _, c := range rig.Couplings() {
		couplings = append(couplings, string(c))
	}
	r.oneOf("unit.kind", q.Kind, kinds...)
	r.oneOf("unit.coupling", q.Coupling, couplings...)
	r.oneOf("unit.height_basis", q.HeightBasis, "designed", "measured")
	size := r.size("unit", q.SizeRequest)
	u := rig.Unit{
		Name: q.Name, Kind: limit.Kind(q.Kind), Coupling: rig.Coupling(q.Coupling), Axles: r.axles("unit.axles", q.Axles),
		Height: size.Height, Width: size.Width, Length: size.Length, Mass: size.Mass,
		CouplingToRear: r.length("unit.coupling_to_rear", q.CouplingToRearM, q.CouplingToRear),
		CouplingToAxle: r.length("unit.coupling_to_last_axle", q.CouplingToLastAxleM, q.CouplingToLastAxle),
		HeightMeasured: q.HeightBasis == "measured", Frame: r.frame(q.FrameRequest, q.Axles), Trailer: r.trailer(q.Trailer),
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

func (r *reader) axles(field string, n int) int {
	if n < 0 || n > 20 {
		r.fail(field, n, "is no number of axles", "give a number from 1 to 20, or leave it out")
		return 0
	}
	return n
}

func (r *reader) tow(q *TowRequest) rig.Tow {
	if q == nil {
		return rig.Tow{}
	}
	var forms []string
	for _, t := range limit.TowVehicles() {
		forms = append(forms, string(t))
	}
	r.oneOf("tow.form", q.Form, forms...)
	r.oneOf("tow.fuel", q.Fuel, string(drive.Diesel), string(drive.Gasoline))
	size := r.size("tow", q.SizeRequest)
	return rig.Tow{
		Name: q.Name, Form: limit.Tow(q.Form), Fuel: drive.Fuel(q.Fuel), Axles: r.axles("tow.axles", q.Axles),
		Height: size.Height, Width: size.Width, Length: size.Length, Mass: size.Mass, OverMirrors: r.length("tow.over_mirrors", q.OverMirrorsM, q.OverMirrors),
		FrontToCoupling: r.length("tow.front_to_coupling", q.FrontToCouplingM, q.FrontToCoupling), Truck: r.truck(q.TruckRequest),
	}
}

func (r *reader) rig(q *RigRequest) rig.Overall {
	if q == nil {
		return rig.Overall{}
	}
	o := r.size("rig", q.SizeRequest)
	o.FrontOverhang = r.orZero("rig.front_overhang", q.FrontOverhangM, q.FrontOverhang)
	o.RearOverhang = r.orZero("rig.rear_overhang", q.RearOverhangM, q.RearOverhang)
	o.Loads = r.loads(q.Axles)
	return o
}

// orZero reads a length that may be 0.
func (r *reader) orZero(field string, metres *float64, text *string) *measure.Length {
	var zero measure.Length
	if metres != nil && *metres == 0 && text == nil {
		return &zero
	}
	if metres == nil && text != nil {
		l := zero
		r.allowance(field, text, &l)
		return &l
	}
	return r.length(field, metres, text)
}

// loads reads the axles of a rig. They stand one behind the other.
func (r *reader) loads(in []AxleRequest) []limit.AxleLoad {
	var out []limit.AxleLoad
	for i, q := range in {
		field := fmt.Sprintf("rig.axles[%d]", i)
		if q.Tires < 0 || q.Tires > 16 {
			r.fail(field+".tires", q.Tires, "is no number of tires on an axle", "give a number from 1 to 16, or leave it out")
		}
		l := limit.AxleLoad{Mass: r.mass(field+".mass", q.MassKG, q.Mass), Steering: q.Steering, Tires: q.Tires}
		if at := r.orZero(field+".behind_first", q.BehindFirstM, q.BehindFirst); at != nil {
			l.At = *at
		}
		if width := r.length(field+".tire_width", q.TireWidthM, q.TireWidth); width != nil {
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

// size reads the four measurements that unit, tow vehicle and rig share.
func (r *reader) size(of string, q SizeRequest) rig.Overall {
	return rig.Overall{
		Height: r.length(of+".height", q.HeightM, q.Height),
		Width:  r.length(of+".width", q.WidthM, q.Width),
		Length: r.length(of+".length", q.LengthM, q.Length),
		Mass:   r.mass(of+".mass", q.MassKG, q.Mass),
	}
}

func (r *reader) stops(in []StopRequest, places *place.Gazetteer) []trip.Stop {
	var out []trip.Stop
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
			out = append(out, trip.Stop{Label: p.String(), Point: p.Point})
		case q.Lat == nil || q.Lon == nil:
			r.fail(field, nil, "has no place", "give place, or lat and lon")
		case !(*q.Lat >= -90 && *q.Lat <= 90) || !(*q.Lon >= -180 && *q.Lon <= 180):
			r.fail(field, fmt.Sprintf("%v, %v", *q.Lat, *q.Lon), "is no place on Earth", "give lat from -90 to 90 and lon from -180 to 180")
		default:
			out = append(out, trip.Stop{Label: fmt.Sprintf("%.5f, %.5f", *q.Lat, *q.Lon), Point: orb.Point{*q.Lon, *q.Lat}})
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

func (r *reader) allowances(q *AllowancesRequest) clearance.Allowances {
	a := clearance.DefaultAllowances()
	if q == nil {
		return a
	}
	for _, f := range []struct {
		name string
		text *string
		to   *measure.Length
	}{
		{"base", q.Base, &a.Base}, {"bounce", q.Bounce, &a.Bounce}, {"snow", q.Snow, &a.Snow},
		{"designed_error", q.DesignedError, &a.DesignedError}, {"measured_error", q.MeasuredError, &a.MeasuredError},
		{"side", q.Side, &a.Side},
	} {
		r.allowance("allowances."+f.name, f.text, f.to)
	}
	if q.FigureDays < 0 {
		r.fail("allowances.figure_days", q.FigureDays, "is no number of days", "give 1 or more, or leave it out")
	} else if q.FigureDays > 0 {
		a.FigureTerm = time.Duration(q.FigureDays) * 24 * time.Hour
	}
	if q.WinterMonths != nil {
		a.WinterMonths = nil
	}
	for _, m := range q.WinterMonths {
		if m < 1 || m > 12 {
			r.fail("allowances.winter_months", m, "is no month", "give numbers from 1 to 12")
			continue
		}
		a.WinterMonths = append(a.WinterMonths, time.Month(m))
	}
	return a
}

// allowance reads a length that may be zero but not below.
func (r *reader) allowance(field string, text *string, to *measure.Length) {
	if text == nil {
		return
	}
	l, err := measure.ParseLength(*text)
	var bad *measure.ParseError
	switch {
	case errors.As(err, &bad) && bad.Zero:
		*to = 0
	case err != nil:
		r.length(field, nil, text) // notes the error under its field
	default:
		*to = l
	}
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
