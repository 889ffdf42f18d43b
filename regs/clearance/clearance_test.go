package clearance

import (
	"errors"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
)

const mm = measure.Millimetre

var (
	june = time.Date(2027, 6, 1, 12, 0, 0, 0, time.UTC)
	term = 365 * 24 * time.Hour
)

func posted(l measure.Length) Structure {
	return Structure{ID: "x", Posted: &l, Status: finding.Published, ReadOn: june.AddDate(0, -1, 0)}
}

// A designed height of 4.15 m takes 0.10 + 0.05 + 0.05 off in summer, so a
// sign of 4.35 m leaves exactly nothing.
func TestMarginEdges(t *testing.T) {
	h := designed(4150 * mm)
	for _, tc := range []struct {
		sign measure.Length
		want finding.Outcome
	}{
		{4349 * mm, finding.Forbidden},
		{4350 * mm, finding.Review},
		{4351 * mm, finding.Review},
		{4499 * mm, finding.Review},
		{4500 * mm, finding.Review},
		{4501 * mm, finding.Clear},
	} {
		p := Pass(posted(tc.sign), h, nil, DefaultAllowances(), june, term)
		if p.Outcome != tc.want || p.Margin != tc.sign-4350*mm {
			t.Errorf("sign %v: %s, margin %v; want %s", tc.sign, p.Outcome, p.Margin, tc.want)
		}
	}
}

func TestAllowances(t *testing.T) {
	length := func(l measure.Length) *measure.Length { return &l }
	january := time.Date(2027, 1, 15, 12, 0, 0, 0, time.UTC)
	sagging := posted(5 * measure.Metre)
	sagging.SagRadius = length(100 * measure.Metre)
	for name, tc := range map[string]struct {
		s    Structure
		h    Height
		span *measure.Length
		day  time.Time
		want measure.Length
	}{
		"summer, designed": {posted(5 * measure.Metre), designed(4150 * mm), nil, june, 650 * mm},
		"summer, measured": {posted(5 * measure.Metre), Height{Of: measure.Exactly(4150 * mm), Measured: true}, nil, june, 680 * mm},
		"winter, designed": {posted(5 * measure.Metre), designed(4150 * mm), nil, january, 600 * mm},
		// Lw 8 m on Rv 100 m sags 0.080 m, 10 m on 100 m 0.125 m: worked from L^2/8R.
		"sag 8 m":  {sagging, designed(4150 * mm), length(8 * measure.Metre), june, 570 * mm},
		"sag 10 m": {sagging, designed(4150 * mm), length(10 * measure.Metre), june, 525 * mm},
	} {
		if p := Pass(tc.s, tc.h, tc.span, DefaultAllowances(), tc.day, term); p.Margin != tc.want {
			t.Errorf("%s: margin %v, want %v (%s)", name, p.Margin, tc.want, p.Sum())
		}
	}
}

func TestLowerFigureBinds(t *testing.T) {
	low, high := 4400*mm, 4700*mm
	for _, tc := range []struct {
		posted, measured *measure.Length
		want             measure.Length
		name             PartOf
	}{{&low, &high, low, "posted"}, {&high, &low, low, "measured"}, {&low, nil, low, "posted"}, {nil, &high, high, "measured"}, {&low, &low, low, "posted"}} {
		got, name := Structure{Posted: tc.posted, Measured: tc.measured}.Figure()
		if *got != tc.want || name != tc.name {
			t.Errorf("got %s %v, want %s %v", name, *got, tc.name, tc.want)
		}
	}
}

func TestOnlyTrustedFiguresClear(t *testing.T) {
	h := designed(4000 * mm)
	for name, change := range map[string]func(*Structure){
		"invented":        func(s *Structure) { s.Status = finding.Invented },
		"recalled":        func(s *Structure) { s.Status = finding.Memory },
		"second-hand":     func(s *Structure) { s.Status = finding.Secondary },
		"stale":           func(s *Structure) { s.ReadOn = june.AddDate(-2, 0, 0) },
		"never read":      func(s *Structure) { s.ReadOn = time.Time{} },
		"no figure":       func(s *Structure) { s.Posted = nil },
		"sag, no length":  func(s *Structure) { r := 100 * measure.Metre; s.SagRadius = &r },
		"read a day late": func(s *Structure) { s.ReadOn = june.Add(-term - 24*time.Hour) },
	} {
		s := posted(6 * measure.Metre)
		change(&s)
		if p := Pass(s, h, nil, DefaultAllowances(), june, term); p.Outcome != finding.Unknown || p.Why.None() {
			t.Errorf("%s: %s, %q", name, p.Outcome, p.Why)
		}
		// The same doubts never open a way that is too low.
		low := posted(4 * measure.Metre)
		change(&low)
		if p := Pass(low, h, nil, DefaultAllowances(), june, term); low.Posted != nil && p.Outcome != finding.Forbidden {
			t.Errorf("%s, low: %s", name, p.Outcome)
		}
	}
}

