package main

import (
	"os"
	"strings"
	"testing"

	"wayhouse/api/wire"
)

const (
	twoStops = `"stops": [{"place": "Perth, ON"}, {"place": "Cornwall, ON"}]`
	headLine = "id,name,lat,lon,road,direction,posted,measured,measured_on,sag_radius,status,source,section,source_year," +
		"read_on,note"
	headMust = "the head line must be " + headLine + "; after these there may be width, mass, words, grade, way, doubt, " +
		"closed, valid_from, valid_to, wind, source_url, jurisdiction, term_days"
	noTrack = "has no line of two points or more; give a GPX 1.1 document with one track, with several that follow " +
		"each other, or with one route"
	tooFar  = "lies more than 10 years from today; check the year"
	future  = "lies in the future; give the day it was measured, or leave height_basis out"
	ofAUnit = "has the fields of a unit; give it where a unit belongs"
)

// refusal is a mistake that is easily made, and what the doors say of it: the command
// all that it prints, HTTP a field and the words behind it.
type refusal struct {
	args        []string
	says        string
	path, body  string // "" where the service cannot be asked so
	field, word string
}

// refusals are by their names. The files stand in the folder of the command.
func refusals() map[string]refusal {
	plan := func(flags ...string) []string { return between(flags...) }
	check := func(flags ...string) []string { return append([]string{"check", "--in", "CA-ON"}, flags...) }
	csv := func(text string) string { return `{"structures_csv": "` + text + `", ` + twoStops + `}` }
	unit := func(fields string) string { return `{"in": ["CA-ON"], "unit": {` + fields + `}}` }
	return map[string]refusal{
		"structures with a wrong heading": {
			plan("--structures", "wrong.csv"), "\n  wrong.csv: has columns that the table has not: height; " + headMust,
			"/v1/trips", csv(strings.Replace(headLine, "posted", "height", 1)), "structures_csv", "has columns that the " +
				"table has not: height; " + headMust,
		},
		"structures of a trip file with a wrong heading": {
			args: []string{"plan", "wrong.yaml"}, says: "\n  wrong.csv: has columns that the table has not: height; " + headMust,
		},
		"structures without a unit": {
			plan(
				"--structures",
				"unit.csv",
			), " in unit.csv\n  line 2, column posted \"4.45\": has no unit; add one, as in 4.15 m, 13'6\", 162 in",
			"/v1/trips", csv(headLine + `\na,b,45,-75,,both,4.45,,,,invented,x,,,,`), "structures_csv, line 2, column " +
				"posted", "has no unit; add one, as in 4.15 m, 13'6\", 162 in",
		},
		"an empty file of structures": {
			plan(
				"--structures",
				"empty",
			), "\n  empty: is empty; fill it in", "/v1/trips", csv(""), "structures_csv", "is empty; fill it in",
		},
		"structures of a head line alone": {
			plan(
				"--structures",
				"head.csv",
			), "\n  head.csv: has a head line alone; add a line for each structure, or leave it out",
			"/v1/trips", csv(headLine), "structures_csv", "has a head line alone; add a line for each structure, or " +
				"leave it out",
		},
		"an empty GPX file": {
			[]string{
				"plan",
				"empty-gpx.yaml",
			}, "\n  empty.gpx: is empty; fill it in", "/v1/trips", `{"route": {"gpx": ""}}`, "route.gpx", "is empty; fill it in",
		},
		"a GPX file without a track": {
			[]string{"plan", "no-track.yaml"}, "\n  no-track.gpx: " + noTrack,
			"/v1/trips", `{"route": {"gpx": "<gpx version='1.1' creator='a test' ` +
				`xmlns='http://www.topografix.com/GPX/1/1'/>"}}`, "route.gpx", noTrack,
		},
		"a rating without a unit": {
			check(
				"rating.yaml",
			), " in rating.yaml\n  running_gear[0].rating 1: is a number without a unit; say which, such as \"1 kg\" or " +
				"\"1 lb\", or use rating_kg",
			"/v1/checks", unit(`"running_gear": [{"behind_coupling": "4 m", "rating": 1}]`), "unit.running_gear[0].rating",
			"is a number without a unit; say which, such as \"1 kg\" or \"1 lb\", or use rating_kg",
		},
		"a number in words": {
			check(
				"two.yaml",
			), " in two.yaml\n  axles \"two\": is no whole number; write it in digits and without quotes, such as 2",
			"/v1/checks", unit(`"axles": "two"`), "unit.axles", "is no whole number; write it in digits and without " +
				"quotes, such as 2",
		},
		"a picture for a unit": {
			args: check(
				"picture",
			), says: "\n  picture: is no text in UTF-8; give a file of fields in YAML or JSON; data/example shows the form",
		},
		"a picture for structures": {
			args: plan("--structures", "picture"), says: "\n  picture: is no table of text; " + headMust,
		},
		"a list for a unit": {
			check(
				"list.yaml",
			), "\n  list.yaml: is a list, and no fields with values; write lines such as height: 4.05 m; data/example " +
				"shows the form",
			"/v1/checks", `{"in": ["CA-ON"], "unit": ["height: 4 m"]}`, "unit", "is a list, and no fields with values; " +
				"write fields with their values; there are ",
		},
		"a list for a tow vehicle": {
			args: plan(
				"--tow",
				"list.yaml",
			), says: "\n  list.yaml: is a list, and no fields with values; write lines such as height: 4.05 m; " +
				"data/example shows the form",
		},
		"a file that is no YAML": {
			args: check(
				"open.yaml",
			), says: "\n  open.yaml: cannot be read as YAML or JSON: line 1: a comma or a closing } is missing; correct " +
				"it; data/example shows the form",
		},
		"a unit for a trip": {
			[]string{"plan", "unit.yaml"},
			"\n  unit.yaml: " + ofAUnit,
			"/v1/trips",
			`{"height": "4 m", "width": "2.5 m"}`,
			"body",
			ofAUnit,
		},
		"a unit for a tow vehicle": {
			plan("--tow", "unit.yaml"),
			"\n  unit.yaml: " + ofAUnit,
			"/v1/trips",
			`{"tow": {"kind": "tiny_home", "anchors": []}}`,
			"tow",
			ofAUnit,
		},
		"a trip for a unit": {
			check(
				"trip.yaml",
			), "\n  trip.yaml: has the fields of a trip; give it where a trip belongs, here the file of a unit, such as " +
				"unit.yaml, and that of its tow vehicle behind --tow", "/v1/checks", unit(twoStops + `, "depart": ` +
				`"2027-05-11"`), "unit",
			"has the fields of a trip; give it where a trip belongs",
		},
		"a folder for a store": {
			args: plan("--store", "."),
			says: "\n  --store \".\": is a folder; name a file in it, such as tables.db",
		},
		"a store in no folder": {
			args: plan("--store", "none/t.db"),
			says: "\n  --store \"none/t.db\": lies in a folder that is not there: none; make the folder first, or name another",
		},
		"a drawing in no folder": {
			args: []string{"rig", "unit.yaml", "--draw", "none/a.svg"},
			says: "\n  --draw \"none/a.svg\": lies in a folder that is not there: none; make the folder first, or name another",
		},
		"a share in letters": {
			args: []string{"rig", "unit.yaml", "--windward-share", "abc"},
			says: "\n  --windward-share \"abc\": is no number; write it like 0.3",
		},
		"a misspelt flag": {
			args: plan("--unit-heigth", "4 m"),
			says: "\n  --unit-heigth: is an unknown flag of wayhouse plan; write --unit-height",
		},
		"a flag like no other": {
			args: plan("--fast"),
			says: "\n  --fast: is an unknown flag of wayhouse plan; see wayhouse plan --help",
		},
		"a flag without its value": {
			args: plan("--unit-height"),
			says: "\n  --unit-height: has no value; write one behind it",
		},
		"an unknown table": {
			args: []string{"rules", "list", "--table", "limit"},
			says: "\n  --table \"limit\": is no table; use one of limits, hours, holidays, permits, offices, contacts, " +
				"clearances, letters, notices, duty, trucks, rates",
		},
		"a table without its flag": {
			args: []string{"rules", "list", "duty"},
			says: "\n  wayhouse rules list \"duty\": takes flags alone; name a table with --table, such as --table limits",
		},
		"a departure in 1999": {
			plan("--depart", "1999-05-11T08:00"),
			"\n  --depart \"1999-05-11T08:00\": " + tooFar,
			"/v1/trips",
			`{"depart": "1999-05-11T08:00", ` + twoStops + `}`,
			"depart",
			tooFar,
		},
		"a departure in 9999": {
			plan("--depart", "9999-05-11T08:00"),
			"\n  --depart \"9999-05-11T08:00\": " + tooFar,
			"/v1/trips",
			`{"depart": "9999-05-11T08:00", ` + twoStops + `}`,
			"depart",
			tooFar,
		},
		"a day in 1999": {
			check("two-axles.yaml", "--day", "1999-05-11"),
			"\n  --day \"1999-05-11\": " + tooFar,
			"/v1/checks",
			`{"in": ["CA-ON"], "unit": {}, "day": "1999-05-11"}`,
			"day",
			tooFar,
		},
		"a day in 9999": {
			[]string{"rig", "two-axles.yaml", "--day", "9999-05-11"},
			"\n  --day \"9999-05-11\": " + tooFar,
			"/v1/rigs",
			`{"unit": {}, "day": "9999-05-11"}`,
			"day",
			tooFar,
		},
		"measured tomorrow, a check": {
			check("tomorrow.yaml"),
			" in tomorrow.yaml\n  measured_on \"2029-05-11\": " + future,
			"/v1/checks",
			unit(measuredIn2029),
			"unit.measured_on",
			future,
		},
		"measured tomorrow, a rig": {
			[]string{"rig", "tomorrow.yaml"},
			" in tomorrow.yaml\n  measured_on \"2029-05-11\": " + future,
			"/v1/rigs",
			`{"unit": {` + measuredIn2029 + `}}`,
			"unit.measured_on",
			future,
		},
		"measured tomorrow, a plan": {
			[]string{"plan", "tomorrow-trip.yaml"}, " in tomorrow.yaml\n  measured_on \"2029-05-11\": " + future,
			"/v1/trips", `{"unit": {` + measuredIn2029 + `}, "depart": "2029-06-01T08:00", ` +
				`` + twoStops + `}`, "unit.measured_on", future,
		},
		"measured after the move": {
			check(
				"late.yaml",
				"--day",
				"2027-05-01",
			), " in late.yaml\n  measured_on \"2027-05-09\": lies after the move; give the day it was measured, or leave " +
				"height_basis out",
			"/v1/checks", `{"in": ["CA-ON"], "day": "2027-05-01", "unit": {"height": "4 m", "height_basis": "measured", ` +
				`"measured_on": "2027-05-09"}}`, "unit.measured_on",
			"lies after the move; give the day it was measured, or leave height_basis out",
		},
		"a spread of 0 without a unit": {
			[]string{
				"rig",
				"spread.yaml",
			}, " in spread.yaml\n  parts[0].give_or_take 0: is a number without a unit; say which, such as \"0 kg\" or " +
				"\"0 lb\", or use give_or_take_kg",
			"/v1/rigs", `{"unit": {"parts": [{"name": "a", "mass": "5 kg", "give_or_take": 0}]}}`, "unit.parts[0].give_or_take",
			"is a number without a unit; say which, such as \"0 kg\" or \"0 lb\", or use give_or_take_kg",
		},
	}
}

