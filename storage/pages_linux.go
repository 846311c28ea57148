package storage

import (
	"os"
	"runtime"
	"syscall"
	"unsafe"
)

// largePages asks the system to back so many bytes, which are about to be
// filled, with large pages. Getting memory in pages of 4 KiB can cost as much as
// all that is done with it: of the processor time of opening a store of 60,000
// copies it was half (measured in a virtual machine, Linux 6.18). The memory is
// taken in one piece, marked, and let go untouched to the runtime, which takes
// from it what is allocated next.
func largePages(bytes uint64) {
	const worth = 16 << 20 // less is not worth the collection
	if bytes < worth {
		return
	}
	b := make([]byte, bytes)
	page := os.Getpagesize()
	from := -int(uintptr(unsafe.Pointer(unsafe.SliceData(b)))) & (page - 1)
	_ = syscall.Madvise(b[from:from+(len(b)-from)&^(page-1)], syscall.MADV_HUGEPAGE) // it is advice, and may not be taken
	runtime.KeepAlive(b)
	runtime.GC()
}
