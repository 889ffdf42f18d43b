package network_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"
	"unsafe"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// The layout of a file as the package comment gives it, written down again so
// that a change of one side shows.
const (
	headBytes    = 32
	rowBytes     = 40
	sectionAlign = 64
	sumOffset    = 28 // of the head's own checksum
	pageBytes    = 4096
)

// fileRow is one row of the section table.
type fileRow struct {
	name         string
	offset, size uint64
	width, sum   uint32
}

func rowsOf(raw []byte) []fileRow {
	var rows []fileRow
	for i := range int(binary.LittleEndian.Uint32(raw[12:])) {
		r := raw[headBytes+i*rowBytes:]
		rows = append(rows, fileRow{
			name:   string(bytes.TrimRight(r[:16], "\x00")),
			offset: binary.LittleEndian.Uint64(r[16:]), size: binary.LittleEndian.Uint64(r[24:]),
			width: binary.LittleEndian.Uint32(r[32:]), sum: binary.LittleEndian.Uint32(r[36:]),
		})
	}
	return rows
}

func rowOf(t testing.TB, raw []byte, name string) (int, fileRow) {
	t.Helper()
	rows := rowsOf(raw)
	i := slices.IndexFunc(rows, func(r fileRow) bool { return r.name == name })
	if i < 0 {
		t.Fatalf("the file has no section %q", name)
	}
	return i, rows[i]
}

var crcTable = crc32.MakeTable(crc32.Castagnoli)

// repair makes every checksum, the size, the magic and the version right, so
// that only what they guard is left to be wrong.
func repair(raw []byte) {
	if len(raw) < headBytes {
		return
	}
	copy(raw, "wayroads")
	binary.LittleEndian.PutUint32(raw[8:], 4)
	binary.LittleEndian.PutUint64(raw[16:], uint64(len(raw)))
	if n := uint64(binary.LittleEndian.Uint32(raw[12:])); n*rowBytes <= uint64(len(raw)-headBytes) {
		repairPages(raw)
		for i, r := range rowsOf(raw) {
			if r.offset <= uint64(len(raw)) && r.size <= uint64(len(raw))-r.offset {
				sum := crc32.Checksum(raw[r.offset:r.offset+r.size], crcTable)
				binary.LittleEndian.PutUint32(raw[headBytes+i*rowBytes+36:], sum)
			}
		}
		binary.LittleEndian.PutUint32(raw[24:], crc32.Checksum(raw[headBytes:headBytes+n*rowBytes], crcTable))
	}
	repairHead(raw)
}

// repairPages makes the sums of pages right, where there are as many as pages.
func repairPages(raw []byte) {
	rows := rowsOf(raw)
	if len(rows) < 3 {
		return
	}
	first, last, sums := rows[0], rows[len(rows)-3], rows[len(rows)-2]
	end, all := last.offset+last.size, uint64(len(raw))
	if first.offset > end || end > all || sums.offset > all || sums.size > all-sums.offset {
		return
	}
	at := sums.offset
	for page := range slices.Chunk(raw[first.offset:end], pageBytes) {
		if at+4 > sums.offset+sums.size {
			return
		}
		binary.LittleEndian.PutUint32(raw[at:], crc32.Checksum(page, crcTable))
		at += 4
	}
}

func crcOf(raw []byte) uint32 { return crc32.Checksum(raw, crcTable) }

func repairHead(raw []byte) {
	binary.LittleEndian.PutUint32(raw[sumOffset:], crc32.Checksum(raw[:sumOffset], crcTable))
}

// changed returns a copy of a file after a change, without making it right.
func changed(raw []byte, change func(raw []byte) []byte) []byte { return change(slices.Clone(raw)) }

func write(t testing.TB, n *network.Network) []byte {
	t.Helper()
	var out bytes.Buffer
	size, err := n.WriteTo(&out)
	if err != nil || size != int64(out.Len()) {
		t.Fatalf("%d bytes written, said to be %d: %v", out.Len(), size, err)
	}
	return out.Bytes()
}

