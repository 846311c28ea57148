//go:build unix

package frame

import (
	"os"
	"syscall"
)

// continueSignals tell that the process was stopped and goes on.
var continueSignals = []os.Signal{syscall.SIGCONT}

func isContinue(s os.Signal) bool { return s == syscall.SIGCONT }
