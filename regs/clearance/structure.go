// Package clearance knows the structures that limit height at one place, and
// by what margin a rig passes under one.
package clearance

import (
	"fmt"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
)

// Structure is a bridge, tunnel, gantry or wire over a road. A posted or
// measured height that is nil is not known; with neither the structure is
// unmeasured.
type Structure struct {
	ID         string
	Name       string
	Point      orb.Point // WGS84
	Road       string    // number of the road it stands over, "" where not known
	Direction  string    // way of travel that it binds: "both", or a compass point such as "E"
	Posted     *measure.Length
	Measured   *measure.Length
	MeasuredOn time.Time
	SagRadius  *measure.Length // of the road's sag curve under it, where known
	Status     finding.Status
	Source     string
	Section    string
	Year       string
	ReadOn     time.Time
	Note       string
}

// Invented tells whether the structure was made up for an example. It then
// says so wherever it is used.
func (s Structure) Invented() bool { return s.Status == finding.Invented }

// Figure returns the clear height that binds, the lower of posted and
// measured, and its name. A measured height never raises a posted one.
func (s Structure) Figure() (height *measure.Length, name string) {
	switch {
	case s.Posted == nil && s.Measured == nil:
		return nil, "not known"
	case s.Posted == nil:
		return s.Measured, "measured"
	case s.Measured == nil, *s.Posted <= *s.Measured:
		return s.Posted, "posted"
	default:
		return s.Measured, "measured"
	}
}

// Columns of a structures CSV, in order.
var columns = []string{
	"id", "name", "lat", "lon", "road", "direction", "posted", "measured", "measured_on", "sag_radius",
	"status", "source", "section", "source_year", "read_on", "note",
}

// Compass lists the points that a direction can be, clockwise from north.
var Compass = []string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}

// ReadCSV reads structures. It takes all rows or none; errors name line and
// column.
func ReadCSV(raw []byte) ([]Structure, error) {
	var out []Structure
	seen := map[string]bool{}
	err := rows.Each(raw, columns, func(c *rows.Cells) error {
		s := read(c)
		if seen[s.ID] {
			return c.Fail("id", "stands twice", "give each structure an id of its own")
		}
		seen[s.ID] = true
		out = append(out, s)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("structures: %w", err)
	}
	return out, nil
}

func read(c *rows.Cells) Structure {
	return Structure{
		ID: c.Need("id"), Name: c.Need("name"),
		Point: orb.Point{c.Degrees("lon", 180), c.Degrees("lat", 90)},
		Road:  c.Get("road"), Direction: rows.OneOf(c, "direction", append([]string{"both"}, Compass...)...),
		Posted: length(c, "posted"), Measured: length(c, "measured"), MeasuredOn: c.Day("measured_on"),
		SagRadius: length(c, "sag_radius"),
		Status:    rows.OneOf(c, "status", finding.Published, finding.Verified, finding.Secondary, finding.Memory, finding.Invented),
		Source:    c.Need("source"), Section: c.Get("section"), Year: c.Get("source_year"), ReadOn: c.Day("read_on"), Note: c.Get("note"),
	}
}

func length(c *rows.Cells, column string) *measure.Length {
	if c.Get(column) == "" {
		return nil
	}
	l, err := measure.ParseLength(c.Get(column))
	if err != nil {
		c.Unusable(column, err)
	}
	return &l
}