func readFile(t testing.TB, raw []byte) *network.Network {
	t.Helper()
	n, err := network.Read(raw)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

var verify = func(n *network.Network) error { return n.Verify(context.Background(), nil) }

// wantRefusal wants the error that a damaged file gets: a FileError that says
// what to do.
func wantRefusal(t testing.TB, name string, err error) {
	t.Helper()
	var e *network.FileError
	if !errors.As(err, &e) || e.Problem.None() || e.Fix.None() || !strings.Contains(err.Error(), e.Fix.String()) {
		t.Errorf("%s: %v, want a FileError that names a fix", name, err)
	}
}

// lacking is a network that lacks every fact.
func lacking() network.About {
	return network.About{
		Name: "a network for tests", Vintage: "today", Caution: "for tests only", Attribution: "nobody", Licence: "none",
		Lacks: network.AllFacts(), Assumptions: []string{"none at all"},
		Speeds: map[network.Class]measure.Speed{network.Primary: 20, network.Track: 5, network.Freeway: 25, network.Ferry: 3},
	}
}

// small builds a network that has something in every section: 6 nodes, one
// of them without an edge, and 7 edges, two of them side by side, one a loop.
func small(t testing.TB) *network.Network {
	t.Helper()
	b := network.NewBuilder()
	at := []orb.Point{{-75, 45}, {-75.01, 45}, {-75, 45.01}, {179.99, -16}, {-179.99, -16.01}, {0, 80}, {-75.1, 45},
		{-75.1008, 45}}
	for _, p := range at {
		b.Node(p)
	}
	bare := b.Record(network.Record{Road: network.Road{Paved: network.Unpaved, Surface: b.Text("gravel")}})
	signed := b.Record(network.Record{
		Road: network.Road{
			Flags: network.OnewayAlong | network.Toll, Lanes: 3, Paved: network.Paved, Width: 7 * measure.Metre,
			Surface: b.Text("asphalt"), Smoothness: b.Text("good"), Tracktype: b.Text("grade1"), Incline: b.Text("7 %"),
			Operator: b.Text("the county"), Ownership: b.Text("private"), Signed: b.Text("US:I"),
		},
		Signs: []network.Sign{
			{Subject: network.MaxHeight, For: network.Caravans, Bound: network.Against, State: network.Known,
				Value: int64(4 * measure.Metre), Text: b.Text("4"), When: b.Text("wet")},
			{Subject: network.Access, For: network.Hazmat, Word: network.Refused, Text: b.Text("no")},
		},
	})
	add := func(e network.Edge) network.EdgeID {
		e.Line = append(append([]orb.Point{at[e.From]}, e.Line...), at[e.To])
		id, err := b.Edge(e)
		if err != nil {
			t.Fatal(err)
		}
		return id
	}
	one := []string{"CA-ON"}
	add(network.Edge{From: 0, To: 1, Class: network.Primary, Speed: 20, Road: signed, Ref: "7", Name: "Main Street",
		Jurisdictions: one, Zone: "America/Toronto", Town: "Ottawa", Local: "Ottawa", Origin: 42,
		Grade: network.Grade{Ascent: 5, Descent: 1, Steepest: 0.07, Known: 1}})
	add(network.Edge{From: 1, To: 2, Line: []orb.Point{{-75.02, 45.01}}, Class: network.Track, Road: bare,
		Jurisdictions: []string{"CA-ON", "CA-QC"}, Zone: "America/Toronto"})
	add(network.Edge{From: 2, To: 0, Class: network.Freeway, Speed: 25, Ref: "401;17", Jurisdictions: one,
		Zone: "America/Toronto", Origin: -1 << 60})
	add(network.Edge{From: 0, To: 1, Line: []orb.Point{{-75.005, 45.004}, {-75.006, 45.004}}, Class: network.Service,
		Road: signed, Grade: network.Grade{Descent: 9, Steepest: -0.1, Known: 1}})
	add(network.Edge{From: 3, To: 4, Class: network.Ferry, Speed: 3, Name: "À la frontière",
		Jurisdictions: []string{"FJ"}, Zone: "Pacific/Fiji"})
	add(network.Edge{From: 2, To: 2, Line: []orb.Point{{-75, 45.02}, {-75.01, 45.02}}, Class: network.Living})
	add(network.Edge{From: 4, To: 3, Class: network.Residential, Road: bare})
	add(network.Edge{From: 6, To: 7, Class: network.Residential}) // a street with a loop at its end
	add(network.Edge{From: 7, To: 7, Line: []orb.Point{{-75.1009, 45.00005}, {-75.1009, 44.99995}},
		Class: network.Residential})

	b.Graph()
	b.Slow(5, 0, network.Delay{Likely: 20, Slow: 30, Stops: 1}, network.Delay{Likely: 200, Slow: 400, Signals: 1})
	b.Slow(2, 25, network.Delay{Likely: 65535, Slow: 65535, Signals: 255}, network.Delay{})
	b.Spot(network.Spot{Edge: 3, Offset: 100, OSM: 7, Road: bare, Name: b.Text("Old Bridge"), Kind: network.RailBridge})
	b.Spot(network.Spot{Edge: 0, Offset: b.Length(0), OSM: 9, Kind: network.Gate, OnNode: 1})
	b.Spot(network.Spot{Edge: 0, Offset: 0, OSM: 8, Road: signed, Kind: network.Restrictor})
	arc := network.MakeArc
	b.Ban([]network.Arc{arc(0, false), arc(1, false)}, network.Ban{OSM: 1, For: network.Vehicles,
		Except: 1 << network.Caravans})
	b.Ban([]network.Arc{arc(0, false), arc(1, false), arc(5, true), arc(2, false)},
		network.Ban{OSM: 2, When: b.Text("Mo-Fr 07:00-09:00"), For: network.HeavyGoods})
	b.Place(network.Place{Kind: network.City, Name: "Ottawa", Point: orb.Point{-75.7, 45.4}, Jurisdictions: one,
		Population: 1_000_000, OSM: 18, OnNode: true})
	b.Place(network.Place{Kind: network.WeighStation, Point: orb.Point{-180, -90}, OSM: 19})
	b.Place(network.Place{Kind: network.TruckParking, Name: "Lot", Point: orb.Point{-75.005, 45.0001}, OSM: 20,
		Ground: network.Ground{
			Signs: signed, Trucks: measure.Exactly(0), Hours: "24/7", Stay: "12 hours", Fee: "no", Toilets: "yes"}})
	b.DataEnd(3)
	b.Address(network.Address{Number: "12 A", Street: "Main Street", Town: "Ottawa", Jurisdictions: one,
		Point: orb.Point{-75.005, 45.001}})
	b.Address(network.Address{Number: "2", Street: "Main St", Town: "Ottawa", Jurisdictions: one,
		Point: orb.Point{-75.001, 45.001}})
	b.Address(network.Address{Number: "9", Street: "King Street", Jurisdictions: one, Point: orb.Point{-75.69, 45.41}})
	n, err := b.Finish(lacking(), []byte(`{"made":"by hand"}`))
	if err != nil {
		t.Fatal(err)
	}
	if err := n.Prepare(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	return n
}

// ofSearches tells whether a section is one of those that are empty where a
// network was not prepared; what they hold is Verify's to check.
func ofSearches(rows []fileRow, name string) bool {
	from := slices.IndexFunc(rows, func(r fileRow) bool { return r.name == "buckets" })
	return slices.IndexFunc(rows, func(r fileRow) bool { return r.name == name }) > from
}

// grid builds a network of straight streets, a square of about so many edges.
func grid(t testing.TB, edges int) *network.Network {
	t.Helper()
	b := network.NewBuilder()
	side := int(math.Ceil(math.Sqrt(float64(edges) / 2)))
	at := make([]orb.Point, 0, side*side)
	for i := range side * side {
		at = append(at, orb.Point{-75 + 0.001*float64(i%side), 45 + 0.001*float64(i/side)})
		b.Node(at[i])
	}
	street := func(from, to int) {
		_, err := b.Edge(network.Edge{
			From: network.NodeID(from), To: network.NodeID(to), Line: []orb.Point{at[from], at[to]},
			Class: network.Residential, Speed: 10, Name: fmt.Sprintf("Street %d", from/side), Jurisdictions: []string{"CA-ON"},
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for i := range at {
		if i%side > 0 {
			street(i-1, i)
		}
		if i >= side {
			street(i-side, i)
		}
	}
	n, err := b.Finish(lacking(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// samples are the networks that are written and read again.
func samples(t testing.TB) map[string]*network.Network {
	t.Helper()
	empty, err := network.NewBuilder().Finish(lacking(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return map[string]*network.Network{"bundled": bundled(t), "small": small(t), "town": prepared(t, town(t)),
		"grid": grid(t, 300), "empty": empty}
}

// compared are the methods that said and sameNetwork call.
const compared = "Along Ban Bans Bears Close Controls Covers DataEnds Deflection Delay Edges EndsNear Flags Grade " +
	"Halts HasAddresses HasRoad Head IsRoad Jurisdictions Lacks Length Line MayBear Millis Name Origin Out " +
	"Place Places Point Prepare Prepared Price Ready Record Ref Refs Report RoadID RoadName Roads SameArea SameRoad " +
	"Save " +
	"Sections Sequence Sequences Shape Sound Spans Speed Spots Stamp StreetNames Streets Tail Text Town TruckRoad " +
	"Turns UTurn UTurns Verify Whole WriteTo Zone"

// said is all that a network says of one edge.
type said struct {
	Shape                         []orb.Point
	Jurisdictions                 []string
	Zone, Town, Ref, Name, Called string
	IsRoad, Bears, LikeLast       bool
	MayBear                       bool
	Refs                          []string
	Origin                        int64
	Grade, Back                   network.Grade
	Known                         bool
	Spots                         []network.Spot
	Tail, Head                    network.NodeID
	Speed                         measure.Speed
	HasSpeed                      bool
	RoadID                        network.RoadID
	Record                        network.Record
	Whole                         network.Piece
	Middle                        orb.Point
	Line                          orb.LineString
	Covers                        bool
	Millis, Price                 uint32
	TruckRoad                     [2]bool
	Delays                        []any // and signals, stops
	Deflection                    float64
	Flags                         network.Flags
}

func edgeSaid(n *network.Network, e network.EdgeID) said {
	there, back := network.MakeArc(e, false), network.MakeArc(e, true)
	middle := network.Position{Edge: e, Offset: n.Length[e] / 2}
	s := said{
		Shape: n.Shape(e), Jurisdictions: n.Jurisdictions(e), Zone: n.Zone(e), Town: n.Town(e),
		Ref: n.Ref(e), Name: n.Name(e),
		Called: n.RoadName(e).String(), IsRoad: n.IsRoad(e, "7"), MayBear: n.MayBear(e,
			"ON 7"), Refs: n.Refs(e), Bears: n.Bears(e, n.Name(e)), LikeLast: n.SameArea(e, network.EdgeID(n.Edges()-1)),
		Origin: n.Origin(e),
		Spots:  n.Spots(e), Tail: n.Tail(there), Head: n.Head(there), RoadID: n.RoadID(e), Record: n.Record(n.RoadID(e)),
		Whole: n.Whole(back), Middle: n.Point(middle), Covers: n.Covers(n.Whole(there), middle),
		Line: n.Line(network.Piece{Arc: back, Start: n.Along(middle, back), End: n.Length[e]}),
	}
	s.Millis, s.Deflection = n.Millis(s.Whole, 20), n.Deflection(there, back)
	s.Flags, s.Price, s.TruckRoad = n.Flags(e), n.Price(s.Whole, 20, network.Preferred), [2]bool{n.TruckRoad(there),
		n.TruckRoad(back)}
	s.Speed, s.HasSpeed = n.Speed(e)
	likely, slow := n.Delay(s.Whole)
	signals, stops := n.Controls(back)
	s.Delays = []any{likely, slow, signals, stops}
	s.Grade, s.Known = n.Grade(there)
	s.Back, _ = n.Grade(back)
	return s
}

var bySay = cmp.Options{
	cmpopts.EquateEmpty(), cmpopts.IgnoreFields(network.Ban{}, "_"),
	cmpopts.IgnoreFields(network.Road{}, "_"), cmpopts.IgnoreFields(network.Sign{}, "_"),
	cmp.Comparer(func(a, b measure.Known[int]) bool {
		x, known := a.Value()
		y, ok := b.Value()
		return x == y && known == ok
	}),
}

// streetsSaid is all that a network says of streets and addresses.
func streetsSaid(n *network.Network) (out []string) {
	out = append(out, fmt.Sprint(n.HasAddresses()))
	for key := range n.StreetNames("") {
		for _, s := range n.Streets(strings.TrimPrefix(key, "#")) {
			out = append(out, fmt.Sprint(key, s.Name, s.Town, s.Near, s.Jurisdictions, s.Edges, slices.Collect(s.Addresses())))
		}
	}
	return out
}

// sameNetwork wants two networks to say the same.
func sameNetwork(t *testing.T, got, want *network.Network) {
	t.Helper()
	same := func(what string, got, want any) {
		if diff := cmp.Diff(want, got, bySay); diff != "" {
			t.Errorf("%s (-want +got):\n%s", what, diff)
		}
	}
	same("about", got.About, want.About)
	same("nodes", got.Node, want.Node)
	same("from", got.From, want.From)
	same("to", got.To, want.To)
	same("lengths", got.Length, want.Length)
	same("classes", got.Class, want.Class)
	same("report", string(got.Report()), string(want.Report()))
	same("counts", []int{got.Edges(), got.Roads(), got.Bans(), got.UTurns(), got.Sequences()},
		[]int{want.Edges(), want.Roads(), want.Bans(), want.UTurns(), want.Sequences()})
	same("a road", []bool{got.HasRoad("7"), got.HasRoad("8")}, []bool{want.HasRoad("7"), want.HasRoad("8")})
	same("prepared", got.Prepared(), want.Prepared())
	same("places", slices.Collect(got.Places()), slices.Collect(want.Places()))
	if want.Edges() > 0 {
		way := []network.Piece{want.Whole(0)}
		same("halts", got.Halts(way, 5000), want.Halts(way, 5000))
	}
	same("ends", got.DataEnds(), want.DataEnds())
	same("ends near", [][]network.NodeID{got.EndsNear(orb.Point{-75, 45}, 5000)},
		[][]network.NodeID{want.EndsNear(orb.Point{-75, 45}, 5000)})
	same("spans", got.Spans(orb.Point{-75, 45}), want.Spans(orb.Point{-75, 45}))
	same("streets", streetsSaid(got), streetsSaid(want))
	if t.Failed() {
		return // the rest would be in vain, or panic
	}
	for e := range network.EdgeID(want.Edges()) {
		if g, w := edgeSaid(got, e), edgeSaid(want, e); !reflect.DeepEqual(g, w) {
			same(fmt.Sprintf("edge %d", e), g, w) // slow, so only for what differs
		}
	}
	for id := range network.NodeID(len(want.Node)) {
		if !slices.Equal(got.Out(id), want.Out(id)) {
			t.Errorf("%v leave node %d, want %v", got.Out(id), id, want.Out(id))
			continue
		}
		for _, a := range want.Out(id) {
			for _, b := range want.Out(id) {
				if g, w := got.SameRoad(a.Edge(), b.Edge()), want.SameRoad(a.Edge(), b.Edge()); g != w {
					t.Errorf("edges %d and %d of one road: %v, want %v", a.Edge(), b.Edge(), g, w)
				}
			}
		}
	}
	for id := range network.RoadID(want.Roads() + 1) {
		same(fmt.Sprintf("record %d", id), got.Record(id), want.Record(id))
	}
	for id := network.StringID(0); id == 0 || want.Text(id) != "" || got.Text(id) != ""; id++ {
		same(fmt.Sprintf("string %d", id), got.Text(id), want.Text(id))
	}
	for _, f := range network.AllFacts() {
		same(string(f), got.Lacks(f), want.Lacks(f))
	}
	sameTurns(t, got, want)
	for _, p := range []orb.Point{{-75.001, 45.004}, {-180, -16}, {3, 81}} {
		same(fmt.Sprintf("near %v", p), network.NewIndex(got).Near(p, 5000), network.NewIndex(want).Near(p, 5000))
		g, errGot := network.NewIndex(got).Snap(p, math.MaxFloat64, nil)
		w, errWant := network.NewIndex(want).Snap(p, math.MaxFloat64, nil)
		same(fmt.Sprintf("snap %v", p), []any{g, fmt.Sprint(errGot)}, []any{w, fmt.Sprint(errWant)})
	}
}

func sameTurns(t *testing.T, got, want *network.Network) {
	t.Helper()
	for i := range want.Bans() {
		g, _ := got.Ban(i)
		w, _ := want.Ban(i)
		if diff := cmp.Diff(w, g, bySay); diff != "" {
			t.Errorf("ban %d: %s", i, diff)
		}
	}
	for i := range want.UTurns() {
		g, _ := got.UTurn(i)
		if w, _ := want.UTurn(i); g != w {
			t.Errorf("U-turn %d: %v, want %v", i, g, w)
		}
	}
	for i := range want.Sequences() {
		gotArcs, wantArcs := got.Sequence(i), want.Sequence(i)
		if !slices.Equal(gotArcs, wantArcs) {
			t.Errorf("sequence %d: %v, want %v", i, gotArcs, wantArcs)
		}
		var atGot, atWant network.TurnState
		for _, a := range wantArcs {
			atGot, atWant = got.Turns().Step(atGot, a), want.Turns().Step(atWant, a)
			if e, f := got.Turns().Ends(atGot), want.Turns().Ends(atWant); !slices.Equal(e, f) {
				t.Errorf("sequence %d, arc %d: ends %v, want %v", i, a, e, f)
			}
		}
	}
}

func TestRoundTrip(t *testing.T) {
	for name, n := range samples(t) {
		t.Run(name, func(t *testing.T) {
			raw := write(t, n)
			back := readFile(t, raw)
			sameNetwork(t, back, n)
			if again := write(t, back); !bytes.Equal(again, raw) {
				t.Error("what was read is not written as the same bytes")
			}
		})
	}
}

// A method that the round trip does not compare could lose what it tells.
func TestRoundTripComparesEveryMethod(t *testing.T) {
	all := strings.Fields(compared)
	methods := reflect.TypeFor[*network.Network]()
	for i := range methods.NumMethod() {
		if m := methods.Method(i).Name; !slices.Contains(all, m) {
			t.Errorf("sameNetwork does not compare what %s says", m)
		}
	}
}

// What was built is sound before it is written and after.
func TestVerifyAcceptsWhatWasBuilt(t *testing.T) {
	for name, n := range samples(t) {
		t.Run(name, func(t *testing.T) {
			if err := verify(n); err != nil {
				t.Errorf("as built: %v", err)
			}
			if err := verify(readFile(t, write(t, n))); err != nil {
				t.Errorf("as read: %v", err)
			}
		})
	}
}

// An edge without a record is one of which the source says nothing, not one
// that is shut.
func TestNoRecordSaysNothing(t *testing.T) {
	n := small(t)
	if id := n.RoadID(2); id != 0 {
		t.Fatalf("edge 2 has record %d, this test wants none", id)
	}
	if r := n.Record(0); !reflect.DeepEqual(r, network.Record{}) {
		t.Errorf("no record reads as %+v", r)
	}
}

func TestVerifyProgress(t *testing.T) {
	raw := write(t, small(t))
	last, total := int64(0), int64(0)
	heard := func(done, all int64) {
		if done <= last || done > all || total != 0 && all != total {
			t.Errorf("%d of %d after %d of %d", done, all, last, total)
		}
		last, total = done, all
	}
	if err := readFile(t, raw).Verify(context.Background(), heard); err != nil {
		t.Error(err)
	}
	if last == 0 || last != total {
		t.Errorf("ends at %d of %d bytes", last, total)
	}
}

func TestVerifyStops(t *testing.T) {
	n := readFile(t, write(t, small(t)))
	for left := range 5 {
		if err := n.Verify(&expiring{Context: context.Background(), left: left}, nil); !errors.Is(err, context.Canceled) {
			t.Errorf("after %d checks of the context: %v", left, err)
		}
	}
}

// The same road data gives the same bytes, so that a revision means something.
// The heap is filled with ones first: bytes that no field sets would show.
func TestBuildIsReproducible(t *testing.T) {
	first := write(t, small(t))
	for range 5 {
		dirtyHeap()
		if again := write(t, small(t)); !bytes.Equal(again, first) {
			t.Fatal("built again, the file has other bytes")
		}
	}
	if a, b := write(t, freshBundled(t)), write(t, freshBundled(t)); !bytes.Equal(a, b) {
		t.Error("the bundled network, read again, is written as other bytes")
	}
	if a := small(t).About.Revision; a == "" || a == grid(t, 8).About.Revision {
		t.Errorf("two networks have revision %q", a)
	}
}

func dirtyHeap() {
	for size := 16; size <= 4096; size *= 2 {
		for range 64 {
			junk := bytes.Repeat([]byte{0xff}, size)
			runtime.KeepAlive(junk)
		}
	}
	runtime.GC()
}

// Where the package comment says zeros, there are zeros, and so in the unused
// bytes of rows.
func TestUnusedBytesAreZero(t *testing.T) {
	dirtyHeap()
	raw := write(t, small(t))
	zero := func(what string, part []byte) {
		if len(bytes.Trim(part, "\x00")) > 0 {
			t.Errorf("%s: %x", what, part)
		}
	}
	at := uint64(headBytes + len(rowsOf(raw))*rowBytes)
	for _, r := range rowsOf(raw) {
		zero("before "+r.name, raw[at:r.offset])
		at = r.offset + r.size
		unused := map[string]uint64{"spots": 2, "bans": 1, "places": 2}[r.name]
		for end := r.offset + uint64(r.width); unused > 0 && end <= at; end += uint64(r.width) {
			zero(r.name, raw[end-unused:end])
		}
	}
	if at != uint64(len(raw)) {
		t.Errorf("the last section ends at %d of %d bytes", at, len(raw))
	}
}

// The width in the table is that of a row without gaps, the bytes are rows as
// they lie in memory: each section has as many rows as it should by both.
func TestSectionsLieAsInMemory(t *testing.T) {
	for name, n := range samples(t) {
		raw := write(t, n)
		edges, nodes, boxes := n.Edges(), len(n.Node), n.Edges()
		for level := edges; level > 1; boxes += level {
			level = (level + 15) / 16
		}
		points, spots, banArcs, places := 0, 0, 0, len(slices.Collect(n.Places()))
		for e := range network.EdgeID(edges) {
			points, spots = points+len(n.Shape(e)), spots+len(n.Spots(e))
		}
		for i := range n.Bans() {
			_, arcs := n.Ban(i)
			banArcs += len(arcs)
		}
		rows := map[string]int{
			"node": nodes, "shape starts": edges + 1, "shape": points, "spot starts": edges + 1, "spots": spots,
			"arc starts": nodes + 1,
			"arcs":       2 * edges, "bans": n.Bans(), "ban arcs": banArcs, "road starts": n.Roads() + 1, "places": places,
			"tree": boxes, "tree edges": edges,
		}
		for _, column := range []string{"from", "to", "length", "class", "speed", "road", "ref", "name", "set", "town",
			"origin", "grade"} {
			rows[column] = edges
		}
		widths := map[string]uintptr{
			"node": unsafe.Sizeof(orb.Point{}), "from": unsafe.Sizeof(network.NodeID(0)), "to": unsafe.Sizeof(network.NodeID(0)),
			"length": unsafe.Sizeof(measure.Distance(0)), "class": unsafe.Sizeof(network.Class(0)),
			"speed": unsafe.Sizeof(measure.Speed(0)),
			"road":  unsafe.Sizeof(network.RoadID(0)), "ref": unsafe.Sizeof(network.StringID(0)),
			"grade": unsafe.Sizeof(network.Grade{}),
			"shape": unsafe.Sizeof(orb.Point{}), "spots": unsafe.Sizeof(network.Spot{}), "arcs": unsafe.Sizeof(network.Arc(0)),
			"streets": 28, "street edges": 4, "addresses": 12, "bans": unsafe.Sizeof(network.Ban{}),
			"tree edges": unsafe.Sizeof(network.EdgeID(0)), "tree": 16, "places": 64,
		}
		for _, r := range rowsOf(raw) {
			if want, ok := widths[r.name]; ok && r.width != uint32(want) {
				t.Errorf("%s: %q has rows of %d bytes, %d in memory", name, r.name, r.width, want)
			}
			if count, ok := rows[r.name]; ok && r.size != uint64(count)*uint64(r.width) {
				t.Errorf("%s: %q has %d bytes, not %d rows of %d", name, r.name, r.size, count, r.width)
			}
			if r.offset%sectionAlign != 0 {
				t.Errorf("%s: %q lies at %d", name, r.name, r.offset)
			}
			delete(rows, r.name)
		}
		if len(rows) > 0 {
			t.Errorf("%s: no sections %v", name, rows)
		}
	}
}

func TestSections(t *testing.T) {
	n := small(t)
	if s := n.Sections(); len(s) != 0 {
		t.Errorf("a network that is in no file has sections %v", s)
	}
	raw := write(t, n)
	var want []network.Section
	for _, r := range rowsOf(raw) {
		want = append(want, network.Section{Name: r.name, Bytes: r.size})
		if r.size == 0 {
			t.Errorf("section %q of the small network is empty, so tests with it say nothing of it", r.name)
		}
	}
	if got := readFile(t, raw).Sections(); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// A slice of bytes may start anywhere; rows must still be read whole.
func TestReadAtAnyAddress(t *testing.T) {
	n := small(t)
	raw := write(t, n)
	buffer := make([]byte, len(raw)+16)
	for shift := range 16 {
		part := buffer[shift : shift+len(raw) : shift+len(raw)]
		copy(part, raw)
		back := readFile(t, part)
		sameNetwork(t, back, n)
		if again := write(t, back); !bytes.Equal(again, raw) {
			t.Errorf("%d bytes on: written as other bytes", shift)
		}
	}
}

func TestReadRefusesOtherFiles(t *testing.T) {
	for name, raw := range map[string][]byte{
		"nothing": nil, "empty": {}, "magic only": []byte("wayroads"), "zeros": make([]byte, 4096),
		"GeoJSON": geoJSON(t), "upper case": changed(write(t, small(t)), func(raw []byte) []byte {
			copy(raw, "WAYROADS")
			repairHead(raw)
			return raw
		}),
	} {
		_, err := network.Read(raw)
		wantRefusal(t, name, err)
	}
}

func TestReadRefusesTruncated(t *testing.T) {
	raw := write(t, small(t))
	cuts := []int{0, 1, 7, 8, 9, headBytes - 1, headBytes, headBytes + 1, len(raw) - 1}
	for i, r := range rowsOf(raw) {
		row := headBytes + (i+1)*rowBytes
		for _, at := range []int{row, int(r.offset), int(r.offset + r.size)} {
			cuts = append(cuts, at-1, at, at+1)
		}
	}
	for _, cut := range cuts {
		if cut >= len(raw) {
			continue
		}
		_, err := network.Read(raw[:cut:cut])
		wantRefusal(t, fmt.Sprintf("cut to %d of %d bytes", cut, len(raw)), err)
		if cut < headBytes {
			continue
		}
		// Even where the head agrees with the size, something is missing.
		short := slices.Clone(raw[:cut])
		binary.LittleEndian.PutUint64(short[16:], uint64(cut))
		repairHead(short)
		_, err = network.Read(short)
		wantRefusal(t, fmt.Sprintf("cut to %d of %d bytes, head made right", cut, len(raw)), err)
	}
	_, err := network.Read(append(slices.Clone(raw), 0))
	wantRefusal(t, "a byte too many", err)
}

func TestReadRefusesOtherVersions(t *testing.T) {
	raw := write(t, small(t))
	for version, want := range map[uint32]string{0: "fix.build_again", 1: "fix.build_again", 2: "fix.build_again",
		3: "fix.build_again", 5: "fix.use_a_newer_wayhouse", math.MaxUint32: "fix.use_a_newer_wayhouse"} {
		_, err := network.Read(changed(raw, func(raw []byte) []byte {
			binary.LittleEndian.PutUint32(raw[8:], version)
			repairHead(raw)
			return raw
		}))
		wantRefusal(t, fmt.Sprintf("version %d", version), err)
		if err != nil && (!strings.Contains(err.Error(), fmt.Sprint(version)) || !strings.Contains(err.Error(), want)) {
			t.Errorf("version %d: %v, want the version and %q", version, err, want)
		}
	}
}

// Changes of the table whose checksums are right.
func TestReadRefusesOtherTables(t *testing.T) {
	raw := write(t, small(t))
	if _, err := network.Read(changed(raw, func(raw []byte) []byte { repair(raw); return raw })); err != nil {
		t.Fatalf("repaired, though nothing was broken: %v", err)
	}
	row := func(name string) int { i, _ := rowOf(t, raw, name); return headBytes + i*rowBytes }
	put32, put64 := binary.LittleEndian.PutUint32, binary.LittleEndian.PutUint64
	for name, change := range map[string]func(raw []byte) []byte{
		"a name changed":        func(raw []byte) []byte { raw[row("to")] = 'x'; return raw },
		"a name goes on":        func(raw []byte) []byte { raw[row("to")+15] = 'x'; return raw },
		"a width changed":       func(raw []byte) []byte { put32(raw[row("spots")+32:], 44); return raw },
		"a width of 0":          func(raw []byte) []byte { put32(raw[row("to")+32:], 0); return raw },
		"a width beyond":        func(raw []byte) []byte { put32(raw[row("to")+32:], 1<<31+4); return raw },
		"two rows changed over": func(raw []byte) []byte { swap(raw[row("from"):], raw[row("to"):]); return raw },
		"one section fewer":     func(raw []byte) []byte { put32(raw[12:], uint32(len(rowsOf(raw))-1)); return raw },
		"one section more":      func(raw []byte) []byte { put32(raw[12:], uint32(len(rowsOf(raw))+1)); return raw },
		"no section":            func(raw []byte) []byte { put32(raw[12:], 0); return raw },
		"countless sections":    func(raw []byte) []byte { put32(raw[12:], math.MaxUint32); return raw },
		"an odd offset":         func(raw []byte) []byte { put64(raw[row("to")+16:], rowsOf(raw)[2].offset+4); return raw },
		"an offset beyond":      func(raw []byte) []byte { put64(raw[row("to")+16:], 1<<63); return raw },
		"a size beyond":         func(raw []byte) []byte { put64(raw[row("to")+24:], uint64(len(raw))); return raw },
		"a size beyond 64 bits": func(raw []byte) []byte { put64(raw[row("to")+24:], math.MaxUint64); return raw },
		"half a row":            func(raw []byte) []byte { put64(raw[row("to")+24:], 7*4-1); return raw },
		"a row short":           func(raw []byte) []byte { put64(raw[row("to")+24:], 6*4); return raw },
		"about no JSON":         func(raw []byte) []byte { raw[rowsOf(raw)[0].offset] = '['; return raw },
		"about without facts": func(raw []byte) []byte {
			return bytes.Replace(raw, []byte(`"structures"`), []byte(`"struktures"`), 1)
		},
	} {
		bad := changed(raw, change)
		repair(bad)
		_, err := network.Read(bad)
		wantRefusal(t, name, err)
	}
	for _, r := range rowsOf(raw)[2:] {
		bad := slices.Clone(raw)
		clear(bad[r.offset : r.offset+r.size]) // or what stands between sections would be refused
		put64(bad[row(r.name)+24:], 0)
		repair(bad)
		n, err := network.Read(bad)
		switch {
		case r.name == "places" || r.name == "data ends": // a network may have none, and nothing points to them
			if err != nil || verify(n) != nil {
				t.Errorf("no %s: %v, %v", r.name, err, verify(n))
			}
			continue
		case err == nil && (ofAnyLength(r.name) || ofSearches(rowsOf(raw), r.name)):
			err = verify(n)
		}
		wantRefusal(t, "no rows in "+r.name, err)
	}
}

// ofAnyLength tells whether a section is a table whose length says nothing of
// others, so that Verify and not Read finds what points into it.
func ofAnyLength(name string) bool {
	return slices.Contains([]string{
		"shape", "spots", "bans", "ban arcs", "u-turns", "u-turn arcs", "road starts", "roads", "string starts",
		"strings", "area starts", "areas",
	}, name)
}

func swap(a, b []byte) {
	for i := range rowBytes {
		a[i], b[i] = b[i], a[i]
	}
}

func TestReadRefusesEveryBitOfTheHead(t *testing.T) {
	raw := write(t, small(t))
	end := headBytes + len(rowsOf(raw))*rowBytes
	for bit := range end * 8 {
		raw[bit/8] ^= 1 << (bit % 8)
		if _, err := network.Read(raw); err == nil {
			t.Errorf("byte %d, bit %d turned over: was read", bit/8, bit%8)
		} else {
			wantRefusal(t, fmt.Sprintf("byte %d, bit %d", bit/8, bit%8), err)
		}
		raw[bit/8] ^= 1 << (bit % 8)
	}
}

// Every byte of every section, one bit at a time and not always the same: the
// section is named, or Read could not read it at all.
func TestVerifyRefusesEveryByte(t *testing.T) {
	raw := write(t, small(t))
	for _, r := range rowsOf(raw) {
		for at := r.offset; at < r.offset+r.size; at++ {
			mask := byte(1) << (at % 8)
			raw[at] ^= mask
			n, err := network.Read(raw)
			if err == nil {
				if err = verify(n); err != nil && !strings.Contains(err.Error(), fmt.Sprintf("section %q", r.name)) {
					t.Errorf("section %q: %v does not name it", r.name, err)
				}
			}
			wantRefusal(t, fmt.Sprintf("section %q, byte %d", r.name, at-r.offset), err)
			raw[at] ^= mask
		}
	}
	big := write(t, bundled(t))
	for _, r := range rowsOf(big) {
		if r.size == 0 {
			continue
		}
		for _, at := range []uint64{r.offset, r.offset + r.size/2, r.offset + r.size - 1} {
			big[at] ^= 0x10
			n, err := network.Read(big)
			if err == nil {
				err = verify(n)
			}
			wantRefusal(t, fmt.Sprintf("bundled, section %q, byte %d", r.name, at-r.offset), err)
			if err != nil && n != nil && !strings.Contains(err.Error(), fmt.Sprintf("section %q", r.name)) {
				t.Errorf("bundled, section %q: %v does not name it", r.name, err)
			}
			big[at] ^= 0x10
		}
	}
}

// Values that point nowhere or make no sense, under checksums that are right.
func TestVerifyRefusesValues(t *testing.T) {
	le := binary.LittleEndian
	u32 := func(v uint32) []byte { return le.AppendUint32(nil, v) }
	f64 := func(v float64) []byte { return le.AppendUint64(nil, math.Float64bits(v)) }
	nan := f64(math.NaN())
	raw := write(t, small(t))
	_, roadStarts := rowOf(t, raw, "road starts")
	// The record with signs is the last: its row, then its two signs.
	signs := int(le.Uint32(raw[roadStarts.offset+roadStarts.size-4:])) - 2*binary.Size(network.Sign{})
	record := signs - binary.Size(network.Road{})
	for _, tc := range []struct {
		section string
		at      int
		value   []byte
		want    string // in the error
	}{
		{"node", 0, nan, "node at"}, {"node", 8, f64(90.1), "node at"}, {"node", 16, f64(-180.1), "node at"},
		{"shape", 8, nan, "line runs through"}, {"shape", 16, f64(181), "line runs through"},
		{"shape", 0, f64(-74), "edge 0"}, {"shape", 16, f64(-74), "edge 0"},
		{"from", 0, u32(6), "edge 0"}, {"from", 4, u32(math.MaxUint32), "edge 1"}, {"to", 8, u32(1 << 31), "edge 2"},
		{"to", 0, u32(2), "edge 0"},
		{"length", 0, nan, "edge 0"}, {"length", 8, f64(-1), "edge 1"}, {"length", 16, f64(math.Inf(1)), "edge 2"},
		{"speed", 0, nan, "edge 0"}, {"speed", 8, f64(-1), "edge 1"}, {"speed", 16, f64(math.Inf(1)), "edge 2"},
		{"class", 3, []byte{byte(network.PossibleFerry) + 1}, "edge 3"}, {"class", 3, []byte{255}, "edge 3"},
		{"road", 0, u32(3), "edge 0"}, {"road", 0, u32(math.MaxUint32), "edge 0"}, {"ref", 0, u32(1 << 20), "edge 0"},
		{"name", 0, u32(math.MaxUint32), "edge 0"},
		{"town", 0, u32(1 << 20), "edge 0"}, {"set", 24, u32(1 << 20), "edge 6"},
		{"shape starts", 0, u32(1), "shape"}, {"shape starts", 4, u32(1), "edge 0"}, {"shape starts", 8, u32(1), "shape"},
		{"shape starts", 28, u32(99), "shape"},
		{"spot starts", 0, u32(1), "spot"}, {"spot starts", 4, u32(9), "spot"},
		{"spot starts", 4, u32(1), "a spot of edge 1"}, {"spot starts", 28, u32(2), "spot"},
		{"spots", 0, nan, "a spot of edge 0"}, {"spots", 0, f64(1e9), "a spot of edge 0"},
		{"spots", 0, f64(-1), "a spot of edge 0"},
		{"spots", 16, u32(1), "a spot of edge 0"}, {"spots", 20, u32(3), "a spot of edge 0"},
		{"spots", 24, u32(1 << 20), "a spot of edge 0"},
		{"spots", 28, []byte{byte(network.TurningCircle) + 1}, "a spot of edge 0"},
		{"spots", 29, []byte{2}, "a spot of edge 0"},
		{"arc starts", 0, u32(1), "arc"}, {"arc starts", 4, u32(99), "arc"},
		{"arc starts", 4, u32(0), "does not leave node"}, {"arc starts", 24, u32(13), "arc"},
		{"arcs", 0, u32(14), "does not leave node 0"}, {"arcs", 0, u32(math.MaxUint32), "does not leave node 0"},
		{"arcs", 0, u32(1), "does not leave node 0"},
		{"bans", 8, u32(1), "ban 0"}, {"bans", 24 + 8, u32(3), "ban 1"}, {"bans", 12, u32(1), "ban 0"},
		{"bans", 12, u32(0), "ban 0"}, {"bans", 12, u32(99), "ban 0"}, {"bans", 16, u32(1 << 20), "ban 0"},
		{"bans", 22, []byte{byte(network.Hazmat) + 1}, "ban 0"}, {"bans", 24 + 12, u32(5), "arcs of bans"},
		{"ban arcs", 0, u32(14), "ban 0"}, {"ban arcs", 4, u32(0), "ban 0"}, {"ban arcs", 12, u32(math.MaxUint32), "ban 1"},
		{"road starts", 0, u32(1), "roads"}, {"road starts", 8, u32(1 << 20), "roads"},
		{"road starts", 8, u32(uint32(record) - 1), "road record 1"},
		{"string starts", 8, u32(1 << 20), "strings"}, {"area starts", 8, u32(1 << 20), "areas"},
		{"roads", record + 16, u32(1 << 20), "names string"}, {"roads", record + 40, u32(math.MaxUint32), "names string"},
		{"roads", signs, []byte{byte(network.MaxAxleMass) + 1}, "road record"},
		{"roads", signs + 1, []byte{byte(network.Hazmat) + 1}, "road record"},
		{"roads", signs + 2, []byte{byte(network.Against) + 1}, "road record"},
		{"roads", signs + 3, []byte{byte(network.Refused) + 1}, "road record"},
		{"roads", signs + 4, []byte{byte(network.Unreadable) + 1}, "road record"},
		{"roads", signs + 16, u32(1 << 20), "names string"}, {"roads", signs + 20, u32(1 << 20), "names string"},
		{"places", 0, nan, "place 0"}, {"places", 8, f64(91), "place 0"}, {"places", 24, u32(1 << 20), "place 0"},
		{"places", 28, u32(1 << 20), "place 0"},
		{"places", 36, u32(1 << 20), "place 0"}, {"places", 44, u32(1 << 20), "place 0"},
		{"places", 48, u32(1 << 20), "place 0"},
		{"places", 52, u32(1 << 20), "place 0"}, {"places", 56, u32(1 << 20), "place 0"},
		{"places", 64 + 60, []byte{byte(network.WeighStation) + 1}, "place 1"},
		{"tree edges", 0, u32(7), "tree names edge"}, {"tree edges", 0, u32(math.MaxUint32), "tree names edge"},
		{"tree edges", 0, raw[offsetOf(t, raw, "tree edges")+4:][:4], "tree names edge"},
		{"tree", 0, u32(900_000_002), "box 0"}, {"tree", 4, u32(900_000_002), "box 0"},
		{"tree", 16, u32(0x80000000), "box 1"}, {"tree", 24, u32(0x80000000), "box 1"},
		{"tree", 28, u32(1_800_000_002), "box 1"},
	} {
		name := fmt.Sprintf("%s at %d: %x", tc.section, tc.at, tc.value)
		bad := slices.Clone(raw)
		_, r := rowOf(t, raw, tc.section)
		if uint64(tc.at+len(tc.value)) > r.size {
			t.Fatalf("%s: the section has %d bytes", name, r.size)
		}
		if at := bad[int(r.offset)+tc.at:]; bytes.HasPrefix(at, tc.value) {
			t.Fatalf("%s: stands there anyway", name)
		} else {
			copy(at, tc.value)
		}
		repair(bad)
		n, err := network.Read(bad)
		if err != nil {
			t.Errorf("%s: not read: %v", name, err)
			continue
		}
		err = verify(n)
		wantRefusal(t, name, err)
		if err != nil && !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: %v, want %q", name, err, tc.want)
		}
	}
}

func offsetOf(t testing.TB, raw []byte, section string) int {
	_, r := rowOf(t, raw, section)
	return int(r.offset)
}

// short is a writer that fails once it is full.
type short struct {
	bytes.Buffer
	room int
}

var errFull = errors.New("full")

func (s *short) Write(raw []byte) (int, error) {
	n, _ := s.Buffer.Write(raw[:min(len(raw), s.room)])
	s.room -= n
	if n < len(raw) {
		return n, errFull
	}
	return n, nil
}

func TestWriteToFullDisk(t *testing.T) {
	n := small(t)
	raw := write(t, n)
	for room := 0; room < len(raw); room += 7 { // 7: every place of a row in turn
		w := &short{room: room}
		if got, err := n.WriteTo(w); !errors.Is(err, errFull) || got != int64(room) || !bytes.Equal(w.Bytes(), raw[:room]) {
			t.Fatalf("with room for %d of %d bytes: %d, %v", room, len(raw), got, err)
		}
	}
}

// expiring is a context that ends after it was looked at a number of times.
type expiring struct {
	context.Context
	left, asked int
}

func (c *expiring) Err() error {
	c.asked++
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

func folder(t *testing.T, path string) []string {
	t.Helper()
	entries, err := os.ReadDir(path)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func TestSave(t *testing.T) {
	n, dir := small(t), t.TempDir()
	path := filepath.Join(dir, "roads.network")
	for range 2 { // new, and over the old one
		if err := n.Save(context.Background(), path); err != nil {
			t.Fatal(err)
		}
	}
	if raw, err := os.ReadFile(path); err != nil || !bytes.Equal(raw, write(t, n)) {
		t.Errorf("saved other bytes than written: %v", err)
	}
	if names := folder(t, dir); !slices.Equal(names, []string{"roads.network"}) {
		t.Errorf("the folder holds %q", names)
	}
	if info, err := os.Stat(path); err != nil || runtime.GOOS != "windows" && info.Mode().Perm()&0o444 != 0o444 {
		t.Errorf("others cannot read it: %v, %v", info.Mode(), err)
	}
	opened, err := network.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	sameNetwork(t, opened, n)
	if err := verify(opened); err != nil {
		t.Error(err)
	}
	for range 2 { // a second time does nothing
		if err := errors.Join(opened.Close(), n.Close()); err != nil {
			t.Errorf("close: %v", err)
		}
	}
}

// A reader sees the old file or the new one, wherever saving stops.
func TestSaveCancelled(t *testing.T) {
	n, dir := small(t), t.TempDir()
	path := filepath.Join(dir, "roads.network")
	old := []byte("the old file")
	if err := os.WriteFile(path, old, 0o600); err != nil {
		t.Fatal(err)
	}
	saved := false
	left := 0
	for ; !saved && left < 1000; left++ {
		err := n.Save(&expiring{Context: context.Background(), left: left}, path)
		saved = err == nil
		if !saved && !errors.Is(err, context.Canceled) {
			t.Fatalf("after %d checks: %v", left, err)
		}
		raw, readErr := os.ReadFile(path)
		if names := folder(t, dir); readErr != nil || len(names) != 1 {
			t.Fatalf("after %d checks, the folder holds %q: %v", left, names, readErr)
		}
		if !saved && !bytes.Equal(raw, old) {
			t.Fatalf("after %d checks and %v, the file has changed", left, err)
		}
		if saved && !bytes.Equal(raw, write(t, n)) {
			t.Fatalf("after %d checks, the file is not the new one", left)
		}
	}
	sections := 0
	for _, r := range rowsOf(write(t, n)) {
		sections += int(min(r.size, 1))
	}
	if left < sections {
		t.Errorf("cancelled at %d places, there are %d sections", left, sections)
	}
}

// whole is a context that ends once a folder holds a second file of a size.
type whole struct {
	context.Context
	dir  string
	size int64
}

func (c whole) Err() error {
	entries, err := os.ReadDir(c.dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if info, err := e.Info(); err == nil && strings.HasSuffix(e.Name(), ".part") && info.Size() == c.size {
			return context.Canceled
		}
	}
	return nil
}

// Who cancels before the new file is in its place keeps the old one, though
// all of the new one is written.
func TestSaveCancelledAtTheEnd(t *testing.T) {
	n, dir := small(t), t.TempDir()
	path := filepath.Join(dir, "roads.network")
	size := int64(len(write(t, n)))
	if err := n.Save(whole{context.Background(), dir, size}, path); !errors.Is(err, context.Canceled) {
		t.Errorf("%v, want it cancelled", err)
	}
	if names := folder(t, dir); len(names) > 0 {
		t.Errorf("the folder holds %q", names)
	}
}

// A large section is not written in one go, or nothing could stop it. Both
// reports need the same padding, whose writing counts too.
func TestSaveLooksWithinALargeSection(t *testing.T) {
	asked := func(report []byte) int {
		n, err := network.NewBuilder().Finish(lacking(), report)
		if err != nil {
			t.Fatal(err)
		}
		ctx := &expiring{Context: context.Background(), left: math.MaxInt}
		if err := n.Save(ctx, filepath.Join(t.TempDir(), "roads.network")); err != nil {
			t.Fatal(err)
		}
		return ctx.asked
	}
	if few, many := asked([]byte("{}")), asked(make([]byte, 12<<20+2)); many < few+2 {
		t.Errorf("looked at %d times, with 12 MiB more %d times", few, many)
	}
}

func TestSaveWhereItCannot(t *testing.T) {
	n, dir := small(t), t.TempDir()
	taken, plain, closed := filepath.Join(dir, "taken"), filepath.Join(dir, "plain"), filepath.Join(dir, "closed")
	for _, err := range []error{
		os.MkdirAll(filepath.Join(taken, "inside"), 0o700), os.WriteFile(plain, []byte("old"), 0o600), os.Mkdir(closed,
			0o700),
		os.WriteFile(filepath.Join(closed, "roads.network"), []byte("old"), 0o600), os.Chmod(closed, 0o500),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	t.Cleanup(func() { // or it could not be removed
		if err := os.Chmod(closed, 0o700); err != nil {
			t.Error(err)
		}
	})
	paths := []string{taken, filepath.Join(dir, "missing", "roads.network"), filepath.Join(plain, "roads.network")}
	if os.Geteuid() != 0 { // who may do anything writes there too
		paths = append(paths, filepath.Join(closed, "roads.network"))
	}
	for _, path := range paths {
		if err := n.Save(context.Background(), path); err == nil {
			t.Errorf("saved to %s", path)
		}
	}
	if names := folder(t, dir); !slices.Equal(names, []string{"closed", "plain", "taken"}) {
		t.Errorf("the folder holds %q", names)
	}
	if names := folder(t, taken); !slices.Equal(names, []string{"inside"}) {
		t.Errorf("the folder in its place holds %q", names)
	}
	for _, path := range []string{plain, filepath.Join(closed, "roads.network")} {
		if raw, err := os.ReadFile(path); err != nil || string(raw) != "old" {
			t.Errorf("%s holds %q, %v", path, raw, err)
		}
	}
	if names := folder(t, closed); !slices.Equal(names, []string{"roads.network"}) {
		t.Errorf("the closed folder holds %q", names)
	}
}

func TestOpenRefuses(t *testing.T) {
	dir := t.TempDir()
	good := write(t, small(t))
	for name, raw := range map[string][]byte{"empty": {}, "other": []byte("PK\x03\x04"), "cut": good[:len(good)-1],
		"damaged": append([]byte("x"), good[1:]...)} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, raw, 0o600); err != nil {
			t.Fatal(err)
		}
		_, err := network.Open(path)
		wantRefusal(t, name, err)
		if err == nil || !strings.Contains(err.Error(), path) {
			t.Errorf("%s: %v does not name the file", name, err)
		}
	}
	_, err := network.Open(dir)
	wantRefusal(t, "a folder", err)
	if _, err := network.Open(filepath.Join(dir, "missing")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("missing: %v", err)
	}
}

// Opening reads the head: it takes no more memory for a larger file.
func TestOpenTakesTheSameMemory(t *testing.T) {
	allocations := func(edges int) float64 {
		path := filepath.Join(t.TempDir(), "roads.network")
		if err := grid(t, edges).Save(context.Background(), path); err != nil {
			t.Fatal(err)
		}
		return testing.AllocsPerRun(20, func() {
			n, err := network.Open(path)
			if err != nil || n.Close() != nil {
				t.Fatal(err)
			}
		})
	}
	if few, many := allocations(100), allocations(5000); many > few+2 {
		t.Errorf("%.0f allocations for 100 edges, %.0f for 5000", few, many)
	}
}

// walk uses all of a network that Read and Verify accepted, as planning does.
func walk(n *network.Network) {
	usePrepared(n)
	ix := network.NewIndex(n)
	for e := range network.EdgeID(n.Edges()) {
		edgeSaid(n, e)
		for _, s := range n.Spots(e) {
			_, _, _ = n.Record(s.Road), n.Text(s.Name), s.Kind.String()
			n.Point(network.Position{Edge: e, Offset: s.Offset})
		}
		ix.Near(n.Shape(e)[0], 1000)
	}
	for id := range network.NodeID(len(n.Node)) {
		for _, a := range n.Out(id) {
			n.Head(a)
		}
	}
	for id := range network.RoadID(n.Roads()) {
		for _, s := range n.Record(id).Signs {
			_, _ = n.Text(s.Text), n.Text(s.When)
		}
	}
	turns, at := n.Turns(), network.TurnState(0)
	for i := range n.Bans() {
		b, arcs := n.Ban(i)
		for _, a := range arcs {
			at = turns.Step(at, a)
			turns.Ends(at)
		}
		b.Binds([]network.Mode{network.Caravans})
		n.Text(b.When)
	}
	for p := range n.Places() {
		ix.Near(p.Point, 1e5)
	}
	for _, p := range []orb.Point{{0, 90}, {180, 0}, {-75, 45}} {
		ix.Near(p, math.MaxFloat64)
		_, _ = ix.Snap(p, 1000, func(e network.EdgeID) bool { return e%2 == 0 })
	}
}

// useAnything reads bytes, verifies and walks; it tells whether they were
// accepted.
func useAnything(t testing.TB, raw []byte) bool {
	t.Helper()
	n, err := network.Read(raw)
	if err == nil {
		err = verify(n)
	}
	if err != nil {
		wantRefusal(t, "bytes", err)
		return false
	}
	walk(n)
	return true
}

// Every byte of a file in turn, under checksums that are right: refused or
// harmless, and what is accepted can be used.
func TestDamageUnderRightSums(t *testing.T) {
	t.Parallel()
	raw := write(t, small(t))
	accepted, refused := 0, 0
	for at := range raw {
		bad := slices.Clone(raw)
		bad[at] ^= []byte{0xff, 1, 2, 4, 8, 16, 32, 64, 128}[at%9] // 9: every place of a row meets every one
		repair(bad)
		if useAnything(t, bad) {
			accepted++
		} else {
			refused++
		}
	}
	if accepted == 0 || refused == 0 {
		t.Errorf("%d accepted, %d refused: the checksums hide the rest", accepted, refused)
	}
}

func FuzzRead(f *testing.F) {
	raw := write(f, small(f))
	f.Add(write(f, prepared(f, town(f))), true)
	for _, right := range []bool{false, true} {
		f.Add(raw, right)
		f.Add(raw[:len(raw)-64], right)
		f.Add(raw[:headBytes+10*rowBytes], right)
	}
	f.Fuzz(func(t *testing.T, raw []byte, right bool) {
		if len(raw) > 1<<16 {
			return
		}
		raw = slices.Clone(raw)
		if right {
			repair(raw)
		}
		useAnything(t, raw)
	})
}

var gridSizes = []int{1_000, 10_000, 100_000}

func savedGrid(b *testing.B, edges int) string {
	path := filepath.Join(b.TempDir(), "roads.network")
	if err := grid(b, edges).Save(context.Background(), path); err != nil {
		b.Fatal(err)
	}
	return path
}

// BenchmarkOpen takes the same for files of any size.
func BenchmarkOpen(b *testing.B) {
	for _, edges := range gridSizes {
		b.Run(fmt.Sprint(edges), func(b *testing.B) {
			path := savedGrid(b, edges)
			b.ReportAllocs()
			for b.Loop() {
				n, err := network.Open(path)
				if err != nil {
					b.Fatal(err)
				}
				if err := n.Close(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkVerify reads all, so it grows with the file.
func BenchmarkVerify(b *testing.B) {
	for _, edges := range gridSizes {
		b.Run(fmt.Sprint(edges), func(b *testing.B) {
			n, err := network.Open(savedGrid(b, edges))
			if err != nil {
				b.Fatal(err)
			}
			defer n.Close()
			for b.Loop() {
				if err := verify(n); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
