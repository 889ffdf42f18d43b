package choosing

import (
	"slices"
	"strings"

	"wayhouse/regs/say"
	"wayhouse/regs/word"
	"wayhouse/routing/network"
)

// A wish may name a road in a place: "Main Street, Dover". Without a place the road counts
// wherever it is.

// edgesIn lists the edges of a road in the municipality, the jurisdiction and the country
// that follow it after commas.
func (bs *barriers) edgesIn(road string, in []string) map[network.EdgeID]bool {
	out := map[network.EdgeID]bool{}
	for _, s := range bs.stands.Network.Streets(road) {
		if !slices.ContainsFunc(in, func(part string) bool { return !bs.lies(s, part) }) {
			for _, e := range s.Edges {
				out[e] = true
			}
		}
	}
	return out
}

// lies reports whether a street is in a municipality, a jurisdiction or a country of a name.
func (bs *barriers) lies(s network.Street, part string) bool {
	for town := range strings.SplitSeq(s.Town, ";") {
		if word.Town(town) == word.Town(part) {
			return true
		}
	}
	return slices.ContainsFunc(s.Jurisdictions, func(code string) bool { return bs.stands.Areas.Called(code, part) })
}

// apart parts a road from where it is.
func apart(text string) (road string, in []string) {
	parts := strings.Split(text, ",")
	for _, part := range parts[1:] {
		if part = strings.TrimSpace(part); part != "" {
			in = append(in, part)
		}
	}
	return strings.TrimSpace(parts[0]), in
}

// elsewhere lists where a road is that is not in the place that a wish names.
func (bs *barriers) elsewhere(text string) (near []say.Remark) {
	const most = 5
	road, _ := apart(text)
	for _, s := range bs.stands.Network.Streets(road) {
		where := append([]string{s.Name, s.Town}, s.Jurisdictions...)
		where = slices.DeleteFunc(where, func(part string) bool { return part == "" })
		if len(s.Edges) > 0 && len(near) < most {
			near = append(near, say.Text(strings.Join(where, ", ")))
		}
	}
	return near
}
