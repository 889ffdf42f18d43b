package osm_test

import (
	"compress/bzip2"
	"context"
	"fmt"
	"io"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	planet "github.com/paulmach/osm"
	"github.com/paulmach/osm/osmpbf"
	"github.com/paulmach/osm/osmxml"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/osm"
	"wayhouse/testdata/extracts"
)

type quantity interface {
	measure.Length | measure.Mass | measure.Speed
}

// text is what a Note or a Likely must say: anything, nothing, something, or
// something with the given words.
type text struct {
	filled bool
	words  []string
	any    bool
}

var (
	whatever  = text{any: true}
	nothing   = text{}
	something = text{filled: true}
)

func saying(words ...string) text { return text{filled: true, words: words} }

func (w text) check(got string) error {
	switch {
	case w.any:
		return nil
	case w.filled != (got != ""):
		return fmt.Errorf("is %q; want it filled: %t", got, w.filled)
	}
	for _, word := range w.words {
		if !strings.Contains(got, word) {
			return fmt.Errorf("is %q; want %q in it", got, word)
		}
	}
	return nil
}

// want is a whole reading.
type want[T quantity] struct {
	value  T
	state  network.State
	note   text
	likely text
}

func known[T quantity](v T) want[T] { return want[T]{value: v, state: network.Known} }

// chosen is a known value that was picked among several readings.
func chosen[T quantity](v T) want[T] {
	return want[T]{value: v, state: network.Known, note: something}
}

func noFigure[T quantity]() want[T] { return want[T]{state: network.NoFigure} }

func unreadable[T quantity](likely text) want[T] {
	return want[T]{state: network.Unreadable, note: whatever, likely: likely}
}

// same compares lengths and masses exactly, speeds to a billionth of a m/s.
func same[T quantity](a, b T) bool {
	if v, ok := any(a).(measure.Speed); ok {
		return math.Abs(float64(v-any(b).(measure.Speed))) < 1e-9
	}
	return a == b
}

func check[T quantity](t *testing.T, value string, got osm.Reading[T], w want[T]) {
	t.Helper()
	if got.State != w.state {
		t.Errorf("%q: state %v, want %v (%+v)", value, got.State, w.state, got)
	}
	if !same(got.Value, w.value) {
		t.Errorf("%q: value %v, want %v", value, got.Value, w.value)
	}
	if err := w.note.check(got.Note); err != nil {
		t.Errorf("%q: note %v", value, err)
	}
	if err := w.likely.check(got.Likely); err != nil {
		t.Errorf("%q: likely %v", value, err)
	}
}

// found is one distinct value of a tag, the number of objects that carry it,
// and how it must read.
type found[T quantity] struct {
	key, value string
	objects    int
	want       want[T]
}

const (
	delaware = extracts.Delaware
	andorra  = "andorra-latest.osm.bz2"
)

// Every distinct height in the OpenStreetMap extracts of Delaware of
// 2016-08-10 and of Andorra with edits to 2018-03-01, ODbL, © OpenStreetMap contributors.
// Readings worked out by hand.
var heights = map[string][]found[measure.Length]{
	delaware: {
		{"maxheight", `12'8"`, 1, known(3_860_800_000 * measure.Nanometre)},  // 152 in
		{"maxheight", `13'2"`, 1, known(4_013_200_000 * measure.Nanometre)},  // 158 in
		{"maxheight", `13'5"`, 1, known(4_089_400_000 * measure.Nanometre)},  // 161 in
		{"maxheight", `13'7"`, 2, known(4_140_200_000 * measure.Nanometre)},  // 163 in
		{"maxheight", `13'10"`, 1, known(4_216_400_000 * measure.Nanometre)}, // 166 in
		{"maxheight", `14'0"`, 4, known(4_267_200_000 * measure.Nanometre)},  // 168 in
		{"maxheight", `14'2"`, 1, known(4_318_000_000 * measure.Nanometre)},  // 170 in
		{"maxheight", `14'4"`, 1, known(4_368_800_000 * measure.Nanometre)},  // 172 in

		{"maxheight:physical", "9 feet", 1, known(9 * measure.Foot)},
		{"maxheight:physical", "14 ft", 14, known(14 * measure.Foot)},
		{"maxheight:physical", "15.5 feet", 2, known(15*measure.Foot + 6*measure.Inch)},
	},
	andorra: {
		{"maxheight", "1.8", 1, known(1800 * measure.Millimetre)},
		{"maxheight", "4.3", 1, known(4300 * measure.Millimetre)},
	},
}

