package supervisor

import (
	"bytes"
	"os"
	"syscall"
)

// Options say what is to be watched.
type Options struct {
	Args    []string // of the program, without its name
	In, Out *os.File // the terminal
	// GiveBack makes the terminal what it was before the child took it.
	GiveBack func()
}

// Ended is how the child has ended.
type Ended struct {
	Code    int            // its exit code, or 128 and the signal, as shells have it
	Orderly bool           // it has told that it is done
	Signal  syscall.Signal // that has ended it, or 0
	Said    []byte         // what it wrote to its standard error, the last of it
	Folders []string       // that it would have removed
}

// NoRoom tells whether the child was ended since a page of a mapped file had no
// room on its disk, by what Go says then.
func (e *Ended) NoRoom() bool { return bytes.Contains(e.Said, []byte("signal SIGBUS")) }
