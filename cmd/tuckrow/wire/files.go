package wire

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// Files are the files that a command names, as they are for who has typed it.
type Files interface {
	// Open opens a file for reading.
	Open(name string) (io.ReadCloser, error)
	// Create begins a file that will be in its place whole or not at all. Unless it
	// may replace one, the error is fs.ErrExist where there is one.
	Create(name string, replace bool) (Draft, error)
}

// SizeOf is how many bytes are to be expected of what Open gave; 0: not known.
func SizeOf(f io.Reader) int64 {
	switch f := f.(type) {
	case interface{ Size() int64 }:
		return f.Size()
	case *os.File:
		if st, err := f.Stat(); err == nil && st.Mode().IsRegular() {
			return st.Size()
		}
	}
	return 0
}

// Draft is a file that is being written. Close forgets it unless Keep has put
// it in its place.
type Draft interface {
	io.WriteCloser
	Keep() error
}

// Here is the files of this process.
type Here struct{}

// Open implements Files.
func (Here) Open(name string) (io.ReadCloser, error) { return os.Open(name) }

// Create implements Files. The file is for its owner alone (mode 0600). What
// is no plain file, a pipe or a terminal, is written to as it is: nothing is
// put in its place.
func (Here) Create(name string, replace bool) (Draft, error) {
	st, err := os.Stat(name)
	switch {
	case err == nil && !st.Mode().IsRegular():
		f, err := os.OpenFile(name, os.O_WRONLY, 0)
		if err != nil {
			return nil, err
		}
		return &draft{File: f}, nil
	case err == nil && !replace:
		return nil, &fs.PathError{Op: "create", Path: name, Err: syscall.EEXIST}
	}
	if real, err := filepath.EvalSymlinks(name); err == nil {
		name = real // the link stays, and leads to what is written now
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".tuckrow-*")
	if err != nil {
		return nil, err
	}
	return &draft{f, name}, nil
}

// draft is a file beside the place where it is to be, or what is written to as
// it is, with no place.
type draft struct {
	*os.File
	place string
}

func (d *draft) Keep() error {
	if d.place == "" {
		return d.File.Close()
	}
	err := errors.Join(d.Sync(), d.File.Close())
	if err == nil {
		err = os.Rename(d.Name(), d.place)
	}
	if err == nil {
		d.place = ""
	}
	return err
}

func (d *draft) Close() error {
	err := d.File.Close()
	if errors.Is(err, fs.ErrClosed) {
		err = nil
	}
	if d.place != "" {
		err = errors.Join(err, os.Remove(d.Name()))
		d.place = ""
	}
	return err
}

// fault is an error on its way: its text, and by what its like is told at the
// other end: what the system called it, or that who types has had enough. The
// latter must go along, since such an answer may come before the cancel does.
type fault struct {
	Text    string `cbor:"1,keyasint"`
	Errno   int    `cbor:"2,keyasint,omitempty"`
	Stopped bool   `cbor:"3,keyasint,omitempty"`
}

// faultOf packs an error; none is nil.
func faultOf(err error) *fault {
	if err == nil {
		return nil
	}
	f := &fault{Text: err.Error(), Stopped: errors.Is(err, context.Canceled)}
	var no syscall.Errno
	if errors.As(err, &no) {
		f.Errno = int(no)
	}
	return f
}

// err unpacks it.
func (f *fault) err() error {
	if f == nil {
		return nil
	}
	return f
}

func (f *fault) Error() string { return f.Text }

func (f *fault) Unwrap() error {
	switch {
	case f.Stopped:
		return context.Canceled
	case f.Errno != 0:
		return syscall.Errno(f.Errno)
	}
	return nil
}
