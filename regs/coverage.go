package regs

import (
	"slices"
	"strings"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
)

// Cover is how well the table knows one quantity in one jurisdiction.
type Cover string

// Term is the code of the cover's name.
func (c Cover) Term() say.Code { return say.Word("cover", string(c)) }

// The covers, best first. Only the first two can clear anything, and only where
// a row is about the vehicle and has no condition.
const (
	CoverVerified   Cover = "verified by you"
	CoverPublished  Cover = "published"
	CoverStale      Cover = "stale"
	CoverUnverified Cover = "unverified"
	CoverMissing    Cover = "missing"
)

// Covers lists them, best first.
func Covers() []Cover {
	return []Cover{CoverVerified, CoverPublished, CoverStale, CoverUnverified, CoverMissing}
}

// Coverage tells for each quantity of a jurisdiction the best that a row in
// force on a day says of its legal limit. Umbrella rows of the country do not count: they
// never clear.
func (t *Tables) Coverage(code string, at time.Time) map[limit.Quantity]Cover {
	code = t.key(code)
	out := map[limit.Quantity]Cover{}
	for _, q := range limit.Quantities() {
		if !q.OnlyWhereRuled() || len(t.rows[code][q]) > 0 {
			out[q] = CoverMissing
		}
	}
	for q, rows := range t.rows[code] {
		for _, r := range rows {
			if r.InForce(at) {
				out[q] = better(out[q], t.cover(r, at))
			}
		}
	}
	return out
}

func better(a, b Cover) Cover {
	order := Covers()
	if slices.Index(order, b) < slices.Index(order, a) {
		return b
	}
	return a
}

func (t *Tables) cover(r *limit.Row, at time.Time) Cover {
	switch {
	case !r.Status.Trusted(), r.Tier != limit.Legal: // a step further up says nothing of the limit itself
		return CoverUnverified
	case r.Stale(at, t.Term):
		return CoverStale
	case r.Status == finding.Verified:
		return CoverVerified
	default:
		return CoverPublished
	}
}

// Jurisdictions lists the codes that the table has rows of, municipalities
// under their own.
func (t *Tables) Jurisdictions() []string {
	var out []string
	for code := range t.rows {
		out = append(out, code)
	}
	slices.SortFunc(out, strings.Compare)
	return out
}
