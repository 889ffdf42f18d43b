package place

import (
	"cmp"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/word"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// roads lists the streets that a text calls, each in its middle.
func (a asked) roads(text string) []Place {
	var out []Place
	for _, s := range a.g.Roads.Streets(text) {
		if len(s.Edges) > 0 {
			out = append(out, on(s, Road, s.Name, a.middle(s.Edges), s.Name))
		}
	}
	return out
}

// on is a place on a street.
func on(s network.Street, kind Kind, name string, at orb.Point, street string) Place {
	out := Place{
		Kind:   kind,
		Name:   name,
		In:     s.Town,
		Near:   s.Near,
		Point:  at,
		Street: street,
		codes:  strings.Join(s.Jurisdictions, " "),
	}
	if len(s.Jurisdictions) > 0 {
		out.Jurisdiction = s.Jurisdictions[0]
	}
	return out
}

// street is the nearest street within reach of a point, where it comes nearest.
func (g *Gazetteer) street(at orb.Point, reach measure.Distance) (p Place, ok bool) {
	if g.Roads == nil {
		return p, false
	}
	for _, near := range network.NewIndex(g.Roads).Near(at, reach) {
		called := cmp.Or(g.Roads.Name(near.Edge), g.Roads.Ref(near.Edge))
		for _, s := range g.Roads.Streets(called) {
			if slices.Contains(s.Edges, near.Edge) {
				return on(s, Road, s.Name, near.At, s.Name), true
			}
		}
	}
	return p, false
}

// middle is the place on edges that is nearest to the middle of them all.
func (a asked) middle(edges []network.EdgeID) orb.Point {
	n := a.g.Roads
	halfway := func(e network.EdgeID) orb.Point {
		return n.Point(network.Position{Edge: e, Offset: n.Length[e] / 2})
	}
	var sum orb.Point
	weight := 0.0
	for _, e := range edges {
		p, w := halfway(e), float64(n.Length[e])+1 // an edge without length counts too
		sum[0], sum[1], weight = sum[0]+p[0]*w, sum[1]+p[1]*w, weight+w
	}
	center := orb.Point{sum[0] / weight, sum[1] / weight}
	return halfway(slices.MinFunc(edges, func(x, y network.EdgeID) int {
		return cmp.Compare(geodesic.Between(center, halfway(x)), geodesic.Between(center, halfway(y)))
	}))
}

// houses lists the addresses of the number on the streets that a text calls; and where a
// street has none of it, those whose numbers are next to it.
func (a asked) houses(street string) (found, near []Place) {
	const most = 2
	place := func(s network.Street, h network.Address) Place {
		return on(s, House, h.Number+" "+s.Name, h.Point, s.Name)
	}
	for _, s := range a.g.Roads.Streets(street) {
		is, next := s.Named(a.number, most)
		for _, h := range is {
			found = append(found, place(s, h))
		}
		for _, h := range next {
			near = append(near, place(s, h))
		}
	}
	return found, near
}

// sameCrossing is how far apart two junctions may lie and be one crossing: where a road
// has two carriageways they meet in up to four.
const sameCrossing measure.Distance = 60

// meets parts the streets in the name of a crossing.
const meets = " & "

// crossings lists where two streets meet.
func (a asked) crossings() []Place {
	n := a.g.Roads
	first := map[network.NodeID]network.Street{}
	for _, s := range n.Streets(a.streets[0]) {
		for _, e := range s.Edges {
			first[n.From[e]], first[n.To[e]] = s, s
		}
	}
	var out []Place
	for _, s := range n.Streets(a.streets[1]) {
		for _, e := range s.Edges {
			for _, node := range []network.NodeID{n.From[e], n.To[e]} {
				with, ok := first[node]
				at := n.Node[node]
				known := slices.ContainsFunc(out, func(p Place) bool { return geodesic.Between(p.Point, at) <= sameCrossing })
				if !ok || known || word.Street(with.Name) == word.Street(s.Name) {
					continue
				}
				name, in := with.Name+meets+s.Name, with
				if with.Town == "" || with.Near {
					in = s
				}
				out = append(out, on(in, Crossing, name, at, ""))
			}
		}
	}
	return out
}

// alike lists what a text may mean whose streets have no such name: what it names on streets
// whose names differ by a slip or two or by a point of the compass, the likest first, most
// at the most; or else those streets.
func (a asked) alike(most int) []Place {
	var out, streets []Place
	for _, try := range a.tries() {
		if len(out) < most {
			out = append(out, try.within(try.all())...)
		}
		for _, street := range try.streets {
			if len(streets) < most && !slices.Contains(a.streets, street) {
				streets = append(streets, a.within(a.roads(street))...)
			}
		}
	}
	if len(out) == 0 {
		out = streets
	}
	out = once(out)
	return out[:min(len(out), most)]
}

// tries lists the same question of streets whose names are alike: of a crossing each name
// of the one with each of the other.
func (a asked) tries() []asked {
	out := []asked{a}
	for i, street := range a.streets {
		var more []asked
		for _, try := range out {
			for _, key := range a.alikeKeys(street) {
				with := try
				with.streets = slices.Clone(try.streets)
				with.streets[i] = key
				more = append(more, with)
			}
		}
		out = more
	}
	return out
}

// triedKeys is how many names that are alike are tried.
const triedKeys = 8

// alikeKeys lists streets by what they are asked for, if there is one, and by folded names
// that are a slip or two from it, or that it begins or ends: the likest first.
func (a asked) alikeKeys(street string) []string {
	type near struct {
		key   string
		slips int
	}
	want := word.Street(street)
	if want == "" {
		return nil
	}
	allowed := min(1+len(want)/4, 3)
	var found []near
	for key := range a.g.Roads.StreetNames("") {
		slips := allowed + 1
		if strings.HasPrefix(key, want+" ") || strings.HasSuffix(key, " "+want) {
			slips = 1 // North Main Street is asked for as Main Street
		} else if diff := len(key) - len(want); diff <= allowed && -diff <= allowed {
			slips = levenshtein.ComputeDistance(want, key)
		}
		if slips <= allowed {
			found = append(found, near{key, slips})
		}
	}
	slices.SortStableFunc(found, func(a, b near) int { return cmp.Compare(a.slips, b.slips) })
	var out []string
	if len(a.roads(street)) > 0 {
		out = append(out, street)
	}
	for _, n := range found[:min(len(found), triedKeys)] {
		if n.key != want {
			out = append(out, n.key)
		}
	}
	return out
}

// search lists what the text names, or the streets that it begins to name, most at the
// most.
func (a asked) search(most int) []Place {
	if len(a.streets) == 0 || len(word.Fold(a.text)) < 2 {
		return nil
	}
	out := a.find()
	if want := word.Street(a.whole); len(out) == 0 && a.number == "" {
		for key := range a.g.Roads.StreetNames(want) {
			if len(out) >= most || !strings.HasPrefix(key, want) {
				break
			}
			out = append(out, a.within(a.roads(key))...)
		}
	}
	return out[:min(len(out), most)]
}
