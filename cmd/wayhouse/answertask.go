package main

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/task"
)

// namesTask reports whether an answer is to a task: its id begins with a way of settling
// something, alone or with a colon.
func namesTask(arg string) bool {
	id, _, _ := strings.Cut(arg, "=")
	by, _, of := strings.Cut(id, ":")
	return slices.Contains(finding.Ways(), finding.Way(by)) &&
		(of || !slices.Contains([]finding.Way{finding.Answer, finding.Data}, finding.Way(by)))
}

// task puts what was told of a task into the file: of the trip, or of the unit.
func (a *answering) task(ctx context.Context, id, value string) error {
	of, err := a.find(ctx, id)
	if err != nil {
		return err
	}
	about, err := a.about(of)
	if err != nil {
		return err
	}
	if a.who == "" {
		return &measure.FieldError{Field: "--who", Problem: say.That("error.missing"), Fix: say.That("fix.say_who_told")}
	}
	p, list := a.parts["trip"], "done"
	if !a.trip {
		p = a.parts[""]
	}
	fields := [][2]string{
		{"task", quoted(of.ID)},
		{"says", scalar(value)},
		{"who", quoted(a.who)},
		{"said_on", quoted(a.on)},
	}
	for _, optional := range [][2]string{{"until", a.until}, {"condition", a.condition}} {
		if optional[1] != "" {
			fields = append(fields, [2]string{optional[0], quoted(optional[1])})
		}
	}
	var item []string
	for _, f := range append(fields, [2]string{"about", "[" + strings.Join(about, ", ") + "]"}) {
		item = append(item, f[0]+": "+f[1])
	}
	line := "{" + strings.Join(item, ", ") + "}"
	if p.text, err = appendItem(p.text, list, line); err != nil {
		return unwritten(p, list, line, err)
	}
	asks := len(of.Asks)
	if len(a.asks) > 0 {
		asks = len(a.asks)
	}
	a.told = append(a.told, say.That("answer.kept", "file", p.path, "field", of.ID, "value",
		say.That("answer.told", "word", task.Word(value), "who", a.who, "count", asks)))
	p.changed = true
	return p.read()
}

// about are the findings that the answer is about: of the questions that were named, or of
// all.
func (a *answering) about(of task.Task) (out []string, err error) {
	for _, n := range a.asks {
		if n < 1 || n > len(of.Asks) {
			return nil, &measure.FieldError{
				Field: "--ask", Value: strconv.Itoa(n), Problem: say.That("error.no_such_ask", "task", of.ID, "asks", len(of.Asks)),
				Fix: say.That("fix.ask_numbers", "task", of.ID),
			}
		}
	}
	for i, ask := range of.Asks {
		if len(a.asks) == 0 || slices.Contains(a.asks, i+1) {
			for _, key := range ask.About {
				out = append(out, quoted(key))
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out), nil
}

// find is the task of an id, with all that answers to the file as it was have of it.
func (a *answering) find(ctx context.Context, id string) (out task.Task, err error) {
	if by, _, _ := strings.Cut(id, ":"); !task.Takes(finding.Way(by)) {
		return out, &measure.FieldError{
			Field: id, Problem: say.That("error.no_end_is_told"), Fix: say.That("fix.tasks_that_end"),
		}
	}
	if a.lists == nil {
		if a.lists, err = a.openTasks(ctx); err != nil {
			return out, err
		}
	}
	var there []string
	for _, l := range a.lists {
		for _, t := range slices.Concat(l.Tasks, l.Other) {
			if task.Takes(t.By) && !slices.Contains(there, t.ID) {
				there = append(there, t.ID)
			}
		}
		if t, found := l.Find(id); found {
			t.Asks = append(out.Asks, t.Asks...)
			out = t
		}
	}
	if out.ID == "" {
		return out, &measure.FieldError{
			Field: id, Problem: say.That("error.no_such_task"), Fix: say.That("fix.tasks_there_are", "tasks", there),
		}
	}
	return out, nil
}

// openTasks lists the tasks of the file: of the plan of a trip, or of a unit by itself and in
// the jurisdictions that were named.
func (a *answering) openTasks(ctx context.Context) ([]task.List, error) {
	if a.trip {
		asked, err := tripOf(a.parts["trip"].path)
		if err != nil {
			return nil, err
		}
		plan, err := a.known.Plan(ctx, wire.DecodeValue[wire.TripRequest](asked.fields))
		if err != nil {
			return nil, asked.named(err)
		}
		return []task.List{plan.Tasks()}, nil
	}
	asked, err := rigOf([]string{a.parts[""].path}, a.towFile)
	if err != nil {
		return nil, err
	}
	if len(a.within) > 0 {
		var in []any
		for _, code := range a.within {
			in = append(in, code)
		}
		asked.fields["in"] = in
	}
	rig, err := a.known.Rig(ctx, wire.DecodeValue[wire.RigQuestion](asked.fields))
	if err != nil {
		return nil, asked.named(err)
	}
	out := []task.List{rig.Tasks()}
	if len(a.within) > 0 {
		design, err := a.known.Check(ctx, wire.DecodeValue[wire.CheckRequest](asked.fields))
		if err != nil {
			return nil, asked.named(err)
		}
		out = append(out, design.Tasks())
	}
	return out, nil
}
