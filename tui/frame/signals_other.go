//go:build !unix

package frame

import "os"

// continueSignals: elsewhere a process is not stopped from a terminal.
var continueSignals []os.Signal

func isContinue(os.Signal) bool { return false }
