package regs

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// hours answers when the vehicle may travel in a jurisdiction or municipality.
// permitted reports whether it travels under a permit there.
//
// Where a permit is asked for and no firm row gives its hours, that is an
// unknown of its own. Without a permit only rows that bind everyone count: what
// no table says of the hours of a rig within the limits is not asked.
func (c *checking) hours(key string, permitted bool) []finding.Finding {
	var out []finding.Finding
	firm := false
	for _, r := range slices.Concat(c.t.hours[key], c.t.hours[country(key)]) {
		applies, hangs := c.binds(r, permitted)
		if applies == limit.No {
			continue
		}
		out = append(out, c.kept(r, applies, hangs))
		_, all := c.holds(r.From, r.To)
		firm = firm || all && applies == limit.Yes && r.Open != nil && c.firm(r.Proof) && !rows.IsRival(
			r.ID, r.Status) && r.Jurisdiction == key
	}
	if permitted && !firm {
		out = append(out, finding.Finding{
			Topic: finding.Hours, Rule: permit.Hours, Jurisdiction: key, Outcome: finding.Unknown, Reason: finding.NoRow,
			Settles: finding.By(
				c.t.asking(key, say.That("task.hours")),
			), Says: []say.Remark{say.That("hours.no_row", "where", say.Jurisdiction(key))},
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
func (c *checking) binds(r *window.Hours, permitted bool) (limit.Applies, []say.Remark) {
	if some, _ := c.holds(r.From, r.To); !some || r.For == window.Permitted && !permitted {
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
		holds := map[window.State]limit.Applies{
			window.Open: limit.Yes, window.Closed: limit.No, window.Unknown: limit.Perhaps,
		}
		note(holds[state], say.That("hangs.time", "when", r.Times.Says()))
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
	for _, one := range beyondSizes(s) {
		if one.size == nil {
			continue
		}
		switch c.v.over(one.q, *one.size) {
		case limit.Yes:
			return limit.Yes, nil
		case limit.Perhaps:
			out = limit.Perhaps
			hangs = append(hangs, say.That("hangs.over", "quantity", one.q, "size", one.q.Of(*one.size)))
		}
	}
	return out, hangs
}

// sizeOf is a size of a quantity, nil where none is given.
type sizeOf struct {
	q    limit.Quantity
	size *limit.Amount
}

func beyondSizes(s window.Sizes) []sizeOf {
	return []sizeOf{
		{limit.Height, amount(s.Height)}, {limit.Width, amount(s.Width)}, {limit.CombinationLength, amount(s.Length)},
		{limit.GrossMass, amount(s.Mass)},
	}
}

func amount[T measure.Length | measure.Mass](v *T) *limit.Amount {
	if v == nil {
		return nil
	}
	a := limit.Amount(*v)
	return &a
}

// kept reports whether the hours of a rule are kept on the way.
func (c *checking) kept(r *window.Hours, applies limit.Applies, hangs []say.Remark) finding.Finding {
	row := r.Finding(r.ID, c.t.Revision, r.Text)
	if r.Text == "" {
		row.Shows = say.That("hours.any_time")
	}
	row.Says, row.Decides = say.Each([]string{r.Note}), true
	f := finding.Finding{
		Topic: finding.Hours, Rule: permit.Hours, Jurisdiction: r.Jurisdiction,
		Citations: []finding.Citation{row}, Invented: r.Status == finding.Invented, Outcome: finding.Conditional,
	}
	if r.Demand != "" {
		f.Demands.Conditions = []say.Remark{say.Text(r.Demand)}
	}
	var parts []say.Remark
	if r.Open != nil {
		f.Demands.Hours = []say.Remark{r.Open.Says()}
		f.Outcome, f.Reason, parts = c.open(r)
	}
	f.Settles = finding.By(c.t.asking(f.Jurisdiction, say.That("task.hours")))
	if f.Outcome == finding.Conditional || f.Reason == finding.TimeOpen {
		f.SeeTo()
	}
	if applies == limit.Perhaps && f.Outcome == finding.Forbidden {
		f.Outcome, f.Reason = finding.Review, finding.Perhaps
	}
	if f.Outcome == finding.Conditional && (!c.firm(r.Proof) || rows.IsRival(r.ID, r.Status)) {
		f.Settles = finding.By(c.t.asking(f.Jurisdiction, say.That("task.hours")))
		f.Outcome, f.Reason = finding.Unknown, cmp.Or(r.Doubt(c.last(), c.t.Term), finding.Contradicts)
		parts = append(parts, say.That("hours.not_verified"))
		if !rows.IsRival(r.ID, r.Status) && r.Status != finding.Invented {
			f.Settles = append([][]finding.Step{{verifying(window.HoursTable().Name, r.ID, r.Text)}}, f.Settles...)
		}
	}
	parts = append(parts, say.Text(r.Demand))
	f.Says = []say.Remark{say.That("hours.travel", "says", append(parts, hangs...))}
	return f
}

// open tells what the hours of a rule say of the way from the moment it begins
// to the one it ends. Of the suns at both ends the stricter counts.
func (c *checking) open(r *window.Hours) (finding.Outcome, finding.Reason, []say.Remark) {
	if c.p.Until.IsZero() || len(c.p.Ends) == 0 {
		return finding.Unknown, finding.TimeOpen, []say.Remark{r.Open.Says(), say.That("hours.time_open")}
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
		if s := r.Open.Through(c.at, later(c.at, until.Add(-1)), env); stricter(s, state) { // it is gone by then
			state = s
		}
	}
	switch {
	case state == window.Closed:
		missed := say.That("hours.not_kept", "open", r.Open.Says(), "from", c.at, "until", until)
		parts := append([]say.Remark{missed}, c.holidays(r)...)
		return finding.Forbidden, finding.Exceeded, append(parts, c.next(r, until.Sub(c.at), envs))
	case sunless:
		sunless := say.That("hours.sunless", "day", say.Day(c.at))
		return finding.Review, finding.Practice, []say.Remark{r.Open.Says(), sunless}
	case state == window.Open:
		return finding.Conditional, "", []say.Remark{say.That("hours.kept", "open", r.Open.Says())}
	default:
		parts := append([]say.Remark{r.Open.Says(), say.That("hours.kept_open")}, c.holidays(r)...)
		return finding.Unknown, finding.Perhaps, append(parts, c.t.calendars[r.Calendar].Doubt(r.Calendar, c.t.Term, c.at))
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

// holidays names the holidays of the days on the way.
func (c *checking) holidays(r *window.Hours) []say.Remark {
	var days []say.Remark
	y, m, d := c.at.Date()
	for day := time.Date(y, m, d, 0, 0, 0, 0, c.at.Location()); !day.After(c.p.Until); day = day.AddDate(0, 0, 1) {
		if kept := c.t.calendars[r.Calendar].Kept(day); !kept.None() {
			days = append(days, kept)
		}
	}
	if len(days) == 0 {
		return nil
	}
	return []say.Remark{say.That("hours.holidays", "days", days)}
}

// lookAhead is how far a next opening is looked for.
const lookAhead = 8 * 24 * time.Hour

func (c *checking) next(r *window.Hours, stay time.Duration, envs []window.Env) say.Remark {
	at, ok := r.Open.NextOpen(c.at, stay, lookAhead, envs)
	if !ok {
		return say.That("hours.next_open", "stay", stay.Round(time.Minute), "days", int(lookAhead/(24*time.Hour)))
	}
	return say.That("hours.next", "at", at)
}
