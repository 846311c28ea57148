package supervisor

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
)

// variable tells the child of its parent: the parent's process id and whether
// there is a shell to go on while the two are stopped.
const variable = "TUCKROW_SUPERVISOR"

// Files of the child beside the usual three.
const (
	fileTell = 3 // what the child tells its parent
	fileLife = 4 // ends when the parent does
)

// What the child tells, a line each.
const (
	tellDone   = "done"
	tellFolder = "folder " // and a path: to be removed if the child breaks off
)

// Child is this process where it has a supervisor.
type Child struct {
	tell     *os.File
	suspends bool
	gone     chan struct{}
}

// Inside gives what this process is to its supervisor; nil where it has none.
var Inside = sync.OnceValue(inside)

func inside() *Child {
	parent, rest, _ := strings.Cut(os.Getenv(variable), " ")
	if parent != fmt.Sprint(os.Getppid()) {
		return nil
	}
	c := &Child{tell: os.NewFile(fileTell, "supervisor"), suspends: rest == "suspends", gone: make(chan struct{})}
	life := os.NewFile(fileLife, "supervisor")
	if c.tell == nil || life == nil {
		return nil
	}
	closeOnExec(fileTell)
	closeOnExec(fileLife)
	go func() {
		_, _ = io.Copy(io.Discard, life)
		close(c.gone)
	}()
	return c
}

// Gone is closed when the supervisor has ended before its child.
func (c *Child) Gone() <-chan struct{} { return c.gone }

// Folder tells of a folder that is to be removed if this process breaks off.
func (c *Child) Folder(path string) { fmt.Fprintf(c.tell, "%s%s\n", tellFolder, path) }

// Done tells that this process ends in order. The supervisor leaves the
// terminal alone then.
func (c *Child) Done() { fmt.Fprintln(c.tell, tellDone) }

// Suspends tells whether somebody would let this process go on, were it stopped.
func (c *Child) Suspends() bool { return c.suspends }

// Suspend stops this process and its supervisor, as a shell's job control does.
func (c *Child) Suspend() { stopGroup() }
