package task

import (
	"strings"

	"wayhouse/regs/finding"
)

// Command is what to run, without the program's name, where one command takes the
// answer; words in capitals stand for what only the user knows. None where nothing takes
// it.
func (a Ask) Command() []string {
	switch a.By {
	case finding.Answer, finding.Measure, finding.Weigh:
		if a.Of == "" || whole[a.Of] {
			return nil
		}
		axles := strings.Replace(a.Of, "running_gear.", "running_gear[0].", 1) // and so on for the others
		return []string{"answer", "FILE", axles + "=VALUE"}
	case finding.Confirm:
		return []string{"answer", "FILE", a.Of + "=yes", "--who", "NAME"}
	case finding.Verify:
		out := []string{"rules", "verify", a.Of}
		if a.In != "limits" {
			out = append(out, "--table", a.In)
		}
		return append(out, "--source", "TITLE", "--section", "SECTION", "--why", "REASON", "--store", "FILE")
	}
	return nil
}

// Command is what takes the end of the task, as [Ask.Command] has it; none where its
// questions have theirs.
func (t Task) Command() []string {
	if !Takes(t.By) {
		return nil
	}
	says := string(Clear)
	if t.By == finding.Meet {
		says = string(Seen)
	}
	return []string{"answer", "FILE", t.ID + "=" + says, "--who", "NAME"}
}

// whole are fields that take more than one value: they are written into the file.
var whole = map[string]bool{
	"unit.scale_ticket": true, "unit.running_gear": true, "tow.running_gear": true, "rig.axles": true,
}
