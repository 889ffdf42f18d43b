package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api"
	"wayhouse/api/phrase"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/routing/trip"
)

// slip is a request that no door takes. The field is that of a file and of a body;
// flags are the same said on the command line, where there are any, and flag is what
// a refusal calls the field then.
type slip struct {
	trip, field string
	flags       []string
	flag        string
}

// slips are one of each kind of mistake.
func slips() map[string]slip {
	long := strings.Repeat("n", 5000)
	return map[string]slip{
		"endless name":         {trip: `{"name": "` + long + `"}`, field: "name"},
		"endless unit's name":  {trip: `{"unit": {"name": "` + long + `"}}`, field: "unit.name"},
		"endless place":        {`{"stops": [{"place": "` + long + `"}, {"place": "Cornwall, ON"}]}`, "stops[0].place", []string{"--from", long}, "--from"},
		"endless departure":    {`{"depart": "` + long + `"}`, "depart", []string{"--depart", long}, "--depart"},
		"no departure":         {`{"depart": "soon"}`, "depart", []string{"--depart", "soon"}, "--depart"},
		"no unit of a height":  {`{"unit": {"height": "4.15"}}`, "unit.height", []string{"--unit-height", "4.15"}, "--unit-height"},
		"height below nothing": {`{"unit": {"height": "-4 m"}}`, "unit.height", []string{"--unit-height", "-4 m"}, "--unit-height"},
		"no height":            {`{"unit": {"height": "0 m"}}`, "unit.height", []string{"--unit-height", "0 m"}, "--unit-height"},
		"height by weight":     {`{"unit": {"height": "4 kg"}}`, "unit.height", []string{"--unit-height", "4 kg"}, "--unit-height"},
		"height of two names":  {trip: `{"unit": {"height": "4 m", "height_m": 4}}`, field: "unit.height"},
		"bare number":          {trip: `{"unit": {"height": 4.15}}`, field: "unit.height"},
		"text for a number":    {trip: `{"unit": {"height_m": "4.15 m"}}`, field: "unit.height_m"},
		"number below nothing": {trip: `{"unit": {"height_m": -4}}`, field: "unit.height_m"},
		"two masses":           {`{"rig": {"mass": "10 m"}}`, "rig.mass", []string{"--rig-mass", "10 m"}, "--rig-mass"},
		"a list of masses":     {trip: `{"unit": {"scale_ticket": {"weighed_on": "2027-05-01", "coupling": "1 t", "axles_kg": ["2 t"]}}}`, field: "unit.scale_ticket.axles_kg[0]"},
		"unknown kind":         {`{"unit": {"kind": "houseboat"}}`, "unit.kind", []string{"--kind", "houseboat"}, "--kind"},
		"unknown coupling":     {`{"unit": {"coupling": "rope"}}`, "unit.coupling", []string{"--coupling", "rope"}, "--coupling"},
		"unknown fuel":         {trip: `{"tow": {"fuel": "coal"}}`, field: "tow.fuel"},
		"unknown trade":        {trip: `{"use": "holiday"}`, field: "use"},
		"hazmat in words":      {`{"wishes": {"hazmat": "a little"}}`, "wishes.hazmat", []string{"--hazmat", "a little"}, "--hazmat"},
		"too fast":             {`{"wishes": {"top_speed": "550 mph"}}`, "wishes.top_speed", []string{"--top-speed", "550 mph"}, "--top-speed"},
		"a bare time":          {`{"wishes": {"permit_cost": "30"}}`, "wishes.permit_cost", []string{"--permit-cost", "30"}, "--permit-cost"},
		"no such area":         {`{"wishes": {"not_in": ["XX-YY"]}}`, "wishes.not_in[0]", []string{"--not-in", "XX-YY"}, "--not-in"},
		"five roads to use": {
			`{"wishes": {"by": ["1", "2", "3", "4", "5"]}}`, "wishes.by", []string{"--by", "1", "--by", "2", "--by", "3", "--by", "4", "--by", "5"}, "--by",
		},
		"an empty road":        {`{"wishes": {"not_by": [" "]}}`, "wishes.not_by[0]", []string{"--not-by", " "}, "--not-by"},
		"revision below none":  {`{"tables_revision": -1}`, "tables_revision", []string{"--tables-revision", "-1"}, "--tables-revision"},
		"unknown place":        {`{"stops": [{"place": "Perth, ON"}, {"place": "Xyzzyville"}]}`, "stops[1].place", []string{"--to", "Xyzzyville"}, "--to"},
		"off Earth":            {trip: `{"stops": [{"lat": 91, "lon": 0}, {"place": "Perth, ON"}]}`, field: "stops[0]"},
		"misspelt":             {trip: `{"unit": {"hieght": "4 m"}}`, field: "unit.hieght"},
		"other letters":        {trip: `{"unit": {"Height": "4 m"}}`, field: "unit.Height"},
		"no list":              {trip: `{"stops": "Perth, ON"}`, field: "stops"},
		"no fields":            {trip: `{"unit": 5}`, field: "unit"},
		"no day":               {trip: `{"unit": {"measured_on": "2027-02-30"}}`, field: "unit.measured_on"},
		"half an axle":         {trip: `{"unit": {"axles": 1.5}}`, field: "unit.axles"},
		"a score of axles":     {trip: `{"unit": {"axles": 21}}`, field: "unit.axles"},
		"forty tires":          {trip: `{"rig": {"axles": [{"tires": 40}]}}`, field: "rig.axles[0].tires"},
		"month of no year":     {trip: `{"allowances": {"winter_months": [13]}}`, field: "allowances.winter_months[0]"},
		"allowance below none": {trip: `{"allowances": {"base": "-0.1 m"}}`, field: "allowances.base"},
		"hot":                  {trip: `{"conditions": {"temperature_c": 90}}`, field: "conditions.temperature_c"},
		"high":                 {trip: `{"conditions": {"altitude": "9000 m"}}`, field: "conditions.altitude"},
		"neither yes nor no":   {trip: `{"avoid_unmeasured": "yes"}`, field: "avoid_unmeasured"},
		"thirsty log":          {trip: `{"tow": {"fuel_logs": [{"fuel": "1300 L", "distance": "480 km", "speed": "90 km/h"}]}}`, field: "tow.fuel_logs[0].fuel"},
		"log of no distance":   {trip: `{"tow": {"fuel_logs": [{"fuel": "130 L", "speed": "90 km/h"}]}}`, field: "tow.fuel_logs[0].distance"},
		"log at a walk":        {trip: `{"tow": {"fuel_logs": [{"fuel": "130 L", "distance": "480 km", "speed": "5 km/h"}]}}`, field: "tow.fuel_logs[0].speed"},
		"log of a feather":     {trip: `{"tow": {"fuel_logs": [{"fuel": "130 L", "distance": "480 km", "speed": "90 km/h", "mass": "10 kg"}]}}`, field: "tow.fuel_logs[0].mass"},
		"heavy tank":           {trip: `{"tow": {"tank": "100000 L"}}`, field: "tow.tank"},
		"anchors beyond count": {trip: `{"unit": {"anchors": [{"name": "a", "along": "1 m", "across": "1 m", "count": 101}]}}`, field: "unit.anchors[0].count"},
		"anchor without name":  {trip: `{"unit": {"anchors": [{"along": "1 m", "across": "1 m"}]}}`, field: "unit.anchors[0].name"},
		"coupling elsewhere":   {trip: `{"unit": {"length": "8 m", "coupling_to_rear": "9 m"}}`, field: "unit.coupling_to_rear"},
	}
}

