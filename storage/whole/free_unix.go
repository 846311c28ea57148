//go:build linux || darwin

package whole

import "syscall"

// Free is how many bytes a user can still write on the disk of a folder.
func Free(dir string) (bytes uint64, known bool) {
	var st syscall.Statfs_t
	if err := syscall.Statfs(dir, &st); err != nil {
		return 0, false
	}
	return uint64(st.Bavail) * uint64(st.Bsize), true
}
