package api

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"wayhouse/data"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/standing"
)

// InventedMark stands on every object that rests on invented data.
const InventedMark = "INVENTED"

func mark(invented bool) string {
	if invented {
		return InventedMark
	}
	return ""
}

// revision names a state of a table by its content.
func revision(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:6])
}

// Trip is a planned trip. Lengths are metres, masses kilograms, times seconds,
// fuel litres; a null is not known.
type Trip struct {
	Mark         string        `json:"mark,omitempty" doc:"INVENTED where the trip rests on invented data"`
	Name         string        `json:"name,omitempty"`
	Notice       string        `json:"notice" doc:"The first thing to read"`
	Verdict      Verdict       `json:"verdict"`
	Rig          Rig           `json:"rig"`
	Departure    time.Time     `json:"departure"`
	GivenRoute   bool          `json:"given_route"`
	LengthM      float64       `json:"length_m"`
	DrivingS     *float64      `json:"driving_s"`
	DrivingWhy   string        `json:"driving_unknown,omitempty"`
	Fuel         Fuel          `json:"fuel"`
	Road         *Road         `json:"road" doc:"What the way does to the rig: corners, curves, climbs, fuel over speed"`
	Legs         []Leg         `json:"legs"`
	Permits      []PermitNeed  `json:"permits" doc:"What to ask for, in the order of the way"`
	Findings     []Finding     `json:"findings" doc:"Of the trip as a whole; each leg has its own"`
	Avoided      []Avoided     `json:"avoided"`
	Network      Network       `json:"network"`
	Tables       string        `json:"tables" doc:"Revision of the tables"`
	Assumptions  []string      `json:"assumptions"`
	Cautions     []string      `json:"cautions"`
	Attributions []Attribution `json:"attributions"`

	plan *trip.Plan // for the other forms of the answer
}

// Verdict is a roll-up: the worst known outcome and the number of unknowns.
type Verdict struct {
	Outcome  finding.Outcome `json:"outcome" enum:"clear,conditional,review,forbidden,unknown" doc:"clear only where nothing is unknown"`
	Worst    finding.Outcome `json:"worst_known" enum:"clear,conditional,review,forbidden,unknown" doc:"unknown where nothing is known"`
	Unknowns int             `json:"unknowns"`
	Demands  Demands         `json:"demands"`
}

// Demands is what must be done.
type Demands struct {
	Permits      []string `json:"permits,omitempty"`
	EscortsFront int      `json:"escorts_front,omitempty"`
	EscortsRear  int      `json:"escorts_rear,omitempty"`
	EscortsAny   int      `json:"escorts_any,omitempty" doc:"Place not stated"`
	HeightPole   bool     `json:"height_pole,omitempty"`
	Survey       bool     `json:"survey,omitempty"`
	Hours        []string `json:"hours,omitempty"`
	Conditions   []string `json:"conditions,omitempty"`
}

// Rig is the rig as it was understood.
type Rig struct {
	Unit     string   `json:"unit,omitempty"`
	Tow      string   `json:"tow,omitempty"`
	Kind     string   `json:"kind" doc:"unknown where not given"`
	Use      string   `json:"use"`
	Coupling string   `json:"coupling"`
	TowForm  string   `json:"tow_form" doc:"What the law takes the tow vehicle for"`
	HeightM  *float64 `json:"height_m"`
	WidthM   *float64 `json:"width_m"`
	LengthM  *float64 `json:"length_m"`
	MassKG   *float64 `json:"mass_kg"`
	UnitM    Size     `json:"unit_size"`
	Load     *Part    `json:"load_size,omitempty" doc:"Of a load on a trailer, by itself"`
	Trailer  *Part    `json:"trailer_size,omitempty" doc:"Of the trailer under a load, by itself"`
}

// Part is the size and mass of a part of a unit by itself.
type Part struct {
	WidthM  *float64 `json:"width_m"`
	LengthM *float64 `json:"length_m"`
	MassKG  *float64 `json:"mass_kg"`
}

