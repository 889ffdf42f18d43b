package trip

import "wayhouse/regs/say"

// Cautions lists what every answer says, the first at its head.
func Cautions() []say.Remark {
	return []say.Remark{say.That("caution.aid"), say.That("caution.unknown"), say.That("caution.measure"),
		say.That("caution.ratings")}
}

// DesignCautions lists what every answer to a check without a route says.
func DesignCautions() []say.Remark {
	return append([]say.Remark{say.That("caution.no_route"), say.That("caution.smaller_elsewhere")}, Cautions()...)
}

// LadderCautions lists what every answer with ladders says.
func LadderCautions() []say.Remark {
	return append([]say.Remark{say.That("caution.step"), say.That("caution.in_no_step"),
		say.That("caution.no_dates")}, Cautions()...)
}
