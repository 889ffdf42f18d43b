package regs

import (
	"slices"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/rows"
	"wayhouse/regs/trucks"
)

// Trucks is how surely the signs for trucks of some jurisdictions mean a rig.
type Trucks struct {
	Binds limit.Applies
	Rows  []finding.Citation // that speak of it
	// ByRating reports whether the ratings of the rig alone keep it open: some row that
	// can settle it hangs on nothing else.
	ByRating bool
}

// Trucks answers for signs on the roads of jurisdictions, of a municipality if any is
// named. A row of which somebody vouches for nothing may bind and frees nobody; where no
// row surely frees the rig, its signs bind perhaps.
func (t *Tables) Trucks(c trucks.Case, codes []string, town string, at time.Time) Trucks {
	out := Trucks{Binds: limit.No, ByRating: len(codes) > 0}
	for _, code := range codes {
		one := t.trucksIn(c, code, town, at)
		out.Binds, out.Rows = max(out.Binds, one.Binds), append(out.Rows, one.Rows...)
		out.ByRating = out.ByRating && one.ByRating
	}
	if len(codes) == 0 {
		out.Binds = limit.Perhaps
	}
	return out
}

func (t *Tables) trucksIn(c trucks.Case, code, town string, at time.Time) Trucks {
	out, freed := Trucks{Binds: limit.No}, false
	for _, key := range keysOf(code, town) {
		for _, r := range t.trucks[t.key(key)] {
			binds := r.Binds(c)
			out.Binds = max(out.Binds, binds)
			cited := r.Finding(r.ID, t.Revision, "")
			cited.Decides = binds == limit.Yes
			out.Rows = append(out.Rows, cited)
			firm := r.Firm(at, t.Term) && !rows.IsRival(r.ID, r.Status) && len(r.Jurisdiction) > 2
			freed = freed || firm && binds == limit.No
			out.ByRating = out.ByRating || firm && (r.Use == "" || r.Use == c.Use)
		}
	}
	if out.Binds == limit.No && !freed {
		out.Binds = limit.Perhaps
	}
	return out
}

// keysOf are what tables hold a municipality, its jurisdiction and their country under.
func keysOf(code, town string) []string {
	out := slices.Compact([]string{country(code), code})
	if town != "" {
		out = append(out, code+"/"+town)
	}
	return out
}