// Size is the size and mass of the unit by itself.
type Size struct {
	HeightM     *float64 `json:"height_m"`
	HeightBasis string   `json:"height_basis"`
	WidthM      *float64 `json:"width_m" doc:"The greater of house and tires"`
	LeastM      *float64 `json:"width_at_least_m,omitempty" doc:"Where something that is not known may be wider, such as tires that are not described"`
	HouseM      *float64 `json:"house_width_m,omitempty" doc:"Where its tires are wider"`
	LengthM     *float64 `json:"length_m"`
	MassKG      *float64 `json:"mass_kg"`
}

// Fuel is a range in litres.
type Fuel struct {
	LowL    *float64 `json:"low_l"`
	HighL   *float64 `json:"high_l"`
	Unknown string   `json:"unknown,omitempty" doc:"Why it is not known"`
}

// Leg is a stretch inside one jurisdiction.
type Leg struct {
	Mark          string      `json:"mark,omitempty"`
	From          string      `json:"from"`
	To            string      `json:"to"`
	Jurisdictions []string    `json:"jurisdictions" doc:"None: not known. Several: both sides of a border are checked"`
	Towns         []string    `json:"towns" doc:"Municipalities, where the network names them"`
	Roads         []string    `json:"roads"`
	Climb         *Climb      `json:"climb,omitempty" doc:"Left out where the network has no terrain"`
	Unmatched     bool        `json:"unmatched,omitempty" doc:"A part of the given route that matches no road"`
	LengthM       float64     `json:"length_m"`
	Start         *time.Time  `json:"start"`
	DrivingS      *float64    `json:"driving_s"`
	DrivingWhy    string      `json:"driving_unknown,omitempty"`
	Fuel          Fuel        `json:"fuel"`
	Verdict       Verdict     `json:"verdict"`
	Findings      []Finding   `json:"findings"`
	Structures    []Structure `json:"structures"`
}

// Climb is how a leg climbs.
type Climb struct {
	AscentM         float64 `json:"ascent_m"`
	DescentM        float64 `json:"descent_m"`
	SteepestPercent float64 `json:"steepest_percent" doc:"In the direction of travel; below zero is downhill"`
	UnknownM        float64 `json:"unknown_m" doc:"How much of the leg has no terrain"`
}

// Finding is one answer about one rule at one place.
type Finding struct {
	Mark         string          `json:"mark,omitempty"`
	Rule         string          `json:"rule"`
	Jurisdiction string          `json:"jurisdiction,omitempty"`
	Place        string          `json:"place,omitempty"`
	Outcome      finding.Outcome `json:"outcome" enum:"clear,conditional,review,forbidden,unknown"`
	Demands      Demands         `json:"demands"`
	Value        string          `json:"value,omitempty"`
	Margin       string          `json:"margin,omitempty"`
	Summary      string          `json:"summary"`
	Ask          string          `json:"ask,omitempty"`
	Rows         []Row           `json:"rows"`
}

// Row is where a finding comes from.
type Row struct {
	Mark      string         `json:"mark,omitempty"`
	ID        string         `json:"id"`
	Revision  string         `json:"revision"`
	Published string         `json:"published" doc:"The figure as the source prints it"`
	Status    finding.Status `json:"status" enum:"published,verified,secondary,memory,invented"`
	Source    string         `json:"source"`
	Section   string         `json:"section,omitempty"`
	Year      string         `json:"year,omitempty"`
	URL       string         `json:"url,omitempty"`
	ReadOn    string         `json:"read_on,omitempty"`
	Tier      string         `json:"tier,omitempty" doc:"legal: no permit is asked up to it; beyond: a step further up; unsure: the source does not say"`
	Decides   bool           `json:"decides" doc:"It made the outcome; otherwise it is shown beside"`
	Words     string         `json:"words,omitempty"`
}

// Structure is a structure on the way, with the sum of its margin.
type Structure struct {
	Mark    string          `json:"mark,omitempty"`
	ID      string          `json:"id"`
	Name    string          `json:"name"`
	Lat     float64         `json:"lat"`
	Lon     float64         `json:"lon"`
	AtM     float64         `json:"at_m" doc:"From the start of the leg"`
	Outcome finding.Outcome `json:"outcome" enum:"clear,conditional,review,forbidden,unknown"`
	MarginM *float64        `json:"margin_m"`
	Sum     string          `json:"sum,omitempty" doc:"How the margin comes about"`
	Why     string          `json:"why,omitempty"`
	Others  []string        `json:"others,omitempty" doc:"What width, mass, words and wind ask there"`
	Doubt   string          `json:"doubt,omitempty" doc:"Why it may not stand over this road"`
	Ask     string          `json:"ask,omitempty"`
	Row     Row             `json:"row"`
}

