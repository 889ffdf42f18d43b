// Package clearance knows the structures that limit height, width or mass at
// one place, works and closures, and by what margin a rig passes one.
package clearance

import (
	"cmp"
	"strconv"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Structure is a bridge, tunnel, gantry or wire over a road. A posted or
// measured height that is nil is not known; with neither the structure is
// unmeasured.
type Structure struct {
	ID       string
	Name     string
	Point    orb.Point // WGS84
	Unplaced bool      // no place is known: it stands somewhere on its road, in its jurisdiction
	// Jurisdiction is its ISO 3166-2 code, "" for that of the point.
	Jurisdiction string
	Road         string // number of the road it stands over, "" where not known
	Direction    string // way of travel that it binds: "both", or a compass point such as "E"
	Posted       *measure.Length
	Measured     *measure.Length
	MeasuredOn   time.Time
	Term         time.Duration   // after its measurement it clears nothing; 0: that of the allowances
	SagRadius    *measure.Length // of the road's sag curve under it, where known
	Width        *measure.Length // clear width for the rig, as posted or measured
	Mass         *measure.Mass   // posted, of the whole rig
	Words        string          // for a person to read: which lane is how high, that a load is posted
	Grade        Grade
	Way          int64     // of OpenStreetMap, on which it binds; 0: by place and road
	Closed       bool      // the road is closed there
	Doubt        string    // why it may be another road that it binds: it then shuts and clears nothing
	From         time.Time // first and last day on which it binds; zero: not stated
	Until        time.Time
	Wind         string // what wind asks here, in words
	Status       finding.Status
	Source       string
	Section      string
	Year         string
	URL          string
	ReadOn       time.Time
	Note         string
}

// Grade is which of two roads that cross a structure binds.
type Grade string

// The grades.
const (
	AnyGrade Grade = ""
	On       Grade = "on"    // the road that the structure carries
	Under    Grade = "under" // the road that passes under it
)

// Term names the grade.
func (g Grade) Term() say.Code {
	if g == AnyGrade {
		return ""
	}
	return "grade." + say.Code(g)
}

// Binds reports whether the structure binds on some day from one to another.
func (s Structure) Binds(from, until time.Time) bool {
	some, _ := rows.Holds(s.From, s.Until, from, until)
	return some
}

// Expired reports whether the row ended before a day and left what cannot have gone
// with it: a structure. A closure, words and wind do go.
func (s Structure) Expired(day time.Time) bool {
	stands := s.Posted != nil || s.Measured != nil || s.Width != nil || s.Mass != nil || s.Grade == Under || !s.OpenAbove()
	return stands && !s.Until.IsZero() && rows.DayOf(day).After(s.Until)
}

// Made is the day from which the figure that binds ages: that of its
// measurement, else the first day of the year of its source, else that of the
// reading. A sign that binds beside a measurement does not age with it.
func (s Structure) Made() time.Time {
	_, of := s.Figure()
	year, err := strconv.Atoi(s.Year)
	switch {
	case !s.MeasuredOn.IsZero() && (of != Posted || s.Measured == nil):
		return s.MeasuredOn
	case err == nil && year > 0:
		return time.Date(year, time.January, 1, 0, 0, 0, 0, time.UTC)
	default:
		return s.ReadOn
	}
}

// Stale says why on a day the figure is too old to clear anything, nothing where it
// is not: read too long ago, or made too long ago whenever it was read. Roads are
// resurfaced, and stand higher then.
func (s Structure) Stale(day time.Time, term time.Duration, a Allowances) say.Remark {
	made := s.Made()
	switch {
	case rows.Stale(s.ReadOn, day, term):
		return say.That("figure.read_long_ago")
	case rows.Stale(made, day, cmp.Or(s.Term, a.FigureTerm, DefaultFigureTerm)):
		return say.That("figure.made_long_ago", "on", say.Day(made))
	default:
		return say.Remark{}
	}
}

// DefaultFigureTerm is how long after its measurement a figure clears: two years,
// the longest between routine inspections of a bridge in the United States (23
// CFR 650.311(a), 2022; from memory). It is a choice of this project.
const DefaultFigureTerm = 731 * 24 * time.Hour

// Invented reports whether the structure was made up for an example. It then
// says so wherever it is used.
func (s Structure) Invented() bool { return s.Status == finding.Invented }

// Figure returns the clear height that binds, the lower of posted and
// measured, and which it is. A measured height never raises a posted one.
func (s Structure) Figure() (height *measure.Length, of PartOf) {
	switch {
	case s.Posted == nil && s.Measured == nil:
		return nil, ""
	case s.Posted == nil:
		return s.Measured, Measured
	case s.Measured == nil, *s.Posted <= *s.Measured:
		return s.Posted, Posted
	default:
		return s.Measured, Measured
	}
}

// Compass lists the points that a direction can be, clockwise from north.
var Compass = []string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}

