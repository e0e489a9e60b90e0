// SPDX-License-Identifier: MIT

package platewright

// #include <platewright.h>
import "C"

import (
	"errors"
	"fmt"
	"sync"
)

// Error is whatever the library refuses. errors.Is compares the status.
type Error struct {
	Status int    // PLW_E_ of the C header
	Name   string // "PLW_E_HINT"
	Text   string
}

func (e *Error) Error() string {
	return fmt.Sprintf("platewright: %s (%s)", e.Text, e.Name)
}

// Is reports whether target has the same status.
func (e *Error) Is(target error) bool {
	other, ok := target.(*Error)
	return ok && other.Status == e.Status
}

// For errors.Is.
var (
	ErrArgument = errorOf(C.PLW_E_ARGUMENT)
	ErrFormat   = errorOf(C.PLW_E_FLAGS)
	ErrTooLong  = errorOf(C.PLW_E_TOO_LONG)
	ErrMemory   = errorOf(C.PLW_E_MEMORY)
	ErrImage    = errorOf(C.PLW_E_IMAGE)
	ErrVersion  = errorOf(C.PLW_E_VERSION)
	ErrHint     = errorOf(C.PLW_E_HINT)
	ErrClaim    = errorOf(C.PLW_E_CLAIM)
)

// ErrClosed is the error of a call with tables or names that are closed.
var ErrClosed = errors.New("platewright: these tables or names are closed")

// ErrLibrary is the error of every call when the library that is running is of
// another release than the one this package was compiled for.
var ErrLibrary = errors.New("platewright: another release of the library")

func errorOf(status C.int32_t) error {
	if status == C.PLW_OK {
		return nil
	}
	return &Error{
		Status: int(status),
		Name:   C.GoString(C.plw_status_name(status)),
		Text:   C.GoString(C.plw_status_text(status)),
	}
}

var (
	versionOnce  sync.Once
	versionError error
)

// checkVersion wants the same major release, and not an older one.
func checkVersion() error {
	versionOnce.Do(func() {
		running := uint32(C.plw_version_number())
		compiled := uint32(C.PLW_VERSION_NUMBER)
		if running/10000 != compiled/10000 || running < compiled {
			versionError = fmt.Errorf("%w: this program was compiled for number %d; "+
				"the library found has number %d", ErrLibrary, compiled, running)
		}
	})
	return versionError
}