// Avoided is what the rig went round, and what that costs.
type Avoided struct {
	Mark         string      `json:"mark,omitempty"`
	From         string      `json:"from"`
	To           string      `json:"to"`
	Structures   []Structure `json:"structures"`
	Signs        []string    `json:"signs" doc:"That shut the rig out"`
	Ferry        bool        `json:"ferry,omitempty"`
	ExtraM       float64     `json:"extra_m"`
	ExtraS       *float64    `json:"extra_driving_s"`
	ExtraUnknown string      `json:"extra_unknown,omitempty"`
}

// Network says what road data the answer rests on.
type Network struct {
	Name     string         `json:"name"`
	Vintage  string         `json:"vintage"`
	Caution  string         `json:"caution"`
	Revision string         `json:"revision"`
	Credit   string         `json:"credit" doc:"To be shown wherever the answer is"`
	Carries  []network.Fact `json:"carries"`
	Lacks    []network.Fact `json:"lacks"`
}

// Attribution says where data comes from and on what terms.
type Attribution struct {
	ID          string `json:"id"`
	Name        string `json:"name"`
	From        string `json:"from"`
	Date        string `json:"date"`
	Attribution string `json:"attribution"`
	Licence     string `json:"licence"`
	Changes     string `json:"changes,omitempty"`
	LicenceText string `json:"licence_text,omitempty"`
}

// Attributions lists the sources of the shipped data, with their licence texts
// where asked for.
func Attributions(texts bool) []Attribution {
	var out []Attribution
	for _, s := range data.Sources() {
		a := Attribution{ID: s.ID, Name: s.Name, From: s.From, Date: s.Date, Attribution: s.Attribution, Licence: s.Licence, Changes: s.Changes}
		if texts && s.LicenceFile != "" {
			raw, err := data.Files.ReadFile(s.LicenceFile)
			if err != nil {
				panic(err) // embedded; a test reads each
			}
			a.LicenceText = string(raw)
		}
		out = append(out, a)
	}
	return out
}

// Credits lists the sources that an answer on a network rests on: the shipped
// ones, and those of the network instead of the shipped roads where it is
// another, with licence texts where asked for.
func Credits(about network.About, texts bool) []Attribution {
	out := Attributions(texts)
	if about.Licence == "" {
		return out
	}
	own := Attribution{
		ID: "network", Name: about.Name, From: "the extracts that the network file was built of", Date: about.Vintage,
		Attribution: about.Attribution, Licence: about.Licence, Changes: "turned into a road network",
	}
	out = slices.DeleteFunc(out, func(a Attribution) bool { return a.ID == data.RoadsID })
	return append([]Attribution{own}, out...)
}

// NewTrip puts a plan into its wire form.
func NewTrip(p *trip.Plan) *Trip {
	t := &Trip{
		Name: p.Name, Notice: p.Notice(), Verdict: newVerdict(p.Verdict), Rig: newRig(p.Rig), Departure: p.Departure,
		Road: newRoad(p.Road), GivenRoute: p.Given, LengthM: round(float64(p.Length)), Fuel: newFuel(p.Fuel), Findings: newFindings(p.Findings), Tables: p.Tables,
		Assumptions: p.Assumptions, Cautions: p.Cautions, Attributions: Credits(p.About, false), Mark: mark(p.RestsOnInvented()),
		Network: newNetwork(p.About), Legs: []Leg{}, Permits: newPermitNeeds(p.Permits), Avoided: []Avoided{}, plan: p,
	}
	t.DrivingS, t.DrivingWhy = newDuration(p.Time)
	for _, l := range p.Legs {
		t.Legs = append(t.Legs, newLeg(l))
	}
	for _, a := range p.Avoided {
		t.Avoided = append(t.Avoided, newAvoided(a))
	}
	return t
}

