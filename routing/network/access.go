package network

// Access returns the sign without a condition that counts for a mode: of the
// most specific mode, one of this direction before one of both, and of several
// the strictest. otherwise is what holds where there is none.
func (r Record) Access(m Mode, reverse bool, otherwise Word) (Word, Sign) {
	for _, of := range m.Chain() {
		if best, found := r.strictest(of, reverse); found {
			return best.Word, best
		}
	}
	return otherwise, Sign{For: MotorVehicles}
}

// strictest returns the access sign that counts among those for one mode.
func (r Record) strictest(of Mode, reverse bool) (best Sign, found bool) {
	for _, s := range r.Signs {
		if s.Subject != Access || s.For != of || s.When != 0 || s.Word == Unread || !s.Bound.Binds(reverse) {
			continue
		}
		closer := s.Bound != BothWays && best.Bound == BothWays
		if !found || closer || (s.Bound == BothWays) == (best.Bound == BothWays) && s.Word > best.Word {
			best, found = s, true
		}
	}
	return best, found
}

// EveryRig lists the modes that any rig may be taken for, whatever its unit, its
// coupling and its rating: signs for each of them bind it.
func EveryRig() []Mode { return []Mode{Motorcars, Trailers} }

// barred reports whether a record refuses a direction to every rig: to one of the
// modes that each may be.
func (r Record) barred(reverse bool, otherwise Word) bool {
	for _, m := range EveryRig() {
		if word, _ := r.Access(m, reverse, otherwise); word == Refused {
			return true
		}
	}
	return false
}

// closed reports whether a record closes a direction to every rig.
func (r Record) closed(reverse bool) bool {
	return r.Flags.Has(OnewayAlong) && reverse || r.Flags.Has(OnewayAgainst) && !reverse || r.barred(reverse, Allowed)
}