const measuredIn2029 = `"height": "4 m", "height_basis": "measured", "measured_on": "2029-05-11"`

// mistaken writes the files of the refusals into a folder and goes there.
func mistaken(t *testing.T) {
	t.Helper()
	texts := map[string]string{
		"empty": "", "empty.gpx": "", "picture": "\x89PNG\r\n\x1a\n\x00\x00", "list.yaml": "- height: 4 " +
			"m\n", "open.yaml": "unit: {height: 4 m\n",
		"wrong.csv": strings.Replace(
			headLine,
			"posted",
			"height",
			1,
		), "wrong.yaml": "{structures: wrong.csv, " + twoStops + "}", "head.csv": headLine + "\n",
		"unit.csv":       headLine + "\na,b,45,-75,,both,4.45,,,,invented,x,,,,\n",
		"empty-gpx.yaml": "route: empty.gpx", "no-track.yaml": "route: no-track.gpx",
		"no-track.gpx": `<gpx version="1.1" creator="a test" xmlns="http://www.topografix.com/GPX/1/1"/>`,
		"rating.yaml":  "running_gear: [{behind_coupling: 4 m, rating: 1}]", "two.yaml": "axles: " +
			"two", "two-axles.yaml": "axles: 2",
		"tomorrow.yaml": "{" + measuredIn2029 + "}", "tomorrow-trip.yaml": `{unit: tomorrow.yaml, depart: ` +
			`"2029-06-01T08:00", ` + twoStops + "}",
		"late.yaml": "{height: 4 m, height_basis: measured, measured_on: 2027-05-09}", "spread.yaml": "parts: [{name: " +
			"a, mass: 5 kg, give_or_take: 0}]",
	}
	for _, name := range []string{"trip.yaml", "unit.yaml", "structures.csv", "tow.yaml"} {
		raw, err := os.ReadFile(example(t, name))
		noError(t, err)
		texts[name] = string(raw)
	}
	t.Chdir(t.TempDir())
	for name, text := range texts {
		noError(t, os.WriteFile(name, []byte(text), 0o600))
	}
}

