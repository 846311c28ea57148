package whole

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// Keep has the system keep room on the disk for the first n bytes of a file,
// whatever else is written there. Neither what is in the file nor its length
// changes. The error is errors.ErrUnsupported where that cannot be had.
func Keep(f *os.File, n int64) error {
	for {
		err := unix.Fallocate(int(f.Fd()), unix.FALLOC_FL_KEEP_SIZE, 0, n)
		switch {
		case errors.Is(err, unix.EINTR):
			continue
		case errors.Is(err, unix.EOPNOTSUPP), errors.Is(err, unix.ENOSYS):
			return errors.ErrUnsupported
		case err != nil:
			return tell(f.Name(), err)
		}
		return nil
	}
}
