package wire

import (
	"fmt"
	"strconv"
	"strings"
)

// Edition is the state of the tables that an answer rests on. A request that names the
// number is answered from the same state.
type Edition struct {
	Number int    `json:"tables_revision" doc:"The change that made this state of the tables" example:"1"`
	Sum    string `json:"tables_sum" doc:"Of what they say: alike where two services hold the same rows" example:"69edeb7d1517"`
}

// NewEdition reads the revision that answers carry: the number, a dash and the sum. One
// of tables that no store keeps has no number.
func NewEdition(revision string) Edition {
	number, sum, _ := strings.Cut(revision, "-")
	n, err := strconv.Atoi(number)
	if err != nil {
		return Edition{Sum: revision}
	}
	return Edition{n, sum}
}

// Revision is it as citations carry it.
func (e Edition) Revision() string {
	if e.Number == 0 {
		return e.Sum
	}
	return fmt.Sprintf("%d-%s", e.Number, e.Sum)
}
