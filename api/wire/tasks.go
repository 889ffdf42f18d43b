package wire

import (
	"slices"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/task"
)

// Tasks are what is to be done about all that is unknown, conditional or for a person to
// decide.
type Tasks struct {
	Mark  string `json:"mark,omitempty"`
	Open  int    `json:"open" doc:"How many findings these are about"`
	Told  int    `json:"told" doc:"How many are open no more because somebody told of them"`
	List  []Task `json:"list" doc:"What opens all of them, as few as were found: questions to the user first, then what opens most"`
	Other []Task `json:"other" doc:"What opens some of them in another way"`
}

// Task is one thing to do.
type Task struct {
	Mark   string      `json:"mark,omitempty"`
	ID     string      `json:"id" doc:"The same in each answer, such as answer:unit.kind or office:CA-ON"`
	By     finding.Way `json:"by"`
	Whom   string      `json:"whom,omitempty" doc:"Who is asked; left out for what the user does alone"`
	Asks   []TaskAsk   `json:"asks" doc:"Its questions, each once"`
	Cases  []TaskCase  `json:"cases" doc:"What it helps to open"`
	Legs   []int       `json:"legs" doc:"Numbers of legs, from 1"`
	Alone  int         `json:"alone" doc:"How many findings it opens with no other task"`
	Helps  int         `json:"helps" doc:"How many it opens together with others"`
	Opened int         `json:"opened" doc:"Of the list: how many are open no more once this and all before it are done"`
	Takes  string      `json:"command,omitempty" doc:"What takes its end, for all of its questions; words in capitals are the user's"`
}

// TaskAsk is one question of a task.
type TaskAsk struct {
	Mark    string      `json:"mark,omitempty"`
	By      finding.Way `json:"by"`
	Of      string      `json:"of,omitempty" doc:"The field, the row or the office"`
	In      string      `json:"in,omitempty" doc:"The table of a row"`
	Among   []string    `json:"among,omitempty" doc:"The words of which one answers it; any when left out"`
	Asks    string      `json:"asks" doc:"What is asked, measured, read or seen to"`
	Command string      `json:"command,omitempty" doc:"What takes the answer; words in capitals are the user's"`
	About   []string    `json:"about,omitempty" doc:"Findings that it is about, for done of the request; left out where a field, a row or data is the answer"`
}

// TaskCase is a finding that a task helps to open.
type TaskCase struct {
	Mark         string          `json:"mark,omitempty"`
	Leg          int             `json:"leg,omitempty" doc:"From 1; left out where it is of no leg"`
	Topic        finding.Topic   `json:"topic"`
	Rule         finding.Rule    `json:"rule"`
	Jurisdiction string          `json:"jurisdiction,omitempty"`
	Outcome      finding.Outcome `json:"outcome"`
}

func (tell teller) newTasks(l task.List) Tasks {
	out := Tasks{Open: l.Open, Told: l.Told, List: each(l.Tasks, tell.newTask), Other: each(l.Other, tell.newTask)}
	marked := func(t Task) bool { return t.Mark != "" }
	out.Mark = mark(slices.ContainsFunc(out.List, marked) || slices.ContainsFunc(out.Other, marked))
	return out
}

func (tell teller) newTask(t task.Task) Task {
	invented := mark(slices.ContainsFunc(t.Cases, func(c task.Case) bool { return c.Invented }))
	return Task{
		Mark: invented,
		ID:   t.ID, By: t.By, Whom: tell.Say(t.Whom), Legs: append([]int{}, t.Legs...), Alone: t.Alone, Helps: t.Helps,
		Opened: t.Opened, Takes: typed(t.Command()),
		Asks: each(t.Asks, func(a task.Ask) TaskAsk {
			return TaskAsk{invented, a.By, a.Of, a.In, a.Among, tell.Say(a.Says), typed(a.Command()), a.About}
		}),
		Cases: each(t.Cases, func(c task.Case) TaskCase {
			return TaskCase{mark(c.Invented), c.Leg, c.Topic, c.Rule, c.Jurisdiction, c.Outcome}
		}),
	}
}

// typed is what takes an answer, as it is typed.
func typed(command []string) string {
	if command == nil {
		return ""
	}
	return "wayhouse " + strings.Join(command, " ")
}
