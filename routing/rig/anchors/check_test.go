package anchors

import (
	"errors"
	"math"
	"strings"
	"testing"

	"wayhouse/regs/measure"
)

func TestCheck(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	zero, below, none, endless := measure.Force(0), measure.Force(-1), measure.Force(nan), measure.Force(inf)
	for _, tc := range []struct {
		field  string
		change func(*Body, []Anchor, *Wind)
	}{
		{"", func(*Body, []Anchor, *Wind) {}},
		{"", func(b *Body, _ []Anchor, _ *Wind) { b.Up = -0.2 }},
		{"", func(_ *Body, a []Anchor, _ *Wind) { a[0].Kind = "" }},
		{"", func(_ *Body, a []Anchor, _ *Wind) { a[0].Along, a[0].Count = -2, 100 }},
		{"", func(_ *Body, _ []Anchor, w *Wind) { *w = Wind{} }},
		{"mass_kg", func(b *Body, _ []Anchor, _ *Wind) { b.Mass = 0 }},
		{"mass_kg", func(b *Body, _ []Anchor, _ *Wind) { b.Mass = -5 * measure.Tonne }},
		{"mass_kg", func(b *Body, _ []Anchor, _ *Wind) { b.Mass = math.MaxInt64 }},
		{"centre_up_m", func(b *Body, _ []Anchor, _ *Wind) { b.Up = 0 }},
		{"centre_up_m", func(b *Body, _ []Anchor, _ *Wind) { b.Up = measure.Distance(nan) }},
		{"centre_along_m", func(b *Body, _ []Anchor, _ *Wind) { b.Along = measure.Distance(inf) }},
		{"centre_across_m", func(b *Body, _ []Anchor, _ *Wind) { b.Across = -1e300 }},
		{"anchors[1].along_m", func(_ *Body, a []Anchor, _ *Wind) { a[1].Along = measure.Distance(nan) }},
		{"anchors[2].across_m", func(_ *Body, a []Anchor, _ *Wind) { a[2].Across = measure.Distance(-inf) }},
		{"anchors[3].count", func(_ *Body, a []Anchor, _ *Wind) { a[3].Count = 0 }},
		{"anchors[3].count", func(_ *Body, a []Anchor, _ *Wind) { a[3].Count = -2 }},
		{"anchors[3].count", func(_ *Body, a []Anchor, _ *Wind) { a[3].Count = math.MaxInt }},
		{"anchors[0].kind", func(_ *Body, a []Anchor, _ *Wind) { a[0].Kind = "glue" }},
		{"anchors[0].uplift_rating_n", func(_ *Body, a []Anchor, _ *Wind) { a[0].Uplift = &zero }},
		{"anchors[0].uplift_rating_n", func(_ *Body, a []Anchor, _ *Wind) { a[0].Uplift = &none }},
		{"anchors[0].shear_rating_n", func(_ *Body, a []Anchor, _ *Wind) { a[0].Shear = &below }},
		{"anchors[0].shear_rating_n", func(_ *Body, a []Anchor, _ *Wind) { a[0].Shear = &endless }},
		{"air_kg_m3", func(_ *Body, _ []Anchor, w *Wind) { w.Air = measure.Density(nan) }},
		{"air_kg_m3", func(_ *Body, _ []Anchor, w *Wind) { w.Air = 1225 }},
		{"road_speed_m_s", func(_ *Body, _ []Anchor, w *Wind) { w.Road = -25 }},
		{"side_wind_m_s", func(_ *Body, _ []Anchor, w *Wind) { w.Across = measure.Speed(inf) }},
		{"side_area_m2", func(_ *Body, _ []Anchor, w *Wind) { w.Side = -1 }},
		{"side_up_m", func(_ *Body, _ []Anchor, w *Wind) { w.SideUp = -1 }},
		{"roof_area_m2", func(_ *Body, _ []Anchor, w *Wind) { w.Roof = measure.Area(nan) }},
	} {
		b, anchors, w := house(), corners(), breeze()
		tc.change(&b, anchors, &w)
		_, err := Assess(b, anchors, w)
		var field *measure.FieldError
		switch {
		case tc.field == "" && err != nil:
			t.Errorf("%+v %+v %+v: %v", b, anchors, w, err)
		case tc.field != "" && (!errors.As(err, &field) || field.Field != tc.field):
			t.Errorf("got %v, want an error about %s", err, tc.field)
		}
	}
}

func TestNoAnchors(t *testing.T) {
	_, err := Assess(house(), nil, breeze())
	var field *measure.FieldError
	if !errors.As(err, &field) || field.Field != "anchors" || !strings.Contains(err.Error(), "error.none_are_given") {
		t.Errorf("got %v, want an error about anchors", err)
	}
}