// Every distinct maxweight in the same extracts; ODbL, © OpenStreetMap
// contributors. A ton that is not named is the lightest, the short ton.
var masses = map[string][]found[measure.Mass]{
	delaware: {
		{"maxweight", "18 tons", 4, chosen(1_632_932_532_000 * measure.TenMicrograms)}, // 36 000 lb
		{"maxweight", "30 tons", 3, chosen(2_721_554_220_000 * measure.TenMicrograms)}, // 60 000 lb
	},
	andorra: {
		{"maxweight", "2.1", 1, known(2100 * measure.Kilogram)},
	},
}

// Every distinct maxspeed in the same extracts; ODbL, © OpenStreetMap
// contributors. 201 and 217 are on railways.
var speeds = map[string][]found[measure.Speed]{
	delaware: {
		{"maxspeed", "5", 1, known(5 * measure.KilometrePerHour)},
		{"maxspeed", "16", 13, known(16 * measure.KilometrePerHour)},
		{"maxspeed", "40", 2, known(40 * measure.KilometrePerHour)},
		{"maxspeed", "48", 4, known(48 * measure.KilometrePerHour)},
		{"maxspeed", "80", 46, known(80 * measure.KilometrePerHour)},
		{"maxspeed", "201", 27, known(201 * measure.KilometrePerHour)},
		{"maxspeed", "217", 16, known(217 * measure.KilometrePerHour)},
		{"maxspeed", "10 mph", 1, known(10 * measure.MilePerHour)},
		{"maxspeed", "15 mph", 19, known(15 * measure.MilePerHour)},
		{"maxspeed", "20 mph", 21, known(20 * measure.MilePerHour)},
		{"maxspeed", "25 mph", 147, known(25 * measure.MilePerHour)},
		{"maxspeed", "30 mph", 7, known(30 * measure.MilePerHour)},
		{"maxspeed", "35 mph", 148, known(35 * measure.MilePerHour)},
		{"maxspeed", "40 mph", 52, known(40 * measure.MilePerHour)},
		{"maxspeed", "45 mph", 45, known(45 * measure.MilePerHour)},
		{"maxspeed", "50 mph", 138, known(50 * measure.MilePerHour)},
		{"maxspeed", "55 mph", 190, known(55 * measure.MilePerHour)},
		{"maxspeed", "65 mph", 187, known(65 * measure.MilePerHour)},
	},
	andorra: {
		{"maxspeed", "10", 2, known(10 * measure.KilometrePerHour)},
		{"maxspeed", "20", 13, known(20 * measure.KilometrePerHour)},
		{"maxspeed", "30", 46, known(30 * measure.KilometrePerHour)},
		{"maxspeed", "40", 18, known(40 * measure.KilometrePerHour)},
		{"maxspeed", "50", 148, known(50 * measure.KilometrePerHour)},
		{"maxspeed", "60", 121, known(60 * measure.KilometrePerHour)},
		{"maxspeed", "70", 48, known(70 * measure.KilometrePerHour)},
		{"maxspeed", "80", 41, known(80 * measure.KilometrePerHour)},
		{"maxspeed", "90", 36, known(90 * measure.KilometrePerHour)},
	},
}

// The keys whose values the tables must cover. The extracts hold no maxwidth,
// maxlength or maxaxleload.
var covered = []string{"maxheight", "maxheight:physical", "maxweight", "maxwidth", "maxlength", "maxaxleload", "maxspeed"}

func TestExtractValues(t *testing.T) {
	each(t, heights, osm.ReadHeight)
	each(t, masses, osm.ReadMass)
	each(t, speeds, osm.ReadSpeed)
}

func each[T quantity](t *testing.T, tables map[string][]found[T], read func(string) osm.Reading[T]) {
	t.Helper()
	for _, rows := range tables {
		for _, f := range rows {
			check(t, f.value, read(f.value), f.want)
		}
	}
}

