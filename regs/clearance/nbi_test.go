package clearance

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// place is where an item stands in a record, columns counted from 1.
type place struct{ first, last int }

// layout is the record of the inventory (Federal Highway Administration, NBI
// Record Format, fhwa.dot.gov/bridge/nbi/format.cfm: items 1 to 17 SEEN in a
// stored copy of the page; items 41 to 90 second-hand, from a public program
// that lists appendix E of the Recording and Coding Guide, FHWA-PD-96-001,
// 1995; the widths of the items between add up to the same columns). It is written down apart from the reader, so that a slip of a column
// in either shows.
var layout = map[string]place{
	"1": {1, 3}, "8": {4, 18}, "5A": {19, 19}, "5B": {20, 20}, "5D": {22, 26}, "6A": {38, 61}, "7": {63, 80}, "10": {106, 109},
	"16": {130, 137}, "17": {138, 146}, "41": {199, 199}, "47": {215, 217}, "51": {235, 238}, "53": {243, 246}, "54A": {247, 247}, "54B": {248, 251}, "70": {275, 275}, "90": {287, 290},
}

// recordLength is that of the guide of 1995; the page of the format says 445
// for what is submitted now. What follows column 290 is not read.
const recordLength = 432

// overpass is an invented bridge of New York that carries US 9 over Interstate
// 87: nothing above it, 4.42 m below, 12 m wide, open, not posted, inspected in June 2026.
var overpass = map[string]string{
	"1": "362", "8": "000000001012340", "5A": "1", "5B": "2", "5D": "00009", "6A": "'I-87 NORTHWAY          ", "7": "US 9              ", "10": "9999",
	"16": "42450000", "17": "073503600", "41": "A", "53": "9999", "54A": "H", "54B": "0442", "70": "5",
	"47": "120", "51": "0120", "90": "0626",
}

// record writes a record of the inventory. Columns that are not read are full
// of Z.
func record(t testing.TB, items map[string]string, change ...string) []byte {
	t.Helper()
	line := bytes.Repeat([]byte("Z"), recordLength)
	set := func(item, value string) {
		p, ok := layout[item]
		if !ok || len(value) != p.last-p.first+1 {
			t.Fatalf("item %s is %d columns wide, not %q", item, p.last-p.first+1, value)
		}
		copy(line[p.first-1:], value)
	}
	for item, value := range items {
		set(item, value)
	}
	for i := 0; i < len(change); i += 2 {
		set(change[i], change[i+1])
	}
	return append(line, '\n')
}

var about = Inventory{Year: "2026", ReadOn: time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC)}

// takenFrom reads records and the rows that they make, which must be rows of
// the table of clearances.
func takenFrom(t testing.TB, records ...[]byte) (Taken, []Structure) {
	t.Helper()
	taken, err := ReadInventory(bytes.Join(records, nil), about)
	if err != nil {
		t.Fatal(err)
	}
	all, err := Structures().Rows(taken.Records)
	if err != nil {
		t.Fatal(err)
	}
	return taken, all
}

// ofGrade finds the row of a grade.
func ofGrade(all []Structure, g Grade) (Structure, bool) {
	i := slices.IndexFunc(all, func(s Structure) bool { return s.Grade == g })
	if i < 0 {
		return Structure{}, false
	}
	return all[i], true
}

func TestInventoryRecord(t *testing.T) {
	taken, all := takenFrom(t, record(t, overpass))
	if taken.Bridges != 1 || taken.Measured != 1 || taken.Silent != 0 || taken.Nowhere != 0 || len(all) != 1 {
		t.Fatalf("taken %+v", taken)
	}
	s := all[0]
	if s.ID != "nbi-362-000000001012340-under" || s.Name != "US 9 over I-87 NORTHWAY" || s.Road != "I 87" || s.Direction != "both" || s.Grade != Under ||
		*s.Measured != 4420*mm || s.Posted != nil || s.Status != finding.Published || s.Year != "2026" || !s.ReadOn.Equal(about.ReadOn) ||
		s.Source != "National Bridge Inventory, Federal Highway Administration" || s.Section != "structure 000000001012340, item 54" || s.Closed || s.Words != "" {
		t.Errorf("read %+v", s)
	}
	// 42 degrees 45 minutes north, 73 degrees 50 minutes 36 seconds west
	if !near(s.Point.Lat(), 42.75) || !near(s.Point.Lon(), -73.843333) {
		t.Errorf("it stands at %v", s.Point)
	}
	// Both roads limited.
	_, all = takenFrom(t, record(t, overpass, "53", "0450", "10", "0460"))
	on, _ := ofGrade(all, On)
	under, _ := ofGrade(all, Under)
	if len(all) != 2 || *on.Measured != 4500*mm || on.Road != "US 9" || on.ID != "nbi-362-000000001012340-on" || *under.Measured != 4420*mm || on.Point != under.Point {
		t.Errorf("read %+v", all)
	}
}

