package wire

import (
	"cmp"
	"fmt"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/parts"
)

// SurfaceRequest is a wall, a floor or a roof as one thing: sides of a box of the
// outline, or what spans between two corners, of an entry of the catalogue or of
// layers, less its openings.
type SurfaceRequest struct {
	Name      string           `json:"name,omitempty" maxLength:"100"`
	Box       string           `json:"box,omitempty" maxLength:"100" doc:"A box of the outline by its name, with sides"`
	Sides     []Side           `json:"sides,omitempty" maxItems:"6" doc:"Which sides of the box are made so"`
	From      *PlaceRequest    `json:"from,omitempty" doc:"Instead of a box: one corner"`
	To        *PlaceRequest    `json:"to,omitempty" doc:"The corner opposite to from: at its height for a floor, above it for a wall"`
	Lengthway bool             `json:"falls_lengthwise,omitempty" doc:"A roof between from and to falls along the unit, not across it"`
	Of        string           `json:"of,omitempty" maxLength:"100" doc:"An entry of the catalogue by the m2"`
	Layers    []LayerRequest   `json:"layers,omitempty" maxItems:"20" doc:"Instead of one entry: what it is made of"`
	Openings  []OpeningRequest `json:"openings,omitempty" maxItems:"40" doc:"Windows, doors and holes: taken off its area"`
}

// LayerRequest is one layer of a surface.
type LayerRequest struct {
	Of      string `json:"of" minLength:"1" maxLength:"100" doc:"An entry of the catalogue"`
	Depth   Length `json:"depth,omitzero" doc:"Of an entry by the m3"`
	Spacing Length `json:"spacing,omitzero" doc:"Of an entry by the m, such as studs: from middle to middle; a tenth is added for plates and rims"`
}

// OpeningRequest is a window, a door or a hole of a surface.
type OpeningRequest struct {
	Name   string `json:"name,omitempty" maxLength:"100"`
	Of     string `json:"of,omitempty" maxLength:"100" doc:"An entry of the catalogue by the m2 or by the piece; a hole when left out"`
	Side   Side   `json:"side,omitempty" doc:"The side that it is in, where the surface has several"`
	Width  Length `json:"width,omitzero"`
	Height Length `json:"height,omitzero"`
	Count  int    `json:"count,omitempty" minimum:"1" maximum:"50" doc:"How many such; 1 when left out"`
	PlaceRequest
}

// surface is a surface as it is read: where it is, by which side.
type surface struct {
	side rig.Face
	rig.Surface
}

// surfaces reads walls, floors and roofs as parts.
func (r *reader) surfaces(list []SurfaceRequest, outline []rig.Box) (out []rig.Part) {
	for i, q := range list {
		field := fmt.Sprintf("unit.surfaces[%d]", i)
		before := len(r.errs)
		faces := r.faces(field, q, outline)
		if len(r.errs) > before {
			continue
		}
		name := cmp.Or(q.Name, q.Box)
		if name == "" {
			r.fail(field+".name", nil, say.That("error.missing"), say.That("fix.name_it_such_as"))
		}
		out = append(out, r.openings(field, name, q.Openings, faces)...)
		for _, f := range faces {
			out = append(out, r.made(field, f.called(name, len(faces)), q, f)...)
		}
	}
	return out
}

// called names one side of several.
func (s surface) called(name string, of int) string {
	if of == 1 {
		return name
	}
	return name + " (" + string(s.side) + ")"
}

// faces reads where a surface is.
func (r *reader) faces(field string, q SurfaceRequest, outline []rig.Box) []surface {
	switch {
	case q.Box != "" && (q.From != nil || q.To != nil):
		r.fail(field+".box", q.Box, say.That("error.given_beside_corners"), say.That("fix.give_box_or_corners"))
		return nil
	case q.Box == "":
		return r.spanned(field, q)
	}
	i := slices.IndexFunc(outline, func(b rig.Box) bool { return b.Name == q.Box })
	if i < 0 {
		r.fail(
			field+".box",
			q.Box,
			say.That("error.no_box_of_the_outline"),
			say.That("fix.boxes", "names", boxNames(outline)),
		)
		return nil
	}
	if len(q.Sides) == 0 {
		r.fail(field+".sides", nil, say.That("error.missing"), say.That("fix.say_which_sides"))
	}
	var out []surface
	for n, side := range q.Sides {
		if slices.Contains(q.Sides[:n], side) {
			r.fail(
				fmt.Sprintf("%s.sides[%d]", field, n),
				string(side),
				say.That("error.stands_twice"),
				say.That("fix.give_it_once"),
			)
		}
		out = append(out, surface{rig.Face(side), outline[i].Surface(rig.Face(side))})
	}
	return out
}

func boxNames(outline []rig.Box) []string {
	out := []string{}
	for _, b := range outline {
		if b.Name != "" {
			out = append(out, b.Name)
		}
	}
	return out
}

