package sweep

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
)

// Fit is the best line that was found through a place.
type Fit struct {
	Rig    Combination
	Place  Place
	Edges  Edges
	Course Course
	Swept  Swept
	// Left and Right are what the rig keeps from the edges on either side; negative: by so
	// much it reaches over. The lesser of both is as great as was found.
	Left, Right measure.Distance
	// Radius is that of its arcs, by the middle of the front axle, which begins to turn in
	// Turn past the inner corner (negative: before it), Aside from the left edge of the way
	// in where it turns left, from the right one where it turns right.
	Radius, Turn, Aside measure.Distance
	// Out is by how much it first swings out to the other side, Over by how much it turns
	// further than the way out and back.
	Out, Over Angle
}

// Passes reports whether the rig gets through without reaching over an edge.
func (f Fit) Passes() bool { return min(f.Left, f.Right) >= 0 }

// driven are the figures of a line: where it runs in, where it turns, how tightly, and what
// it swings out before and turns over after. Lengths in metres, angles in radians.
type driven struct{ aside, turn, radius, out, over float64 }

// Through looks for the line through a place that keeps the rig furthest from all edges:
// straight in, perhaps out to the other side, round on one radius, perhaps over and back,
// and straight out. The radius is no less than the tow vehicle's at full lock, and the rig
// bends no further than most. Steering turns where it stands; it drives forward only. A
// grid is searched, then each figure from the best of it in ever smaller steps: what is
// found can be driven, and what is not found may be there. Errors are those of Check and
// of ErrPath.
func (r Combination) Through(p Place, lock measure.Distance, most Angle) (Fit, error) {
	if err := cmp.Or(r.Check(), p.Check()); err != nil {
		return Fit{}, err
	}
	s := seeker{rig: r, place: p, most: most}
	if g := p.Gate; g != nil && p.Side == Right { // laid as its mirror image
		s.place.Gate = &Gate{g.Width, g.Behind, -g.Offset}
	}
	s.ground = s.place.lay(wayOf * (r.length() + float64(lock+p.From+p.Into)))
	fit, err := s.fit(s.search(float64(max(lock, r.Wheelbase*1.05))))
	fit.Place = p
	return fit, err
}

// wayOf is how long the ways of a place are drawn, in what a rig and its turn measure.
const wayOf = 3

// seeker tries lines through a place.
type seeker struct {
	rig    Combination
	place  Place
	most   Angle
	ground ground
}

// tried is a line and how far it keeps the rig from the edges.
type tried struct {
	driven
	room float64
}

// search is the best line of the grid, refined.
func (s *seeker) search(lock float64) driven {
	in, half := float64(s.place.From), float64(s.rig.TowWidth)/2
	var all []tried
	worst := math.Inf(-1) // of the best so far
	for _, f := range []float64{0.5, 0.2, 0.8, 1} {
		aside := half + f*max(in-2*half, 0)
		for _, radius := range []float64{lock, 1.3 * lock, 1.8 * lock} {
			for _, out := range []float64{0, 15, 30} {
				for _, over := range []float64{0, 15, 30} {
					for turn := -0.75; turn <= 1.3; turn += 0.25 {
						d := driven{
							aside,
							turn * (radius + float64(s.place.Into)/2),
							radius,
							out * float64(Degree),
							over * float64(Degree),
						}
						t := tried{d, s.try(d, worst)}
						all = keep(all, t)
						if len(all) == seeds {
							worst = all[seeds-1].room
						}
					}
				}
			}
		}
	}
	best := tried{room: math.Inf(-1)}
	for _, t := range all {
		if t = s.refine(t, lock); t.room > best.room {
			best = t
		}
	}
	return best.driven
}

// seeds are how many lines of the grid are refined.
const seeds = 6

// keep keeps the best of the grid.
func keep(all []tried, t tried) []tried {
	all = append(all, t)
	slices.SortStableFunc(all, func(a, b tried) int { return cmp.Compare(b.room, a.room) })
	return all[:min(len(all), seeds)]
}

// refine moves each figure in ever smaller steps as long as that gains room.
func (s *seeker) refine(t tried, lock float64) tried {
	steps := driven{0.8, 1.6, 2, 10 * float64(Degree), 10 * float64(Degree)}
	for range 7 {
		for _, of := range []func(*driven) *float64{
			func(d *driven) *float64 { return &d.aside }, func(d *driven) *float64 { return &d.turn },
			func(d *driven) *float64 { return &d.radius }, func(d *driven) *float64 { return &d.out },
			func(d *driven) *float64 { return &d.over },
		} {
			for _, way := range []float64{1, -1} {
				next := t.driven
				*of(&next) += way * *of(&steps)
				next.radius = max(next.radius, lock)
				next.out, next.over = max(next.out, 0), max(next.over, 0)
				if room := s.try(next, t.room); room > t.room+1e-6 {
					t = tried{next, room}
					break
				}
			}
		}
		steps = driven{steps.aside / 2, steps.turn / 2, steps.radius / 2, steps.out / 2, steps.over / 2}
	}
	return t
}

// tryStep is how often a line that is tried is looked at, in m of the front axle.
const tryStep = 0.5

