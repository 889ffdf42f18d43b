package paper

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/language"

	"wayhouse/api/phrase"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/testdata/english"
	"wayhouse/testdata/needs"
)

// pagesOf are the texts of the pages of a paper as a PDF, read by another program
// (pdftotext of poppler, which ends each page with a form feed), without what lays them
// out.
func pagesOf(t *testing.T, d Doc) (out []string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(file, pdfOf(t, d), 0o644); err != nil {
		t.Fatal(err)
	}
	text := string(must(exec.Command("pdftotext", "-raw", file, "-").Output()))
	for page := range strings.SplitSeq(strings.TrimSuffix(text, "\f"), "\f") {
		out = append(out, squeezed(page))
	}
	return out
}

// Every page says for what rig it is, by which tables and roads, when it was printed and
// after which day it is void, and is loud where its height is only designed: whoever finds
// one page in the cab knows whether it is the right one.
func TestEveryPageSaysWhatItRestsOn(t *testing.T) {
	needs.Require(t, needs.Poppler)
	p := planned(t, nil)
	docs := append(OfTrip(printed(language.English, measure.Metric), p),
		OfQuote(printed(language.English, measure.Metric), quoted(t, toldOfQuote, false))...)
	for _, d := range docs {
		pages := pagesOf(t, d)
		asked := []string{
			"height 4.05 m as designed, NOT MEASURED", "width 2.55 m", "length 13.5 m", "mass 10,070 kg",
			"Tables revision " + p.Tables, "road network revision " + p.About.Revision, "Printed 2027-05-10",
			"VOID AFTER 2027-", "INVENTED",
		}
		if d.Kind == RouteSheet {
			asked = append(asked, "DRAFT: MEASURE THE HEIGHT", "VOID AFTER 2027-05-11")
		}
		for i, page := range pages {
			for _, want := range append(asked, fmt.Sprintf("page %d of %d", i+1, len(pages))) {
				if !strings.Contains(page, squeezed(want)) {
					t.Errorf("page %d of %s has no %q", i+1, d.Name(), want)
				}
			}
		}
	}
}

// A sheet whose height was measured is no draft, on no page.
func TestMeasuredHeightIsNoDraft(t *testing.T) {
	needs.Require(t, needs.Poppler)
	p := planned(t, func(q *wire.TripRequest) { q.Unit.HeightBasis, q.Unit.MeasuredOn = "measured", "2027-05-09" })
	for i, page := range pagesOf(t, OfTrip(printed(language.English, measure.Metric), p)[0]) {
		if strings.Contains(page, "DRAFT") || !strings.Contains(page, squeezed("height 4.05 m as measured")) {
			t.Errorf("page %d: %q", i+1, page[:80])
		}
	}
}

// answer is what the test reads of the JSON of a trip: none of the types of the service.
type answer struct {
	Length float64 `json:"length_m"`
	Road   struct {
		Moves []struct {
			At   float64 `json:"at_m"`
			Far  float64 `json:"far_m"`
			Onto string
			Turn float64 `json:"turn_degrees"`
		}
	}
	Legs []struct {
		From, To   string
		Structures []struct {
			Name   string
			At     float64 `json:"at_m"`
			Margin float64 `json:"margin_m"`
			Row    struct{ Published string }
		}
	}
	Permits []struct {
		Jurisdiction string
		Length       float64 `json:"length_m"`
		Measurements []struct {
			Metres float64 `json:"value_m"`
			Mass   float64 `json:"value_kg"`
		}
		Permits []struct{ ID, Name, Signs, Source string }
	}
}

// What the JSON of a trip says is in the text of its PDFs as another program reads it, each
// figure as the test itself writes it: turns with their distances, structures with what is
// left over the rig, and what an office is asked with.
func TestPDFSaysWhatJSONDoes(t *testing.T) {
	needs.Require(t, needs.Poppler)
	p := planned(t, nil)
	var said answer
	raw := must(json.Marshal(wire.NewTrip(phrase.In(language.English, measure.Metric), p)))
	if err := json.Unmarshal(raw, &said); err != nil {
		t.Fatal(err)
	}
	text := map[string]string{}
	for _, d := range OfTrip(printed(language.English, measure.Metric), p) {
		text[d.Name()] = strings.Join(pagesOf(t, d), "")
	}
	has := func(paper string, parts ...string) {
		t.Helper()
		if want := squeezed(strings.Join(parts, "")); !strings.Contains(text[paper], want) {
			t.Errorf("%s has no %q", paper, want)
		}
	}
	moves := said.Road.Moves
	for i, m := range moves {
		if i > 0 && moves[i-1].Far <= 60 { // the second part of a jog
			continue
		}
		far, onto := m.Far, m.Onto
		if far <= 60 {
			far, onto = moves[i+1].Far, "through a jog"
		}
		if i == 0 { // 2.31 m, which is no tenth of a kilometre
			has("route-sheet", "2.31 m", kilometres(far))
		} else {
			has("route-sheet", kilometres(m.At), kilometres(far))
		}
		has("route-sheet", onto)
	}
	for _, l := range said.Legs {
		has("route-sheet", l.To)
		for _, s := range l.Structures {
			has("route-sheet", s.Name)
			has("route-sheet", fmt.Sprint(math.Round(100*s.Margin)/100), " m to spare")
			has("route-sheet", strings.Fields(s.Row.Published)[0], " m")
		}
	}
	has("route-sheet", kilometres(said.Length))
	for _, need := range said.Permits {
		paper := "permit-worksheet-" + need.Jurisdiction
		has(paper, "Length in this jurisdiction", kilometres(need.Length))
		for _, m := range need.Measurements {
			if m.Mass > 0 {
				has(paper, fmt.Sprintf("%d,%03d kg", int(m.Mass)/1000, int(m.Mass)%1000))
			} else {
				has(paper, fmt.Sprint(m.Metres), " m")
			}
		}
		for _, permit := range need.Permits {
			has(paper, "May be: ", permit.Name)
			has(paper, permit.Signs)
			has(paper, permit.ID)
			has(paper, permit.Source)
		}
	}
	if len(moves) < 10 || len(said.Permits) == 0 {
		t.Errorf("%d moves, %d permits: little was compared", len(moves), len(said.Permits))
	}
}

// kilometres writes a distance as a sheet has it: metres below one kilometre.
func kilometres(metres float64) string {
	if metres < 1000 {
		return fmt.Sprintf("%.0f m", metres)
	}
	return fmt.Sprintf("%.1f km", metres/1000)
}

// untranslated are the words of rows that keep their language: those that have French are
// English on a French paper.
func untranslated() []string {
	french := phrase.French()
	return slices.DeleteFunc(english.Rows(), func(row string) bool { return french.Ours(row) != row })
}
