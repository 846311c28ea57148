package wire

import (
	"bytes"
	"fmt"
	"os"

	"golang.org/x/sys/unix"
)

func credentials(fd int) (pid, uid int, err error) {
	c, err := unix.GetsockoptUcred(fd, unix.SOL_SOCKET, unix.SO_PEERCRED)
	if err != nil {
		return 0, 0, err
	}
	return int(c.Pid), int(c.Uid), nil
}

// stopped tells whether a process is suspended: the third field of its stat
// says so (proc(5)), behind a name that may hold anything.
func stopped(pid int) bool {
	b, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return false
	}
	rest := b[bytes.LastIndexByte(b, ')')+1:]
	return len(rest) > 1 && (rest[1] == 'T' || rest[1] == 't')
}
