package phrase

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"text/template/parse"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/clearance"
	"wayhouse/regs/duty"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/roads"
	"wayhouse/regs/say"
)

// Every remark that the code makes has a sentence in each language that uses its
// values and no others, and no sentence is without a remark.
func TestEveryRemarkHasASentence(t *testing.T) {
	made := remarks(t)
	for name, l := range map[string]*Language{"English": English(), "French": French()} {
		for code, uses := range made {
			sentence := l.sentences.Lookup(code)
			if sentence == nil {
				t.Errorf("%s: %s has no sentence (made at %s)", name, code, uses[0].at)
				continue
			}
			fields := map[string]bool{}
			fieldsOf(sentence.Root, fields)
			for _, use := range uses {
				for _, arg := range use.args {
					if !fields[arg] {
						t.Errorf("%s: the sentence of %s leaves out %q (made at %s)", name, code, arg, use.at)
					}
				}
				for field := range fields {
					if !slices.Contains(use.args, field) {
						t.Errorf("%s: the sentence of %s wants %q, which it is not given at %s", name, code, field, use.at)
					}
				}
			}
		}
		for _, sentence := range l.sentences.Templates() {
			file, isTerm := sentence.ParseName, strings.HasPrefix(sentence.ParseName, "words")
			if code := sentence.Name(); len(made[code]) == 0 && !isTerm && code != "" && !strings.HasSuffix(code, ".tmpl") {
				t.Errorf("%s: nothing says %s (%s)", name, code, file)
			}
		}
	}
}

// A use is one place at which a remark is made.
type use struct {
	at   string
	args []string
}

// remarks reads every call of say.That in the source.
func remarks(t *testing.T) map[string][]use {
	t.Helper()
	out := map[string][]use{}
	for _, file := range sources(t) {
		set := token.NewFileSet()
		tree, err := parser.ParseFile(set, file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || !isThat(call.Fun, tree.Name.Name) {
				return true
			}
			at := set.Position(call.Pos()).String()
			if name, ok := call.Args[0].(*ast.Ident); ok && tree.Name.Name == "say" && name.Name == "text" {
				return true // words that are not ours
			}
			u := use{at: at}
			for i, arg := range call.Args[1:] {
				if i%2 == 0 {
					u.args = append(u.args, literal(t, arg, at))
				}
			}
			if len(call.Args)%2 == 0 || call.Ellipsis.IsValid() {
				t.Errorf("%s: a value without a name", at)
			}
			code := literal(t, call.Args[0], at)
			out[code] = append(out[code], u)
			return true
		})
	}
	return out
}

// sources lists the Go files of the project that are no tests.
func sources(t *testing.T) (out []string) {
	t.Helper()
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, "_test.go") {
			out = append(out, path)
		}
		return err
	})
	if err != nil || len(out) < 100 {
		t.Fatalf("%d sources, %v", len(out), err)
	}
	return out
}

func isThat(f ast.Expr, within string) bool {
	if name, ok := f.(*ast.Ident); ok && within == "say" {
		return name.Name == "That"
	}
	s, ok := f.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	x, ok := s.X.(*ast.Ident)
	return ok && x.Name == "say" && s.Sel.Name == "That"
}

func literal(t *testing.T, e ast.Expr, at string) string {
	t.Helper()
	if l, ok := e.(*ast.BasicLit); ok && l.Kind == token.STRING {
		if s, err := strconv.Unquote(l.Value); err == nil {
			return s
		}
	}
	t.Errorf("%s: codes and names of values are literals", at)
	return ""
}

// fieldsOf collects the fields that a template uses.
func fieldsOf(n parse.Node, fields map[string]bool) {
	switch n := n.(type) {
	case *parse.ListNode:
		if n != nil {
			for _, one := range n.Nodes {
				fieldsOf(one, fields)
			}
		}
	case *parse.ActionNode:
		fieldsOf(n.Pipe, fields)
	case *parse.TemplateNode:
		fieldsOf(n.Pipe, fields)
	case *parse.IfNode:
		fieldsOf(&n.BranchNode, fields)
	case *parse.WithNode:
		fieldsOf(&n.BranchNode, fields)
	case *parse.RangeNode:
		fieldsOf(&n.BranchNode, fields)
	case *parse.BranchNode:
		fieldsOf(n.Pipe, fields)
		fieldsOf(n.List, fields)
		fieldsOf(n.ElseList, fields)
	case *parse.PipeNode:
		if n != nil {
			for _, c := range n.Cmds {
				for _, arg := range c.Args {
					fieldsOf(arg, fields)
				}
			}
		}
	case *parse.FieldNode:
		fields[n.Ident[0]] = true
	}
}

