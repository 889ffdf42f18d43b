package regs

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
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
// kept is for [Tables.Check] to say. Hours of permits of jurisdictions that are spared, and
// of their municipalities, are left out.
func (t *Tables) Travel(v Vehicle, p Stay, from, until time.Time, spared ...string) Travel {
	c := t.travelling(v, p, from, until)
	out := Travel{Rules: c.travelRules(spared)}
	if len(out.Rules) > 0 {
		out.Open = c.stretches(out.Rules, from, until)
	}
	return out
}

// TravelRules lists the rules of [Tables.Travel] alone.
func (t *Tables) TravelRules(v Vehicle, p Stay, from, until time.Time, spared ...string) []*window.Hours {
	return t.travelling(v, p, from, until).travelRules(spared)
}

func (t *Tables) travelling(v Vehicle, p Stay, from, until time.Time) *checking {
	p.Until, p.Latest = time.Time{}, until
	return &checking{t: t, v: v, p: p, at: from, brief: true}
}

func (c *checking) travelRules(spared []string) []*window.Hours {
	var out Travel
	for _, code := range c.p.Jurisdictions {
		asks := c.asksPermit(code)
		out.add(c, code, asks)
		for _, town := range c.t.townsOf(code, c.p.Towns) {
			out.add(c, town, asks || c.asksPermit(town))
		}
	}
	return slices.DeleteFunc(out.Rules, func(r *window.Hours) bool {
		code, _, _ := strings.Cut(r.Jurisdiction, "/")
		return r.For == window.Permitted && slices.Contains(spared, code)
	})
}

// Steps lists sizes below that of a vehicle at which what is asked of it at a place may change,
// the greatest first: it is within a limit, or a rule of hours, of each. None where its size
// is not known.
func (t *Tables) Steps(q limit.Quantity, v Vehicle, p Stay) (out []limit.Amount) {
	size, known := v.Measures[q].Value()
	if !known {
		return nil
	}
	for _, code := range p.Jurisdictions {
		for _, key := range append(t.townsOf(code, p.Towns), code, country(code)) {
			for _, r := range t.rows[key][q] {
				step := r.Threshold
				if r.Inclusive {
					step -= limit.Amount(measure.Millimetre)
				}
				out = append(out, step)
			}
			for _, r := range t.hours[key] {
				for _, one := range beyondSizes(r.Beyond) {
					if one.q == q && one.size != nil {
						out = append(out, *one.size)
					}
				}
			}
		}
	}
	for i := range out {
		out[i] -= v.Uncertain[q].By
	}
	out = slices.DeleteFunc(out, func(a limit.Amount) bool { return a <= 0 || a >= size })
	slices.SortFunc(out, func(a, b limit.Amount) int { return cmp.Compare(b, a) })
	return slices.Compact(out)
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
