package draw

import (
	"math"

	"wayhouse/api/draw/picture"
	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

// A strip has units of its own: a letter is a hundred of them.
const (
	stripLetter = 100.0
	stripAcross = 72 * stripLetter  // of a row
	stripMetre  = 0.9 * stripLetter // of height over the road
)

// stripRows are how much of a way a row can hold, metres; stripMost how many rows there
// are, unless the way is longer than as many of the longest.
var stripRows = []measure.Distance{20_000, 50_000, 100_000, 200_000, 500_000}

const stripMost = 8

// Strip draws a trip as its road pulled straight, in rows: over it the structures beside
// the height of the rig, under it the turns, slopes and fuel stops that the plan tells
// of, with stops and borders. Heights are to scale among themselves, and so are lengths.
// credits are the lines that whatever shows the roads must carry. What the plan does not
// know is not drawn, and said under it.
func Strip(in *phrase.Language, p *trip.Plan, credits []string) *picture.Picture {
	page := newCanvas(in, stripLetter)
	page.Title = in.Say(say.That("draw.strip_title", "invented", p.RestsOnInvented(), "name", p.Name,
		"from", p.Legs[0].From, "to", p.Legs[len(p.Legs)-1].To))
	page.About = in.Say(say.That("draw.strip_footer"))
	y := 0.0
	for _, row := range rowsOf(in, p) {
		page.place(row, point{Y: y - row.Least.Y}, 1)
		y = page.Most.Y + 2.5*stripLetter
	}
	notes := append(StripNotes(in, p), in.Say(say.That("draw.strip_footer")))
	page.paragraphs(point{Y: y}, stripAcross/stripLetter, append(notes, credits...))
	page.letters(page.Least.Plus(0, -1.5*stripLetter), picture.Start, page.Title, 1.4)
	return page.Picture
}

// StripRows are the rows of [Strip] as pictures of one scale, for pages that would make
// its letters too small; what goes with them in words are [StripNotes] and the credits.
func StripRows(in *phrase.Language, p *trip.Plan) (out []*picture.Picture) {
	rows := rowsOf(in, p)
	left, right := 0.0, 0.0
	for _, row := range rows {
		left, right = min(left, row.Least.X), max(right, row.Most.X)
	}
	for _, row := range rows {
		row.Cover(point{X: left}, point{X: right})
		out = append(out, row.Picture)
	}
	return out
}

func rowsOf(in *phrase.Language, p *trip.Plan) (out []*canvas) {
	s := strip{in: in, plan: p, per: rowOf(p.Length)}
	events := s.events()
	for from := measure.Distance(0); from == 0 || from < p.Length; from += s.per {
		to := from + s.per
		if to >= p.Length {
			to = measure.Distance(math.Inf(1)) // the end of the way is on the last row
		}
		out = append(out, s.row(from, within(events, from, to)))
	}
	return out
}

// Trip draws the strip of a trip, and under it the small maps of [Places].
func Trip(in *phrase.Language, p *trip.Plan, credits []string) *picture.Picture {
	page := Strip(in, p, credits)
	if maps := Places(in, p); maps.Drawn {
		page.Place(maps, point{X: page.Least.X - maps.Least.X, Y: page.Most.Y + 2*stripLetter - maps.Least.Y}, 1)
	}
	return page
}

// rowOf is how much of a way of a length a row holds.
func rowOf(length measure.Distance) measure.Distance {
	for _, per := range stripRows {
		if length <= stripMost*per {
			return per
		}
	}
	return stripRows[len(stripRows)-1]
}

type strip struct {
	in   *phrase.Language
	plan *trip.Plan
	per  measure.Distance // in a row
}

// StripNotes say what [Strip] shows, and what the plan does not know.
func StripNotes(in *phrase.Language, p *trip.Plan) []string {
	key := say.That("draw.strip_key", "height", strip{in: in, plan: p}.high())
	return in.Each(append([]say.Remark{key}, p.Notice()...))
}

// high is the height of the rig, or that it is not known.
func (s strip) high() any {
	if h, ok := s.plan.Rig.Height.Value(); ok {
		return h
	}
	return say.That("draw.not_known")
}

// row draws what lies on the way from a distance on: its road with a mark every tenth of
// the row, what stands over it, and what is to be told under it.
func (s strip) row(from measure.Distance, events []event) *canvas {
	c := newCanvas(s.in, stripLetter)
	end := min(s.plan.Length, from+s.per)
	if h, ok := s.plan.Rig.Height.Value(); ok {
		up := -stripMetre * h.Metres()
		c.Line(axis, s.in.Say(say.That("draw.rig_high", "height", h)), point{Y: up}, point{X: s.x(end, from), Y: up})
	}
	s.road(c, from, end)
	for i := range 10 {
		at := from + s.per*measure.Distance(i)/10
		if at > end {
			break
		}
		p := point{X: s.x(at, from)}
		c.Line(thin, "", p, p.Plus(0, 0.5*stripLetter))
		if i%5 == 0 {
			c.text(p.Plus(0.2*stripLetter, 1.3*stripLetter), picture.Start, s.in.Alone(at))
		}
	}
	s.told(c, from, events, true)
	s.told(c, from, events, false)
	return c
}

func (s strip) x(at, from measure.Distance) float64 { return float64((at-from)/s.per) * stripAcross }

// road draws the way from leg to leg, in red where it is forbidden and broken where it
// matches no road.
func (s strip) road(c *canvas, from, end measure.Distance) {
	at := measure.Distance(0)
	for _, l := range s.plan.Legs {
		a, b := max(at, from), min(at+l.Length, end)
		at += l.Length
		if a >= b {
			continue
		}
		look := picture.Look{Stroke: ink, Width: 0.35}
		if l.Verdict().Outcome() == finding.Forbidden {
			look.Stroke = red
		}
		if l.Unmatched {
			look.Dash = []float64{0.6, 0.4}
		}
		c.Line(look, s.in.Say(l.To), point{X: s.x(a, from)}, point{X: s.x(b, from)})
	}
}

// told draws events over the road or under it, and what they are at the ends of leaders:
// each label in the row nearest to the road in which it meets no other.
func (s strip) told(c *canvas, from measure.Distance, events []event, over bool) {
	var at, widths []float64
	var all []event
	for _, e := range events {
		if e.over == over {
			all = append(all, e)
			at, widths = append(at, s.x(e.at, from)), append(widths, c.wide(e.words)+1.4*stripLetter)
		}
	}
	first, step := 2.6*stripLetter, lineStep*stripLetter
	if over {
		first, step = -s.top(all)-stripLetter, -step
	}
	for i, row := range rows(at, widths) {
		foot := point{X: at[i], Y: first + float64(row)*step}
		c.Line(thin, "", point{X: at[i], Y: all[i].top}, foot)
		all[i].draw(c, point{X: at[i]})
		c.text(foot.Plus(0.3*stripLetter, 0), picture.Start, all[i].words)
	}
}

// top is how high the highest thing over the road is drawn.
func (s strip) top(all []event) float64 {
	h, _ := s.plan.Rig.Height.Least()
	top := stripMetre * h.Metres()
	for _, e := range all {
		top = max(top, -e.top)
	}
	return top
}
