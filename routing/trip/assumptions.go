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

// Cautions lists what every answer says.
func Cautions() []string {
	return []string{
		"Planning aid only. The permit office, the posted sign, the weigh scale and licensed practice decide.",
		"Unknown is not clear: ask whom the finding names before you move.",
		"Measure the height of the loaded rig with tires at pressure, and have the route driven with a height pole.",
		"Do not exceed any rating of tires, axles, coupling or tow vehicle; weigh the loaded rig on a scale.",
	}
}

// DesignCautions lists what every answer to a check without a route says.
func DesignCautions() []string {
	return append([]string{
		"No route was checked: roads, towns, toll roads and bridges may ask for less.",
		"Where a value is not established in a jurisdiction, it may be smaller there than anywhere else.",
	}, Cautions()...)
}
