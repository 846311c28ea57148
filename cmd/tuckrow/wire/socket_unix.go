//go:build unix

package wire

import (
	"errors"
	"fmt"
	"net"
	"os"
	"syscall"
)

// ours checks that a folder or socket belongs to this user and lets no other
// one in. A link is not followed.
func ours(path string) error {
	st, err := os.Lstat(path)
	if err != nil {
		return err
	}
	owner := st.Sys().(*syscall.Stat_t).Uid
	switch kind := st.Mode().Type(); {
	case kind != os.ModeDir && kind != os.ModeSocket:
		return fmt.Errorf("%q is neither folder nor socket (%v); remove it", path, st.Mode())
	case int(owner) != os.Geteuid():
		return fmt.Errorf("%q is %w: it belongs to user %d; remove it, or set XDG_RUNTIME_DIR to a folder of your own", path, errForeign, owner)
	case st.Mode().Perm()&0o077 != 0:
		return fmt.Errorf("%q is %w: its mode is %v; take the rights of others away with: chmod go= %q", path, errForeign, st.Mode().Perm(), path)
	}
	return nil
}

// isStale tells that nobody listens on a socket that is there.
func isStale(err error) bool {
	return errors.Is(err, syscall.ECONNREFUSED) || errors.Is(err, syscall.ENOENT)
}

// isBusy tells that so many wait to be heard already that no more can: whoever
// has the socket does not answer.
func isBusy(err error) bool { return errors.Is(err, syscall.EAGAIN) }

// peer is the process at the other end, as the system says. What it does not
// say is 0.
type peer struct{ pid int }

// peerOf asks the system who is at the other end, and refuses another user.
func peerOf(c *net.UnixConn) (peer, error) {
	raw, err := c.SyscallConn()
	if err != nil {
		return peer{}, err
	}
	var p peer
	var uid int
	var asked error
	if err := raw.Control(func(fd uintptr) { p.pid, uid, asked = credentials(int(fd)) }); err != nil {
		return p, err
	}
	if asked != nil {
		return p, asked
	}
	if uid != os.Geteuid() {
		return p, fmt.Errorf("the process at the other end is %w: it is of user %d", errForeign, uid)
	}
	return p, nil
}
