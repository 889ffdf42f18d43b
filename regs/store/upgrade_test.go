package store

import (
	"slices"
	"strings"
	"testing"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
)

// The tests make an older program by rewriting what it shipped.

// shippedThen makes a row one that the older program shipped otherwise, or
// that only it shipped.
func shippedThen(t *testing.T, s *Store, table string, r rows.Record) {
	t.Helper()
	cells, err := pack(columnsByTable()[table], r)
	if err != nil {
		t.Fatal(err)
	}
	notShippedThen(t, s, table, r[0])
	execute(t, s, `INSERT INTO entry (in_table, id, batch, shipped, cells) VALUES ($1, $2, 1, 1, $3)`, table, r[0], cells)
}

// notShippedThen makes a row one that the older program did not ship.
func notShippedThen(t *testing.T, s *Store, table, id string) {
	t.Helper()
	execute(t, s, `DELETE FROM entry WHERE in_table = $1 AND id = $2 AND batch = 1`, table, id)
	s.last, s.past = nil, nil
}

func proposeUpgrade(t *testing.T, s *Store) Upgrade {
	t.Helper()
	u, err := s.ProposeUpgrade(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// A store that holds what the program ships has nothing to take over, whatever
// its user made of it.
func upgradesToTheSame(t *testing.T, s *Store) {
	nothing := func(revision int) {
		t.Helper()
		if u := proposeUpgrade(t, s); u.Revision != revision || len(u.Edits)+len(u.Differences)+len(u.Conflicts) != 0 {
			t.Errorf("revision %d: %d edits, conflicts %v", u.Revision, len(u.Edits), u.Conflicts)
		}
	}
	nothing(1)
	made(t, s, edit(t, 1, "ca-on-height-01", map[string]string{"note": "mine"}), without(1, "ca-on-width-01"), edit(t, 0, "ca-on-height-01", map[string]string{"id": "zz-mine"}),
		Edit{Table: "offices", ID: "ca-on-office", Was: 1}, Edit{Table: "offices", ID: "ca-qc-office", Record: office(t, "ca-qc-office", "555"), Was: 1})
	nothing(2)
	if _, err := s.Restore(t.Context(), 1, "a user", "back"); err != nil {
		t.Fatal(err)
	}
	nothing(3)
}

// upgrades: each kind of row once.
func upgrades(t *testing.T, s *Store) {
	then := func(id string) rows.Record { return record(t, id, map[string]string{"note": "as it was then"}) }
	mine := func(id string) Edit { return edit(t, 1, id, map[string]string{"note": "mine"}) }
	const (
		follows, comes, goes      = "ca-on-height-01", "ca-on-width-01", "aa-gone"
		changed, removed          = "ca-qc-height-01", "ca-qc-height-02"
		removedAsNow              = "us-me-height-02"
		changedGone, removedGone  = "aa-gone-mine", "aa-gone-removed"
		sameMine, sameRemoved     = "ca-mb-width-04", "us-width-01"
		already, taken, ownRow    = "us-gross-mass-01", "us-vt-height-01", "zz-mine"
		officeFollows, officeGone = "ca-on-office", "aa-office"
	)
	for _, id := range []string{follows, changed, removed, removedAsNow, already} {
		shippedThen(t, s, limits, then(id))
	}
	for _, id := range []string{goes, changedGone, removedGone} {
		shippedThen(t, s, limits, record(t, "ca-on-height-01", map[string]string{"id": id}))
	}
	notShippedThen(t, s, limits, comes)
	notShippedThen(t, s, limits, taken)
	shippedThen(t, s, "offices", office(t, officeFollows, "then"))
	shippedThen(t, s, "offices", office(t, officeGone, "then"))
	addMine := func(id string) Edit {
		return edit(t, 0, "ca-on-height-01", map[string]string{"id": id, "note": "mine"})
	}
	gone := edit(t, 1, "ca-on-height-01", map[string]string{"id": changedGone, "note": "mine"})
	made(t, s, mine(changed), without(1, removed), gone, without(1, removedGone), mine(sameMine), without(1, sameRemoved),
		edit(t, 1, already, nil), edit(t, 1, removedAsNow, nil), addMine(taken), addMine(ownRow))
	made(t, s, without(2, removedAsNow))

	u := proposeUpgrade(t, s)
	rival := func(id string) rows.Record { return record(t, id, map[string]string{"id": id + "~shipped"}) }
	gonelimit := record(t, "ca-on-height-01", map[string]string{"id": goes})
	want := map[string][2]rows.Record{
		"limits " + follows:                   {then(follows), record(t, follows, nil)},
		"limits " + comes:                     {nil, record(t, comes, nil)},
		"limits " + goes:                      {gonelimit, nil},
		"limits " + changed + "~shipped":      {nil, rival(changed)},
		"limits " + removed + "~shipped":      {nil, rival(removed)},
		"limits " + taken + "~shipped":        {nil, rival(taken)},
		"limits " + removedAsNow + "~shipped": {nil, rival(removedAsNow)},
		"offices " + officeFollows:            {office(t, officeFollows, "then"), shippedOffice(t, officeFollows)},
		"offices " + officeGone:               {office(t, officeGone, "then"), nil},
	}
	for _, d := range u.Differences {
		w, ok := want[d.Table+" "+d.ID]
		if !ok || !slices.Equal(d.Before, w[0]) || !slices.Equal(d.After, w[1]) {
			t.Errorf("%s %s: from %q to %q, want from %q to %q", d.Table, d.ID, d.Before, d.After, w[0], w[1])
		}
	}
	if u.Revision != 3 || len(u.Differences) != len(want) {
		t.Errorf("revision %d: %d differences, want %d", u.Revision, len(u.Differences), len(want))
	}
	conflicts := slices.SortedFunc(slices.Values(u.Conflicts), func(a, b Conflict) int { return strings.Compare(a.ID, b.ID) })
	if want := []Conflict{
		{limits, changedGone, ""}, {limits, changed, changed + "~shipped"}, {limits, removed, removed + "~shipped"}, {limits, removedAsNow, removedAsNow + "~shipped"}, {limits, taken, taken + "~shipped"},
	}; !slices.Equal(conflicts, want) {
		t.Errorf("conflicts %v, want %v", conflicts, want)
	}

	made(t, s, u.Edits...)
	if again := proposeUpgrade(t, s); len(again.Edits)+len(again.Differences) != 0 || again.Revision != 4 {
		t.Errorf("right after: %+v", again)
	}
	for id, want := range map[string]rows.Record{
		changed: mine(changed).Record, changed + "~shipped": rival(changed), removed + "~shipped": rival(removed), removed: nil,
		changedGone: gone.Record, removedGone: nil, goes: nil, sameMine: mine(sameMine).Record, sameRemoved: nil,
		follows: record(t, follows, nil), comes: record(t, comes, nil), already: record(t, already, nil),
		taken: addMine(taken).Record, ownRow: addMine(ownRow).Record,
	} {
		if kept, _ := s.Row(t.Context(), limits, id); !slices.Equal(kept.Record, want) {
			t.Errorf("%s: %q, want %q", id, kept.Record, want)
		}
	}
	if got, want := snapshot(t, s).Office("CA-ON").String(), shipped(t).Office("CA-ON").String(); got != want {
		t.Errorf("whom to ask: %q, want %q", got, want)
	}

	// The user keeps one of the two, in each of the ways there are: what was
	// settled does not come up again.
	made(t, s, without(4, changed+"~shipped"), without(2, taken), edit(t, 4, removed, map[string]string{"id": removed + "~shipped", "note": "mine"}), without(4, removedAsNow+"~shipped"))
	if again := proposeUpgrade(t, s); len(again.Edits)+len(again.Differences) != 0 || again.Revision != 5 {
		t.Errorf("after the user chose: %+v", again)
	}
}

func shippedOffice(t *testing.T, id string) rows.Record {
	t.Helper()
	table, err := TableNamed("offices")
	if err != nil {
		t.Fatal(err)
	}
	all, err := table.Records(file(t, "tables/offices.csv"))
	if err != nil {
		t.Fatal(err)
	}
	return all[indexOf(all, id)]
}

// Where the user has a row of his own beside a shipped one, both bind: beyond
// the lower figure the rig is no longer clear, whichever of the two has it.
func stricterBinds(t *testing.T, s *Store) {
	const id = "us-vt-height-01"
	for name, tc := range map[string]struct{ mine, between string }{
		"a higher one of the user": {"4.30 m", "4.20 m"},
		"a lower one of the user":  {"4.00 m", "4.05 m"},
	} {
		t.Run(name, func(t *testing.T) {
			emptied(t, s)
			shippedThen(t, s, limits, record(t, id, map[string]string{"published": "4.10 m", "threshold": "4.10 m"}))
			made(t, s, edit(t, 1, id, map[string]string{"published": tc.mine, "threshold": tc.mine}))
			alone := check(t, snapshot(t, s), tc.between)
			u := proposeUpgrade(t, s)
			u.Edits = slices.DeleteFunc(u.Edits, func(e Edit) bool { return e.ID != id+"~shipped" }) // leave the table to the two
			made(t, s, u.Edits...)
			tables := snapshot(t, s)
			both := check(t, tables, tc.between)
			if higher := tc.mine > tc.between; (alone.Outcome == finding.Clear) != higher {
				t.Errorf("%s under the user's %s alone: %s", tc.between, tc.mine, alone.Outcome)
			}
			if both.Outcome != finding.Conditional || len(both.Citations) != 2 {
				t.Errorf("%s under %s and the shipped %s: %s by %+v", tc.between, tc.mine, "13 ft 6 in", both.Outcome, both.Citations)
			}
			if under := check(t, tables, "3.90 m"); under.Outcome != finding.Clear {
				t.Errorf("below both: %s", under.Outcome)
			}
			if above := check(t, tables, "4.40 m"); above.Outcome != finding.Conditional {
				t.Errorf("above both: %s", above.Outcome)
			}
			made(t, s, without(3, id+"~shipped"))
			if now := check(t, snapshot(t, s), tc.between); now.Outcome != alone.Outcome {
				t.Errorf("after the shipped one was removed: %s, want %s", now.Outcome, alone.Outcome)
			}
		})
	}
}

// check asks for a height in Vermont.
func check(t *testing.T, tables *regs.Tables, height string) finding.Finding {
	t.Helper()
	h, err := measure.ParseLength(height)
	if err != nil {
		t.Fatal(err)
	}
	v := regs.Vehicle{Subject: limit.Subject{Kind: limit.LoadOnTrailer, Use: limit.Private, Form: limit.Trailer, Axles: 4},
		Measures: map[limit.Quantity]regs.Measure{limit.Height: measure.Exactly(limit.Amount(h))}}
	for _, f := range tables.Check(v, regs.Stay{Jurisdictions: []string{"US-VT"}, OwnerKnown: true}, time.Date(2027, 5, 10, 12, 0, 0, 0, time.UTC)) {
		if string(f.Rule) == string(limit.Height) {
			return f
		}
	}
	t.Fatal("no finding on the height")
	return finding.Finding{}
}

// A proposal that was overtaken by a change of one of its rows is told of the
// conflict; one of another row is not in its way.
func upgradeOvertaken(t *testing.T, s *Store) {
	shippedThen(t, s, limits, record(t, "ca-on-height-01", map[string]string{"note": "then"}))
	u := proposeUpgrade(t, s)
	made(t, s, edit(t, 1, "ca-on-width-01", map[string]string{"note": "mine"}))
	made(t, s, u.Edits...)
	shippedThen(t, s, limits, record(t, "ca-qc-height-01", map[string]string{"note": "then"}))
	u = proposeUpgrade(t, s)
	made(t, s, edit(t, 1, "ca-qc-height-01", map[string]string{"note": "mine"}))
	if _, err := s.Change(t.Context(), "a user", "upgrade", u.Edits); err == nil || !strings.Contains(err.Error(), "ca-qc-height-01") {
		t.Errorf("%v; want a conflict", err)
	}
	if u = proposeUpgrade(t, s); len(u.Edits) != 1 || u.Edits[0].ID != "ca-qc-height-01~shipped" {
		t.Errorf("worked out anew: %+v", u)
	}
}

// A store of the version that forbade 14 ft on Washington's two-lane highways
// (RCW 46.44.092(5) asks for a permit there) loses that row, and gains the two
// that stand in its place. One that the user kept by an edit of it is a conflict.
func TestUpgradeDropsTheWrongRowOfWashington(t *testing.T) {
	const wrong, right, top = "us-wa-width-03", "us-wa-width-09", "us-wa-width-08"
	for _, touched := range []bool{false, true} {
		s := memory(t)
		shippedThen(t, s, limits, record(t, right, map[string]string{"id": wrong, "outcome": "forbidden", "permit": "", "hours": ""}))
		notShippedThen(t, s, limits, right)
		notShippedThen(t, s, limits, top)
		if touched {
			made(t, s, edit(t, 1, right, map[string]string{"id": wrong, "note": "mine"}))
		}
		u := proposeUpgrade(t, s)
		made(t, s, u.Edits...)
		for id, want := range map[string]bool{wrong: touched, right: true, top: true} {
			kept, err := s.Row(t.Context(), limits, id)
			if got := err == nil && kept.Record != nil; got != want {
				t.Errorf("touched %t: %s kept %t, want %t (%v)", touched, id, got, want, err)
			}
		}
		if got := slices.Contains(u.Conflicts, Conflict{limits, wrong, ""}); got != touched {
			t.Errorf("touched %t: conflicts %v", touched, u.Conflicts)
		}
	}
}
