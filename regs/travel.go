package regs

import (
	"slices"
	"time"

	"wayhouse/regs/limit"
	"wayhouse/regs/window"
)

// Travel is when a vehicle may move at a place, as far as rules of hours go.
type Travel struct {
	// Open lists when it may, in order; nil where no rule takes hours away.
	Open []window.Stretch
	// Rules are those that bind it, surely or perhaps, and that name hours.
	Rules []*window.Hours
}

// Travel lists when a vehicle may move at a place between two moments, for planning: what
// binds it perhaps binds, and of the suns at both ends of the place the stricter counts.
// Whether it travels under a permit is asked of the whole time at once. That the hours are
// kept is for [Tables.Check] to say.
func (t *Tables) Travel(v Vehicle, p Stay, from, until time.Time) Travel {
	p.Until, p.Latest = time.Time{}, until
	c := &checking{t: t, v: v, p: p, at: from, brief: true}
	var out Travel
	for _, code := range p.Jurisdictions {
		asks := c.asksPermit(code)
		out.add(c, code, asks)
		for _, town := range t.townsOf(code, p.Towns) {
			out.add(c, town, asks || c.asksPermit(town))
		}
	}
	if len(out.Rules) > 0 {
		out.Open = c.stretches(out.Rules, from, until)
	}
	return out
}

// asksPermit reports whether a jurisdiction or municipality asks for a permit, be it only
// perhaps.
func (c *checking) asksPermit(key string) bool {
	return slices.ContainsFunc(limit.Quantities(), func(q limit.Quantity) bool {
		return len(c.t.rows[key][q])+len(c.t.rows[country(key)][q]) > 0 && asksPermit(c.quantity(key, q))
	})
}

// add notes the rules of hours that bind in a jurisdiction or municipality.
func (w *Travel) add(c *checking, key string, permitted bool) {
	for _, r := range slices.Concat(c.t.hours[key], c.t.hours[country(key)]) {
		if r.Open == nil || slices.Contains(w.Rules, r) {
			continue
		}
		if applies, _ := c.binds(r, permitted); applies != limit.No {
			w.Rules = append(w.Rules, r)
		}
	}
}

// stretches lists when all rules let the vehicle move, by the sun at every end of the place.
func (c *checking) stretches(rules []*window.Hours, from, until time.Time) []window.Stretch {
	out := []window.Stretch{{From: from, To: until}}
	envs := []window.Env{{}}
	if len(c.p.Ends) > 0 {
		envs = nil
	}
	for _, end := range c.p.Ends {
		envs = append(envs, window.LightAt(end))
	}
	calendars := map[string]func(time.Time) (public, school, known bool){}
	for _, r := range rules {
		if calendars[r.Calendar] == nil {
			calendars[r.Calendar] = c.t.calendars[r.Calendar].Tells(c.t.Term)
		}
		for _, env := range envs {
			env.Holiday = calendars[r.Calendar]
			out = window.Both(out, r.Stretches(from, until, env))
		}
	}
	return out
}