// designed is a designed height.
func designed(l measure.Length) Height { return Height{Of: measure.Exactly(l)} }

func TestLeastHeight(t *testing.T) {
	h := Height{Of: measure.AtLeast(4000 * mm)}
	if p := Pass(posted(6*measure.Metre), h, nil, DefaultAllowances(), june, term); p.Outcome != finding.Unknown {
		t.Errorf("high sign: %s", p.Outcome)
	}
	if p := Pass(posted(4*measure.Metre), h, nil, DefaultAllowances(), june, term); p.Outcome != finding.Forbidden {
		t.Errorf("low sign: %s", p.Outcome)
	}
}

// A taller rig, a lower sign or a larger allowance never gives a milder answer.
func TestMonotone(t *testing.T) {
	grave := map[finding.Outcome]int{finding.Clear: 0, finding.Unknown: 0, finding.Review: 1, finding.Forbidden: 2}
	rapid.Check(t, func(t *rapid.T) {
		l := func(name string) measure.Length {
			return measure.Length(rapid.Int64Range(3000, 6000).Draw(t, name)) * mm
		}
		sign, height, more := l("sign"), l("height"), measure.Length(rapid.Int64Range(0, 1000).Draw(t, "more"))*mm
		base := Pass(posted(sign), designed(height), nil, DefaultAllowances(), june, term)
		wide := DefaultAllowances()
		wide.Base += more
		for _, worse := range []Passage{
			Pass(posted(sign), designed(height+more), nil, DefaultAllowances(), june, term),
			Pass(posted(max(sign-more, 1)), designed(height), nil, DefaultAllowances(), june, term),
			Pass(posted(sign), designed(height), nil, wide, june, term),
		} {
			if grave[worse.Outcome] < grave[base.Outcome] {
				t.Fatalf("%s became %s", base.Outcome, worse.Outcome)
			}
		}
	})
}

const head = "id,name,lat,lon,road,direction,posted,measured,measured_on,sag_radius,status,source,section,source_year,read_on,note\n"

func TestReadCSV(t *testing.T) {
	got, err := ReadCSV([]byte(head + "a,Mill bridge,45.3,-75.1,417,E,4.3 m,\"14'0\"\"\",2026-05-01,,invented,made up,,,2026-11-25,\n"))
	if err != nil || len(got) != 1 || *got[0].Posted != 4300*mm || *got[0].Measured != 14*measure.Foot || !got[0].Invented() {
		t.Fatalf("got %+v, %v", got, err)
	}
}

func TestReadCSVRefuses(t *testing.T) {
	row := func(cells ...string) string { return head + strings.Join(cells, ",") + "\n" }
	for column, raw := range map[string]string{
		"posted":    row("a", "n", "45", "-75", "", "both", "4.3", "", "", "", "invented", "s", "", "", "", ""),
		"lat":       row("a", "n", "95", "-75", "", "both", "", "", "", "", "invented", "s", "", "", "", ""),
		"lon":       row("a", "n", "45", "NaN", "", "both", "", "", "", "", "invented", "s", "", "", "", ""),
		"direction": row("a", "n", "45", "-75", "", "up", "", "", "", "", "invented", "s", "", "", "", ""),
		"status":    row("a", "n", "45", "-75", "", "both", "", "", "", "", "sure", "s", "", "", "", ""),
		"source":    row("a", "n", "45", "-75", "", "both", "", "", "", "", "invented", "", "", "", "", ""),
		"read_on":   row("a", "n", "45", "-75", "", "both", "", "", "", "", "invented", "s", "", "", "yesterday", ""),
	} {
		_, err := ReadCSV([]byte(raw))
		var cell *rows.CellError
		if !errors.As(err, &cell) || cell.Column != column || cell.Line != 2 {
			t.Errorf("%s: %v", column, err)
		}
	}
	for _, raw := range []string{"", "id,name\n", head + "a,b\n"} {
		if _, err := ReadCSV([]byte(raw)); err == nil {
			t.Errorf("%q was read", raw)
		}
	}
}

func FuzzReadCSV(f *testing.F) {
	f.Add([]byte(head + "a,Mill bridge,45.3,-75.1,417,E,4.3 m,,,,invented,made up,,,2026-11-25,\n"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		got, err := ReadCSV(raw)
		for _, s := range got {
			if err == nil {
				Pass(s, designed(4*measure.Metre), nil, DefaultAllowances(), june, term)
			}
		}
	})
}
