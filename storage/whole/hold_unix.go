//go:build unix

package whole

import (
	"os"
	"syscall"
)

// hold claims an open file for this program until the file is closed, and
// tells whether it could.
func hold(f *os.File) bool {
	return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == nil
}