// A trip file, flags and a body meet one set of rules and are refused in one set of
// words.
func TestEveryDoorRefusesAlike(t *testing.T) {
	known, tables, err := load(t.Context(), sources{}, noon, withRoads)
	noError(t, err)
	defer tables.Close()
	handler := serverOf(known, tables, sources{}, quiet()).Handler()
	alike := func(t *testing.T, want wire.Fault, field string, args ...string) {
		t.Helper()
		want.Field = field
		if got := refusedCommand(t, known, args...); got != want.String() {
			t.Errorf("plan %.60s is refused for\n%s\nwant %s", fmt.Sprint(args), got, want)
		}
	}
	for name, s := range slips() {
		t.Run(name, func(t *testing.T) {
			trip := map[string]any{"unit": map[string]any{}, "stops": []any{map[string]any{"place": "Perth, ON"}, map[string]any{"place": "Cornwall, ON"}}}
			noError(t, json.Unmarshal([]byte(s.trip), &trip))
			raw, err := json.Marshal(trip)
			noError(t, err)
			want := refusedBody(t, handler, "/v1/trips", raw)
			if want.Field != s.field || want.Problem == "" || want.Fix == "" || strings.Contains(want.String(), "Request") {
				t.Errorf("a body is refused for %+v, want %s", want, s.field)
			}
			alike(t, want, want.Field, written(t, "trip.yaml", string(raw)))
			if len(s.flags) > 0 {
				alike(t, want, s.flag, between(s.flags...)[1:]...)
			}
		})
	}
}