func near(a, b float64) bool { return a-b < 2e-6 && b-a < 2e-6 }

// Items 10 and 53 speak of the road on the bridge; the lower one binds. 9999
// limits nothing; zeros and blanks say nothing, and that is not the same. Item
// 10 is measured where it is highest, so what rests on it alone a person reads.
func TestInventoryHeightsOnTheBridge(t *testing.T) {
	const (
		silent = "the height over the bridge is not reported"
		strip  = "measured over the strip of 10 ft where it is highest: other lanes are lower"
	)
	for _, tc := range []struct {
		ten, fiftyThree string
		want            measure.Length // 0: no figure
		words           string
		row             bool
	}{
		{"9999", "9999", 0, "", false},
		{"9999", "0450", 4500 * mm, "", true},
		{"0450", "9999", 4500 * mm, strip, true},
		{"0450", "0430", 4300 * mm, "", true},
		{"0430", "0450", 4300 * mm, strip, true},
		{"0450", "0450", 4500 * mm, "", true}, // item 53 says it too
		{"0450", "0000", 4500 * mm, strip, true},
		{"    ", "0450", 4500 * mm, "", true},
		{"9999", "0000", 0, "", false},
		{"0000", "0000", 0, silent, true},
		{"    ", "    ", 0, silent, true},
		{"N   ", "00X0", 0, silent, true},
		{"-450", "0000", 0, silent, true},
		{"0999", "9999", 9990 * mm, strip, true},
		{"0150", "9999", 1500 * mm, strip, true},
	} {
		taken, all := takenFrom(t, record(t, overpass, "10", tc.ten, "53", tc.fiftyThree, "54A", "N", "54B", "0000"))
		on, ok := ofGrade(all, On)
		if ok != tc.row || taken.Silent == len(all) {
			t.Errorf("%q, %q: a row %v, taken %+v", tc.ten, tc.fiftyThree, ok, taken)
			continue
		}
		if !ok {
			continue
		}
		if (on.Measured == nil) != (tc.want == 0) || on.Measured != nil && *on.Measured != tc.want || on.Words != tc.words {
			t.Errorf("%q, %q: %v, %q; want %v, %q", tc.ten, tc.fiftyThree, on.Measured, on.Words, tc.want, tc.words)
		}
		if p, _ := Through(on, readCase()); tc.words == strip && tc.want > 4*measure.Metre && p.Outcome != finding.Review || tc.want > 0 && tc.want < 4*measure.Metre && p.Outcome != finding.Forbidden {
			t.Errorf("%q, %q: %s", tc.ten, tc.fiftyThree, p.Outcome)
		}
	}
}

// readCase is the plain rig in the week after the inventory was read.
func readCase() Case {
	return plainCase(func(c *Case) { c.From, c.Until = about.ReadOn, about.ReadOn.AddDate(0, 0, 7) })
}