// try is how much room a line leaves, given up where it leaves no more than that of
// another. A rig that would bend too far leaves less by a metre for each degree.
func (s *seeker) try(d driven, than float64) float64 {
	course, err := s.rig.Course(s.line(d, 0), tryStep)
	if err != nil {
		return math.Inf(-1)
	}
	least := math.Inf(1)
	for _, at := range course.Stances {
		if most := s.most; most > 0 {
			if bent := math.Abs(float64(at.Articulation)) - float64(most); bent > 0 {
				least = min(least, -bent/float64(Degree))
			}
		}
		if least = min(least, s.ground.room(at).least()); least <= than {
			return least
		}
	}
	return least
}

// line is the way of the front axle, of points no further apart than half a metre where it
// bends, from so far before it leaves the straight until the rig is straight again.
func (s *seeker) line(d driven, before float64) orb.LineString {
	if s.place.Angle == 0 {
		return s.shift(d, before)
	}
	b := builder{at: vec{d.turn - 2*d.radius*math.Sin(d.out) - before - 0.1, -d.aside}, along: vec{1, 0}}
	b.to(before + 0.1)
	b.arc(d.radius, -d.out)
	b.arc(d.radius, float64(s.place.Angle)+d.out+d.over)
	b.arc(d.radius, -d.over)
	b.to(s.rig.length())
	return b.points
}

// shift is the way to a gate straight ahead: to the middle of its opening on two arcs that
// end so far before it.
func (s *seeker) shift(d driven, before float64) orb.LineString {
	aside := float64(s.place.Into)/2 - float64(s.place.Gate.offset()) - d.aside // to the right positive
	bend := math.Acos(max(1-math.Abs(aside)/(2*d.radius), -1))
	long := 2 * d.radius * math.Sin(bend)
	b := builder{at: vec{d.turn - d.radius - long - before - 0.1, -d.aside}, along: vec{1, 0}}
	b.to(before + 0.1)
	b.arc(d.radius, math.Copysign(bend, -aside))
	b.arc(d.radius, math.Copysign(bend, aside))
	b.to(max(d.radius-d.turn, 1) + s.rig.length())
	return b.points
}

func (g *Gate) offset() measure.Distance {
	if g == nil {
		return 0
	}
	return g.Offset
}

// builder lays a line of straights and arcs.
type builder struct {
	at, along vec
	points    orb.LineString
}

func (b *builder) to(length float64) {
	if len(b.points) == 0 {
		b.points = append(b.points, b.at.point())
	}
	if length > 0 {
		b.at = b.at.add(b.along.times(length))
		b.points = append(b.points, b.at.point())
	}
}

// arc turns by an angle, to the left positive, on a radius.
func (b *builder) arc(radius, angle float64) {
	if angle == 0 {
		return
	}
	side := math.Copysign(1, angle)
	centre := b.at.add(b.along.left().times(side * radius))
	from := b.at.sub(centre)
	n := math.Ceil(math.Abs(angle) * radius / 0.4)
	for k := 1.0; k <= n; k++ {
		sin, cos := math.Sincos(angle * k / n)
		b.at = centre.add(from.turned(sin, cos))
		b.points = append(b.points, b.at.point())
	}
	sin, cos := math.Sincos(angle)
	b.along = b.along.turned(sin, cos)
}

// fit measures a line closely, and turns it to the side that the place turns to.
func (s *seeker) fit(d driven) (Fit, error) {
	path := s.line(d, s.rig.length())
	course, err := s.rig.Course(path, stationStep)
	if err != nil {
		return Fit{}, err
	}
	least := room{math.Inf(1), math.Inf(1)}
	for _, at := range course.Stances {
		r := s.ground.room(at)
		least.left, least.right = min(least.left, r.left), min(least.right, r.right)
	}
	swept, err := (&Driver{}).Drive(s.rig, path)
	if err != nil {
		return Fit{}, err
	}
	f := Fit{
		Rig: s.rig, Place: s.place, Edges: Edges{s.ground.left, s.ground.right}, Course: course, Swept: swept,
		Left: measure.Distance(least.left), Right: measure.Distance(least.right), Radius: measure.Distance(d.radius),
		Turn: measure.Distance(d.turn), Aside: measure.Distance(d.aside), Out: Angle(d.out), Over: Angle(d.over),
	}
	if s.place.Side == Right {
		f.mirror()
	}
	return f, nil
}

// mirror makes a turn to the left one to the right.
func (f *Fit) mirror() {
	flip := func(p *orb.Point) { p[1] = -p[1] }
	for _, edges := range [][]orb.LineString{f.Edges.Left, f.Edges.Right, {f.Course.Path}} {
		for _, e := range edges {
			for i := range e {
				flip(&e[i])
			}
		}
	}
	f.Edges.Left, f.Edges.Right = f.Edges.Right, f.Edges.Left
	f.Left, f.Right = f.Right, f.Left
	for i := range f.Course.Stances {
		s := &f.Course.Stances[i]
		for _, p := range []*orb.Point{&s.Front, &s.TowAxle, &s.Coupling, &s.UnitAxle} {
			flip(p)
		}
		for _, body := range []*[4]orb.Point{&s.Tow, &s.Unit} {
			for k := range body {
				flip(&body[k])
			}
			body[0], body[1], body[2], body[3] = body[1], body[0], body[3], body[2]
		}
		s.Articulation = -s.Articulation
	}
	other := [...]Side{Neither: Neither, Left: Right, Right: Left}
	f.Swept.Cuts, f.Swept.Swings = other[f.Swept.Cuts], other[f.Swept.Swings]
}