// The tables hold every distinct value of the extracts, with its number of
// objects, and no other.
func TestTablesCoverExtracts(t *testing.T) {
	if testing.Short() {
		t.Skip("reads two whole extracts")
	}
	dir := extracts.Real(t)
	for _, name := range []string{delaware, andorra} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			listed := map[string]int{}
			list(t, listed, heights[name])
			list(t, listed, masses[name])
			list(t, listed, speeds[name])
			present := tally(t, filepath.Join(dir, name))
			for _, tag := range slices.Sorted(maps.Keys(present)) {
				if listed[tag] != present[tag] {
					t.Errorf("%s: on %d objects, the tables say %d", tag, present[tag], listed[tag])
				}
			}
			for _, tag := range slices.Sorted(maps.Keys(listed)) {
				if present[tag] == 0 {
					t.Errorf("%s: in the tables, not in the extract", tag)
				}
			}
		})
	}
}

func list[T quantity](t *testing.T, listed map[string]int, rows []found[T]) {
	t.Helper()
	for _, f := range rows {
		tag := f.key + "=" + f.value
		if listed[tag] != 0 {
			t.Errorf("%s: twice in the tables", tag)
		}
		listed[tag] = f.objects
	}
}

// tally counts the objects for each "key=value" of the covered keys.
func tally(t *testing.T, path string) map[string]int {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	scan := reader(file, path)
	defer scan.Close()
	counts := map[string]int{}
	objects := 0
	for scan.Scan() {
		objects++
		for _, tag := range tags(scan.Object()) {
			if slices.Contains(covered, tag.Key) {
				counts[tag.Key+"="+tag.Value]++
			}
		}
	}
	if err := scan.Err(); err != nil {
		t.Fatal(err)
	}
	if objects < 200_000 {
		t.Fatalf("only %d objects in %s", objects, path)
	}
	return counts
}

func reader(r io.Reader, path string) planet.Scanner {
	if strings.HasSuffix(path, ".pbf") {
		return osmpbf.New(context.Background(), r, 2)
	}
	return osmxml.New(context.Background(), bzip2.NewReader(r))
}

func tags(o planet.Object) planet.Tags {
	switch o := o.(type) {
	case *planet.Node:
		return o.Tags
	case *planet.Way:
		return o.Tags
	case *planet.Relation:
		return o.Tags
	default:
		return nil
	}
}

type row[T quantity] struct {
	value string
	want  want[T]
}

func run[T quantity](t *testing.T, read func(string) osm.Reading[T], rows []row[T]) {
	t.Helper()
	for _, r := range rows {
		check(t, r.value, read(r.value), r.want)
	}
}

// Sources: OpenStreetMap wiki, Key:maxheight (3, 3 m, 3.8, 6'7", 13'1",
// 14'1") and Key:maxwidth (8'); the rest our own.
func TestReadHeight(t *testing.T) {
	run(t, osm.ReadHeight, []row[measure.Length]{
		{"3", known(3 * measure.Metre)},
		{"3 m", known(3 * measure.Metre)},
		{"3.8", known(3800 * measure.Millimetre)},
		{`6'7"`, known(2_006_600_000 * measure.Nanometre)},  // 79 in
		{`13'1"`, known(3_987_800_000 * measure.Nanometre)}, // 157 in
		{`14'1"`, known(4_292_600_000 * measure.Nanometre)}, // 169 in
		{"8'", known(8 * measure.Foot)},
		{"13'", known(13 * measure.Foot)},
		{"4.15", known(4150 * measure.Millimetre)},
		{"3.5 m", known(3500 * measure.Millimetre)},
		{"350 cm", known(3500 * measure.Millimetre)},
		{"13 ft", known(13 * measure.Foot)},
		{"12 feet", known(12 * measure.Foot)},
		{"13.5 ft", known(162 * measure.Inch)},
		{"13 ft 6 in", known(162 * measure.Inch)},
		{`13'11"`, known(167 * measure.Inch)},
	})
}

// Source: OpenStreetMap wiki, Key:maxheight (values that are no number) and
// Key:maxweight (unsigned).
func TestReadHeightWithoutFigure(t *testing.T) {
	for _, v := range []string{"default", "below_default", "no_indications", "no_sign", "none", "unsigned"} {
		check(t, v, osm.ReadHeight(v), noFigure[measure.Length]())
	}
}

