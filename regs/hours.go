package regs

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// hours answers when the vehicle may travel in a jurisdiction or municipality.
// permit tells whether it travels under one there.
//
// Where a permit is asked for and no firm row gives its hours, that is an
// unknown of its own. Without a permit only rows that bind everyone count: what
// no table says of the hours of a rig within the limits is not asked.
func (c *checking) hours(key string, permit bool) []finding.Finding {
	var out []finding.Finding
	firm := false
	for _, r := range slices.Concat(c.t.hours[key], c.t.hours[country(key)]) {
		applies, hangs := c.binds(r, permit)
		if applies == limit.No {
			continue
		}
		out = append(out, c.kept(r, applies, hangs))
		_, all := c.holds(r.From, r.To)
		firm = firm || all && applies == limit.Yes && r.Open != nil && c.firm(r.Proof) && !rows.IsRival(r.ID, r.Status) && r.Jurisdiction == key
	}
	if permit && !firm {
		out = append(out, finding.Finding{
			Rule: "hours", Jurisdiction: key, Outcome: finding.Unknown, Ask: c.t.Ask(key),
			Summary: "no row that can settle it says at which hours such a permit lets a rig travel " + in(key),
		})
	}
	return out
}

// country is the umbrella over a jurisdiction, "" where there is none.
func country(code string) string {
	if len(code) <= 2 || strings.Contains(code, "/") { // a municipality's is asked with its jurisdiction
		return ""
	}
	return code[:2]
}

// binds tells how surely a rule of hours binds the vehicle on the way, and on
// what that hangs.
func (c *checking) binds(r *window.Hours, permit bool) (limit.Applies, []say.Remark) {
	if some, _ := c.holds(r.From, r.To); !some || r.For == window.Permitted && !permit {
		return limit.No, nil
	}
	applies, hangs := c.beyond(r.Beyond)
	note := func(a limit.Applies, on say.Remark) {
		applies = min(applies, a)
		if a == limit.Perhaps {
			hangs = append(hangs, on)
		}
	}
	somewhere, _ := r.Roads.Over(c.p.Roads)
	note(somewhere, r.Roads.Doubt(c.p.Roads))
	if r.When != "" {
		state := c.during(r.Times, r.Calendar)
		note(map[window.State]limit.Applies{window.Open: limit.Yes, window.Closed: limit.No, window.Unknown: limit.Perhaps}[state], say.Text("at the time the rule names: "+r.When))
	}
	return applies, hangs
}

// beyond tells how surely the vehicle is beyond one of the sizes.
func (c *checking) beyond(s window.Sizes) (limit.Applies, []say.Remark) {
	if s.None() {
		return limit.Yes, nil
	}
	out := limit.No
	var hangs []say.Remark
	for _, one := range []struct {
		q    limit.Quantity
		size *limit.Amount
	}{
		{limit.Height, amount(s.Height)}, {limit.Width, amount(s.Width)}, {limit.CombinationLength, amount(s.Length)}, {limit.GrossMass, amount(s.Mass)},
	} {
		if one.size == nil {
			continue
		}
		switch c.v.over(one.q, *one.size) {
		case limit.Yes:
			return limit.Yes, nil
		case limit.Perhaps:
			out = limit.Perhaps
			hangs = append(hangs, say.Text(fmt.Sprintf("if the %s is over %s", one.q.Words(), one.q.Print(*one.size))))
		}
	}
	return out, hangs
}

func amount[T measure.Length | measure.Mass](v *T) *limit.Amount {
	if v == nil {
		return nil
	}
	a := limit.Amount(*v)
	return &a
}

