//go:build !linux

package whole

import (
	"errors"
	"os"
)

// Keep cannot be had here.
func Keep(*os.File, int64) error { return errors.ErrUnsupported }