func TestReadHeightUnreadable(t *testing.T) {
	run(t, osm.ReadHeight, []row[measure.Length]{
		{"abc", unreadable[measure.Length](nothing)},
		{"m", unreadable[measure.Length](whatever)},
		{"ft", unreadable[measure.Length](whatever)},
		{"'", unreadable[measure.Length](whatever)},
		{`"`, unreadable[measure.Length](whatever)},
		{".", unreadable[measure.Length](whatever)},
		{"4.3;3.8", unreadable[measure.Length](whatever)},
		{"4.3|3.8", unreadable[measure.Length](whatever)},
		{"4.3 - 4.5", unreadable[measure.Length](whatever)},
		{"4.3/3.8", unreadable[measure.Length](whatever)},
		{"4.3 3.8", unreadable[measure.Length](whatever)},
		{"4.3.2", unreadable[measure.Length](whatever)},
		{"4..3", unreadable[measure.Length](whatever)},
		{"~4.3", unreadable[measure.Length](whatever)},
		{">4.3", unreadable[measure.Length](whatever)},
		{"<4.3", unreadable[measure.Length](whatever)},
		{"ca. 4.3", unreadable[measure.Length](whatever)},
		{"4.3?", unreadable[measure.Length](whatever)},
		{"4.3 @ (Mo-Fr 07:00-09:00)", unreadable[measure.Length](whatever)},
		{"-4.3", unreadable[measure.Length](whatever)},
		{"0", unreadable[measure.Length](whatever)},
		{"4e0", unreadable[measure.Length](whatever)},
		{"0x4", unreadable[measure.Length](whatever)},
		{"NaN", unreadable[measure.Length](whatever)},
		{"Inf", unreadable[measure.Length](whatever)},
		{"4,300", unreadable[measure.Length](whatever)}, // 4.3 or 4300
		{"4.3 t", unreadable[measure.Length](whatever)},
		{"4.3 mph", unreadable[measure.Length](whatever)},
		{"4.3 yd", unreadable[measure.Length](whatever)},
		{"13 ft 6 ft", unreadable[measure.Length](whatever)},
		{"13 in 6 ft", unreadable[measure.Length](whatever)},
		{"13 ft 12 in", unreadable[measure.Length](whatever)},
		{`16'12"`, unreadable[measure.Length](whatever)},
		{`13'60"`, unreadable[measure.Length](whatever)},
		{`6"4'`, unreadable[measure.Length](whatever)},
		{`13'6'`, unreadable[measure.Length](whatever)},
		{`13'6"7`, unreadable[measure.Length](whatever)},
		{`13'-6`, unreadable[measure.Length](whatever)},
		{strings.Repeat("9", 10_000), unreadable[measure.Length](whatever)},
		{"4." + strings.Repeat("3", 10_000) + "x", unreadable[measure.Length](whatever)},

		// The wiki, Key:maxheight, asks for both marks.
		{`14'6`, unreadable[measure.Length](saying("14", "6"))},

		// Far outside what a sign says in metres; feet were meant.
		{"13", unreadable[measure.Length](saying("13", "ft"))},
		{"14", unreadable[measure.Length](saying("14", "ft"))},
		{"13.5", unreadable[measure.Length](saying("13.5", "ft"))},

		// The same range holds with a unit.
		{"13 m", unreadable[measure.Length](whatever)},
		{"4.3 ft", unreadable[measure.Length](whatever)},
		{"4.3 cm", unreadable[measure.Length](whatever)},
		{"4300 m", unreadable[measure.Length](whatever)},
		{"0.3", unreadable[measure.Length](whatever)},
		{`140'0"`, unreadable[measure.Length](whatever)},
	})
}

// An empty tag is no figure of any kind, whichever way that is said.
func TestReadEmpty(t *testing.T) {
	for _, v := range []string{"", " ", "\t"} {
		if got := osm.ReadHeight(v); got.State == network.Known || got.Value != 0 {
			t.Errorf("height %q: %+v", v, got)
		}
		if got := osm.ReadMass(v); got.State == network.Known || got.Value != 0 {
			t.Errorf("mass %q: %+v", v, got)
		}
		if got := osm.ReadSpeed(v); got.State == network.Known || got.Value != 0 {
			t.Errorf("speed %q: %+v", v, got)
		}
	}
}

