package api

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"wayhouse/routing/rig"
	"wayhouse/routing/search"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/standing"
)

// RouteRequest asks for the ways of a trip and not only for one. For a given
// route there is only the difference from the best way.
type RouteRequest struct {
	TripRequest
	Alternatives int  `json:"alternatives,omitempty" minimum:"0" maximum:"3" doc:"How many ways beside the best one"`
	Reasons      bool `json:"reasons,omitempty" doc:"Say what bent the way, and what that costs"`
	AnyOrder     bool `json:"any_order,omitempty" doc:"Drive the stops between the first and the last in the order that takes least"`
}

// Routes are the ways of a trip.
type Routes struct {
	Mark          string           `json:"mark,omitempty" doc:"INVENTED where any of it rests on invented data"`
	Notice        string           `json:"notice" doc:"The first thing to read; of the best way"`
	Best          *Trip            `json:"best" doc:"The best way; of a given route, that route as it was checked"`
	Order         []int            `json:"order" doc:"Numbers of the stops, from 0, as they are driven; empty for a given route"`
	Alternatives  []Option         `json:"alternatives" doc:"The soonest first"`
	Free          *Option          `json:"free" doc:"The way of a rig that no structure and no sign shuts out, not one to drive; null where it is the best way"`
	PermitFree    *Option          `json:"permit_free" doc:"The best way on which no permit is asked for as far as the tables know; null where there is none, or it is the best way"`
	PermitFreeWhy string           `json:"permit_free_none,omitempty" doc:"Why there is none"`
	Reasons       *Reasons         `json:"reasons" doc:"null where not asked for"`
	Difference    *RouteDifference `json:"difference" doc:"Of a given route from the best way between its ends; null where none is given"`
}

// Option is a way beside the best one.
type Option struct {
	Mark          string   `json:"mark,omitempty"`
	LengthM       float64  `json:"length_m"`
	DrivingS      *float64 `json:"driving_s"`
	ExtraM        float64  `json:"extra_m" doc:"Beyond the best way"`
	ExtraS        *float64 `json:"extra_driving_s"`
	ExtraUnknown  string   `json:"extra_unknown,omitempty"`
	New           float64  `json:"new" doc:"Share of its length that no way before it has"`
	Permits       []string `json:"permits_added" doc:"Jurisdictions that ask for a permit and on the best way do not"`
	Spared        []string `json:"permits_spared" doc:"Jurisdictions that ask for a permit on the best way and here do not"`
	ExtraUnknowns int      `json:"extra_unknowns"`
	Verdict       Verdict  `json:"verdict"`
	Jurisdictions []string `json:"jurisdictions" doc:"In the order of travel"`
	Roads         []string `json:"roads" doc:"Numbers in the order of travel"`
	Trip          *Trip    `json:"trip"`
}

// Reasons are what bent the way. Costs are driving times as the search reckons
// them, turns included.
type Reasons struct {
	Mark     string        `json:"mark,omitempty"`
	Bent     []BarrierCost `json:"bent" doc:"What costs most now first"`
	Together *ReasonGroup  `json:"together" doc:"What matters only together; null where nothing does"`
	Closing  []Barrier     `json:"closing" doc:"What is enough to shut every way, nothing of it to spare; empty where there is a way"`
	Nearest  []NearestSize `json:"nearest" doc:"Where there is no way: sizes that would pass, each with all else as it is"`
	Complete bool          `json:"complete" doc:"False where there is more than was looked into"`
}

// Barrier is a structure, a sign or a wish that shuts the rig out of a road.
type Barrier struct {
	Mark string  `json:"mark,omitempty"`
	What string  `json:"what"`
	Kind string  `json:"kind" enum:"structure,sign,wish"`
	Lat  float64 `json:"lat" doc:"Where it was met first"`
	Lon  float64 `json:"lon"`
	When string  `json:"when,omitempty" doc:"The hours at which it holds; always when left out"`
	Rows []Row   `json:"rows" doc:"Where it comes from; none for a wish"`
}

// BarrierCost is one barrier and what it costs.
type BarrierCost struct {
	Barrier
	AloneS float64 `json:"alone_s" doc:"What it would cost were it the only one"`
	SavesS float64 `json:"saves_s" doc:"What would be saved were it alone lifted"`
}

// ReasonGroup are barriers that cost something only together.
type ReasonGroup struct {
	Mark     string    `json:"mark,omitempty"`
	Barriers []Barrier `json:"barriers"`
	CostsS   float64   `json:"costs_s" doc:"More than with no barrier at all, were they the only ones"`
	SavesS   float64   `json:"saves_s" doc:"Now, were all of them lifted"`
}

// NearestSize is a size that would pass.
type NearestSize struct {
	Mark     string       `json:"mark,omitempty"`
	Quantity rig.Quantity `json:"quantity" enum:"height,width,length,mass"`
	Is       string       `json:"is" doc:"What the rig has"`
	Most     string       `json:"most" doc:"The greatest that passes"`
	By       string       `json:"by" doc:"What limits it"`
}

// RouteDifference is how a given route differs from the best way.
type RouteDifference struct {
	Mark         string    `json:"mark,omitempty"`
	Best         *Trip     `json:"best" doc:"null where there is nothing to compare with"`
	Why          string    `json:"none,omitempty" doc:"Why there is nothing"`
	ExtraM       *float64  `json:"extra_m" doc:"Of the given route"`
	ExtraS       *float64  `json:"extra_driving_s"`
	ExtraUnknown string    `json:"extra_unknown,omitempty"`
	Apart        []Stretch `json:"apart" doc:"Where the given route leaves the best way"`
}

