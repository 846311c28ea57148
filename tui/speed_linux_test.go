package tui_test

import (
	"syscall"
	"time"
	"unsafe"
)

// threadCPU is the clock of the processor's work for a thread
// (CLOCK_THREAD_CPUTIME_ID in linux/time.h). What getrusage says is in steps of
// milliseconds on some machines.
const threadCPU = 3

// threadTime is how long the processor has worked for this thread.
func threadTime() time.Duration {
	var t syscall.Timespec
	if _, _, e := syscall.Syscall(syscall.SYS_CLOCK_GETTIME, threadCPU, uintptr(unsafe.Pointer(&t)), 0); e != 0 {
		return 0
	}
	return time.Duration(t.Nano())
}