// The ends of a plausible range are inside it.
func TestPlausibleRanges(t *testing.T) {
	run(t, osm.ReadHeight, []row[measure.Length]{
		{"1.5", known(1500 * measure.Millimetre)},
		{"1.49", unreadable[measure.Length](whatever)},
		{"6.5", known(6500 * measure.Millimetre)},
		{"6.51", unreadable[measure.Length](whatever)},
		{"650 cm", known(6500 * measure.Millimetre)},
		{"651 cm", unreadable[measure.Length](whatever)},
		{`4'11"`, unreadable[measure.Length](whatever)}, // 1.4986 m
		{`5'0"`, known(5 * measure.Foot)},
		{`21'3"`, known(255 * measure.Inch)},            // 6.477 m
		{`21'4"`, unreadable[measure.Length](whatever)}, // 6.5024 m
	})
	run(t, osm.ReadWidth, []row[measure.Length]{
		{"1.5", known(1500 * measure.Millimetre)},
		{"1.49", unreadable[measure.Length](whatever)},
		{"20", known(20 * measure.Metre)},
		{"20.1", unreadable[measure.Length](whatever)},
		{`4'11"`, unreadable[measure.Length](whatever)},
		{`65'7"`, known(787 * measure.Inch)},            // 19.9898 m
		{`65'8"`, unreadable[measure.Length](whatever)}, // 20.0152 m
	})
	run(t, osm.ReadLength, []row[measure.Length]{
		{"2", known(2 * measure.Metre)},
		{"1.99", unreadable[measure.Length](whatever)},
		{"60", known(60 * measure.Metre)},
		{"60.1", unreadable[measure.Length](whatever)},
		{"6 ft", unreadable[measure.Length](whatever)}, // 1.8288 m
		{"7 ft", known(7 * measure.Foot)},
		{"196 ft", known(196 * measure.Foot)},            // 59.7408 m
		{"197 ft", unreadable[measure.Length](whatever)}, // 60.0456 m
	})
	run(t, osm.ReadMass, []row[measure.Mass]{
		{"0.5", known(500 * measure.Kilogram)},
		{"0.49", unreadable[measure.Mass](whatever)},
		{"150", known(150 * measure.Tonne)},
		{"150.1", unreadable[measure.Mass](whatever)},
		{"500 kg", known(500 * measure.Kilogram)},
		{"499 kg", unreadable[measure.Mass](whatever)},
		{"1102 lbs", unreadable[measure.Mass](whatever)}, // 499.86 kg
		{"1103 lbs", known(1103 * measure.Pound)},        // 500.31 kg
		{"165 st", known(165 * measure.ShortTon)},        // 149.69 t
		{"166 st", unreadable[measure.Mass](whatever)},   // 150.59 t
	})
}

// Every height in whole inches reads exactly, or lies outside the range.
func TestReadHeightWholeInches(t *testing.T) {
	for n := 1; n <= 400; n++ {
		want := measure.Length(n) * measure.Inch
		inside := want >= 1500*measure.Millimetre && want <= 6500*measure.Millimetre
		feet, inches := strconv.Itoa(n/12), strconv.Itoa(n%12)
		for _, v := range []string{feet + "'" + inches + `"`, feet + " ft " + inches + " in"} {
			got := osm.ReadHeight(v)
			if known := got.State == network.Known; known != inside || known && got.Value != want {
				t.Errorf("%q: %+v, want %v, inside: %t", v, got, want, inside)
			}
		}
	}
}

// Every height in whole centimetres reads exactly, in metres and with a unit.
func TestReadHeightWholeCentimetres(t *testing.T) {
	for n := 1; n <= 999; n++ {
		want := measure.Length(n) * measure.Centimetre
		inside := n >= 150 && n <= 650
		metres := fmt.Sprintf("%d.%02d", n/100, n%100)
		for _, v := range []string{metres, metres + " m", strconv.Itoa(n) + " cm"} {
			got := osm.ReadHeight(v)
			if known := got.State == network.Known; known != inside || known && got.Value != want {
				t.Errorf("%q: %+v, want %v, inside: %t", v, got, want, inside)
			}
		}
	}
}

