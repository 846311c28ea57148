package wire

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"net"
	"os"
	"path/filepath"
)

// ErrNobody: no program that has the store open listens.
var ErrNobody = errors.New("nobody listens")

// mostPath is the longest path that every system takes for a socket: 104 bytes
// with the zero at the end (sys/un.h of the BSDs and macOS; Linux has 108).
const mostPath = 103

// places lists where the socket of a store can be, the best first. The folders
// are those that two terminals of one user agree on, however each was opened:
// that is why $TMPDIR is not among them.
func places(store string) ([]string, error) {
	real, err := filepath.Abs(store)
	if err == nil {
		real, err = filepath.EvalSymlinks(real)
	}
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256([]byte(real))
	name := hex.EncodeToString(sum[:8]) + ".sock"
	uid := os.Geteuid()
	var list []string
	for _, dir := range []string{os.Getenv("XDG_RUNTIME_DIR"), fmt.Sprintf("/run/user/%d", uid)} {
		if path := filepath.Join(dir, "tuckrow-"+name); filepath.IsAbs(dir) && len(path) <= mostPath {
			list = append(list, path)
		}
	}
	return append(list, filepath.Join("/tmp", fmt.Sprintf("tuckrow-%d", uid), name)), nil
}

// Listen opens the socket of a store. Only who holds the store's lock may call
// it: a socket that is there already is left over, and cleared away.
func Listen(store string) (net.Listener, error) {
	list, err := places(store)
	if err != nil {
		return nil, err
	}
	var refused error
	for i, path := range list {
		dir := filepath.Dir(path)
		if i == len(list)-1 { // a folder of our own
			if err := os.Mkdir(dir, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
				refused = cmp.Or(refused, err)
				continue
			}
		}
		if err := ours(dir); err != nil {
			if !errors.Is(err, fs.ErrNotExist) {
				refused = cmp.Or(refused, err)
			}
			continue
		}
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			refused = cmp.Or(refused, err)
			continue
		}
		l, err := net.ListenUnix("unix", &net.UnixAddr{Name: path, Net: "unix"})
		if err == nil {
			err = os.Chmod(path, 0o600) // the folder has kept others out until here
		}
		if err == nil {
			return l, nil
		}
		refused = cmp.Or(refused, err)
	}
	return nil, refused
}

// dial connects to the socket of a store and checks whose it is. The error
// wraps ErrNobody when none is there or none listens, and says why one was not
// used.
func dial(store string) (*net.UnixConn, peer, error) {
	list, err := places(store)
	if err != nil { // the store is not there yet
		return nil, peer{}, ErrNobody
	}
	refused := ErrNobody
	for _, path := range list {
		err := ours(filepath.Dir(path))
		if err == nil {
			err = ours(path)
		}
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err == nil {
			var c *net.UnixConn
			if c, err = net.DialUnix("unix", nil, &net.UnixAddr{Name: path, Net: "unix"}); err == nil {
				p, err := peerOf(c)
				if err == nil {
					return c, p, nil
				}
				_ = c.Close()
			}
			switch {
			case isBusy(err):
				return nil, peer{}, &SilentError{}
			case isStale(err):
				continue
			}
		}
		refused = fmt.Errorf("%w: %w", ErrNobody, err)
	}
	return nil, peer{}, refused
}

// errForeign: a socket, its folder or the process behind it is another user's,
// or others may write to it.
var errForeign = errors.New("not this user's alone")
