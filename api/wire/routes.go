package wire

import (
	"slices"

	"wayhouse/api/phrase"
	"wayhouse/routing/trip"
)

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
	SlowS         *float64 `json:"driving_slow_s"`
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

// NewRoutes puts ways into their wire form.
func NewRoutes(in *phrase.Language, r *trip.Routes) *Routes {
	tell := teller{in}
	return &Routes{
		Mark: mark(r.RestsOnInvented()), Best: NewTrip(tell.Language, r.Best), Notice: tell.Sentences(r.Best.Notice()),
		Order:        append([]int{}, r.Order...),
		Alternatives: each(r.Others, func(o trip.Option) Option { return *tell.newOption(&o) }),
		Free:         tell.newOption(r.Free), PermitFree: tell.newOption(r.Without), PermitFreeWhy: tell.Say(r.WithoutWhy),
		Reasons: tell.newReasons(r), Difference: tell.newDifference(r.Difference),
	}
}

func (tell teller) newOption(o *trip.Option) *Option {
	if o == nil {
		return nil
	}
	t := NewTrip(tell.Language, o.Plan)
	out := &Option{
		Mark: t.Mark, LengthM: t.LengthM, DrivingS: t.DrivingS, SlowS: t.SlowS, ExtraM: round(float64(o.Extra)), New: o.New,
		Permits: append([]string{}, o.Permits...), Spared: append([]string{}, o.Spared...), ExtraUnknowns: o.ExtraUnknowns,
		Verdict: t.Verdict, Trip: t,
	}
	out.Jurisdictions, out.Roads = t.Driven()
	out.ExtraS, out.ExtraUnknown = tell.newDuration(o.ExtraTime)
	return out
}

// Driven lists the jurisdictions and the roads of a trip in the order of travel, the
// former once each.
func (t *Trip) Driven() (codes, roads []string) {
	codes, roads = []string{}, []string{}
	for _, l := range t.Legs {
		for _, code := range l.Jurisdictions {
			if !slices.Contains(codes, code) {
				codes = append(codes, code)
			}
		}
		roads = append(roads, l.Roads...)
	}
	return codes, slices.Compact(roads)
}

func (tell teller) newDifference(d *trip.Difference) *RouteDifference {
	if d == nil {
		return nil
	}
	out := &RouteDifference{Why: tell.Say(d.Why), Apart: each(d.Apart, tell.newStretch)}
	if d.Best != nil {
		out.Best = NewTrip(tell.Language, d.Best)
		extra := round(float64(d.Extra))
		out.Mark, out.ExtraM = out.Best.Mark, &extra
		out.ExtraS, out.ExtraUnknown = tell.newDuration(d.ExtraTime)
	}
	return out
}

func (tell teller) newStretch(s trip.Stretch) Stretch {
	return Stretch{append([]string{}, tell.Each(s.Roads)...), round(float64(s.At)), round(float64(s.Length))}
}
