package clearance

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"wayhouse/regs/finding"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Inventory is what is known of a file of the National Bridge Inventory.
type Inventory struct {
	Year   string    // of the file
	ReadOn time.Time // when it was fetched or checked
}

// Taken is what was read of an inventory.
type Taken struct {
	Records  []rows.Record // of the table of clearances
	Bridges  int           // records of the file
	Nowhere  int           // without coordinates: their rows have a road and a State alone
	Lost     int           // left out: neither coordinates nor a road and a State to look for
	Silent   int           // left out because they limit nothing that a rig feels
	Measured int           // rows with a height
}

// item is a field of a record: its first and last column, from 1.
type item struct{ first, last int }

func (i item) of(line []byte) string { return strings.TrimSpace(string(line[i.first-1 : i.last])) }

// Columns of the fixed-width record (Federal Highway Administration, NBI Record
// Format; items 41 to 90 second-hand, after appendix E of the Recording and
// Coding Guide for the Structure Inventory and Appraisal of the Nation's Bridges,
// FHWA-PD-96-001, 1995).
var (
	itemState     = item{1, 3}
	itemNumber    = item{4, 18}
	itemRecord    = item{19, 19}   // 5A
	itemPrefix    = item{20, 20}   // 5B
	itemRoute     = item{22, 26}   // 5D
	itemCrossed   = item{38, 61}   // 6A
	itemCarried   = item{63, 80}   // 7
	itemOnRoute   = item{106, 109} // 10
	itemLatitude  = item{130, 137} // 16
	itemLongitude = item{138, 146} // 17
	itemOpen      = item{199, 199} // 41
	itemRoom      = item{215, 217} // 47
	itemCurbs     = item{235, 238} // 51
	itemOver      = item{243, 246} // 53
	itemBelowRef  = item{247, 247} // 54A
	itemBelow     = item{248, 251} // 54B
	itemPosting   = item{275, 275} // 70
	itemInspected = item{287, 290} // 90
)

const leastWidth = 290 // the last column that is read

// ReadInventory reads a fixed-width file of the National Bridge Inventory. Of a
// bridge it makes up to two rows, one for the road that it carries and one for
// the road under it; no row where nothing limits either.
//
// What the file does not say stays unknown: a height of zeros or blanks, or one
// that no road has, makes a structure without a figure, as does a code that the
// guide does not list, and a load posting has no tonnes in it. 9999 is a height
// that limits nothing. A bridge without coordinates is looked for on its road, in
// its State. The figures are as old as item 90 says. An error names the line.
func ReadInventory(raw []byte, about Inventory) (Taken, error) {
	var out Taken
	seen := map[string]bool{}
	for n, line := range bytes.Split(bytes.TrimRight(raw, "\r\n\x1a"), []byte("\n")) {
		line = columnsOf(bytes.TrimRight(line, "\r"))
		if len(line) < leastWidth {
			return out, say.Err(
				say.That("parse_error.inventory_columns", "line", n+1, "columns", len(line), "least", leastWidth),
			)
		}
		out.Bridges++
		b, ok := readBridge(line)
		if !ok {
			return out, say.Err(say.That("parse_error.inventory_record", "line", n+1))
		}
		b.inspected = inspection(itemInspected.of(line), about.Year)
		limits := b.limits()
		if len(limits) == 0 {
			out.Silent++
		}
		if !b.placed {
			out.Nowhere++
		}
		for _, l := range limits {
			if !b.placed && (l.road == "" || b.jurisdiction() == "") {
				out.Lost++
				continue
			}
			if l.height != "" {
				out.Measured++
			}
			record := b.record(l, about)
			for own, k := record[0], 2; seen[record[0]]; k++ { // several records of one kind
				record[0] = fmt.Sprintf("%s.%d", own, k)
			}
			seen[record[0]] = true
			out.Records = append(out.Records, record)
		}
	}
	return out, nil
}

// columnsOf makes one byte of each letter, so that one outside ASCII shifts no
// column.
func columnsOf(line []byte) []byte {
	out := make([]byte, 0, len(line))
	for _, r := range string(line) {
		if r > unicode.MaxASCII {
			r = '?'
		}
		out = append(out, byte(r))
	}
	return out
}

// bridge is one record of the inventory.
type bridge struct {
	state, number, kind, route string
	crossed, carried           string
	open, posting, belowRef    string
	onRoute, over, below       figure
	room, curbs                figure
	inspected                  string // a day, "" where not known
	lat, lon                   float64
	placed                     bool
}

