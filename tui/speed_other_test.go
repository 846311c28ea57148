//go:build !linux

package tui_test

import "time"

// threadTime is not told by this system.
func threadTime() time.Duration { return 0 }