// Item 54 speaks of the road under the bridge where 54A says that it is one (H);
// under R and N no road passes. Any other code, and none, is not understood: the
// structure is there, what it is over is not known, and it neither clears nor shuts.
// (H, R and N are the codes of the guide; second-hand, from two public programs
// that check them.)
func TestInventoryHeightUnderTheBridge(t *testing.T) {
	for _, tc := range []struct {
		ref, height string
		want        measure.Length // 0: no figure
		row         bool
		words       string
		passes      finding.Outcome // of a rig of 4 m
	}{
		{"H", "0442", 4420 * mm, true, "", finding.Clear}, {"H", "0399", 3990 * mm, true, "", finding.Forbidden}, {"H", "9999", 0, false, "", ""},
		{"H", "0000", 0, true, "", finding.Unknown}, {"H", "    ", 0, true, "", finding.Unknown}, {"H", "ABCD", 0, true, "", finding.Unknown},
		{"R", "0642", 0, false, "", ""}, {"N", "0000", 0, false, "", ""}, {"N", "0442", 0, false, "", ""},
		{" ", "0442", 4420 * mm, true, "", finding.Unknown}, {"X", "0442", 4420 * mm, true, "", finding.Unknown}, {"h", "0442", 4420 * mm, true, "", finding.Unknown},
		{" ", "0399", 3990 * mm, true, "", finding.Review}, {"X", "0399", 3990 * mm, true, "", finding.Review},
		{" ", "9999", 0, true, "", finding.Unknown}, {" ", "0000", 0, true, "", finding.Unknown}, {" ", "    ", 0, true, "", finding.Unknown}, {"0", "9999", 0, true, "", finding.Unknown},
	} {
		taken, all := takenFrom(t, record(t, overpass, "54A", tc.ref, "54B", tc.height))
		under, ok := ofGrade(all, Under)
		if ok != tc.row || ok && ((under.Measured == nil) != (tc.want == 0) || under.Measured != nil && *under.Measured != tc.want || under.Words != tc.words) {
			t.Errorf("%q %q: a row %v, %+v", tc.ref, tc.height, ok, under)
		}
		if (taken.Silent == 1) == ok || (taken.Measured == 1) != (tc.want != 0) {
			t.Errorf("%q %q: taken %+v", tc.ref, tc.height, taken)
		}
		if p, _ := Through(under, readCase()); ok && p.Outcome != tc.passes { // there, and not measured: it must not read as clear
			t.Errorf("%q %q: %s", tc.ref, tc.height, p.Outcome)
		}
	}
}

// Items 41 and 70 say what a bridge carries (the codes are from memory of the
// guide of 1995). There are no tonnes in either: a person must read the sign.
func TestInventoryLoads(t *testing.T) {
	for _, tc := range []struct {
		open, posting string
		want          finding.Outcome // "" for no row
		says          string
	}{
		{"A", "5", "", ""},
		{"A", "N", "", ""},
		{"K", "5", finding.Forbidden, ""},
		{"G", "5", finding.Forbidden, ""},
		{"P", "5", finding.Review, "posted for load"},
		{"P", "0", finding.Review, "class 0"},
		{"A", "4", finding.Review, "class 4"},
		{"B", "5", finding.Review, "recommended"},
		{"D", "5", finding.Review, "shoring"},
		{"E", "5", finding.Review, "temporary"},
		{"R", "5", finding.Review, "something else"},
		{" ", "5", finding.Review, "whether it is open or posted is not reported"},
	} {
		_, all := takenFrom(t, record(t, overpass, "41", tc.open, "70", tc.posting))
		on, ok := ofGrade(all, On)
		if ok != (tc.want != "") {
			t.Errorf("%s %s: a row %v", tc.open, tc.posting, ok)
			continue
		}
		if !ok {
			continue
		}
		c := plainCase(noMass)
		c.From, c.Until = about.ReadOn, about.ReadOn.AddDate(0, 0, 7)
		if p, _ := Through(on, c); p.Outcome != tc.want || !strings.Contains(strings.Join(say.Strings(p.Others), "; "), tc.says) {
			t.Errorf("%s %s: %s, %q; want %s", tc.open, tc.posting, p.Outcome, p.Others, tc.want)
		}
		if on.Mass != nil {
			t.Errorf("%s %s: a mass that no item states: %v", tc.open, tc.posting, on.Mass)
		}
		if under, ok := ofGrade(all, Under); !ok || under.Closed || under.Words != "" {
			t.Errorf("%s %s: what the bridge carries is no matter of the road below: %+v", tc.open, tc.posting, under)
		}
	}
}

