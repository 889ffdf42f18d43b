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
	Nowhere  int           // left out because they have no coordinates
	Silent   int           // left out because they limit nothing that a rig feels
	Measured int           // rows with a height
}

// item is a field of a record: its first and last column, from 1.
type item struct{ first, last int }

func (i item) of(line []byte) string { return strings.TrimSpace(string(line[i.first-1 : i.last])) }

// Columns of the fixed-width record (Federal Highway Administration, NBI Record
// Format; items 41 to 70 second-hand, after appendix E of the Recording and
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
	itemOver      = item{243, 246} // 53
	itemBelowRef  = item{247, 247} // 54A
	itemBelow     = item{248, 251} // 54B
	itemPosting   = item{275, 275} // 70
)

const leastWidth = 275 // the last column that is read

// ReadInventory reads a fixed-width file of the National Bridge Inventory. Of a
// bridge it makes up to two rows, one for the road that it carries and one for
// the road under it; no row where nothing limits either.
//
// What the file does not say stays unknown: a height of zeros or blanks makes a
// structure without a figure, and a load posting has no tonnes in it. 9999 is a
// height that limits nothing. An error names the line.
func ReadInventory(raw []byte, about Inventory) (Taken, error) {
	var out Taken
	seen := map[string]bool{}
	for n, line := range bytes.Split(bytes.TrimRight(raw, "\r\n\x1a"), []byte("\n")) {
		line = columnsOf(bytes.TrimRight(line, "\r"))
		if len(line) < leastWidth {
			return out, fmt.Errorf("line %d has %d columns; a record of the inventory has 432 or 445, of which %d are read", n+1, len(line), leastWidth)
		}
		out.Bridges++
		b, err := readBridge(line)
		if err != nil {
			return out, fmt.Errorf("line %d: %w", n+1, err)
		}
		if !b.placed {
			out.Nowhere++
			continue
		}
		limits := b.limits()
		if len(limits) == 0 {
			out.Silent++
		}
		for _, l := range limits {
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
	onRoute, over, below       height
	lat, lon                   float64
	placed                     bool
}

// height is a height as the inventory codes it.
type height struct {
	cm   int
	free bool // 9999: nothing limits it
	said bool // false: blanks, zeros or letters
}

// metres prints the height with its unit, "" where there is none.
func (h height) metres() string {
	if !h.said || h.free {
		return ""
	}
	return fmt.Sprintf("%d.%02d m", h.cm/100, h.cm%100)
}

func readHeight(text string) height {
	cm, err := strconv.Atoi(text)
	switch {
	case err != nil || cm <= 0:
		return height{}
	case cm >= 9999:
		return height{free: true, said: true}
	default:
		return height{cm: cm, said: true}
	}
}

func readBridge(line []byte) (bridge, error) {
	b := bridge{
		state: itemState.of(line), number: itemNumber.of(line), kind: itemRecord.of(line), crossed: plain(itemCrossed.of(line)), carried: plain(itemCarried.of(line)),
		open: itemOpen.of(line), posting: itemPosting.of(line), belowRef: itemBelowRef.of(line),
		onRoute: readHeight(itemOnRoute.of(line)), over: readHeight(itemOver.of(line)), below: readHeight(itemBelow.of(line)),
	}
	if b.number == "" || b.kind == "" {
		return b, fmt.Errorf("no structure number in columns 4 to 18, or no kind of record in column 19: is it a fixed-width file of the inventory?")
	}
	b.route = routeName(b.state, itemPrefix.of(line), itemRoute.of(line))
	var errLat, errLon error
	b.lat, errLat = angle(itemLatitude.of(line), 2)
	b.lon, errLon = angle(itemLongitude.of(line), 3)
	b.lon = -b.lon // west is positive in the file
	b.placed = errLat == nil && errLon == nil && b.lat > 0 && b.lat <= 90 && b.lon < 0 && b.lon >= -180
	return b, nil
}

// plain takes the apostrophes and doubled blanks out of a name.
func plain(s string) string {
	return strings.Join(strings.Fields(strings.Trim(s, "'\" ")), " ")
}

// angle reads degrees of so many digits, minutes, seconds and hundredths.
func angle(text string, degrees int) (float64, error) {
	if len(text) != degrees+6 {
		return 0, fmt.Errorf("%q is no angle", text)
	}
	v, err := strconv.Atoi(text)
	if err != nil || v < 0 {
		return 0, fmt.Errorf("%q is no angle", text)
	}
	d, m, s := v/1_000_000, v/10_000%100, float64(v%10_000)/100
	if m > 59 || s >= 60 {
		return 0, fmt.Errorf("%q is no angle", text)
	}
	return float64(d) + float64(m)/60 + s/3600, nil
}

// limited is what a bridge limits on one of its roads.
type limited struct {
	grade  Grade
	road   string
	items  string
	height string
	closed bool
	words  []string
}

// limits lists what the record limits. A record of a road under the bridge
// (any but "1" in item 5A) speaks of that road alone.
func (b bridge) limits() []limited {
	if b.kind != "1" {
		l := limited{grade: Under, road: b.route, items: "item 10", height: b.onRoute.metres()}
		if b.onRoute.free {
			return nil
		}
		if l.height != "" {
			l.words = []string{greatest}
		}
		return []limited{l}
	}
	var out []limited
	lowest := lower(b.onRoute, b.over)
	on := limited{grade: On, road: orName(b.route, b.carried), items: "items 10, 41, 53, 70", height: lowest.metres(), closed: b.open == "K" || b.open == "G", words: b.loads()}
	if on.height != "" && lowest == b.onRoute && lowest != b.over {
		on.words = append(on.words, greatest)
	}
	if on.height != "" || on.closed || len(on.words) > 0 {
		out = append(out, on)
	}
	switch {
	case b.belowRef == "H" && !b.below.free:
		for _, road := range roadsIn(b.crossed) {
			out = append(out, limited{grade: Under, road: road, items: "item 54", height: b.below.metres()})
		}
	case b.belowRef == "" && b.below.said && !b.below.free:
		out = append(out, limited{grade: Under, road: roadIn(b.crossed), items: "item 54", height: b.below.metres(), words: []string{"the inventory does not say what passes under"}})
	}
	return out
}

// greatest is what item 10 is: the height over a strip of 10 ft, where it is
// greatest (Recording and Coding Guide, item 10, 1995; from memory).
const greatest = "measured over the strip of 10 ft where it is highest: other lanes are lower"

// lower is the lower of two heights; one that is not said says nothing: most
// bridges have nothing above them.
func lower(a, b height) height {
	switch {
	case !a.said || a.free:
		return b
	case !b.said || b.free || a.cm < b.cm:
		return a
	default:
		return b
	}
}

// loads says what is posted or not reported, in words: the file has no tonnes.
func (b bridge) loads() []string {
	var out []string
	if !b.onRoute.said && !b.over.said {
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
	"01": "AL", "02": "AK", "04": "AZ", "05": "AR", "06": "CA", "08": "CO", "09": "CT", "10": "DE", "11": "DC", "12": "FL", "13": "GA", "15": "HI", "16": "ID",
	"17": "IL", "18": "IN", "19": "IA", "20": "KS", "21": "KY", "22": "LA", "23": "ME", "24": "MD", "25": "MA", "26": "MI", "27": "MN", "28": "MS", "29": "MO",
	"30": "MT", "31": "NE", "32": "NV", "33": "NH", "34": "NJ", "35": "NM", "36": "NY", "37": "NC", "38": "ND", "39": "OH", "40": "OK", "41": "OR", "42": "PA",
	"44": "RI", "45": "SC", "46": "SD", "47": "TN", "48": "TX", "49": "UT", "50": "VT", "51": "VA", "53": "WA", "54": "WV", "55": "WI", "56": "WY",
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
		"id": fmt.Sprintf("nbi-%s-%s-%s", b.state, strings.NewReplacer(" ", "_", "/", "_").Replace(b.number), l.grade), "name": b.carried + " over " + b.crossed,
		"lat": strconv.FormatFloat(b.lat, 'f', 6, 64), "lon": strconv.FormatFloat(b.lon, 'f', 6, 64), "road": l.road, "direction": "both",
		"measured": l.height, "grade": string(l.grade), "words": strings.Join(l.words, "; "), "status": string(finding.Published),
		"source": "National Bridge Inventory, Federal Highway Administration", "section": "structure " + b.number + ", " + l.items,
		"source_year": about.Year, "read_on": about.ReadOn.Format(time.DateOnly),
	}
	if l.closed {
		set["closed"] = "yes"
	}
	if l.grade == Under && b.kind != "1" {
		set["id"] += "-" + b.kind
	}
	out := make(rows.Record, len(t.Columns))
	for i, name := range t.Columns {
		out[i] = set[name]
	}
	return out
}
