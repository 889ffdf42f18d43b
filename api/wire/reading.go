package wire

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs"
	"wayhouse/regs/area"
	"wayhouse/regs/clearance"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/routing/place"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
)

// reader collects every value of a request that cannot be used, so that the
// user mends them in one go.
type reader struct {
	errs   []FieldError
	tables *regs.Tables // nil: not known
	now    time.Time    // no scale's ticket is later; zero: any may be
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
		r.errs = append(r.errs, FieldError{Problem: say.Of(err)})
		return
	}
	for _, e := range refusal.Errors {
		r.fail(e.Field, e.Value, e.Problem, e.Fix)
	}
}

func (r *reader) fail(field string, value any, problem, fix say.Remark) {
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
	r := &reader{now: k.Now, tables: k.Tables}
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
		Name: q.Name, Invented: invented(q.Invented, q.Unit, q.Tow), AvoidUnmeasured: q.AvoidUnmeasured,
		AnyOrder: q.AnyOrder, Departure: k.Now, Allowances: allowances(q.Allowances),
	}
	coupled, whole := r.coupled(q.Unit, q.Tow, q.Rig, q.Use)
	unit := coupled.Unit
	out.Rig = coupled
	out.Stops = r.stops(q.Stops, k.Places)
	r.afterwards(q, &out, k.Places)
	if q.Depart != "" {
		out.Departure, out.Local = r.clock("depart", q.Depart)
	} else {
		out.Backwards = slices.ContainsFunc(out.Stops, func(s choosing.Stop) bool { return !s.Visit.By.At.IsZero() })
	}
	out.Crew, out.Pace = crew(q.Crew), r.pace(q.Pace)
	r.measuredBefore(out.Departure, q.Unit)
	if q.StructuresCSV != "" {
		structures, err := clearance.ReadCSV([]byte(q.StructuresCSV))
		r.csv("structures_csv", err, say.That("fix.data_example_structures_csv"))
		if err == nil && len(structures) == 0 {
			r.fail("structures_csv", nil, say.That("error.a_head_line_alone"), say.That("fix.add_a_line_for"))
		}
		out.Structures, out.StructuresRevision = structures, revision(q.StructuresCSV)
	}
	out.Given, out.Done = r.route(q.Route), r.done("done", q.Done)
	out.Wishes = r.wishes(q.Wishes, k.Areas)
	out.Conditions, out.Particulars = r.conditions(q.Conditions), r.particulars(q.Papers)
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

// confirmed asks the questions that were not answered yet.
func confirmed(u rig.Unit, whole rig.Overall, confirm []string) error {
	open := slices.DeleteFunc(rig.Questions(u, whole), func(q rig.Question) bool {
		return slices.Contains(confirm, q.Confirm)
	})
	if len(open) > 0 {
		return asked(open)
	}
	return nil
}

// csv notes what is wrong with a table in a field.
func (r *reader) csv(field string, err error, fix say.Remark) {
	var head *rows.HeadError
	var cell *rows.CellError
	switch {
	case err == nil:
	case errors.As(err, &head):
		r.fail(field, nil, head.Problem, head.Fix)
	case errors.As(err, &cell):
		r.errs = append(r.errs, FieldError{
			Field: field, At: cell.At(), Value: cell.Value, Problem: cell.Problem, Fix: cell.Fix,
		})
	default:
		r.fail(field, nil, say.Of(err), fix)
	}
}

func (r *reader) stops(in []StopRequest, places *place.Gazetteer) []choosing.Stop {
	var out []choosing.Stop
	for i, q := range in {
		field := fmt.Sprintf("stops[%d]", i)
		switch {
		case q.Place != "" && (q.Lat != nil || q.Lon != nil):
			r.fail(field, q.Place, say.That("error.a_name_and_coordinates"), say.That("fix.give_one_of_the"))
		case q.Place != "":
			if stop, ok := r.named(field+".place", q.Place, places); ok {
				stop.Visit = r.visit(field, q.VisitRequest)
				out = append(out, stop)
			}
		case q.Lat == nil || q.Lon == nil:
			r.fail(field, nil, say.That("error.no_place"), say.That("fix.give_place_or_lat"))
		default:
			out = append(out, r.onEarth(field, *q.Lat, *q.Lon, r.visit(field, q.VisitRequest)))
		}
	}
	return out
}

// named is a stop by its name, or by coordinates in its place; ok is false where there is none.
func (r *reader) named(field, name string, places *place.Gazetteer) (stop choosing.Stop, ok bool) {
	if at, ok := place.Coordinates(name); ok {
		return r.onEarth(field, at.Lat(), at.Lon(), choosing.Visit{}), true
	}
	p, err := places.Find(name)
	if err != nil {
		if refusal, ok := AsRefusal(err); ok {
			refusal.Errors[0].Field = field
			err = refusal
		}
		r.note(err)
		return stop, false
	}
	return choosing.Stop{Label: p.String(), Point: p.Point, Street: p.Street}, true
}

// onEarth is a stop by its coordinates.
func (r *reader) onEarth(field string, lat, lon float64, v choosing.Visit) choosing.Stop {
	if !(lat >= -90 && lat <= 90) || !(lon >= -180 && lon <= 180) {
		r.fail(field, fmt.Sprintf("%v, %v", lat, lon), say.That("error.no_place_on_earth"),
			say.That("fix.give_lat_from_90"))
	}
	return choosing.Stop{Label: fmt.Sprintf("%.5f, %.5f", lat, lon), Point: orb.Point{lon, lat}, Visit: v}
}

// date reads a day.
func (r *reader) date(field, text string) time.Time {
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		r.fail(field, text, say.That("error.no_day"), say.That("fix.like", "text", "2027-05-01"))
	}
	return day
}

// within years of today a move is planned: the rows of a day beyond are not known.
const moveWithin = 10

// move refuses a time of a move that can only be a slip of the year.
func (r *reader) move(field, text string, at time.Time) {
	if !r.now.IsZero() && (at.Before(r.now.AddDate(-moveWithin, 0, 0)) || at.After(r.now.AddDate(moveWithin, 0, 0))) {
		r.fail(field, text, say.That("error.too_far_off", "years", moveWithin), say.That("fix.check_the_year"))
	}
}

// future reports whether a day has not begun yet anywhere; without a clock none is.
func (r *reader) future(day time.Time) bool {
	return !r.now.IsZero() && day.After(r.now.AddDate(0, 0, 1))
}

// measuredBefore refuses a height that was measured after the rig moves, as only a slip
// of the day can say.
func (r *reader) measuredBefore(move time.Time, u UnitRequest) {
	day, err := time.Parse(time.DateOnly, u.MeasuredOn)
	if err == nil && !move.IsZero() && !r.future(day) && day.After(move.AddDate(0, 0, 1)) {
		r.fail("unit.measured_on", u.MeasuredOn, say.That("error.lies_after_the_move"),
			say.That("fix.give_the_day_it"))
	}
}

// clock reads a time of a move with an offset, or a wall clock.
func (r *reader) clock(field, text string) (at time.Time, local bool) {
	for _, layout := range []string{time.RFC3339, "2006-01-02T15:04", "2006-01-02 15:04", "2006-01-02T15:04:05",
		"2006-01-02T15:04Z07:00"} {
		if t, err := time.Parse(layout, text); err == nil {
			r.move(field, text, t)
			return t, !strings.HasSuffix(layout, "Z07:00")
		}
	}
	r.fail(field, text, say.That("error.no_time"), say.That("fix.write_it_like_2027"))
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
