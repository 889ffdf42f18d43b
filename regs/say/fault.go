package say

import "errors"

// Error is an error that people read: what it says is data, as everything that is
// said. Its Error method is for logs.
type Error interface {
	error
	Remark() Remark
}

// Err makes an [Error] of a remark.
func Err(r Remark) error { return &told{r} } // by its address, so that errors.Is finds it

type told struct{ says Remark }

func (t *told) Error() string  { return t.says.String() }
func (t *told) Remark() Remark { return t.says }

// Of is what an error says, in its own words where it is none of ours.
func Of(err error) Remark {
	var ours Error
	if errors.As(err, &ours) {
		return ours.Remark()
	}
	return Text(err.Error())
}