// Structures is the table of clearances. The same CSV describes the structures
// of one trip.
func Structures() rows.Table[Structure] {
	return rows.Table[Structure]{
		Name: "clearances",
		Columns: []string{
			"id", "name", "lat", "lon", "road", "direction", "posted", "measured", "measured_on", "sag_radius",
			"status", "source", "section", "source_year", "read_on", "note",
			"width", "mass", "words", "grade", "way", "doubt", "closed", "valid_from", "valid_to", "wind", "source_url",
			"jurisdiction", "term_days",
		},
		Optional: []string{"width", "mass", "words", "grade", "way", "doubt", "closed", "valid_from", "valid_to",
			"wind", "source_url", "jurisdiction", "term_days"},
		Read: read,
	}
}

// ReadCSV reads structures. It takes all rows or none; errors name line and
// column.
func ReadCSV(raw []byte) ([]Structure, error) {
	t := Structures()
	t.Name = "structures"
	out, _, err := t.ReadCSV(raw)
	return out, err
}

func read(c *rows.Cells) Structure {
	s := Structure{
		ID: c.Need("id"), Name: c.Need("name"), Road: c.Get("road"),
		Direction: rows.OneOf(c, "direction", append([]string{"both"}, Compass...)...),
		Posted:    c.Length("posted"), Measured: c.Length("measured"), MeasuredOn: c.Day("measured_on"),
		SagRadius: c.Length("sag_radius"), Width: c.Length("width"), Mass: c.Mass("mass"), Words: c.Get("words"),
		Grade: rows.OneOf(c, "grade", AnyGrade, On, Under), Way: c.Number("way"), Doubt: c.Get("doubt"),
		Closed: c.Yes("closed"), From: c.Day("valid_from"), Until: c.Day("valid_to"), Wind: c.Get("wind"),
		Status: rows.OneOf(c, "status", finding.Published, finding.Verified, finding.Secondary, finding.Memory,
			finding.Invented),
		Source: c.Need("source"), Section: c.Get("section"), Year: c.Get("source_year"),
		URL: c.Get("source_url"), ReadOn: c.Day("read_on"),
		Note: c.Get("note"), Term: time.Duration(c.Number("term_days")) * 24 * time.Hour,
	}
	readPlace(c, &s)
	if !s.From.IsZero() && !s.Until.IsZero() && s.Until.Before(s.From) {
		c.Fail("valid_to", say.That("error.before_valid_from"), say.That("fix.check_both_days"))
	}
	return s
}

// readPlace reads where a structure stands. Without a point its jurisdiction and
// its road are all that tells who may meet it.
func readPlace(c *rows.Cells, s *Structure) {
	if c.Get("jurisdiction") != "" {
		s.Jurisdiction = c.Code("jurisdiction")
	}
	if s.Unplaced = c.Get("lat") == "" && c.Get("lon") == "" && s.Jurisdiction != ""; s.Unplaced {
		c.Need("road")
		return
	}
	s.Point = orb.Point{c.Degrees("lon", 180), c.Degrees("lat", 90)}
}