func newNetwork(about network.About) Network {
	return Network{
		Name: about.Name, Vintage: about.Vintage, Caution: about.Caution, Revision: about.Revision, Credit: about.Attribution,
		Carries: append([]network.Fact{}, about.Carries...), Lacks: append([]network.Fact{}, about.Lacks...),
	}
}

func newVerdict(r finding.RollUp) Verdict {
	return Verdict{Outcome: r.Outcome(), Worst: r.Worst, Unknowns: r.Unknowns, Demands: Demands(r.Demands)}
}

func newRig(r rig.Rig) Rig {
	basis := "designed"
	if r.Unit.HeightMeasured {
		basis = "measured on " + r.Unit.MeasuredOn.Format(time.DateOnly)
	}
	u := r.Unit
	out := Rig{
		Unit: r.Unit.Name, Tow: r.Tow.Name, Kind: unknownWhenEmpty(r.Unit.Kind), Use: unknownWhenEmpty(r.Use), Coupling: unknownWhenEmpty(r.Unit.Coupling), TowForm: unknownWhenEmpty(r.Tow.Form),
		HeightM: metres(r.Height), WidthM: metres(r.Width), LengthM: metres(r.Length), MassKG: kilograms(r.Mass),
		UnitM: Size{HeightM: metres(u.Height), HeightBasis: basis, WidthM: metres(u.Width), HouseM: metres(u.House), LengthM: metres(u.Length), MassKG: kilograms(u.Mass)},
	}
	if u.WidthAtLeast {
		out.UnitM.WidthM, out.UnitM.LeastM = nil, metres(u.Width)
	}
	if u.Kind == limit.LoadOnTrailer {
		out.Load, out.Trailer = newPart(u.Load), newPart(u.Trailer)
	}
	return out
}

func newPart(o rig.Own) *Part {
	return &Part{WidthM: metres(o.Width), LengthM: metres(o.Length), MassKG: kilograms(o.Mass)}
}

func unknownWhenEmpty[T ~string](s T) string {
	if s == "" {
		return "unknown"
	}
	return string(s)
}

func metres(l *measure.Length) *float64 {
	if l == nil {
		return nil
	}
	v := l.Metres()
	return &v
}

func kilograms(m *measure.Mass) *float64 {
	if m == nil {
		return nil
	}
	v := m.Kilograms()
	return &v
}

// round keeps tenths: nothing along a road is known finer.
func round(v float64) float64 { return math.Round(v*10) / 10 }

func newFuel(f trip.Fuel) Fuel {
	if f.Unknown != "" {
		return Fuel{Unknown: f.Unknown}
	}
	low, high := round(float64(f.Low/measure.Litre)), round(float64(f.High/measure.Litre))
	return Fuel{LowL: &low, HighL: &high}
}

func newDuration(d trip.Duration) (*float64, string) {
	if d.Unknown != "" {
		return nil, d.Unknown
	}
	v := float64(int64(d.Seconds() + 0.5))
	return &v, ""
}

func newLeg(l trip.Leg) Leg {
	out := Leg{
		From: l.From, To: l.To, Jurisdictions: append([]string{}, l.Jurisdictions...), Roads: append([]string{}, l.Roads...), Unmatched: l.Unmatched,
		LengthM: round(float64(l.Length)), Fuel: newFuel(l.Fuel), Verdict: newVerdict(l.Verdict()), Findings: newFindings(l.Findings), Structures: []Structure{},
		Mark: mark(l.RestsOnInvented()),
	}
	if !l.Start.IsZero() {
		out.Start = &l.Start
	}
	out.Towns = slices.DeleteFunc(append([]string{}, l.Towns...), func(s string) bool { return s == "" })
	if c := l.Climb; c != nil {
		out.Climb = &Climb{round(c.Ascent), round(c.Descent), round(100 * c.Steepest), round(float64(c.Unknown))}
	}
	out.DrivingS, out.DrivingWhy = newDuration(l.Time)
	for _, s := range l.Structures {
		out.Structures = append(out.Structures, newStructure(s))
	}
	return out
}