// A record of a road under the bridge (5A: 2, or A to Z of several) speaks of
// item 10 of that road alone.
func TestInventoryUnderRecords(t *testing.T) {
	for _, kind := range []string{"2", "A", "B", "Z"} {
		_, all := takenFrom(t, record(t, overpass, "5A", kind, "5B", "1", "5D", "00087", "10", "0435", "41", "K", "53", "0300", "70", "0"))
		if len(all) != 1 || all[0].Grade != Under || *all[0].Measured != 4350*mm || all[0].Road != "I 87" || all[0].Closed || all[0].Words != "measured over the strip of 10 ft where it is highest: other lanes are lower" || all[0].ID != "nbi-362-000000001012340-under-"+kind {
			t.Errorf("5A %s: %+v", kind, all)
			continue
		}
		if p, _ := Through(all[0], readCase()); p.Outcome != finding.Review {
			t.Errorf("5A %s: %s by a height of other lanes", kind, p.Outcome)
		}
	}
	for height, want := range map[string]int{"9999": 0, "0000": 1, "    ": 1} {
		_, all := takenFrom(t, record(t, overpass, "5A", "2", "10", height))
		if len(all) != want || want == 1 && all[0].Measured != nil {
			t.Errorf("item 10 %q: %+v", height, all)
		}
	}
	// The record of the bridge and that of the road below it make rows of their
	// own, and both bind.
	taken, all := takenFrom(t, record(t, overpass, "53", "0450"), record(t, overpass, "5A", "2", "5B", "1", "5D", "00087", "10", "0430"))
	var ids []string
	for _, s := range all {
		ids = append(ids, s.ID)
	}
	want := []string{"nbi-362-000000001012340-on", "nbi-362-000000001012340-under", "nbi-362-000000001012340-under-2"}
	if taken.Bridges != 2 || taken.Measured != 3 || !cmp.Equal(ids, want) {
		t.Errorf("%d records, %d measured: %v, want %v", taken.Bridges, taken.Measured, ids, want)
	}
	// A bridge that a file holds twice is not lost.
	_, all = takenFrom(t, record(t, overpass), record(t, overpass, "54B", "0400"))
	if len(all) != 2 || all[0].ID == all[1].ID || *all[1].Measured != 4000*mm {
		t.Errorf("the same number twice: %+v", all)
	}
	ids = nil
	_, all = takenFrom(t, record(t, overpass), record(t, overpass), record(t, overpass))
	for _, s := range all {
		ids = append(ids, strings.TrimPrefix(s.ID, "nbi-362-000000001012340-"))
	}
	if !cmp.Equal(ids, []string{"under", "under.2", "under.3"}) {
		t.Errorf("three times: %v", ids)
	}
}

// What an id may not hold is written otherwise in it; numbers that then look
// alike stay apart.
func TestInventoryNumbers(t *testing.T) {
	_, all := takenFrom(t, record(t, overpass, "8", "  1/2 34-5     "), record(t, overpass, "8", "  1_2_34-5     "))
	if len(all) != 2 || all[0].ID != "nbi-362-1_2_34-5-under" || all[1].ID != "nbi-362-1_2_34-5-under.2" || all[0].Section != "structure 1/2 34-5, item 54" {
		t.Errorf("%+v", all)
	}
}

// A record of a road under the bridge that gives no height has nothing that was
// measured anywhere: what it is like there is not known.
func TestInventoryUnderRecordsWithoutHeight(t *testing.T) {
	for _, height := range []string{"0000", "    "} {
		_, all := takenFrom(t, record(t, overpass, "5A", "2", "10", height))
		if p, _ := Through(all[0], readCase()); strings.Contains(all[0].Words, "measured over") || p.Outcome != finding.Unknown {
			t.Errorf("item 10 %q: %s, %q", height, p.Outcome, all[0].Words)
		}
	}
}