// figure is a length as the inventory codes it.
type figure struct {
	cm   int
	free bool // nothing limits it
	said bool // false: blanks, zeros, letters, or no length that a road has
	odd  bool // a number that no road has
}

// metres prints the length with its unit, "" where there is none.
func (f figure) metres() string {
	if !f.said || f.free {
		return ""
	}
	return fmt.Sprintf("%d.%02d m", f.cm/100, f.cm%100)
}

// doubt says what is coded where it is not believed.
func (f figure) doubt(item string) string {
	if !f.odd {
		return ""
	}
	return fmt.Sprintf("item %s says %d.%02d m, which is not believed", item, f.cm/100, f.cm%100)
}

// Lengths that are believed, in centimetres; this project's choice, no source. The
// edition of 1988 coded heights in feet and inches: 1306, 13 ft 6 in, is then no
// height of 13.06 m, and the guide of 1995 codes 30 m and more as 9999.
const (
	leastHeight, mostHeight = 150, 999
	leastRoom, mostRoom     = 180, 9999
)

// readHeight reads metres with two decimals (items 10, 53, 54B).
func readHeight(text string) figure {
	return readFigure(text, 1, 9999, leastHeight, mostHeight)
}

// readRoom reads metres with one decimal (items 47 and 51); where nothing limits
// it, each column of item 47 is 9.
func readRoom(text string, free int) figure { return readFigure(text, 10, free, leastRoom, mostRoom) }

func readFigure(text string, unit, free, least, most int) figure {
	n, err := strconv.Atoi(text)
	switch cm := n * unit; {
	case err != nil || n <= 0:
		return figure{}
	case n == free:
		return figure{free: true, said: true}
	case cm < least || cm > most:
		return figure{cm: cm, odd: true}
	default:
		return figure{cm: cm, said: true}
	}
}

// inspection is the first day of the month of item 90 (MMYY), of the last century
// whose year is not after that of the file; "" where it is none.
func inspection(text, fileYear string) string {
	n, err := strconv.Atoi(text)
	last, errYear := strconv.Atoi(fileYear)
	month, year := n/100, n%100
	if len(text) != 4 || err != nil || errYear != nil || month < 1 || month > 12 {
		return ""
	}
	year += last / 100 * 100
	if year > last {
		year -= 100
	}
	return fmt.Sprintf("%04d-%02d-01", year, month)
}

// readBridge reads a record; ok is false where it has no number or no kind.
func readBridge(line []byte) (b bridge, ok bool) {
	b = bridge{
		state: itemState.of(line), number: itemNumber.of(line), kind: itemRecord.of(line),
		crossed: plain(itemCrossed.of(line)), carried: plain(itemCarried.of(line)), open: itemOpen.of(line),
		posting: itemPosting.of(line), belowRef: itemBelowRef.of(line),
		onRoute: readHeight(itemOnRoute.of(line)), over: readHeight(itemOver.of(line)),
		below: readHeight(itemBelow.of(line)), room: readRoom(itemRoom.of(line), 999),
		curbs: readRoom(itemCurbs.of(line), 9999),
	}
	if b.number == "" || b.kind == "" {
		return b, false
	}
	b.route = routeName(b.state, itemPrefix.of(line), itemRoute.of(line))
	var north, west bool
	b.lat, north = angle(itemLatitude.of(line), 2)
	b.lon, west = angle(itemLongitude.of(line), 3)
	b.lon = -b.lon // west is positive in the file
	b.placed = north && west && b.lat > 0 && b.lat <= 90 && b.lon < 0 && b.lon >= -180
	return b, true
}

// plain takes the apostrophes and doubled blanks out of a name.
func plain(s string) string {
	return strings.Join(strings.Fields(strings.Trim(s, "'\" ")), " ")
}

// angle reads degrees of so many digits, minutes, seconds and hundredths; ok is false for
// what is no angle.
func angle(text string, degrees int) (value float64, ok bool) {
	v, err := strconv.Atoi(text)
	d, m, s := v/1_000_000, v/10_000%100, float64(v%10_000)/100
	if len(text) != degrees+6 || err != nil || v < 0 || m > 59 || s >= 60 {
		return 0, false
	}
	return float64(d) + float64(m)/60 + s/3600, true
}

// limited is what a bridge limits on one of its roads.
type limited struct {
	grade  Grade
	road   string
	items  string
	height string
	width  string
	closed bool
	words  []string
	notes  []string
	doubt  string
	suffix string // of the id
}

