// Package whole writes files that are there in full or not at all, and puts one
// set of files in the place of another in the same way.
//
// The usual ways in are [Replace] for a file, and [Switch] for what lies in a
// folder; [Clear] and [Finish] tidy up what a kill has left of them.
//
// Promised: whatever happens, the file at the path is the one that was there
// before or the new one, whole. The new one counts only once it was synced,
// read back and found to be what was written; it is for its owner alone (mode
// 0600). What a kill leaves beside it ends in .unfinished. A switch is done or
// not: once decided on, whoever looks next does what is left of it.
package whole

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"example.org/tuckrow/model"
)

// unfinished is how the name of a file ends that is being written.
const unfinished = ".unfinished"

// Replace writes a file. Before it takes its place, check reads it back from
// disk; with nil it is only compared with what was written. A link is followed,
// so that what it leads to is replaced. Errors of the disk wrap
// model.ErrNoRoom where that is what is wrong, those of write and check are
// given as they are.
func Replace(path string, write func(io.Writer) error, check func(io.Reader) error) error {
	path, err := place(path)
	if err != nil {
		return err
	}
	tmp, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".*"+unfinished)
	if err != nil {
		return tell(path, err)
	}
	hold(tmp)
	err = fill(tmp, write, check)
	if err == nil {
		err = os.Rename(tmp.Name(), path)
	}
	err = errors.Join(err, tmp.Close())
	if err != nil {
		return tell(path, errors.Join(err, remove(tmp.Name())))
	}
	SyncDir(filepath.Dir(path))
	return nil
}

// place is where the file will lie. Only a file, or nothing yet, can be
// replaced: not a folder, nor a device.
func place(path string) (string, error) {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return path, nil
	case err != nil:
		return "", tell(path, err)
	case info.IsDir():
		return "", model.Inputf("%q is a folder; name a file in it", path)
	case !info.Mode().IsRegular():
		return "", model.Inputf("%q is no plain file; name another", path)
	}
	return path, nil
}

// fill writes a file, syncs it and reads it back.
func fill(f *os.File, write func(io.Writer) error, check func(io.Reader) error) error {
	wrote, read := sha256.New(), sha256.New()
	if err := write(io.MultiWriter(f, wrote)); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	back, err := os.Open(f.Name())
	if err != nil {
		return err
	}
	defer back.Close() // only read
	in := io.TeeReader(back, read)
	if check != nil {
		if err := check(in); err != nil {
			return fmt.Errorf("read back from disk: %w", err)
		}
	}
	if _, err := io.Copy(io.Discard, in); err != nil {
		return err
	}
	if !bytes.Equal(wrote.Sum(nil), read.Sum(nil)) {
		return fmt.Errorf("%q read back is not what was written; do not trust this disk", f.Name())
	}
	return nil
}

// SyncDir makes the names in a folder safe. Where folders cannot be synced, the
// names are there all the same.
func SyncDir(dir string) {
	if d, err := os.Open(dir); err == nil {
		_ = d.Sync()
		_ = d.Close()
	}
}

// Clear removes what killed Replaces left in a folder; what another program is
// still writing stays. With a name, it removes only what was to be that file.
func Clear(dir, name string) error {
	inside, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	for _, e := range inside {
		if !isLeftover(e, name) {
			continue
		}
		path := filepath.Join(dir, e.Name())
		f, e := os.Open(path)
		if e != nil {
			continue // gone, or not ours to touch
		}
		if hold(f) {
			err = errors.Join(err, remove(path))
		}
		_ = f.Close()
	}
	return err
}

func isLeftover(e fs.DirEntry, name string) bool {
	begins := name == "" || strings.HasPrefix(e.Name(), name+".")
	return begins && isOurs(e.Name()) && e.Type().IsRegular()
}

// isOurs tells the name of something being written, "a.123.unfinished", from one
// that somebody gave, like "coat.unfinished".
func isOurs(name string) bool {
	before, is := strings.CutSuffix(name, unfinished)
	dot := strings.LastIndexByte(before, '.')
	return is && dot >= 0 && dot < len(before)-1 && strings.Trim(before[dot+1:], "0123456789") == ""
}

func remove(name string) error {
	if err := os.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// tell says of an error of the disk what to do about it.
func tell(path string, err error) error {
	for _, full := range []error{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG} {
		if errors.Is(err, full) {
			return fmt.Errorf("writing %q: %w: %v; make room, or name a file on another disk", path, model.ErrNoRoom, err)
		}
	}
	if errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS) {
		return fmt.Errorf("writing %q: %w: %v; give yourself the right to write there, or name another folder", path, model.ErrReadOnly, err)
	}
	if folder := filepath.Dir(path); errors.Is(err, fs.ErrNotExist) && !isFolder(folder) {
		return fmt.Errorf("writing %q: %w: there is no folder %q; make it, or name another", path, fs.ErrNotExist, folder)
	}
	return fmt.Errorf("writing %q: %w", path, err)
}
