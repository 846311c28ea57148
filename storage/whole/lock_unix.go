//go:build unix

package whole

import (
	"errors"
	"os"
	"syscall"

	"example.org/tuckrow/model"
)

// Lock takes a folder for this program until the file is closed, or the program
// ends in whatever way. The error is model.ErrInUse when another has it.
func Lock(dir string) (*os.File, error) {
	f, err := os.Open(dir)
	if err != nil {
		return nil, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		if errors.Is(err, syscall.EWOULDBLOCK) {
			err = model.ErrInUse
		}
		return nil, errors.Join(err, f.Close())
	}
	return f, nil
}