// says reports whether there is anything in it to know or to doubt.
func (l limited) says() bool {
	return l.height != "" || l.width != "" || l.closed || len(l.words)+len(l.notes) > 0
}

// limits lists what the record limits. A record of a road under the bridge
// (any but "1" in item 5A) speaks of that road alone.
func (b bridge) limits() []limited {
	if b.kind != "1" {
		return b.below5A()
	}
	return append(b.onBridge(), b.underBridge()...)
}

// below5A is what a record of a road under the bridge says of it.
func (b bridge) below5A() []limited {
	l := limited{
		grade: Under, road: b.route, items: "items 10, 47", height: b.onRoute.metres(), suffix: "-" + b.kind,
		notes: notes(b.onRoute.doubt("10")),
	}
	if l.height != "" {
		l.words = []string{greatest}
	}
	l.width, l.words = narrow(l.words, b.room)
	if b.onRoute.free {
		if !l.says() {
			return nil
		}
		l.height = unlimited
	}
	return []limited{l}
}

// unlimited is the least height that the inventory codes as none.
const unlimited = "30.00 m"

// onBridge is what the bridge limits on the road that it carries. A height that is
// not believed is a row of its own: what else is known must not clear it.
func (b bridge) onBridge() []limited {
	lowest := lower(b.onRoute, b.over)
	on := limited{
		grade: On, road: orName(b.route, b.carried), items: "items 10, 41, 47, 51, 53, 70",
		height: lowest.metres(), closed: b.open == "K" || b.open == "G", words: b.loads(),
	}
	if on.height != "" && lowest == b.onRoute && lowest != b.over {
		on.words = append(on.words, greatest)
	}
	on.width, on.words = narrow(on.words, b.room, b.curbs)
	out := []limited{on}
	if odd := notes(b.onRoute.doubt("10"), b.over.doubt("53")); len(odd) > 0 && on.height == "" {
		out = append(out, limited{grade: On, road: on.road, items: "items 10, 53", notes: odd, suffix: "-height"})
	}
	return slices.DeleteFunc(out, func(l limited) bool { return !l.says() })
}

// underBridge is what the bridge limits on what passes under it, by item 54.
func (b bridge) underBridge() []limited {
	l := limited{grade: Under, items: "item 54", height: b.below.metres(), notes: notes(b.below.doubt("54"))}
	switch {
	case b.belowRef == "R", b.belowRef == "N", b.belowRef == "H" && b.below.free:
		return nil
	case b.belowRef != "H":
		l.doubt = fmt.Sprintf("code %q of item 54A is not understood: the inventory does not say what passes under",
			b.belowRef)
	}
	var out []limited
	for _, road := range roadsIn(b.crossed) {
		l.road = road
		out = append(out, l)
	}
	return out
}

func notes(texts ...string) []string {
	return slices.DeleteFunc(texts, func(s string) bool { return s == "" })
}

// roomy is the width from which a road limits no rig of this project, in
// centimetres; its own choice.
const roomy = 750

// narrow is the least of the widths where that limits anything. None that is
// known is for a person to see.
func narrow(words []string, widths ...figure) (width string, said []string) {
	least := figure{}
	for _, w := range widths {
		least = lower(least, w)
	}
	switch {
	case !least.said:
		return "", append(words, "no width of the road is reported that can be believed")
	case least.free || least.cm >= roomy:
		return "", words
	default:
		return least.metres(), words
	}
}

// greatest is what item 10 is: the height over a strip of 10 ft, where it is
// greatest (Recording and Coding Guide, item 10, 1995; from memory).
const greatest = "measured over the strip of 10 ft where it is highest: other lanes are lower"

// lower is the lower of two figures; one that is not said says nothing: most
// bridges have nothing above them.
func lower(a, b figure) figure {
	switch {
	case !a.said:
		return b
	case !b.said:
		return a
	case a.free:
		return b
	case b.free || a.cm < b.cm:
		return a
	default:
		return b
	}
}

// loads says what is posted or not reported, in words: the file has no tonnes.
func (b bridge) loads() []string {
	var out []string
	if silent := !b.onRoute.said && !b.over.said; silent && !b.onRoute.odd && !b.over.odd {
		out = append(out, "the height over the bridge is not reported")
	}
	switch b.open {
	case "":
		out = append(out, "whether it is open or posted is not reported")
	case "P":
		out = append(out, "posted for load; the figure is on the sign")
	case "R":
		out = append(out, "posted for something else than load, such as speed or the number of vehicles")
	case "B":
		out = append(out, "a load posting is recommended and not in place")
	case "D", "E":
		out = append(out, "open on shoring or as a temporary structure")
	}
	if len(b.posting) == 1 && b.posting >= "0" && b.posting <= "4" {
		out = append(out, "rated below legal loads, class "+b.posting+" of 0 (lowest) to 5 (not below)")
	}
	return out
}

