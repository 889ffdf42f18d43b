package report

import (
	"strconv"
	"strings"

	"wayhouse/regs/say"
	"wayhouse/regs/task"
)

// How many tasks are on a screen, and how many of them in any case.
const (
	someTasks  = 6
	firstTasks = 3
)

// tasks says what to do next: the first few tasks, and how much they settle.
func (s *screen) tasks(l task.List) {
	part := s.apart(say.That("screen.label.tasks"))
	if l.Open == 0 {
		part.keeps(say.That("screen.no_tasks", "told", l.Told))
		return
	}
	settled := 0
	if n := len(l.Tasks); n > 0 {
		settled = l.Tasks[n-1].Opened
	}
	part.keeps(say.That("screen.tasks", "tasks", len(l.Tasks), "open", l.Open, "settled", settled, "told", l.Told))
	if s.full {
		part.inFull(l)
		return
	}
	n := s.some(someTasks, len(l.Tasks))
	for i, t := range l.Tasks[:n] {
		opens := s.in.Say(say.That("screen.opens", "alone", t.Alone, "all", t.Alone+t.Helps))
		part.row(i < firstTasks, "", t.ID, s.in.Say(does(t)), opens)
	}
	part.hides(len(l.Tasks) - n)
}

// does says what a task is in a few words: its one question, or whom to ask how many.
func does(t task.Task) say.Remark {
	if len(t.Asks) == 1 {
		return say.That("screen.task", "by", t.By, "whom", named(t.Whom), "asks", t.Asks[0].Says)
	}
	return say.That("screen.task_of_many", "by", t.By, "whom", named(t.Whom), "count", len(t.Asks))
}

// task writes a task with all its questions, what takes their answers, and what it
// settles.
func (t *text) task(one task.Task) {
	t.line("%s", t.in.Say(say.That("screen.opened_task", "id", one.ID, "by", one.By, "whom", one.Whom,
		"alone", one.Alone, "helps", one.Helps)))
	for i, a := range one.Asks {
		t.tell(1, asked(one, i, a))
	}
	if takes := one.Command(); takes != nil {
		t.tell(1, say.That("screen.takes", "command", strings.Join(takes, " "), "several", len(one.Asks) > 1))
	}
	t.line("")
	t.line("%s", t.in.Say(say.That("screen.settles", "count", len(one.Cases))))
	for _, c := range one.Cases {
		var where any
		if c.Leg > 0 {
			where = say.That("screen.leg", "n", strconv.Itoa(c.Leg))
		}
		t.line(
			"  - %s",
			t.in.Say(say.That("screen.case", "state", stateOf(c.Outcome), "about", about(c.Finding), "where", where)),
		)
	}
}

// inFull tells every task with its questions, and what takes their answers.
func (p *part) inFull(l task.List) {
	for _, one := range l.Tasks {
		p.tells(say.That("screen.task_in_full", "id", one.ID, "by", one.By, "whom", one.Whom, "opened", one.Opened,
			"open", l.Open))
		for i, a := range one.Asks {
			p.tells(asked(one, i, a))
		}
	}
}

// asked is a question of a task, numbered where one end is told of several, and what takes
// its answer.
func asked(of task.Task, i int, a task.Ask) say.Remark {
	mark := "-"
	if task.Takes(of.By) && len(of.Asks) > 1 {
		mark = strconv.Itoa(i+1) + "."
	}
	return say.That("screen.ask", "mark", mark, "asks", a.Says, "command", strings.Join(a.Command(), " "))
}
