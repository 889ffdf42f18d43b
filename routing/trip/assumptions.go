package trip

import (
	"fmt"
	"slices"
)

// assumptions lists what the plan took for granted.
func (b *builder) assumptions() []string {
	out := slices.Clone(b.Network.About.Assumptions)
	out = append(out,
		"time is driving time only: hours of travel, rest, inspections, fuel stops and traffic are not counted",
		"fuel is for steady speeds in "+b.request.Conditions.Words()+", climbs reckoned with where the network has them; no drag figure of such a house has been published, so it is a range",
	)
	if top := b.request.Wishes.Top; top > 0 {
		out = append(out, "the rig drives no faster than "+top.String()+", as wished")
	}
	if b.request.Local {
		out = append(out, fmt.Sprintf("the departure is read on the clock of %s", b.plan.Departure.Location()))
	}
	if b.request.Allowances.Reduced() {
		out = append(out, "allowances under structures are less than this project's own; each sum shows them")
	}
	var zones []string
	for _, l := range b.plan.Legs {
		for _, c := range l.Jurisdictions {
			if j, ok := b.Areas.ByCode(c); ok && len(j.OtherZones) > 0 && !slices.Contains(zones, c) {
				zones = append(zones, c)
				out = append(out, fmt.Sprintf("%s keeps more than one time zone; %s is assumed for its days", c, j.TimeZone))
			}
		}
	}
	return out
}
