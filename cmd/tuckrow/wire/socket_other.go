//go:build !unix

package wire

import (
	"errors"
	"net"
)

// Elsewhere nothing is listened on: owner and mode of a socket say nothing
// there, and anybody could speak to it.
func ours(string) error { return errors.ErrUnsupported }

func isStale(error) bool { return false }

func isBusy(error) bool { return false }

type peer struct{ pid int }

func peerOf(*net.UnixConn) (peer, error) { return peer{}, errors.ErrUnsupported }

func stopped(int) bool { return false }