// Sources: OpenStreetMap wiki, Key:maxwidth (3, 3 m, 3.2, 6'7", 8') and Map
// Features/Units (12'5").
func TestReadWidth(t *testing.T) {
	run(t, osm.ReadWidth, []row[measure.Length]{
		{"3", known(3 * measure.Metre)},
		{"3 m", known(3 * measure.Metre)},
		{"3.2", known(3200 * measure.Millimetre)},
		{`6'7"`, known(79 * measure.Inch)},
		{"8'", known(8 * measure.Foot)},
		{`12'5"`, known(149 * measure.Inch)},
		{"8.5 ft", known(102 * measure.Inch)},
		{"none", noFigure[measure.Length]()},
		{"default", noFigure[measure.Length]()},
		{"abc", unreadable[measure.Length](nothing)},
		{"2.5;3", unreadable[measure.Length](whatever)},
		{"narrow", unreadable[measure.Length](nothing)},
		{"102", unreadable[measure.Length](whatever)}, // inches, perhaps
	})
}

// Source: units from the OpenStreetMap wiki, Map Features/Units; the figures
// our own.
func TestReadLength(t *testing.T) {
	run(t, osm.ReadLength, []row[measure.Length]{
		{"12", known(12 * measure.Metre)},
		{"18.75 m", known(18_750 * measure.Millimetre)},
		{`40'0"`, known(40 * measure.Foot)},
		{"40 ft", known(40 * measure.Foot)},
		{"65 feet", known(65 * measure.Foot)},
		{"none", noFigure[measure.Length]()},
		{"abc", unreadable[measure.Length](nothing)},
		{"10;12", unreadable[measure.Length](whatever)},
		{"0.012 km 3", unreadable[measure.Length](whatever)},
	})
}

// Sources: OpenStreetMap wiki, Map Features/Units (3.5, 3 t, kg), Key:maxweight
// (5.5, 8 st, 12 st, 16 st) and Key:maxaxleload (25100 lbs, 38200 lbs, 10400
// lbs, 4.6); the rest our own. st is the short ton there, not the stone.
func TestReadMass(t *testing.T) {
	run(t, osm.ReadMass, []row[measure.Mass]{
		{"3.5", known(3500 * measure.Kilogram)},
		{"5.5", known(5500 * measure.Kilogram)},
		{"4.6", known(4600 * measure.Kilogram)},
		{"3 t", known(3 * measure.Tonne)},
		{"7.5 t", known(7500 * measure.Kilogram)},
		{"3500 kg", known(3500 * measure.Kilogram)},
		{"8 st", known(725_747_792_000 * measure.TenMicrograms)},      // 16 000 lb
		{"10 st", known(907_184_740_000 * measure.TenMicrograms)},     // 20 000 lb
		{"12 st", known(1_088_621_688_000 * measure.TenMicrograms)},   // 24 000 lb
		{"16 st", known(1_451_495_584_000 * measure.TenMicrograms)},   // 32 000 lb
		{"7.5 st", known(680_388_555_000 * measure.TenMicrograms)},    // 15 000 lb
		{"10400 lbs", known(471_736_064_800 * measure.TenMicrograms)}, // 10 400 × 0.453 592 37 kg
		{"24000 lbs", known(24_000 * measure.Pound)},
		{"25100 lbs", known(25_100 * measure.Pound)},
		{"38200 lbs", known(38_200 * measure.Pound)},

		{"1 ton", chosen(measure.ShortTon)},
		{"10 tons", chosen(10 * measure.ShortTon)},
		{"7.5 tons", chosen(15_000 * measure.Pound)},
	})
}

// Source: OpenStreetMap wiki, Key:maxweight (unsigned, none); the other words
// as for heights.
func TestReadMassWithoutFigure(t *testing.T) {
	for _, v := range []string{"none", "unsigned", "default", "no_sign"} {
		check(t, v, osm.ReadMass(v), noFigure[measure.Mass]())
	}
}

