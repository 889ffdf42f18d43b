package export_test

import (
	"bytes"
	"context"
	"os"
	"reflect"
	"strings"
	"testing"
	"time"

	"golang.org/x/text/language"
	"sigs.k8s.io/yaml"

	"wayhouse/api/export"
	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/data"
	"wayhouse/regs/area"
	"wayhouse/regs/measure"
	"wayhouse/regs/store"
	"wayhouse/routing/network"
	"wayhouse/routing/place"
	"wayhouse/routing/trip"
)

const example = "../../data/example/"

func noon() time.Time { return time.Date(2027, 5, 10, 16, 0, 0, 0, time.UTC) }

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func known(t *testing.T) *service.Service {
	db := must(store.OpenMemory(context.Background(), noon))
	defer db.Close()
	open := func(name string) []byte { return must(data.Files.ReadFile(name)) }
	areas := must(area.Read(open("areas/jurisdictions.bin")))
	p := must(trip.New(t.Context(), must(network.Read(open("roads/network.wayroads"))), areas, must(db.Snapshot(t.Context()))))
	return &service.Service{Planner: p, Places: must(place.Read(open("places/places.csv"), areas.Called)), Clock: noon}
}

// answers are one of every kind that is exported, about the example or about the same
// rig as if it were a real one, with the structures of the example or without them.
func answers(t *testing.T, s *service.Service, invented, structures bool) []any {
	t.Helper()
	of := wire.TripRequest{Invented: invented, Stops: []wire.StopRequest{{Place: "Perth, ON"}, {Place: "Sorel-Tracy, QC"}}}
	if structures {
		of.StructuresCSV = string(must(os.ReadFile(example + "structures.csv")))
	}
	for file, into := range map[string]any{"unit.yaml": &of.Unit, "tow.yaml": &of.Tow} {
		text := strings.ReplaceAll(string(must(os.ReadFile(example+file))), " (invented)", "")
		if err := yaml.Unmarshal([]byte(text), into); err != nil {
			t.Fatal(err)
		}
	}
	of.Unit.Invented, of.Tow.Invented = invented, invented
	ctx := t.Context()
	plan := must(s.Plan(ctx, wire.Asked[wire.TripRequest]{Said: of}))
	design := must(s.Check(ctx, wire.Asked[wire.CheckRequest]{Said: wire.CheckRequest{Unit: of.Unit, Tow: of.Tow, In: []string{"CA-ON"}}}))
	rig := must(s.Rig(ctx, wire.Asked[wire.RigQuestion]{Said: wire.RigQuestion{TripRequest: wire.TripRequest{Unit: of.Unit, Tow: of.Tow}}}))
	of.Quote = &wire.QuoteRequest{RatesCSV: string(must(os.ReadFile(example + "rates.csv")))}
	if !invented {
		of.Quote.RatesCSV = strings.ReplaceAll(of.Quote.RatesCSV, "invented", "verified")
	}
	priced := must(s.Quote(ctx, wire.Asked[wire.TripRequest]{Said: of}))
	of.Quote = nil
	return []any{
		plan, priced, design, rig, must(s.Routes(ctx, wire.Asked[wire.RouteRequest]{Said: wire.RouteRequest{TripRequest: of, Alternatives: 1, Reasons: true}})),
		must(s.Ladders(ctx, wire.Asked[wire.LadderRequest]{Said: wire.LadderRequest{TripRequest: of}})), service.Plans(plan, plan), service.Checks(design, design),
	}
}

// Whatever is written of what rests on invented data carries the mark, and nothing else
// does: every kind of answer in every format and language, in its own form and in full.
func TestInventedIsMarkedInEveryFormat(t *testing.T) {
	s := known(t)
	var views []report.View
	for _, tag := range []language.Tag{language.English, language.French} {
		in := phrase.In(tag, measure.Both)
		views = append(views, report.View{In: in}, report.View{In: in, Full: true}, report.View{In: in, Rows: true})
	}
	for _, invented := range []bool{true, false} {
		for _, answer := range append(answers(t, s, invented, invented), answers(t, s, invented, false)...) {
			wrote := 0
			for _, f := range export.Formats() {
				for _, v := range views {
					var b bytes.Buffer
					if err := f.Write(&b, v, answer); err != nil {
						continue // not of this kind
					}
					wrote++
					if got := strings.Contains(b.String(), "INVENT"); got != invented {
						t.Errorf("%s as %s in %s (full %t, rows %t): marked %t, want %t", reflect.TypeOf(answer), f.Name, v.In.Tag(), v.Full, v.Rows, got, invented)
					}
				}
			}
			if wrote < 2*len(views) {
				t.Errorf("%T: %d texts", answer, wrote)
			}
		}
	}
}
