package wire

import (
	"strings"

	"wayhouse/regs/say"
)

// Reason is who makes a change, and why. The history keeps both.
type Reason struct {
	Who string `json:"who" minLength:"1" maxLength:"200"`
	Why string `json:"why" minLength:"1" maxLength:"2000"`
}

// Check refuses a reason of blanks; the error is a [*Refusal].
func (r Reason) Check() error {
	for _, f := range []struct{ name, text string }{{"who", r.Who}, {"why", r.Why}} {
		if strings.TrimSpace(f.text) == "" {
			return Refuse(FieldError{
				Field: f.name, Problem: say.That("error.empty"), Fix: say.That("fix.say_who_makes_the"),
			})
		}
	}
	return nil
}

// RowRequest writes one row.
type RowRequest struct {
	Reason
	Cells map[string]string `json:"cells" doc:"By column, as text; what is left out is empty"`
}

// VerifyRequest says that somebody read a row in its source.
type VerifyRequest struct {
	Reason
	Source    string `json:"source" minLength:"1" doc:"Title of the text that you read"`
	Section   string `json:"section,omitempty"`
	Year      string `json:"source_year,omitempty"`
	URL       string `json:"source_url,omitempty"`
	ReadOn    string `json:"read_on,omitempty" format:"date" doc:"The day you read it; today when left out"`
	Published string `json:"published,omitempty" doc:"The figure as printed, where it differs"`
	Threshold string `json:"threshold,omitempty" doc:"The same, exact, with its unit"`
}

// ImportRequest takes the rows of a CSV.
type ImportRequest struct {
	Reason
	CSV           string `json:"csv"`
	DryRun        bool   `json:"dry_run,omitempty" doc:"Say what would change and change nothing"`
	RemoveMissing bool   `json:"remove_missing,omitempty" doc:"Remove the rows that are not in the CSV"`
	Expect        int    `json:"expect_revision,omitempty" doc:"Refuse if the tables are at another revision than this one, such as that of the dry run. A CSV with a column tables_revision, as it is exported, needs none: what was changed since stays, and what both changed is refused"`
}

// UpgradeRequest takes over the rows that come with this version.
type UpgradeRequest struct {
	Reason
	DryRun bool `json:"dry_run,omitempty"`
}

// RestoreRequest makes the tables what they were.
type RestoreRequest struct {
	Reason
	Revision int `json:"tables_revision" minimum:"1"`
}
