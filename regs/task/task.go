// Package task groups what findings leave open by what settles it: a question to the
// user, a tape or a scale, rows to read, an office to ask, road data, what is to be seen
// to. It is pure data over findings.
//
// A finding opens when every step of one of its ways is done ([finding.Finding.Settles]).
// A way says what is needed whatever the answers are: it may turn out that less was.
package task

import (
	"fmt"
	"iter"
	"slices"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// List is what is to be done about findings.
type List struct {
	Open  int    // how many findings are unknown, conditional or for a person to decide
	Told  int    // how many are no more, as somebody told
	Tasks []Task // that open all of them, as few as were found; questions to the user first
	Other []Task // that open some of them in another way
}

// Task is one thing to do.
type Task struct {
	ID     string // the same in each answer, such as "answer:unit.kind" or "office:CA-ON"
	By     finding.Way
	Whom   say.Remark // who is asked; none for what the user does alone
	Asks   []Ask      // its questions, each once
	Cases  []Case     // findings that it helps to open
	Legs   []int      // on which they stand, from 1; none for those of no leg
	Alone  int        // how many findings it opens with no other task
	Helps  int        // how many it opens together with others
	Opened int        // how many are open no more once this and all before it are done
}

// Ask is one question of a task.
type Ask struct {
	By    finding.Way
	Of    string     // the field, the row or the office, as [finding.Step] has it
	In    string     // the table of a row
	Among []string   // the words that answer it; none: any
	Says  say.Remark // what is asked
	About []string   // the findings that it is about, by [Key]
}

// Case is a finding where it stands.
type Case struct {
	Leg int // 0: of no leg
	finding.Finding
}

// Counts reports whether a finding is among those that tasks are about.
func Counts(f finding.Finding) bool {
	return !f.Met &&
		(f.Outcome == finding.Unknown || f.Outcome == finding.Review || f.Outcome == finding.Conditional)
}

// Of lists what is to be done about findings, each with the number of its leg.
func Of(findings iter.Seq2[int, finding.Finding]) List {
	g, told := &grouping{index: map[string]int{}, alike: map[string]int{}}, 0
	for leg, f := range findings {
		if (f.Told != "" || f.Seen) && !Counts(f) {
			told++
		}
		if Counts(f) {
			g.add(Case{leg, f})
		}
	}
	out := g.list()
	out.Told = told
	return out
}

// Find returns the task of an id.
func (l List) Find(id string) (Task, bool) {
	all := slices.Concat(l.Tasks, l.Other)
	i := slices.IndexFunc(all, func(t Task) bool { return strings.EqualFold(t.ID, id) })
	if i < 0 {
		return Task{}, false
	}
	return all[i], true
}

// grouping is what tasks are made of.
type grouping struct {
	tasks []Task
	index map[string]int // of tasks, by what makes steps one task
	alike map[string]int // of shut, by its ways
	shut  []shut
}

// shut is how many findings have the same ways.
type shut struct {
	ways  []way
	times int
}

// way is the tasks that are needed together, by index, each once and in order.
type way []int

func (g *grouping) add(c Case) {
	var ways []way
	helped := map[int]bool{}
	for _, steps := range c.Settles {
		var w way
		for _, s := range steps {
			i := g.task(s, c)
			w = append(w, i)
			if !helped[i] {
				helped[i] = true
				g.tasks[i].take(c)
			}
			g.tasks[i].ask(s, c)
		}
		slices.Sort(w)
		ways = append(ways, slices.Compact(w))
	}
	for i := range helped {
		if slices.ContainsFunc(ways, func(w way) bool { return slices.Equal(w, way{i}) }) {
			g.tasks[i].Alone++
		} else {
			g.tasks[i].Helps++
		}
	}
	key := fmt.Sprint(ways)
	i, known := g.alike[key]
	if !known {
		i = len(g.shut)
		g.alike[key] = i
		g.shut = append(g.shut, shut{ways: ways})
	}
	g.shut[i].times++
}

func (t *Task) take(c Case) {
	t.Cases = append(t.Cases, c)
	if c.Leg > 0 && !slices.Contains(t.Legs, c.Leg) {
		t.Legs = append(t.Legs, c.Leg)
	}
}

// ask notes a question once, with all that it is about.
func (t *Task) ask(s finding.Step, c Case) {
	says := say.Or(s.Asks, say.That("task.rule", "rule", c.Rule))
	i := slices.IndexFunc(t.Asks, func(a Ask) bool {
		return a.By == s.By && a.Of == s.Of && a.Says.String() == says.String()
	})
	if i < 0 {
		i = len(t.Asks)
		t.Asks = append(t.Asks, Ask{By: s.By, Of: s.Of, In: s.In, Among: s.Among, Says: says})
	}
	if key := Key(c.Finding, s); Takes(s.By) && !slices.Contains(t.Asks[i].About, key) {
		t.Asks[i].About = append(t.Asks[i].About, key)
	}
}

// task returns the index of the task that a step is a part of.
func (g *grouping) task(s finding.Step, c Case) int {
	key, id := keys(s, c)
	i, known := g.index[key]
	if !known {
		i = len(g.tasks)
		g.index[key] = i
		by := s.By
		if by == finding.Confirm {
			by = finding.Verify
		}
		t := Task{ID: id, By: by, Whom: s.Whom}
		if by == finding.Meet { // by several
			t.Whom = say.Remark{}
		}
		g.tasks = append(g.tasks, t)
	}
	return i
}

// keys are by what steps are of one task, and its id. What is measured is measured in
// one go, and so is what is weighed or seen to; rows of one source are read together.
func keys(s finding.Step, c Case) (key, id string) {
	switch s.By {
	case finding.Measure, finding.Weigh, finding.Meet:
		return string(s.By), string(s.By)
	case finding.Confirm, finding.Verify:
		source := s.Of
		for _, row := range c.Citations {
			if row.ID == s.Of {
				source = row.Source
			}
		}
		return "source:" + source, string(finding.Verify) + ":" + s.Of
	}
	id = string(s.By) + ":" + s.Of
	return id, id
}
