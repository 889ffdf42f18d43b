package limit

import (
	"math"
	"math/bits"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// AxleLoad is one axle of a rig as it stands on the road.
type AxleLoad struct {
	At       measure.Length              // behind the first axle of the rig
	Mass     measure.Known[measure.Mass] // on the road; a least one is worked out, not weighed
	Steering bool
	Tires    int            // 0: not known
	Width    measure.Length // nominal, of one tire; 0: not known
}

// Group is a run of consecutive axles that a row speaks of.
type Group struct {
	First, Last int // places in the rig, from 1
	Spread      measure.Length
	Mass        measure.Known[measure.Mass]
	Limit       Amount // what the row allows it; 0: not known
}

// Name names the axles, and how far apart the outer ones are.
func (g Group) Name() say.Remark {
	if g.First == g.Last {
		return say.That("axles.one", "axle", g.First)
	}
	return say.That("axles.run", "first", g.First, "last", g.Last, "apart", g.Spread)
}

// Left is what a group may weigh more than it does at least, below 0 where it weighs
// too much; ok is false where its mass or its limit is not known.
func (g Group) Left() (left measure.Mass, ok bool) {
	mass, ok := g.Mass.Least()
	return measure.Mass(g.Limit) - mass, ok && g.Limit > 0
}

// exceededBy reports whether the mass of the group is surely beyond its limit.
func (r Row) exceededBy(g Group) bool {
	left, ok := g.Left()
	return ok && (left < 0 || r.Inclusive && left == 0)
}

// Beyond lists the groups whose mass is beyond what the row allows.
func (r Row) Beyond(groups []Group) []Group {
	var out []Group
	for _, g := range groups {
		if r.exceededBy(g) {
			out = append(out, g)
		}
	}
	return out
}

// OfAxles reports whether a quantity is about axles or groups of them.
func (q Quantity) OfAxles() bool {
	switch q {
	case SteeringAxleMass, SingleAxleMass, TandemMass, TridemMass, AxleGroupMass, TireLoadPerWidth, BridgeFormula:
		return true
	}
	return false
}

// Count is how many axles make a group, from Least to Most; Most 0 is any
// number.
type Count struct{ Least, Most int }

func (c Count) holds(n int) bool { return n >= c.Least && (c.Most == 0 || n <= c.Most) }

var countForm = regexp.MustCompile(`^([1-9]\d?)(\+?)$`)

// parseCount reads "2" or "2+"; what is empty is what the quantity says.
func parseCount(q Quantity, text string) (Count, bool) {
	if text == "" {
		switch q {
		case TandemMass:
			return Count{2, 2}, true
		case TridemMass:
			return Count{3, 3}, true
		case AxleGroupMass, BridgeFormula:
			return Count{2, 0}, true
		default:
			return Count{1, 1}, true
		}
	}
	m := countForm.FindStringSubmatch(text)
	if m == nil {
		return Count{}, false
	}
	n, _ := strconv.Atoi(m[1]) // two digits at the most, by the pattern
	if m[2] != "" {
		return Count{n, 0}, true
	}
	return Count{n, n}, true
}

// Range is a range of lengths. The zero value takes any.
type Range struct {
	Low, High         measure.Length // High 0: no upper end
	OverLow, BelowTop bool           // the end itself is left out
	Given             bool
}

// Holds reports whether a length lies in the range.
func (r Range) Holds(l measure.Length) bool {
	if l < r.Low || r.OverLow && l == r.Low {
		return false
	}
	return r.High == 0 || l < r.High || !r.BelowTop && l == r.High
}

// meets reports whether some length lies in both ranges, the other one having no
// upper end.
func (r Range) meets(above Range) bool {
	return r.High == 0 || r.High > above.Low || r.High == above.Low && !r.BelowTop && !above.OverLow
}

// ParseRange reads a range such as "> 40 in and <= 96 in", "< 3.0 m", ">= 1.8 m".
func ParseRange(text string) (Range, error) {
	var r Range
	if text = strings.TrimSpace(text); text == "" {
		return r, nil
	}
	r.Given = true
	for _, part := range strings.Split(text, " and ") {
		part = strings.TrimSpace(part)
		sign := part[:len(part)-len(strings.TrimLeft(part, "<>="))]
		l, err := measure.ParseLength(part[len(sign):])
		if err != nil {
			return r, err
		}
		switch {
		case (sign == "<" || sign == "<=") && r.High == 0:
			r.High, r.BelowTop = l, sign == "<"
		case (sign == ">" || sign == ">=") && r.Low == 0:
			r.Low, r.OverLow = l, sign == ">"
		case sign != "" && strings.Contains("< <= > >=", sign):
			return r, say.Err(say.That("parse_error.one_end"))
		default:
			return r, say.Err(say.That("parse_error.no_bound"))
		}
	}
	if r.High != 0 && (r.High < r.Low || r.High == r.Low && (r.OverLow || r.BelowTop)) {
		return r, say.Err(say.That("parse_error.backward"))
	}
	return r, nil
}

// parseSpread reads the distances at which axles count together and, after
// "apart", those at which the source says that they do not: "> 40 in and <= 96 in;
// apart > 96 in".
func parseSpread(text string) (together, apart Range, err error) {
	near, far, says := strings.Cut(text, ";")
	if together, err = ParseRange(near); err != nil || !says {
		return together, apart, err
	}
	word, found := strings.CutPrefix(strings.TrimSpace(far), "apart ")
	if !found {
		return together, apart, say.Err(
			say.That("parse_error.not_understood", "text", strings.TrimSpace(far), "like", "apart > 96 in"),
		)
	}
	if apart, err = ParseRange(word); err != nil {
		return together, apart, err
	}
	if apart.Low == 0 || apart.High != 0 || together.meets(apart) {
		return together, apart, say.Err(say.That("parse_error.apart"))
	}
	return together, apart, nil
}

// AxleTest is what the axles of a group must be for a row to speak of it.
type AxleTest struct {
	steering *bool
	tires    int // on each axle; 0: any number
	width    Range
}

// parseAxleTest reads words such as "not steering, 2 tires, < 445 mm wide".
func parseAxleTest(text string) (AxleTest, error) {
	var a AxleTest
	yes, no := true, false
	for _, word := range strings.Split(text, ",") {
		word = strings.TrimSpace(word)
		count, isCount := strings.CutSuffix(word, " tires")
		width, isWidth := strings.CutSuffix(word, " wide")
		switch {
		case word == "":
		case a.steering != nil && strings.HasSuffix(word, "steering"):
			return a, say.Err(say.That("parse_error.steers_twice", "text", word))
		case word == "steering":
			a.steering = &yes
		case word == "not steering":
			a.steering = &no
		case isCount:
			n, err := strconv.Atoi(count)
			if err != nil || n < 1 || n > 16 || a.tires != 0 {
				return a, say.Err(say.That("parse_error.no_tires", "text", count))
			}
			a.tires = n
		case isWidth:
			r, err := ParseRange(width)
			if err != nil {
				return a, err
			}
			if a.width.Given || !r.Given {
				return a, say.Err(say.That("parse_error.no_width", "text", word))
			}
			a.width = r
		default:
			return a, say.Err(
				say.That("parse_error.not_understood", "text", word, "like", "not steering, 2 tires, < 445 mm wide"),
			)
		}
	}
	return a, nil
}

// of reports whether an axle is what the row speaks of; what it is not known to
// be, it may be. steered reports whether any axle of the rig is said to steer;
// where none is, the first may.
func (a AxleTest) of(l AxleLoad, steered bool) Applies {
	out := Yes
	switch {
	case a.steering == nil:
	case !steered && l.At == 0: // which axle steers is not said: it may be the first
		out = Perhaps
	case *a.steering != l.Steering:
		return No
	}
	if a.tires > 0 && l.Tires != a.tires {
		if l.Tires > 0 {
			return No
		}
		out = Perhaps
	}
	switch {
	case !a.width.Given:
	case l.Width == 0:
		out = Perhaps
	case !a.width.Holds(l.Width):
		return No
	}
	return out
}

// Groups lists the runs of axles that the row speaks of, and how surely it
// speaks of all of them.
func (r Row) Groups(loads []AxleLoad) ([]Group, Applies) {
	var out []Group
	sure := Yes
	steered := slices.ContainsFunc(loads, func(l AxleLoad) bool { return l.Steering })
	for i := range loads {
		for j := i; j < len(loads); j++ {
			if spread := loads[j].At - loads[i].At; !r.Count.holds(j-i+1) || !r.Spread.Holds(spread) {
				continue
			}
			run := loads[i : j+1]
			applies := Yes
			for _, l := range run {
				applies = min(applies, r.Axle.of(l, steered))
			}
			if applies == No {
				continue
			}
			sure = min(sure, applies)
			out = append(out, r.group(run, i))
		}
	}
	if len(out) > 0 && r.Count.Least > 1 && !r.Spread.Given && r.Quantity != BridgeFormula {
		sure = min(sure, Perhaps) // how near axles must be to count together is not said
	}
	return out, sure
}

// SetsApart reports whether the row surely says of a run of axles that they stand
// too far apart to count together.
func (r Row) SetsApart(loads []AxleLoad, run Group) bool {
	if !r.Apart.Given || !r.Apart.Holds(run.Spread) || !r.Count.holds(run.Last-run.First+1) {
		return false
	}
	steered := slices.ContainsFunc(loads, func(l AxleLoad) bool { return l.Steering })
	return !slices.ContainsFunc(loads[run.First-1:run.Last], func(l AxleLoad) bool { return r.Axle.of(l, steered) != Yes })
}

// Together is what axles carry together.
func Together(loads []AxleLoad) measure.Known[measure.Mass] {
	if len(loads) == 0 {
		return measure.Known[measure.Mass]{}
	}
	sum := loads[0].Mass
	for _, l := range loads[1:] {
		sum = measure.Sum(sum, l.Mass)
	}
	return sum
}

func (r Row) group(run []AxleLoad, at int) Group {
	g := Group{
		First: at + 1, Last: at + len(run), Spread: run[len(run)-1].At - run[0].At,
		Mass: Together(run), Limit: r.Threshold,
	}
	var width measure.Length
	wide := true
	for _, l := range run {
		width += measure.Length(l.Tires) * l.Width
		wide = wide && l.Tires > 0 && l.Width > 0
	}
	switch r.Quantity {
	case TireLoadPerWidth:
		g.Limit = 0
		if wide {
			g.Limit = r.PerWidth.over(width)
		}
	case BridgeFormula:
		g.Limit = r.Bridge.allows(run)
	}
	return g
}

// PerWidth is a mass for a width of tire.
type PerWidth struct {
	Mass  measure.Mass
	Width measure.Length
}

// over is what the tires of a width may carry together, rounded down to the
// unit of mass, 10 micrograms.
func (p PerWidth) over(width measure.Length) Amount {
	high, low := bits.Mul64(uint64(p.Mass), uint64(width))
	if high >= uint64(p.Width) {
		return math.MaxInt64
	}
	q, _ := bits.Div64(high, low, uint64(p.Width))
	return Amount(min(q, math.MaxInt64))
}

// parsePerWidth reads "10 kg/mm" or "500 lb/in".
func parsePerWidth(text string) (PerWidth, error) {
	mass, width, ok := strings.Cut(text, "/")
	if !ok {
		return PerWidth{}, say.Err(say.That("parse_error.no_mass_per_width"))
	}
	m, err := measure.ParseMass(strings.TrimSpace(mass))
	if err != nil {
		return PerWidth{}, err
	}
	unit := strings.TrimSpace(width)
	if strings.Trim(unit, "abcdefghijklmnopqrstuvwxyz") != "" {
		return PerWidth{}, say.Err(say.That("parse_error.no_unit_of_width", "text", unit))
	}
	w, err := measure.ParseLength("1 " + unit)
	return PerWidth{m, w}, err
}
