package wire

import (
	"fmt"
	"slices"
	"strings"

	"wayhouse/api/phrase"
	"wayhouse/data"
	"wayhouse/routing/network"
)

// Network says what road data the answer rests on.
type Network struct {
	Name     string         `json:"name"`
	Vintage  string         `json:"vintage"`
	Caution  string         `json:"caution"`
	Revision string         `json:"revision"`
	Credit   string         `json:"credit" doc:"To be shown wherever the answer is"`
	Carries  []network.Fact `json:"carries"`
	Lacks    []network.Fact `json:"lacks"`
}

// Attribution says where data comes from and on what terms.
type Attribution struct {
	ID          string `json:"id"`
	Name        string `json:"name"`
	From        string `json:"from"`
	Date        string `json:"date"`
	Attribution string `json:"attribution"`
	Licence     string `json:"licence"`
	Changes     string `json:"changes,omitempty"`
	LicenceText string `json:"licence_text,omitempty"`
}

// Attributions lists the sources of the shipped data, with their licence texts
// where asked for, in the words of a language; credits and licences keep theirs.
func Attributions(tell *phrase.Language, texts bool) []Attribution {
	var out []Attribution
	for _, s := range data.Sources() {
		a := Attribution{
			ID: s.ID, Name: tell.Ours(s.Name), From: tell.Ours(s.From), Date: tell.Ours(s.Date), Attribution: s.Attribution,
			Licence: s.Licence, Changes: tell.Ours(s.Changes),
		}
		if texts && s.LicenceFile != "" {
			raw, err := data.Files.ReadFile(s.LicenceFile)
			if err != nil {
				panic(err) // embedded; a test reads each
			}
			a.LicenceText = string(raw)
		}
		out = append(out, a)
	}
	return out
}

// Credits lists the sources that an answer on a network rests on: the shipped
// ones, and those of the network instead of the shipped roads where it is
// another, with licence texts where asked for.
func Credits(tell *phrase.Language, about network.About, texts bool) []Attribution {
	out := Attributions(tell, texts)
	if about.Licence == "" {
		return out
	}
	own := Attribution{
		ID: "network", Name: tell.Ours(about.Name), Date: tell.Ours(about.Vintage),
		From:        tell.Ours("the extracts that the network file was built of"),
		Attribution: about.Attribution, Licence: about.Licence, Changes: tell.Ours("turned into a road network"),
	}
	out = slices.DeleteFunc(out, func(a Attribution) bool { return a.ID == data.RoadsID })
	return append([]Attribution{own}, out...)
}

func (tell teller) newNetwork(about network.About) Network {
	return Network{
		Name: tell.Ours(
			about.Name,
		), Vintage: tell.Ours(about.Vintage), Caution: tell.Ours(about.Caution), Revision: about.Revision,
		Credit:  about.Attribution,
		Carries: append([]network.Fact{}, about.Carries...), Lacks: append([]network.Fact{}, about.Lacks...),
	}
}

// String names an attribution in one line.
func (a Attribution) String() string {
	return fmt.Sprintf("%s (%s): %s Licence: %s.", a.Name, a.Date, a.Attribution, strings.TrimSuffix(a.Licence, "."))
}

// CreditOf is the credit that a source asks for, "" for one that is not there.
func CreditOf(id string) string {
	for _, s := range data.Sources() {
		if s.ID == id {
			return s.Attribution
		}
	}
	return ""
}
