//go:build !linux

package storage

// largePages is of use where a program can ask for them.
func largePages(uint64) {}