// postal are the codes that begin the numbers of State roads, by the first two
// digits of item 1 (FIPS 5-2, 1987).
var postal = map[string]string{
	"01": "AL", "02": "AK", "04": "AZ", "05": "AR", "06": "CA", "08": "CO", "09": "CT", "10": "DE",
	"11": "DC", "12": "FL", "13": "GA", "15": "HI", "16": "ID", "17": "IL", "18": "IN", "19": "IA",
	"20": "KS", "21": "KY", "22": "LA", "23": "ME", "24": "MD", "25": "MA", "26": "MI", "27": "MN",
	"28": "MS", "29": "MO", "30": "MT", "31": "NE", "32": "NV", "33": "NH", "34": "NJ", "35": "NM",
	"36": "NY", "37": "NC", "38": "ND", "39": "OH", "40": "OK", "41": "OR", "42": "PA", "44": "RI",
	"45": "SC", "46": "SD", "47": "TN", "48": "TX", "49": "UT", "50": "VT", "51": "VA", "53": "WA",
	"54": "WV", "55": "WI", "56": "WY",
}

// jurisdiction is the State by item 1, "" where it is none.
func (b bridge) jurisdiction() string {
	if code := postal[b.state[:min(2, len(b.state))]]; code != "" {
		return "US-" + code
	}
	return ""
}

// routeName is the number of a route as maps write it, "" where it has none.
func routeName(state, prefix, number string) string {
	number = strings.TrimLeft(number, "0")
	if number == "" {
		return ""
	}
	switch prefix {
	case "1":
		return "I " + number
	case "2":
		return "US " + number
	case "3":
		if len(state) >= 2 && postal[state[:2]] != "" {
			return postal[state[:2]] + " " + number
		}
		return number
	default:
		return ""
	}
}

func orName(route, name string) string {
	if route != "" {
		return route
	}
	return roadIn(name)
}

var numbered = regexp.MustCompile(`(?i)\b(INTERSTATE|I|US|U\.S\.)[ -]*(?:RT|RTE|ROUTE|HWY)?[ -]*(\d{1,3})\b`)

// roadsIn finds every numbered road in what an inspector wrote; where there is
// none, the words themselves.
func roadsIn(text string) []string {
	var out []string
	for _, m := range numbered.FindAllString(text, -1) {
		if road := roadIn(m); !slices.Contains(out, road) {
			out = append(out, road)
		}
	}
	if len(out) == 0 {
		return []string{text}
	}
	return out
}

// roadIn finds the road in what an inspector wrote: an Interstate or a US
// number, else the words themselves.
func roadIn(text string) string {
	if m := numbered.FindStringSubmatch(text); m != nil {
		if strings.HasPrefix(strings.ToUpper(m[1]), "I") {
			return "I " + m[2]
		}
		return "US " + m[2]
	}
	return text
}

// record writes a row of the table of clearances.
func (b bridge) record(l limited, about Inventory) rows.Record {
	t := Structures()
	set := map[string]string{
		"id": fmt.Sprintf("nbi-%s-%s-%s", b.state, strings.NewReplacer(" ", "_", "/", "_").Replace(b.number),
			l.grade) + l.suffix,
		"name": b.carried + " over " + b.crossed, "lat": strconv.FormatFloat(b.lat, 'f', 6, 64),
		"lon": strconv.FormatFloat(b.lon, 'f', 6, 64), "road": l.road, "direction": "both", "measured": l.height,
		"width": l.width, "measured_on": b.inspected, "doubt": l.doubt, "note": strings.Join(l.notes, "; "),
		"jurisdiction": b.jurisdiction(), "grade": string(l.grade), "words": strings.Join(l.words, "; "),
		"status":  string(finding.Published),
		"source":  "National Bridge Inventory, Federal Highway Administration",
		"section": "structure " + b.number + ", " + l.items, "source_year": about.Year,
		"read_on": about.ReadOn.Format(time.DateOnly),
	}
	if l.closed {
		set["closed"] = "yes"
	}
	if !b.placed {
		set["lat"], set["lon"] = "", ""
	}
	out := make(rows.Record, len(t.Columns))
	for i, name := range t.Columns {
		out[i] = set[name]
	}
	return out
}