// Mistakes that are easily made are answered with the field as the user wrote it, the
// value and what to write instead, at both doors in the same words.
func TestMistakesAreNamed(t *testing.T) {
	known, tables, err := load(t.Context(), sources{}, noon, withRoads)
	noError(t, err)
	defer tables.Close()
	handler := serverOf(known, tables, sources{}, quiet()).Handler()
	mistaken(t)
	for name, r := range refusals() {
		t.Run(name, func(t *testing.T) {
			want := "wayhouse: some values cannot be used" + r.says + "\n"
			if code, out, errs := wayhouse(t, r.args...); code != exitInput || out != "" || errs != want {
				t.Errorf("%q: exit code %d, printed %q\n%s\nwant %s", r.args, code, out, errs, want)
			}
			if r.path == "" {
				return
			}
			e := refusedBody(t, handler, r.path, []byte(r.body))
			if said := e.Problem + "; " + e.Fix; e.Field != r.field || !strings.HasPrefix(said, r.word) {
				t.Errorf("%s is refused for\n%s: %s\nwant %s: %s", r.body, e.Field, said, r.field, r.word)
			}
		})
	}
}

// Both doors refuse in the language that was asked.
func TestMistakesAreNamedInBothLanguages(t *testing.T) {
	known, tables, err := load(t.Context(), sources{}, noon, withRoads)
	noError(t, err)
	defer tables.Close()
	handler := serverOf(known, tables, sources{}, quiet()).Handler()
	mistaken(t)
	for name, r := range map[string]struct {
		args    []string
		path    string
		body    string
		en, fr  string // all that the command prints
		problem string // what the service says in French of one field
	}{
		"a number without a unit": {
			args: []string{"check", "rating.yaml", "--in", "CA-ON"}, path: "/v1/checks",
			body: `{"in": ["CA-ON"], "unit": {"running_gear": [{"behind_coupling": "4 m", "rating": 1}]}}`,
			en: "wayhouse: some values cannot be used in rating.yaml\n  running_gear[0].rating 1: is a number without " +
				"a unit; say which, such as \"1 kg\" or \"1 lb\", or use rating_kg\n",
			fr: "wayhouse: certaines valeurs ne peuvent pas être utilisées dans rating.yaml\n  running_gear[0].rating 1: " +
				"est un nombre sans unité; dites laquelle, " +
				"comme \"1 kg\" ou \"1 lb\", ou utilisez rating_kg\n",
			problem: "est un nombre sans unité",
		},
		"a figure that contradicts another": {
			args: between("--unit-height", "2.4 m", "--unit-width", "2.5 m"), path: "/v1/trips",
			body: `{"unit": {"height": "2.4 m", "width": "2.5 m"}, ` + twoStops + `}`,
			en: "wayhouse: please check these values: they are possible but more likely a slip\n  --unit-height \"2.4 m " +
				"(≈ 7 ft 10 1/2 in)\": is below the width, 2.5 m (≈ 8 ft 2 7/16 in): are the two swapped; " +
				"swap them, or confirm height_below_width\n    to go on with it: --confirm height_below_width, or confirm: " +
				"[height_below_width] in the trip file\n",
			fr: "wayhouse: veuillez vérifier ces valeurs\u00a0: elles sont possibles, mais sont plutôt une erreur\n  " +
				"--unit-height \"2.4 m (≈ 7 ft 10 1/2 in)\": est sous la largeur, 2.5 m (≈ 8 ft 2 7/16 in)\u00a0: " +
				"les deux sont-elles interverties; échangez-les, ou confirmez height_below_width\n    pour continuer " +
				"ainsi\u00a0: --confirm height_below_width, ou «\u00a0confirm: [height_below_width]\u00a0» dans le fichier " +
				"de voyage\n",
			problem: "est sous la largeur",
		},
		"a place of no map": {
			args: between("--to", "Xyzzyville"), path: "/v1/trips", body: `{"stops": [{"place": "Perth, ON"}, {"place": ` +
				`"Xyzzyville"}]}`,
			en: "wayhouse: some values cannot be used\n  --to \"Xyzzyville\": no place is called \"Xyzzyville\"; " +
				"check the spelling, or give lat and lon\n",
			fr: "wayhouse: certaines valeurs ne peuvent pas être utilisées\n  --to \"Xyzzyville\": aucun lieu ne " +
				"s'appelle «\u00a0Xyzzyville\u00a0»; vérifiez l'orthographe, ou donnez lat et lon\n",
			problem: "aucun lieu ne s'appelle «\u00a0Xyzzyville\u00a0»",
		},
	} {
		t.Run(name, func(t *testing.T) {
			for lang, want := range map[string]string{"en": r.en, "fr": r.fr} {
				if code, out, errs := wayhouse(t, append(r.args, "--lang", lang)...); code != exitInput || out != "" ||
					errs != want {
					t.Errorf("%s: exit code %d, printed %q\n%q\nwant %q", lang, code, out, errs, want)
				}
			}
			if e := refusedBody(t, handler, r.path+"?lang=fr", []byte(r.body)); !strings.HasPrefix(e.Problem, r.problem) {
				t.Errorf("%q, want %q", e.Problem, r.problem)
			}
		})
	}
}

// What reads as a slip and is none is taken.
func TestWhatIsNoMistake(t *testing.T) {
	known, tables, err := load(t.Context(), sources{}, noon, rulesAlone)
	noError(t, err)
	defer tables.Close()
	for name, unit := range map[string]string{
		"a sum of floats":  `{"height_m": 4.150000000000001}`,
		"an exact mass":    `{"parts": [{"name": "a", "mass": "5 kg", "give_or_take": "0 kg"}]}`,
		"measured already": `{"height": "4 m", "height_basis": "measured", "measured_on": "2027-05-10"}`,
	} {
		q := wire.Decode[wire.CheckRequest]([]byte(`{"in": ["CA-ON"], "unit": ` + unit + `}`))
		if _, err := known.Check(t.Context(), q); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
