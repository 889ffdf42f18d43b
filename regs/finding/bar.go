package finding

// Bars are the outcomes that an answer may be asked to be no worse than.
func Bars() []Outcome { return []Outcome{Clear, Conditional, Review} }

// Meets reports whether everything that was asked is known and no worse than an
// outcome.
func (r RollUp) Meets(bar Outcome) bool {
	return r.Unknowns == 0 && severity[r.Worst] > 0 && severity[r.Worst] <= severity[bar]
}