func TestReadMassUnreadable(t *testing.T) {
	run(t, osm.ReadMass, []row[measure.Mass]{
		{"abc", unreadable[measure.Mass](nothing)},
		{"t", unreadable[measure.Mass](whatever)},
		{"tons", unreadable[measure.Mass](whatever)},
		{"3.5;7.5", unreadable[measure.Mass](whatever)},
		{"8 st; 12 st", unreadable[measure.Mass](whatever)},
		{"16 tons, 26 tons", unreadable[measure.Mass](whatever)},
		{"9.2 @ (axles=2)", unreadable[measure.Mass](whatever)},
		{"3.5-7.5", unreadable[measure.Mass](whatever)},
		{"-3.5", unreadable[measure.Mass](whatever)},
		{"0", unreadable[measure.Mass](whatever)},
		{"3.5 m", unreadable[measure.Mass](whatever)},
		{`3'5"`, unreadable[measure.Mass](whatever)},
		{"3.5 mph", unreadable[measure.Mass](whatever)},
		{"3e3 kg", unreadable[measure.Mass](whatever)},
		{"3,500", unreadable[measure.Mass](whatever)}, // 3.5 or 3500
		{"NaN t", unreadable[measure.Mass](whatever)},
		{strings.Repeat("9", 10_000) + " t", unreadable[measure.Mass](whatever)},
		{"3500", unreadable[measure.Mass](whatever)}, // kilograms, perhaps
		{"80000", unreadable[measure.Mass](whatever)},
		{"18 lbs", unreadable[measure.Mass](whatever)},
		{"18 kg", unreadable[measure.Mass](whatever)},
		{"36000 tons", unreadable[measure.Mass](whatever)},
	})
}

// Source: OpenStreetMap wiki, Key:maxspeed (60, 50 mph, 10 knots, signals,
// none, walk, RO:urban, DE:rural) and Map Features/Units (80 km/h).
func TestReadSpeed(t *testing.T) {
	run(t, osm.ReadSpeed, []row[measure.Speed]{
		{"60", known(measure.Speed(60.0 / 3.6))},
		{"80 km/h", known(measure.Speed(80.0 / 3.6))},
		{"50 mph", known(measure.Speed(22.352))},
		{"10 knots", known(measure.Speed(18_520.0 / 3600))}, // 1852 m an hour each
		{"signals", noFigure[measure.Speed]()},
		{"none", noFigure[measure.Speed]()},
		{"walk", noFigure[measure.Speed]()},
		{"RO:urban", noFigure[measure.Speed]()},
		{"DE:rural", noFigure[measure.Speed]()},
		{"abc", unreadable[measure.Speed](nothing)},
		{"mph", unreadable[measure.Speed](whatever)},
		{"50;30", unreadable[measure.Speed](whatever)},
		{"50|30", unreadable[measure.Speed](whatever)},
		{"50 @ (22:00-06:00)", unreadable[measure.Speed](whatever)},
		{"-50", unreadable[measure.Speed](whatever)},
		{"50 t", unreadable[measure.Speed](whatever)},
		{"50 ft", unreadable[measure.Speed](whatever)},
		{"5e1", unreadable[measure.Speed](whatever)},
		{"NaN", unreadable[measure.Speed](whatever)},
		{"Inf", unreadable[measure.Speed](whatever)},
		{strings.Repeat("9", 10_000), unreadable[measure.Speed](whatever)},
	})
}

// Spellings that the wiki discourages: they may be refused, but a reading must
// be the right one. Source: OpenStreetMap wiki, Map Features/Units (long
// names, kph, a missing space, a decimal comma); the rest our own.
func TestLooseSpellings(t *testing.T) {
	loose(t, osm.ReadHeight, map[string]measure.Length{
		"4,3":              4300 * measure.Millimetre,
		"4,3 m":            4300 * measure.Millimetre,
		"3.5m":             3500 * measure.Millimetre,
		" 4.3 ":            4300 * measure.Millimetre,
		"4.3 M":            4300 * measure.Millimetre,
		"4.3 metres":       4300 * measure.Millimetre,
		"4.3 meters":       4300 * measure.Millimetre,
		"4300 mm":          4300 * measure.Millimetre,
		"14ft":             14 * measure.Foot,
		"14 FT":            14 * measure.Foot,
		"14 foot":          14 * measure.Foot,
		`14' 6"`:           174 * measure.Inch,
		`14'-6"`:           174 * measure.Inch,
		"14’6”":            174 * measure.Inch,
		"14′6″":            174 * measure.Inch,
		"14'6''":           174 * measure.Inch,
		`13'6.5"`:          162*measure.Inch + measure.Inch/2,
		"13 feet 6 inches": 162 * measure.Inch,
		"13ft6in":          162 * measure.Inch,
		"162 in":           162 * measure.Inch,
		`162"`:             162 * measure.Inch,
	})
	loose(t, osm.ReadMass, map[string]measure.Mass{
		"3,5":        3500 * measure.Kilogram,
		"3.5t":       3500 * measure.Kilogram,
		"7.5 tonnes": 7500 * measure.Kilogram,
		"24,000 lbs": 24_000 * measure.Pound,
		"24000 lb":   24_000 * measure.Pound,
		"24000lbs":   24_000 * measure.Pound,
		"10 Tons":    10 * measure.ShortTon,
	})
	loose(t, osm.ReadSpeed, map[string]measure.Speed{
		"50 kph":  50 * measure.KilometrePerHour,
		"50 kmph": 50 * measure.KilometrePerHour,
		"50 kmh":  50 * measure.KilometrePerHour,
		"50mph":   50 * measure.MilePerHour,
		"50 MPH":  50 * measure.MilePerHour,
	})
}