// kept tells whether the hours of a rule are kept on the way.
func (c *checking) kept(r *window.Hours, applies limit.Applies, hangs []say.Remark) finding.Finding {
	row := r.Finding(r.ID, c.t.Revision, orElse(r.Text, "at any time"))
	row.Words = r.Note
	row.Decides = true
	f := finding.Finding{
		Rule: "hours", Jurisdiction: r.Jurisdiction, Ask: c.t.Ask(r.Jurisdiction), Citations: []finding.Citation{row}, Invented: r.Status == finding.Invented,
		Outcome: finding.Conditional,
	}
	if r.Demand != "" {
		f.Demands.Conditions = []say.Remark{say.Text(r.Demand)}
	}
	var words []string
	if r.Open != nil {
		f.Demands.Hours = []say.Remark{say.Text(r.Text)}
		var state string
		f.Outcome, state = c.open(r)
		words = append(words, state)
	}
	if applies == limit.Perhaps && f.Outcome == finding.Forbidden {
		f.Outcome = finding.Review
	}
	if f.Outcome == finding.Conditional && (!c.firm(r.Proof) || rows.IsRival(r.ID, r.Status)) {
		f.Outcome = finding.Unknown
		words = append(words, "the row is not verified, so more may be asked")
	}
	if r.Demand != "" {
		words = append(words, r.Demand)
	}
	f.Summary = "travel hours: " + strings.Join(append(words, say.Strings(hangs)...), "; ")
	return f
}

func orElse(text, other string) string {
	if text == "" {
		return other
	}
	return text
}

// open tells what the hours of a rule say of the way from the moment it begins
// to the one it ends. Of the suns at both ends the stricter counts.
func (c *checking) open(r *window.Hours) (finding.Outcome, string) {
	if c.p.Until.IsZero() || len(c.p.Ends) == 0 {
		return finding.Unknown, fmt.Sprintf("%s; when the rig is there is not known", r.Text)
	}
	state, sunless := window.Open, false
	var envs []window.Env
	until := later(c.at, c.p.Until)
	for _, end := range c.p.Ends {
		env := c.t.env(r.Calendar, end)
		envs = append(envs, env)
		if r.Open.BySun() && !sunUp(env, c.at) {
			sunless = true
			continue
		}
		if s := r.Open.Through(c.at, until, env); stricter(s, state) {
			state = s
		}
	}
	switch {
	case state == window.Closed:
		return finding.Forbidden, fmt.Sprintf("%s, not kept from %s to %s%s%s", r.Text, clock(c.at), clock(until), c.holidays(r), c.next(r, until.Sub(c.at), envs))
	case sunless:
		return finding.Review, fmt.Sprintf("%s; on %s the sun does not both rise and set there", r.Text, c.at.Format(time.DateOnly))
	case state == window.Open:
		return finding.Conditional, fmt.Sprintf("%s, kept as planned", r.Text)
	default:
		return finding.Unknown, fmt.Sprintf("%s; whether that is kept is not known%s%s", r.Text, c.holidays(r), c.t.calendars[r.Calendar].Doubt(r.Calendar, c.t.Term, c.at))
	}
}

func stricter(a, b window.State) bool {
	order := map[window.State]int{window.Open: 0, window.Unknown: 1, window.Closed: 2}
	return order[a] > order[b]
}

func sunUp(env window.Env, at time.Time) bool {
	_, _, ok := env.Sun(at)
	return ok
}

func clock(t time.Time) string { return t.Format("2006-01-02 15:04 MST") }

// holidays names the holidays of the days on the way.
func (c *checking) holidays(r *window.Hours) string {
	var out []string
	y, m, d := c.at.Date()
	for day := time.Date(y, m, d, 0, 0, 0, 0, c.at.Location()); !day.After(c.p.Until); day = day.AddDate(0, 0, 1) {
		if names := c.t.calendars[r.Calendar].Names(day); names != "" {
			out = append(out, day.Format(time.DateOnly)+" is "+names)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "; " + strings.Join(out, ", ")
}

// lookAhead is how far a next opening is looked for.
const lookAhead = 8 * 24 * time.Hour

func (c *checking) next(r *window.Hours, stay time.Duration, envs []window.Env) string {
	at, ok := r.Open.NextOpen(c.at, stay, lookAhead, envs)
	if !ok {
		return fmt.Sprintf("; when it is surely open for %s is not known for the next %.0f days", stay.Round(time.Minute), lookAhead.Hours()/24)
	}
	return "; such a stretch is next open from " + clock(at)
}
