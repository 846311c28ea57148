package whole

import (
	"errors"
	"io"
	"math/rand/v2"
	"os"
)

// Ballast makes a file that takes so many bytes of room on its disk, whose
// removal gives them back. Where the system cannot keep room, it is written to
// its end, with what no disk can write shorter. Errors wrap model.ErrNoRoom
// where that is what is wrong; then nothing is left of it.
func Ballast(path string, n int64) (err error) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_WRONLY|os.O_TRUNC, 0o600)
	if err != nil {
		return tell(path, err)
	}
	if err = Keep(f, n); errors.Is(err, errors.ErrUnsupported) {
		_, err = io.CopyN(f, rand.NewChaCha8([32]byte{}), n)
		if err = errors.Join(err, f.Sync()); err != nil {
			err = tell(path, err)
		}
	}
	if err = errors.Join(err, f.Close()); err != nil {
		err = errors.Join(err, remove(path))
	}
	return err
}