// Stretch is a part of a route.
type Stretch struct {
	Roads   []string `json:"roads"`
	AtM     float64  `json:"at_m" doc:"From the start of the given route"`
	LengthM float64  `json:"length_m"`
}

// Routes finds the ways of a request; the command line asks the same.
func (s *Service) Routes(ctx context.Context, q RouteRequest) (*trip.Routes, error) {
	request, p, err := s.resolve(ctx, &reader{}, q.TripRequest)
	if err != nil {
		return nil, err
	}
	return p.Routes(ctx, trip.RouteRequest{Request: request, Alternatives: q.Alternatives, Reasons: q.Reasons, AnyOrder: q.AnyOrder})
}

// NewRoutes puts ways into their wire form.
func NewRoutes(r *trip.Routes) *Routes {
	out := &Routes{
		Best: NewTrip(r.Best), Notice: r.Best.Notice(), Order: append([]int{}, r.Order...), Alternatives: []Option{}, Free: newOption(r.Free),
		PermitFree: newOption(r.Without), PermitFreeWhy: r.WithoutWhy, Reasons: newReasons(r), Difference: newDifference(r.Difference),
	}
	out.Mark = out.Best.Mark
	for i := range r.Others {
		o := newOption(&r.Others[i])
		out.Alternatives, out.Mark = append(out.Alternatives, *o), cmp.Or(out.Mark, o.Mark)
	}
	for _, o := range []*Option{out.Free, out.PermitFree} {
		if o != nil {
			out.Mark = cmp.Or(out.Mark, o.Mark)
		}
	}
	if out.Reasons != nil {
		out.Mark = cmp.Or(out.Mark, out.Reasons.Mark)
	}
	if out.Difference != nil {
		out.Mark = cmp.Or(out.Mark, out.Difference.Mark)
	}
	return out
}

func newOption(o *trip.Option) *Option {
	if o == nil {
		return nil
	}
	t := NewTrip(o.Plan)
	out := &Option{
		Mark: t.Mark, LengthM: t.LengthM, DrivingS: t.DrivingS, ExtraM: round(float64(o.Extra)), New: o.New,
		Permits: append([]string{}, o.Permits...), Spared: append([]string{}, o.Spared...), ExtraUnknowns: o.ExtraUnknowns,
		Verdict: t.Verdict, Jurisdictions: []string{}, Roads: []string{}, Trip: t,
	}
	out.ExtraS, out.ExtraUnknown = newDuration(o.ExtraTime)
	for _, l := range t.Legs {
		for _, code := range l.Jurisdictions {
			if !slices.Contains(out.Jurisdictions, code) {
				out.Jurisdictions = append(out.Jurisdictions, code)
			}
		}
		out.Roads = append(out.Roads, l.Roads...)
	}
	out.Roads = slices.Compact(out.Roads)
	return out
}

func newReasons(routes *trip.Routes) *Reasons {
	r := routes.Reasons
	if r == nil {
		return nil
	}
	out := &Reasons{Bent: []BarrierCost{}, Closing: newBarriers(r.Closing), Nearest: []NearestSize{}, Complete: r.Complete}
	out.Mark = markOf(out.Closing)
	for _, reason := range r.Bent {
		one := BarrierCost{newBarrier(reason.Barrier), seconds(reason.Alone), seconds(reason.Saves)}
		out.Bent, out.Mark = append(out.Bent, one), cmp.Or(out.Mark, one.Mark)
	}
	if g := r.Together; g != nil {
		out.Together = &ReasonGroup{Barriers: newBarriers(g.Barriers), CostsS: seconds(g.Costs), SavesS: seconds(g.Saves)}
		out.Together.Mark = markOf(out.Together.Barriers)
		out.Mark = cmp.Or(out.Mark, out.Together.Mark)
	}
	for _, n := range r.Nearest {
		one := NearestSize{mark(n.Invented || routes.Best.Invented), n.Quantity, n.Is, n.Most, n.By}
		out.Nearest, out.Mark = append(out.Nearest, one), cmp.Or(out.Mark, one.Mark)
	}
	return out
}

func newBarriers(in []*standing.Barrier) []Barrier {
	out := []Barrier{}
	for _, b := range in {
		out = append(out, newBarrier(b))
	}
	return out
}

func newBarrier(b *standing.Barrier) Barrier {
	return Barrier{Mark: mark(b.Invented), What: b.What, Kind: b.Kind, Lat: b.Point.Lat(), Lon: b.Point.Lon(), When: b.When, Rows: newRows(b.Rows)}
}

func markOf(in []Barrier) (mark string) {
	for _, b := range in {
		mark = cmp.Or(mark, b.Mark)
	}
	return mark
}

func seconds(cost search.Millis) float64 { return round(float64(cost) / 1000) }

func newDifference(d *trip.Difference) *RouteDifference {
	if d == nil {
		return nil
	}
	out := &RouteDifference{Why: d.Why, Apart: []Stretch{}}
	for _, s := range d.Apart {
		out.Apart = append(out.Apart, Stretch{append([]string{}, s.Roads...), round(float64(s.At)), round(float64(s.Length))})
	}
	if d.Best != nil {
		out.Best = NewTrip(d.Best)
		extra := round(float64(d.Extra))
		out.Mark, out.ExtraM = out.Best.Mark, &extra
		out.ExtraS, out.ExtraUnknown = newDuration(d.ExtraTime)
	}
	return out
}

// writeGeoJSON writes the ways as a FeatureCollection (RFC 7946), a feature for
// each. What stands at the head of the best one stands in a foreign member, with
// the reasons.
func (r *Routes) writeGeoJSON(w io.Writer) error {
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