func newStructure(s standing.Passing) Structure {
	out := Structure{
		Mark: mark(s.Invented()), ID: s.ID, Name: s.Name, Lat: s.Point.Lat(), Lon: s.Point.Lon(), AtM: round(float64(s.At)),
		Outcome: s.Outcome, Sum: s.Sum(), Why: s.Why, Others: s.Others, Doubt: s.Doubt, Ask: s.Ask, Row: newRow(s.Row),
	}
	if s.Known {
		out.MarginM = metres(&s.Margin)
	}
	return out
}

func newAvoided(a trip.Avoided) Avoided {
	out := Avoided{From: a.From, To: a.To, Ferry: a.Ferry, ExtraM: round(float64(a.Extra)), Structures: []Structure{}, Signs: append([]string{}, a.Signs...)}
	out.ExtraS, out.ExtraUnknown = newDuration(a.ExtraTime)
	for _, s := range a.Structures {
		out.Structures = append(out.Structures, newStructure(s))
		if s.Invented() {
			out.Mark = InventedMark
		}
	}
	return out
}

func newFindings(in []finding.Finding) []Finding {
	out := []Finding{}
	for _, f := range in {
		w := Finding{
			Mark: mark(f.Invented), Rule: f.Rule, Jurisdiction: f.Jurisdiction, Place: f.Place, Outcome: f.Outcome, Demands: Demands(f.Demands),
			Value: f.Value, Margin: f.Margin, Summary: f.Summary, Ask: f.Ask, Rows: newRows(f.Rows),
		}
		out = append(out, w)
	}
	return out
}

func newRows(in []finding.Row) []Row {
	out := []Row{}
	for _, r := range in {
		out = append(out, newRow(r))
	}
	return out
}

func newRow(r finding.Row) Row {
	return Row{
		Mark: mark(r.Status == finding.Invented), ID: r.ID, Revision: r.Revision, Published: r.Published, Status: r.Status, Source: r.Source,
		Section: r.Section, Year: r.Year, URL: r.URL, ReadOn: day(r.ReadOn), Tier: r.Tier, Decides: r.Decides, Words: r.Words,
	}
}

func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

// writeGeoJSON writes the trip as a FeatureCollection (RFC 7946): a line for
// each leg, a point for each structure. What stands at the head of the plan
// stands in a foreign member.
func (t *Trip) writeGeoJSON(w io.Writer) error {
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

// Limit is one row of the table of limits.
type Limit struct {
	Row
	Jurisdiction string          `json:"jurisdiction"`
	Kind         limit.Kind      `json:"kind"`
	Combination  limit.Form      `json:"combination"`
	Tow          limit.Tows      `json:"tow,omitempty" doc:"The tow vehicles that it names"`
	Quantity     limit.Quantity  `json:"quantity"`
	Threshold    string          `json:"threshold"`
	Inclusive    bool            `json:"inclusive" doc:"The threshold itself is already beyond"`
	Outcome      finding.Outcome `json:"outcome" doc:"Beyond the threshold"`
	Demands      Demands         `json:"demands"`
	When         string          `json:"when,omitempty"`
	Road         string          `json:"road,omitempty"`
	Condition    string          `json:"condition,omitempty"`
	Note         string          `json:"note,omitempty"`
}

func newLimit(r *limit.Row, revision string) Limit {
	return Limit{
		Row: newRow(finding.Row{ID: r.ID, Revision: revision, Published: r.Published, Status: r.Status, Source: r.Source, Section: r.Section,
			Year: r.Year, URL: r.URL, ReadOn: r.ReadOn, Tier: string(r.Tier)}),
		Jurisdiction: r.Jurisdiction, Kind: r.Kind, Combination: r.Form, Tow: r.Tows, Quantity: r.Quantity, Threshold: r.Text, Inclusive: r.Inclusive,
		Outcome: r.Outcome, Demands: Demands(r.Demands), When: r.When, Road: r.Road, Condition: r.Condition, Note: r.Note,
	}
}

// String names an attribution in one line.
func (a Attribution) String() string {
	return fmt.Sprintf("%s (%s): %s Licence: %s.", a.Name, a.Date, a.Attribution, strings.TrimSuffix(a.Licence, "."))
}
