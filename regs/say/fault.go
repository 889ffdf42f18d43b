package say

import (
	"errors"
	"io/fs"
	"syscall"
)

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

// Of is what an error says: ours what it is made of, one of a file what became of that,
// any other its own words.
func Of(err error) Remark {
	var ours Error
	var file *fs.PathError
	switch {
	case errors.As(err, &ours):
		return ours.Remark()
	case errors.As(err, &file):
		return ofFile(file)
	}
	return Text(err.Error())
}

func ofFile(err *fs.PathError) Remark {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return That("error.no_file", "path", err.Path)
	case errors.Is(err, fs.ErrPermission):
		return That("error.no_permission", "path", err.Path)
	case errors.Is(err, fs.ErrExist):
		return That("error.file_exists", "path", err.Path)
	case errors.Is(err, syscall.EISDIR):
		return That("error.is_folder", "path", err.Path)
	case errors.Is(err, syscall.ENOTDIR):
		return That("error.path_no_folder", "path", err.Path)
	case errors.Is(err, syscall.ENOSPC):
		return That("error.disk_full", "path", err.Path)
	case errors.Is(err, syscall.EROFS):
		return That("error.read_only", "path", err.Path)
	}
	return That("error.file_fails", "path", err.Path, "why", err.Err.Error())
}