// The number of a road, by the prefix of item 5B; of a county or a city it is
// none that a map has.
func TestInventoryRoads(t *testing.T) {
	for _, tc := range []struct{ state, prefix, number, want string }{
		{"362", "1", "00087", "I 87"}, {"362", "2", "00009", "US 9"}, {"362", "3", "00032", "NY 32"}, {"420", "3", "00611", "PA 611"}, {"063", "3", "00001", "CA 1"},
		{"996", "3", "00012", "12"}, {"362", "4", "00012", "TOWN ROAD"}, {"362", "5", "00012", "TOWN ROAD"}, {"362", "3", "00000", "TOWN ROAD"}, {"362", "2", "0009W", "US 9W"},
	} {
		_, all := takenFrom(t, record(t, overpass, "1", tc.state, "5B", tc.prefix, "5D", tc.number, "7", "TOWN ROAD         ", "53", "0450"))
		if on, _ := ofGrade(all, On); on.Road != tc.want {
			t.Errorf("%s %s %s: %q, want %q", tc.state, tc.prefix, tc.number, on.Road, tc.want)
		}
	}
	for text, want := range map[string]string{
		"'I-87'": "I 87", "I 87 NB": "I 87", "INTERSTATE 87": "I 87", "US 9": "US 9", "US RT 9": "US 9", "US-9": "US 9", "U.S. 9": "US 9",
		"MILL STREET": "MILL STREET", "'MILL  STREET   '": "MILL STREET", "CR 12": "CR 12", "NY 32": "NY 32",
	} {
		_, all := takenFrom(t, record(t, overpass, "6A", fmt.Sprintf("%-24s", text)))
		if under, _ := ofGrade(all, Under); under.Road != want {
			t.Errorf("%q: %q, want %q", text, under.Road, want)
		}
	}
}

// Degrees, minutes, seconds and hundredths; west is positive in the file. Where
// there is no point the row has none, and it is counted.
func TestInventoryPlaces(t *testing.T) {
	for _, tc := range []struct {
		lat, lon string
		north    float64
		east     float64
	}{
		{"42450000", "073503600", 42.75, -73.843333},
		{"19435959", "155053030", 19.733219, -155.091750},
		{"64501234", "147430000", 64.836761, -147.716667},
		{"30000001", "090000001", 30.000003, -90.000003},
	} {
		_, all := takenFrom(t, record(t, overpass, "16", tc.lat, "17", tc.lon))
		if p := all[0].Point; !near(p.Lat(), tc.north) || !near(p.Lon(), tc.east) {
			t.Errorf("%s %s: %v", tc.lat, tc.lon, p)
		}
	}
	for _, tc := range [][2]string{
		{"00000000", "000000000"}, {"        ", "         "}, {"42450000", "000000000"}, {"00000000", "073503600"}, {"42450000", "         "},
		{"42600000", "073503600"}, {"42456000", "073503600"}, {"4245N000", "073503600"}, {" 2450000", "073503600"}, {"42450000", "-73503600"}, {"42450000", "07350360 "},
		{"95000000", "073503600"}, {"90000001", "073503600"}, {"42450000", "473503600"}, {"42450000", "180000001"}, // off the globe
	} {
		if taken, all := takenFrom(t, record(t, overpass, "16", tc[0], "17", tc[1])); len(all) != 1 || !all[0].Unplaced || taken.Nowhere != 1 || taken.Bridges != 1 {
			t.Errorf("%q %q: %d rows", tc[0], tc[1], len(all))
		}
	}
}

func TestInventoryLines(t *testing.T) {
	good := record(t, overpass)
	short := good[:len(good)-1]
	for name, raw := range map[string][]byte{
		"with a line end": good, "without": short, "of Windows": append(slices.Clone(short), "\r\n"...), "with a last mark": append(slices.Clone(good), 0x1a),
		"445 columns": append(append(slices.Clone(short), "0123456789012"...), '\n'), "as short as what is read": append(slices.Clone(good[:leastWidth]), '\n'),
	} {
		if taken, err := ReadInventory(raw, about); err != nil || len(taken.Records) != 1 {
			t.Errorf("%s: %+v, %v", name, taken, err)
		}
	}
	for name, tc := range map[string]struct {
		raw  []byte
		says string
	}{
		"empty":           {nil, "inventory_columns(line: 1, columns: 0"},
		"a short line":    {slices.Concat(good, good[:200], []byte("\n"), good), "inventory_columns(line: 2, columns: 200"},
		"an empty line":   {slices.Concat(good, []byte("\n"), good), "inventory_columns(line: 2, columns: 0"},
		"no number":       {slices.Concat(good, record(t, overpass, "8", strings.Repeat(" ", 15))), "inventory_record(line: 2)"},
		"no kind":         {slices.Concat(good, good, record(t, overpass, "5A", " ")), "inventory_record(line: 3)"},
		"another format":  {[]byte("STATE_CODE_001,STRUCTURE_NUMBER_008,RECORD_TYPE_005A\n36,1,1\n"), "inventory_columns(line: 1"},
		"one column less": {good[1:leastWidth], "inventory_columns(line: 1, columns: 289"},
	} {
		taken, err := ReadInventory(tc.raw, about)
		if err == nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: %+v, %v; want %q", name, taken, err, tc.says)
		}
	}
}