func loose[T quantity](t *testing.T, read func(string) osm.Reading[T], rows map[string]T) {
	t.Helper()
	for v, value := range rows {
		switch got := read(v); got.State {
		case network.Known:
			if !same(got.Value, value) {
				t.Errorf("%q: %v, want %v or none", v, got.Value, value)
			}
		case network.Unreadable:
			if got.Value != 0 {
				t.Errorf("%q: a value without being known: %+v", v, got)
			}
		default:
			t.Errorf("%q: state %v, want known or unreadable", v, got.State)
		}
	}
}

// sound fails where a reading breaks what any reading promises.
func sound[T measure.Length | measure.Mass](t *testing.T, text string, got osm.Reading[T], low, high T) {
	t.Helper()
	switch got.State {
	case network.Known:
		if got.Value < low || got.Value > high {
			t.Errorf("%q: %v is outside %v to %v", text, got.Value, low, high)
		}
		if !strings.ContainsAny(text, "0123456789") {
			t.Errorf("%q: %v without a digit", text, got.Value)
		}
	case network.Absent, network.NoFigure, network.Unreadable:
		if got.Value != 0 {
			t.Errorf("%q: a value without being known: %+v", text, got)
		}
	default:
		t.Errorf("%q: state %v", text, got.State)
	}
	if got.Likely != "" && got.State != network.Unreadable {
		t.Errorf("%q: a guess for what is readable: %+v", text, got)
	}
	if strings.ContainsAny(text, ";|@") && got.State == network.Known {
		t.Errorf("%q: one value out of several: %+v", text, got)
	}
}

func FuzzReadHeight(f *testing.F) {
	for _, rows := range heights {
		for _, r := range rows {
			f.Add(r.value)
		}
	}
	for _, v := range []string{"", "default", "below_default", "4,3", "4,300", "13", `16'12"`, `6"4'`, "14'6", "13 ft 6 in", "350 cm", "4.3;3.8", "-1", "1e9", "14′6″", "\xff'\x00", "99999999999999999999 m", "4.00000000000000001"} {
		f.Add(v)
	}
	f.Fuzz(func(t *testing.T, text string) {
		sound(t, text, osm.ReadHeight(text), 1500*measure.Millimetre, 6500*measure.Millimetre)
		sound(t, text, osm.ReadWidth(text), 1500*measure.Millimetre, 20*measure.Metre)
		sound(t, text, osm.ReadLength(text), 2*measure.Metre, 60*measure.Metre)
	})
}

func FuzzReadMass(f *testing.F) {
	for _, rows := range masses {
		for _, r := range rows {
			f.Add(r.value)
		}
	}
	for _, v := range []string{"", "none", "unsigned", "3,5", "3,500", "7.5 t", "10 st", "24000 lbs", "24,000 lbs", "3500 kg", "3500", "1 ton", "3.5;7.5", "9.2 @ (axles=2)", "-1", "1e9 t", "\xfft", "99999999999999999999 t", "0.000000000001 t"} {
		f.Add(v)
	}
	f.Fuzz(func(t *testing.T, text string) {
		sound(t, text, osm.ReadMass(text), 500*measure.Kilogram, 150*measure.Tonne)
	})
}
