package data

import (
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"testing"
)

func TestSourcesAreComplete(t *testing.T) {
	ids := map[string]bool{}
	for _, s := range Sources() {
		if s.ID == "" || s.ID != strings.ToLower(s.ID) || ids[s.ID] {
			t.Errorf("id %q is empty, not lower case or taken", s.ID)
		}
		ids[s.ID] = true
		for field, text := range map[string]string{
			"name": s.Name, "from": s.From, "date": s.Date, "attribution": s.Attribution, "licence": s.Licence,
		} {
			if strings.TrimSpace(text) == "" {
				t.Errorf("%s: no %s", s.ID, field)
			}
		}
		if s.LicenceFile != "" && len(read(t, s.LicenceFile)) == 0 {
			t.Errorf("%s: %s is empty", s.ID, s.LicenceFile)
		}
	}
	// What is shipped has a source: a folder is named as the source of its
	// files is.
	folders, err := fs.ReadDir(Files, ".")
	if err != nil {
		t.Fatal(err)
	}
	for _, folder := range folders {
		if !ids[folder.Name()] {
			t.Errorf("nothing says where the files in %s come from", folder.Name())
		}
	}
}

func read(t *testing.T, path string) string {
	t.Helper()
	raw, err := Files.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}

// What the licences ask of whoever passes the data on. Roads: GeoGratis
// Licence Agreement for Unrestricted Use of Digital Data, sections 3.0 (the
// words of the credit) and 4.0 (to be imposed on every recipient). Places:
// CC BY 4.0, section 3(a)(1) (credit the maker, name the licence).
func TestLicencesAreHonoured(t *testing.T) {
	const credit = "© Her Majesty the Queen in Right of Canada, Department of Natural Resources. All rights reserved."
	byID := map[string]Source{}
	for _, s := range Sources() {
		byID[s.ID] = s
	}
	for _, tc := range []struct{ what, text, want string }{
		{"credit of the roads", byID["roads"].Attribution, credit},
		{"credit in the licence of the roads", read(t, byID["roads"].LicenceFile), credit},
		{"section 4 in the licence of the roads", read(t, byID["roads"].LicenceFile), "4.0 WARRANTY, LIABILITY, INDEMNITY"},
		{"passing on section 4", read(t, byID["roads"].LicenceFile), "the same terms and conditions as those contained in section 4.0 of this Agreement"},
		{"licence of the roads", byID["roads"].Licence, "section 4"},
		{"credit of the roads in the network", read(t, "roads/network.wayroads"), credit},
		{"credit of the places", byID["places"].Attribution, "GeoNames"},
		{"licence of the places", byID["places"].Attribution, "CC BY 4.0"},
		{"text of the licence of the places", read(t, byID["places"].LicenceFile), "Attribution 4.0 International"},
	} {
		if !strings.Contains(unwrapped(tc.text), tc.want) {
			t.Errorf("%s: no %q", tc.what, tc.want)
		}
	}
}

// unwrapped takes out line breaks, so that a sentence is found across them.
func unwrapped(text string) string {
	return regexp.MustCompile(`\s+`).ReplaceAllString(text, " ")
}

// A text is cited by itself and by the office that holds it. Copies in a public
// code host are named only where an authority or an organisation keeps them.
func TestNoSourceNamesAPrivatePerson(t *testing.T) {
	kept := []string{"18F", "justicecanada"}
	host := regexp.MustCompile(`(?i)(?:github\.com/|githubusercontent\.com/|gitlab\.com/|\bGitHub )([A-Za-z0-9-]+)/`)
	err := fs.WalkDir(Files, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".csv") {
			return err
		}
		for _, m := range host.FindAllStringSubmatch(read(t, path), -1) {
			if !slices.Contains(kept, m[1]) {
				t.Errorf("%s names the account %q", path, m[1])
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