// Whatever a file holds, it is read or refused with the number of a line.
func FuzzInventory(f *testing.F) {
	f.Add(record(f, overpass))
	f.Add(slices.Concat(record(f, overpass, "5A", "A", "10", "0000"), record(f, overpass, "41", "K", "70", "2")))
	f.Add(record(f, overpass, "16", "        ", "54B", "9999"))
	f.Add([]byte("STATE_CODE_001,STRUCTURE_NUMBER_008\n"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		taken, err := ReadInventory(raw, about)
		if err != nil {
			if !strings.Contains(err.Error(), "(line: ") {
				t.Fatalf("no line is named: %v", err)
			}
			return
		}
		if taken.Bridges < max(taken.Nowhere, taken.Silent) || taken.Measured > len(taken.Records) || len(taken.Records) > 8*taken.Bridges {
			t.Fatalf("it does not add up: %+v", taken)
		}
		ids := map[string]bool{}
		for _, r := range taken.Records {
			if ids[r[0]] {
				t.Fatalf("two rows are called %s", r[0])
			}
			ids[r[0]] = true
			// The table refuses a place off the globe, and nothing else.
			if _, err := Structures().Row(1, r); err != nil && !strings.Contains(err.Error(), "error.no_degrees") {
				t.Fatal(err)
			}
		}
	})
}

// The guide of 1995 codes metres with two decimals; a file, or a State, that writes
// feet and inches as the edition before did makes 13.06 m of 13 ft 6 in. Such a
// height, one of 30 m and more (9999 by the guide) and one that no road has are not
// believed: the structure is there and unmeasured, and the row says what was coded.
func TestInventoryHeightsThatNoRoadHas(t *testing.T) {
	for _, code := range []string{"1306", "1400", "1000", "3050", "9998", "0149", "0005"} {
		_, all := takenFrom(t, record(t, overpass, "54B", code))
		if p, _ := Through(all[0], readCase()); len(all) != 1 || all[0].Measured != nil || p.Outcome != finding.Unknown || !strings.Contains(p.Why.String(), "item 54 says "+code[:2][strings.Count(code[:1], "0"):]) {
			t.Errorf("54B %s: %s, %q: %+v", code, p.Outcome, p.Why, all)
		}
		// On the bridge nothing else that is known, such as its width, clears it.
		for _, items := range [][]string{{"10", code}, {"53", code}, {"10", code, "53", code}, {"53", code, "10", "0000"}, {"53", code, "51", "0040"}} {
			_, all := takenFrom(t, record(t, overpass, append(items, "54A", "N", "54B", "0000")...))
			unknown := slices.ContainsFunc(all, func(s Structure) bool {
				p, _ := Through(s, readCase())
				return s.Grade == On && s.Measured == nil && p.Outcome == finding.Unknown && strings.Contains(p.Why.String(), "not believed")
			})
			if !unknown {
				t.Errorf("%v: %+v", items, all)
			}
		}
		_, all = takenFrom(t, record(t, overpass, "5A", "2", "10", code))
		if p, _ := Through(all[0], readCase()); all[0].Measured != nil || p.Outcome != finding.Unknown {
			t.Errorf("item 10 %s of a road below: %s, %+v", code, p.Outcome, all)
		}
	}
	for _, code := range []string{"0150", "0999"} {
		if _, all := takenFrom(t, record(t, overpass, "54B", code)); all[0].Measured == nil {
			t.Errorf("%s is not believed", code)
		}
	}
}

