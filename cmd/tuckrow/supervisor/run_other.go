//go:build !unix

package supervisor

import "errors"

// Supported tells whether there are supervisors on this system.
const Supported = false

// Run cannot be had here.
func Run(Options) (Ended, error) {
	return Ended{}, errors.New("this system has no supervisors")
}

func stopGroup() {}

func closeOnExec(int) {}
