package regs

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
)

// bare are findings without the rows that they show.
func bare(found []finding.Finding) (out []string) {
	for _, f := range found {
		f.Citations, f.Invented = nil, false
		out = append(out, fmt.Sprintf("%+v", f))
	}
	return out
}

// drawTold draws a world with a row and an answer about it.
func drawTold(t *rapid.T, holds bool) (known, int) {
	k := drawKnown(t)
	k.contacts = nil
	k.limits = append(k.limits, drawPlaced(t, "extra"))
	i := rapid.IntRange(0, len(k.limits)-1).Draw(t, "row")
	k.v.Told = []Told{{Row: k.limits[i].ID, Holds: holds, Who: "a clerk", On: june.AddDate(0, 0, -30).Truncate(24 * 60 * 60e9)}}
	return k, i
}

// A row that is not about the vehicle, as somebody said, is as if it were not there, but
// that it shows with who said so.
func TestARowThatDoesNotHoldIsNone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, i := drawTold(t, false)
		gone := k.limits[i]
		if strings.Contains(gone.Jurisdiction, "/") { // a town is asked only where it has rows
			return
		}
		found := k.check()
		without := k
		without.limits, without.v.Told = slices.Delete(slices.Clone(k.limits), i, i+1), nil
		if got, want := bare(found), bare(without.check()); !slices.Equal(got, want) {
			t.Fatalf("told that %+v does not hold:\n%s\nwithout it:\n%s", gone, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
		for _, f := range found {
			for _, c := range f.Citations {
				if c.ID == gone.ID && (c.Decides || len(c.Says) != 1 || c.Says[0].Code != "row.told_not") {
					t.Fatalf("%s decides, or does not say who said that it is none: %+v", gone.ID, c)
				}
			}
		}
	})
}

// A row that holds, as somebody said, is one that states no condition and is about every
// vehicle: all else of it stands, so that one that was not verified clears nothing.
func TestARowThatHoldsHasNothingLeftToRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, i := drawTold(t, true)
		said := k.limits[i]
		if sure, _ := said.Match(k.v.Subject); sure == limit.No {
			return
		}
		if _, met := said.For(k.v.Across); !met {
			return
		}
		plain := k
		plain.v.Told, plain.limits = nil, slices.Clone(k.limits)
		p := &plain.limits[i]
		p.Kind, p.Form, p.Tows, p.Axles, p.Condition, p.Tires = limit.All, limit.AnyForm, limit.Tows{limit.AnyTow}, 0, "", limit.TireTest{}
		if got, want := bare(k.check()), bare(plain.check()); !slices.Equal(got, want) {
			t.Fatalf("told that %+v holds:\n%s\nas a row about all:\n%s", said, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	})
}

// An answer that is older than a year when the vehicle moves, or younger than the move,
// settles nothing. Of two the later counts.
func TestOnlyARecentAnswerCounts(t *testing.T) {
	row := read(t, map[string]string{
		"id": "r", "quantity": "height", "threshold": "4 m", "published": "4 m", "condition": "with air brakes",
	})
	tables := NewTables("test", Rows{Limits: []*limit.Row{&row}}, nil)
	v := Vehicle{Measures: map[limit.Quantity]Measure{limit.Height: measure.Exactly(limit.Amount(3 * metre))}}
	for name, tc := range map[string]struct {
		told []Told
		want finding.Outcome
	}{
		"no answer":        {nil, finding.Unknown},
		"a month ago":      {[]Told{{Row: "r", Holds: true, On: june.AddDate(0, -1, 0)}}, finding.Clear},
		"of another row":   {[]Told{{Row: "s", Holds: true, On: june.AddDate(0, -1, 0)}}, finding.Unknown},
		"two years ago":    {[]Told{{Row: "r", Holds: true, On: june.AddDate(-2, 0, 0)}}, finding.Unknown},
		"after the move":   {[]Told{{Row: "r", Holds: true, On: june.AddDate(0, 1, 0)}}, finding.Unknown},
		"not, a month ago": {[]Told{{Row: "r", On: june.AddDate(0, -1, 0)}}, finding.Unknown},
		"first yes, then no": {[]Told{{Row: "r", On: june.AddDate(0, -1, 0)}, {Row: "r", Holds: true, On: june.AddDate(0, -2, 0)}},
			finding.Unknown},
		"first no, then yes": {[]Told{{Row: "r", Holds: true, On: june.AddDate(0, -1, 0)}, {Row: "r", On: june.AddDate(0, -2, 0)}},
			finding.Clear},
	} {
		v.Told = tc.told
		if f := answer(t, tables, v, "CA-XX", limit.Height, june); f.Outcome != tc.want {
			t.Errorf("%s: %s, %s; want %s", name, f.Outcome, says(f), tc.want)
		}
	}
}