// refusedBody posts a request and returns the one entry of its refusal.
func refusedBody(t *testing.T, h http.Handler, path string, body []byte) wire.Fault {
	t.Helper()
	r := httptest.NewRequestWithContext(t.Context(), http.MethodPost, "http://127.0.0.1"+path, bytes.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	var p api.Problem
	if err := json.Unmarshal(w.Body.Bytes(), &p); err != nil || w.Code != http.StatusUnprocessableEntity || len(p.Errors) != 1 {
		t.Fatalf("%d: %v\n%s", w.Code, err, w.Body)
	}
	return p.Errors[0]
}

// refusedCommand asks wayhouse plan, on a service that is loaded already, and returns
// the one line that the user reads of each refusal.
func refusedCommand(t *testing.T, known *service.Service, args ...string) string {
	t.Helper()
	f := planFlags{form: formOf[*trip.Plan]()}
	c := &cobra.Command{}
	f.flags(c.Flags())
	noError(t, c.ParseFlags(args))
	a, err := f.request(c, c.Flags().Args())
	noError(t, err)
	_, err = known.Plan(t.Context(), wire.DecodeValue[wire.TripRequest](a.fields))
	var errs bytes.Buffer
	if code := tell(&errs, phrase.English(), a.named(err)); code != exitInput {
		t.Errorf("exit code %d", code)
	}
	_, line, _ := strings.Cut(strings.TrimSpace(errs.String()), "\n")
	return strings.TrimSpace(line)
}

// The other commands and their endpoints are refused alike too, as whole processes.
func TestEveryCommandRefusesAsItsEndpoint(t *testing.T) {
	known, tables, err := load(t.Context(), sources{}, noon, withRoads)
	noError(t, err)
	defer tables.Close()
	handler := serverOf(known, tables, sources{}, quiet()).Handler()
	const stops = `"stops": [{"place": "Perth, ON"}, {"place": "Cornwall, ON"}]`
	unit, odd := written(t, "unit.yaml", "{height: 4 m}"), written(t, "odd.yaml", "{kind: houseboat}")
	for name, s := range map[string]struct {
		path, body string
		args       []string
		called     string
	}{
		"kind":          {"/v1/checks", `{"unit": {"kind": "houseboat"}, "in": ["CA-ON"]}`, []string{"check", odd, "--in", "CA-ON"}, "kind"},
		"day":           {"/v1/checks", `{"unit": {"height": "4 m"}, "in": ["CA-ON"], "day": "tomorrow"}`, []string{"check", unit, "--in", "CA-ON", "--day", "tomorrow"}, "--day"},
		"trade":         {"/v1/checks", `{"unit": {"height": "4 m"}, "in": ["CA-ON"], "use": "holiday"}`, []string{"check", unit, "--in", "CA-ON", "--use", "holiday"}, "--use"},
		"nowhere":       {"/v1/checks", `{"unit": {"height": "4 m"}}`, []string{"check", unit}, "--in"},
		"no such place": {"/v1/checks", `{"unit": {"height": "4 m"}, "in": ["XX-YY"]}`, []string{"check", unit, "--in", "XX-YY"}, "--in"},
		"tow vehicle":   {"/v1/checks", `{"unit": {"height": "4 m"}, "in": ["CA-ON"], "tow": {"form": "mule"}}`, []string{"check", unit, "--in", "CA-ON", "--tow-form", "mule"}, "--tow-form"},
		"revision":      {"/v1/checks", `{"unit": {"height": "4 m"}, "in": ["CA-ON"], "tables_revision": 7}`, []string{"check", unit, "--in", "CA-ON", "--tables-revision", "7"}, "--tables-revision"},
		"windward":      {"/v1/rigs", `{"unit": {"height": "4 m"}, "conditions": {"windward_share": 0.9}}`, []string{"rig", unit, "--windward-share", "0.9"}, "--windward-share"},
		"rig's kind":    {"/v1/rigs", `{"unit": {"kind": "houseboat"}}`, []string{"rig", odd}, "kind"},
		"alternatives":  {"/v1/routes", `{"alternatives": 4, ` + stops + `}`, append([]string{"route"}, between("--alternatives", "4")[1:]...), "--alternatives"},
		"quantity":      {"/v1/ladders", `{"quantity": "length", ` + stops + `}`, append([]string{"ladder"}, between("--quantity", "length")[1:]...), "--quantity"},
		"avoiding":      {"/v1/ladders", `{"avoid_unmeasured": true, ` + stops + `}`, append([]string{"ladder"}, between("--avoid-unmeasured")[1:]...), "--avoid-unmeasured"},
	} {
		t.Run(name, func(t *testing.T) {
			want := refusedBody(t, handler, s.path, []byte(s.body))
			want.Field = s.called
			code, out, errs := wayhouse(t, s.args...)
			if code != exitInput || out != "" || !strings.HasSuffix(errs, "\n  "+want.String()+"\n") {
				t.Errorf("%v: exit code %d, printed %q\n%s\nwant %s", s.args, code, out, errs, want)
			}
		})
	}
}

// The whole command refuses as its parts do.
func TestTheCommandRefusesAnEndlessName(t *testing.T) {
	s := slips()["endless name"]
	code, out, errs := wayhouse(t, "plan", written(t, "trip.yaml", s.trip))
	if code != exitInput || out != "" || !strings.Contains(errs, "  name \"nnn") || !strings.Contains(errs, "5000 characters, more than 200") {
		t.Errorf("%d, %q\n%s", code, out, errs)
	}
}

// Each flag that gives a field names one that its request has.
func TestFlagsNameFields(t *testing.T) {
	fields := map[string]int{}
	for name, tc := range map[string]struct {
		command *cobra.Command
		refused func(fields map[string]any) error
	}{
		"plan":    {planCommand(noon), decoded[wire.TripRequest]},
		"route":   {routeCommand(noon), decoded[wire.RouteRequest]},
		"ladder":  {ladderCommand(noon), decoded[wire.LadderRequest]},
		"check":   {checkCommand(noon), decoded[wire.CheckRequest]},
		"rig":     {rigCommand(noon), decoded[wire.RigQuestion]},
		"verify":  {rulesVerify(noon), decoded[wire.VerifyRequest]},
		"restore": {rulesRestore(noon), decoded[wire.RestoreRequest]},
	} {
		tc.command.Flags().VisitAll(func(f *pflag.Flag) {
			for _, path := range f.Annotations[fieldOf] {
				fields[name]++
				a := &asked{fields: map[string]any{}, flags: map[string]string{}}
				a.put(path, f.Name, map[string]any{})
				if err := tc.refused(a.fields); err == nil || strings.Contains(err.Error(), "no field here") || !strings.Contains(err.Error(), path) {
					t.Errorf("%s --%s: %v; want %s refused for an object that is none of its values", name, f.Name, err, path)
				}
			}
		})
	}
	for name, least := range map[string]int{"plan": 20, "route": 23, "ladder": 21, "check": 6, "rig": 6, "verify": 9, "restore": 2} {
		if fields[name] < least {
			t.Errorf("%s: %d flags give fields, want %d at the least", name, fields[name], least)
		}
	}
}

func decoded[Q any](fields map[string]any) error { return wire.DecodeValue[Q](fields).Err() }