// Every word of ours that a remark may hold has one in the language.
func TestEveryTermHasAWord(t *testing.T) {
	for _, term := range slices.Concat(
		terms(limit.Quantities()), terms(append(limit.UnitKinds(), limit.All, limit.CommercialUse, limit.Building, limit.FarmEquipment)),
		terms([]limit.Use{limit.Commercial, limit.Private}), terms([]limit.Form{limit.Semitrailer, limit.Trailer}),
		terms(append(limit.TowVehicles(), limit.AnyTow)), terms(append(duty.Thresholds(), duty.AllHours)),
		terms(regs.Covers()), terms(append(finding.Bars(), finding.Forbidden, finding.Unknown)), terms([]finding.Reason{finding.Recalled, finding.SecondHand, finding.Stale, finding.Made}),
		terms([]clearance.PartOf{
			clearance.Posted, clearance.Measured, clearance.RigHeight, clearance.Base, clearance.Bounce, clearance.Snow, clearance.Sag, clearance.DesignedError,
			clearance.MeasuredError,
		}),
	) {
		if English().sentences.Lookup(string(term.Term())) == nil {
			t.Errorf("%s has no word", term.Term())
		}
	}
	for _, class := range roads.Classes() {
		if got, want := English().Say(roads.Road{Class: class}.Called()), "an unnumbered "+class; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if none := English().Term(limit.UseUnknown); none != "" {
		t.Errorf("a use that is not known is called %q", none)
	}
}

func terms[T say.Term](all []T) []say.Term {
	var out []say.Term
	for _, one := range all {
		out = append(out, one)
	}
	return out
}

// Values print the same way wherever they stand.
func TestValues(t *testing.T) {
	l := English()
	noon := time.Date(2027, time.June, 21, 12, 0, 0, 0, time.UTC)
	for _, tc := range []struct {
		r    say.Remark
		want string
	}{
		{say.Remark{}, ""},
		{say.Text("as the row says"), "as the row says"},
		{say.That("permit.size", "jurisdiction", say.Jurisdiction("CA-ON")), "oversize or overweight permit of CA-ON"},
		{say.That("place.turn_left", "spot", say.That("place.spot", "lat", 45.0, "lon", -76.1, "along", 2000*measure.Distance(1), "road", ""), "degrees", 119.6, "from", "a", "onto", "b"),
			"45.00000, -76.10000 after 2.0 km (1.2 mi), 120 degrees to the left from a onto b"},
		{say.That("place.spot", "lat", 45.0, "lon", -76.1, "along", 2000*measure.Distance(1), "road", "main"), "45.00000, -76.10000 after 2.0 km (1.2 mi), main"},
		{say.That("duty.no_row", "topics", terms(duty.Thresholds()), "where", say.Jurisdiction("CA-NL")), "the table has no row for licence, brakes, inspection in CA-NL"},
		{say.That("duty.hours_ask", "on", say.Each([]string{"if a", "if b"}), "demands", say.Each([]string{"c", "d"})), "if a, if b: c; d"},
		{say.That("hours.travel", "says", []say.Remark{
			say.That("hours.not_kept", "open", "Mo-Fr", "from", noon, "until", noon.Add(time.Hour)),
			say.That("hours.holidays", "days", []say.Remark{say.That("holiday.kept", "day", say.Day(noon), "names", []say.Remark{
				say.That("holiday.name", "name", "Midsummer", "moved", true, "status", "memory", "doubt", finding.Recalled),
				say.That("holiday.name", "name", "a feast", "moved", false, "status", "published", "doubt", finding.Reason("")),
			})}),
			{},
		}), "travel hours: Mo-Fr, not kept from 2027-06-21 12:00 UTC to 2027-06-21 13:00 UTC; 2027-06-21 is Midsummer (in lieu, from memory), a feast (published)"},
		{say.That("permit.number", "number", "7", "from", "", "to", say.Day(noon)), "permit 7, no first day is stated, to 2027-06-21"},
		{say.That("answer.says", "rule", "height", "by", "the county", "outcome", finding.Clear, "on", say.Day(noon), "condition", ""), "height: the county answered clear on 2027-06-21"},
		{say.That("answer.days", "days", say.That("days.between", "from", say.Day(noon), "to", say.Day(noon))), "if the rig is there while it holds from 2027-06-21 to 2027-06-21"},
		{clearance.Passage{
			Known: true, Margin: -measure.Metre / 2, Parts: []clearance.Part{{Of: clearance.Posted, Length: 4 * measure.Metre}, {Of: clearance.DesignedError, Length: measure.Metre / 20}},
		}.Sum(), "posted 4 m - height as designed 0.05 m = -0.5 m"},
		{say.That("passage.closed_some_days", "days", say.Remark{}), "closed, on some of the days on which the rig may come by"},
		{say.That("held.meant", "meant", []say.Term{limit.TinyHome, limit.Private}), "it is for another kind or use of rig: tiny home, private"},
		{say.That("no such code", "mass", 3*measure.Kilogram), "no such code(mass: 3 kg (≈ 7 lb))"},
	} {
		if got := l.Say(tc.r); got != tc.want {
			t.Errorf("%s: %q, want %q", tc.r, got, tc.want)
		}
	}
	if got := hours(7*time.Hour + 4*time.Minute + time.Second); got != "7 h 05 min" {
		t.Errorf("hours: %q", got)
	}
	if one, two := l.count(1, "corner", "corners"), l.count(2, "corner", "corners"); one != "1 corner" || two != "2 corners" {
		t.Errorf("%q, %q", one, two)
	}
	if got := l.All([]say.Remark{say.Text("a"), {}, say.Text("b")}); got != "a; b" {
		t.Errorf("all: %q", got)
	}
}

// What limits and their rows say reads well with few values and with many.
func TestLimitsInWords(t *testing.T) {
	l := English()
	run := limit.Group{First: 2, Last: 5, Spread: 35 * measure.Foot}
	row := limit.Row{Kind: limit.All, Form: limit.Semitrailer, Tows: limit.Tows{limit.Truck, limit.TruckTractor}}
	_, hangs := row.Match(limit.Subject{Form: limit.Semitrailer})
	driven := []roads.Road{{Refs: []string{"17"}}, {Name: "Main Street"}, {Class: "track"}, {}}
	words, _ := roads.Read("two_lane")
	some, _ := roads.Parse("class=trunk")
	for _, tc := range []struct {
		r    say.Remark
		want string
	}{
		{limit.Group{First: 3, Last: 3}.Name(), "axle 3"},
		{run.Name(), "axles 2 to 5, ≈ 10.67 m apart"},
		{hangs[0], "if the tow vehicle is a truck or a truck tractor"},
		{words.Doubt(nil), "on the roads the rule names: two-lane (which roads are driven is not known)"},
		{
			words.Doubt(driven),
			"on the roads the rule names: two-lane (whether they are among those driven is not known of 17, Main Street, an unnumbered track and 1 more)",
		},
		{
			some.Doubt(driven[:2]),
			"on the roads the rule names: class=trunk (whether they are among those driven is not known of 17, Main Street)",
		},
		{say.That("row.note", "note", "n", "met", ""), "note: n"},
		{say.That("row.note", "note", "", "met", "c"), "note: its condition is met by the tires as described: c"},
		{say.That("row.note", "note", "n", "met", "c"), "note: n; its condition is met by the tires as described: c"},
		{say.That("limit.beyond_one", "limit", "4 m", "hangs", hangs), "4 m, if the tow vehicle is a truck or a truck tractor"},
		{
			say.That("limit.beyond", "quantity", limit.Height, "value", finding.Of(5*measure.Metre).Least(), "limits", say.Each([]string{"4 m", "4.5 m"})),
			"height at least 5 m (≈ 16 ft 4 3/4 in) is beyond 4 m; 4.5 m",
		},
	} {
		if got := l.Say(tc.r); got != tc.want {
			t.Errorf("%s: %q, want %q", tc.r, got, tc.want)
		}
	}
}

// Every quantity of the tables has a word, and every one that a rig can have less
// of a word for that.
func TestWordsOfQuantities(t *testing.T) {
	less := map[limit.Quantity]string{
		limit.Height: "lower", limit.Width: "narrower", limit.TrailerLength: "shorter", limit.CombinationLength: "shorter",
		limit.SingleVehicleLength: "shorter", limit.GrossMass: "lighter", limit.FrontOverhang: "less", limit.RearOverhang: "less",
		limit.KingpinToRearAxle: "shorter",
	}
	for _, q := range limit.Quantities() {
		if word := English().Term(q); word == "" || word == string(q.Term()) {
			t.Errorf("%s: %q", q, word)
		}
		if !q.OfAxles() && English().Term(q.Less()) != less[q] {
			t.Errorf("less %s: %q, want %q", q, English().Term(q.Less()), less[q])
		}
	}
	if got := English().Say(say.That("limit.less", "by", finding.Of(120*measure.Millimetre), "how", limit.Height.Less())); got != "0.12 m (≈ 4 3/4 in) lower" {
		t.Errorf("%q", got)
	}
	if got := English().Quantity(finding.Of(4 * measure.Metre).Least()); got != "at least 4 m (≈ 13 ft 1 3/8 in)" {
		t.Errorf("%q", got)
	}
}
