//go:build !unix

package frame

import "os"

// jobSignals: elsewhere a process is not stopped from a terminal.
var jobSignals []os.Signal

func isContinue(os.Signal) bool { return false }

func isSuspend(os.Signal) bool { return false }

func (asleep) Run() error { return nil }
