package task

import (
	"cmp"
	"slices"

	"wayhouse/regs/finding"
)

// list chooses tasks that open everything.
//
//  1. Take each task without which a finding cannot be opened.
//  2. While a finding is shut, take the way that opens most for each task that it
//     adds; of equal ones the cheapest.
//  3. Put questions to the user first, those that help with most before the others, and
//     then, again and again, the task that opens most with those before it.
func (g *grouping) list() List {
	chosen := g.needed()
	for {
		w := g.best(chosen)
		if w == nil {
			break
		}
		for _, i := range w {
			chosen[i] = true
		}
	}
	out := List{}
	for _, f := range g.shut {
		out.Open += f.times
	}
	done := map[int]bool{}
	for len(done) < len(chosen) {
		next := g.next(chosen, done)
		done[next] = true
		t := g.tasks[next]
		t.Opened = g.opened(done, nil)
		out.Tasks = append(out.Tasks, t)
	}
	for i, t := range g.tasks {
		if !chosen[i] {
			out.Other = append(out.Other, t)
		}
	}
	slices.SortStableFunc(out.Other, func(a, b Task) int {
		return cmp.Or(cmp.Compare(rank(a.By), rank(b.By)), cmp.Compare(b.Alone+b.Helps, a.Alone+a.Helps))
	})
	return out
}

// needed are the tasks that stand in every way of some finding.
func (g *grouping) needed() map[int]bool {
	out := map[int]bool{}
	for _, f := range g.shut {
		for i := range g.tasks {
			if len(f.ways) > 0 && !slices.ContainsFunc(f.ways, func(w way) bool { return !slices.Contains(w, i) }) {
				out[i] = true
			}
		}
	}
	return out
}

// best is what the best way adds to tasks, nil where nothing is left to open.
func (g *grouping) best(chosen map[int]bool) way {
	var best way
	gain, base := 0, g.opened(chosen, nil)
	for _, f := range g.shut {
		if f.opened(chosen, nil) {
			continue
		}
		for _, w := range f.ways {
			w = slices.DeleteFunc(slices.Clone(w), func(i int) bool { return chosen[i] })
			opens := g.opened(chosen, w) - base
			if d := opens*len(best) - gain*len(w); best == nil || d > 0 || d == 0 && g.costs(w) < g.costs(best) {
				best, gain = w, opens
			}
		}
	}
	return best
}

// costs is the rank of the dearest task of a way.
func (g *grouping) costs(w way) int {
	out := 0
	for _, i := range w {
		out = max(out, rank(g.tasks[i].By))
	}
	return out
}

// opened is how many findings tasks open together with more.
func (g *grouping) opened(done map[int]bool, more way) (n int) {
	for _, f := range g.shut {
		if f.opened(done, more) {
			n += f.times
		}
	}
	return n
}

func (s shut) opened(done map[int]bool, more way) bool {
	return slices.ContainsFunc(s.ways, func(w way) bool {
		return !slices.ContainsFunc(w, func(i int) bool { return !done[i] && !slices.Contains(more, i) })
	})
}

// next is the task to do after others: a question to the user before all else, of these
// what helps most, since what others open hangs on them; then what opens most; of equal
// ones what helps most, then the cheapest.
func (g *grouping) next(chosen, done map[int]bool) int {
	next, gain := -1, 0
	for i, t := range g.tasks {
		if !chosen[i] || done[i] {
			continue
		}
		opens := g.opened(done, way{i})
		if next < 0 || before(t, opens, g.tasks[next], gain) {
			next, gain = i, opens
		}
	}
	return next
}

func before(a Task, opensA int, b Task, opensB int) bool {
	if asks := a.By == finding.Answer; asks != (b.By == finding.Answer) {
		return asks
	}
	opens, helps := cmp.Compare(opensB, opensA), cmp.Compare(b.Alone+b.Helps, a.Alone+a.Helps)
	if a.By == finding.Answer {
		return cmp.Or(helps, opens) < 0
	}
	return cmp.Or(opens, helps, cmp.Compare(rank(a.By), rank(b.By))) < 0
}

func rank(by finding.Way) int { return slices.Index(finding.Ways(), by) }