// spanned reads a surface between two corners.
func (r *reader) spanned(field string, q SurfaceRequest) []surface {
	if len(q.Sides) > 0 {
		r.fail(field+".sides", len(q.Sides), say.That("error.sides_without_box"), say.That("fix.give_box_or_corners"))
		return nil
	}
	from, to := r.corner(field+".from", q.From), r.corner(field+".to", q.To)
	s := rig.Spanned(from, to, q.Lengthway)
	if s.Area == 0 && q.From != nil && q.To != nil {
		r.fail(field+".to", to.Along.String(), say.That("error.spans_nothing"), say.That("fix.give_opposite_corner"))
	}
	return []surface{{Surface: s}}
}

func (r *reader) corner(field string, q *PlaceRequest) (c rig.Corner) {
	if q == nil {
		r.fail(field, nil, say.That("error.missing"), say.That("fix.give_box_or_corners"))
		return c
	}
	return rig.Corner{
		Along: r.must(field+".along", q.Along), Across: r.must(field+".across", q.Across), Up: r.must(field+".up", q.Up),
	}
}

// openings reads what is in the faces, and takes it off their areas.
func (r *reader) openings(field, name string, list []OpeningRequest, faces []surface) (out []rig.Part) {
	for i, q := range list {
		at := fmt.Sprintf("%s.openings[%d]", field, i)
		f := slices.IndexFunc(faces, func(s surface) bool { return q.Side == "" || rig.Face(q.Side) == s.side })
		switch {
		case f < 0:
			r.fail(at+".side", string(q.Side), say.That("error.no_side_of_the_surface"), say.That("fix.say_which_sides"))
			continue
		case q.Side == "" && len(faces) > 1:
			r.fail(at+".side", nil, say.That("error.missing"), say.That("fix.say_which_side"))
			continue
		case q.Width.Is == nil:
			r.fail(at+".width", nil, say.That("error.missing"), say.That("fix.give_it_with_a_unit"))
			continue
		case q.Height.Is == nil:
			r.fail(at+".height", nil, say.That("error.missing"), say.That("fix.give_it_with_a_unit"))
			continue
		}
		count := max(q.Count, 1)
		area := measure.Area(float64(count) * q.Width.Is.Metres() * q.Height.Is.Metres())
		if area > faces[f].Area {
			r.fail(at+".height", q.Height.Is.String(), say.That("error.larger_than_surface", "area", faces[f].Area),
				say.That("fix.check_both_figures"))
			continue
		}
		faces[f].Area -= area
		if q.Of != "" {
			out = append(out, r.opening(at, cmp.Or(q.Name, name+": "+q.Of), q, area, count, faces[f]))
		}
	}
	return out
}

// opening is what fills one opening. It is in the middle of its face where it is
// not said where.
func (r *reader) opening(field, name string, q OpeningRequest, area measure.Area, count int, in surface) rig.Part {
	how := MassRequest{Of: q.Of}
	if entry, ok := r.entry(field, q.Of); ok && entry.Per == parts.Each {
		n := float64(count)
		how.Count = &n
	} else {
		how.Area.Is = &area
	}
	p := r.weighing(field, name, how)
	p.Place = placed(q.PlaceRequest).Or(in.Middle)
	return p
}

// made reads what one face is made of, as parts in its middle.
func (r *reader) made(field, name string, q SurfaceRequest, f surface) (out []rig.Part) {
	place := f.Middle.Place()
	add := func(field, name string, how MassRequest) {
		p := r.weighing(field, name, how)
		p.Place = place
		out = append(out, p)
	}
	switch {
	case q.Of != "" && len(q.Layers) > 0:
		r.fail(field+".layers", len(q.Layers), say.That("error.given_beside_of"), say.That("fix.give_layers_or_of"))
	case q.Of != "":
		add(field, name, MassRequest{Of: q.Of, Area: Area{Is: &f.Area}})
	case len(q.Layers) == 0:
		r.fail(field, nil, say.That("error.no_layers"), say.That("fix.give_layers_or_of"))
	}
	for i, l := range q.Layers {
		at := fmt.Sprintf("%s.layers[%d]", field, i)
		if how, ok := r.layer(at, l, f.Area); ok {
			add(at, name+": "+l.Of, how)
		}
	}
	return out
}

// layer is how much of an entry a layer has on an area.
func (r *reader) layer(field string, q LayerRequest, area measure.Area) (how MassRequest, ok bool) {
	entry, ok := r.entry(field, q.Of)
	if !ok {
		return how, false
	}
	l := parts.Layer{Of: q.Of, Depth: q.Depth.Or(0), Spacing: q.Spacing.Or(0)}
	amount, ok := l.Amount(entry.Per)
	if !ok {
		r.fail(field+".of", q.Of, say.That("error.layer_without_size"), say.That("fix.give_depth_or_spacing"))
		return how, false
	}
	how.Of = q.Of
	switch entry.Per {
	case parts.SquareMetre:
		how.Area.Is = &area
	case parts.CubicMetre:
		how.Area.Is, how.Depth = &area, q.Depth
	default:
		run := measure.Length(float64(area) * amount * float64(measure.Metre))
		how.Length.Is = &run
	}
	return how, true
}