// Items 47 (one decimal, 999 where nothing limits it) and 51 (one decimal) are the
// room between curbs, rails and walls (second-hand); the lesser counts, and none
// that can be believed is for a person.
func TestInventoryWidths(t *testing.T) {
	const silent = "no width of the road is reported that can be believed"
	for _, tc := range []struct {
		fortySeven, fiftyOne string
		want                 measure.Length // 0: none
		row                  bool
		passes               finding.Outcome // of a rig 2.6 m wide
	}{
		{"120", "0120", 0, false, ""}, {"075", "0120", 0, false, ""}, {"999", "0000", 0, false, ""},
		{"074", "0120", 7400 * mm, true, finding.Clear}, {"120", "0061", 6100 * mm, true, finding.Clear}, {"036", "0000", 3600 * mm, true, finding.Clear},
		{"000", "0027", 2700 * mm, true, finding.Review}, {"025", "0120", 2500 * mm, true, finding.Forbidden}, {"999", "0025", 2500 * mm, true, finding.Forbidden},
		{"000", "0000", 0, true, finding.Review}, {"   ", "    ", 0, true, finding.Review}, {"0X0", "00-1", 0, true, finding.Review}, {"010", "0010", 0, true, finding.Review},
	} {
		_, all := takenFrom(t, record(t, overpass, "47", tc.fortySeven, "51", tc.fiftyOne, "54A", "N", "54B", "0000"))
		on, ok := ofGrade(all, On)
		if ok != tc.row {
			t.Errorf("%q, %q: a row %v", tc.fortySeven, tc.fiftyOne, ok)
		}
		if !ok {
			continue
		}
		p, _ := Through(on, plainCase(sides, func(c *Case) { c.From, c.Until = readCase().From, readCase().Until }))
		if (on.Width == nil) != (tc.want == 0) || on.Width != nil && *on.Width != tc.want || (on.Words == silent) != (tc.want == 0) || p.Outcome != tc.passes {
			t.Errorf("%q, %q: %v, %q, %s; want %v, %s", tc.fortySeven, tc.fiftyOne, on.Width, on.Words, p.Outcome, tc.want, tc.passes)
		}
	}
	// Of the road below item 47 of its own record speaks; nothing above it is not a
	// height that is not known.
	for fortySeven, want := range map[string]finding.Outcome{"036": finding.Clear, "025": finding.Forbidden, "000": finding.Review} {
		_, all := takenFrom(t, record(t, overpass, "5A", "2", "10", "9999", "47", fortySeven))
		if p, _ := Through(all[0], plainCase(func(c *Case) { c.From, c.Until = readCase().From, readCase().Until })); len(all) != 1 || p.Outcome != want {
			t.Errorf("below, item 47 %s: %s, %+v", fortySeven, p.Outcome, all)
		}
	}
}

// Item 90 is month and year (MMYY; second-hand). Where it is none, the figure is as
// old as the year of the file.
func TestInventoryAge(t *testing.T) {
	for code, want := range map[string]string{"0626": "2026-06-01", "1224": "2024-12-01", "0199": "1999-01-01", "0127": "1927-01-01", "1326": "", "0026": "", "    ": "", "6/26": ""} {
		_, all := takenFrom(t, record(t, overpass, "90", code))
		got := ""
		if !all[0].MeasuredOn.IsZero() {
			got = all[0].MeasuredOn.Format(time.DateOnly)
		}
		if got != want {
			t.Errorf("%q: %q, want %q", code, got, want)
		}
		outcome := finding.Clear // read on the day of travel, in all cases
		if want != "" && want < "2025-03-01" {
			outcome = finding.Unknown
		}
		if p, _ := Through(all[0], readCase()); p.Outcome != outcome {
			t.Errorf("%q: %s (%s), want %s", code, p.Outcome, p.Why, outcome)
		}
	}
}

// A bridge without coordinates is kept with its State and its road: a way on that
// road may meet it. Without those it is counted.
func TestInventoryWithoutAPlace(t *testing.T) {
	taken, all := takenFrom(t, record(t, overpass, "16", "        "))
	if taken.Nowhere != 1 || taken.Lost != 0 || len(all) != 1 || !all[0].Unplaced || all[0].Jurisdiction != "US-NY" || all[0].Road != "I 87" || *all[0].Measured != 4420*mm {
		t.Errorf("%+v: %+v", taken, all)
	}
	taken, all = takenFrom(t, record(t, overpass, "16", "        ", "1", "996"))
	if taken.Nowhere != 1 || taken.Lost != 1 || len(all) != 0 {
		t.Errorf("of no State: %+v, %+v", taken, all)
	}
	taken, all = takenFrom(t, record(t, overpass, "16", "        ", "6A", strings.Repeat(" ", 24)))
	if taken.Lost != 1 || len(all) != 0 {
		t.Errorf("of no road: %+v, %+v", taken, all)
	}
}
