//go:build unix

package wire

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

func TestFilesAreThoseOfWhoTypes(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	big := bytes.Repeat([]byte("0123456789"), 20_000)
	if err := os.WriteFile("in", big, 0o600); err != nil {
		t.Fatal(err)
	}
	h := serve(t, func(_ context.Context, c Call) int {
		in, err := c.Files.Open(c.Args[0])
		if err != nil {
			fmt.Fprint(c.Err, err)
			if errors.Is(err, fs.ErrNotExist) {
				return 4
			}
			return 5
		}
		out, err := c.Files.Create(c.Args[1], true)
		if err != nil {
			fmt.Fprint(c.Err, err)
			return 6
		}
		_, err = io.Copy(out, in)
		if err == nil && len(c.Args) == 2 {
			err = out.Keep()
		}
		if err = errors.Join(err, in.Close(), out.Close()); err != nil {
			fmt.Fprint(c.Err, err)
			return 7
		}
		return 0
	})
	if got := h.must(t, unread{t}, Here{}, "in", "out"); got.code != 0 {
		t.Fatalf("copying: %+v", got)
	}
	if b, err := os.ReadFile("out"); err != nil || !bytes.Equal(b, big) {
		t.Errorf("%d bytes of %d are in the copy: %v", len(b), len(big), err)
	}
	if st, err := os.Stat("out"); err != nil || st.Mode() != 0o600 {
		t.Errorf("mode %v, want 0600: %v", st.Mode(), err)
	}
	if got := h.must(t, unread{t}, Here{}, "in", "dropped", "drop"); got.code != 0 {
		t.Errorf("dropping: %+v", got)
	}
	_, here := os.Open("absent")
	if got := h.must(t, unread{t}, Here{}, "absent", "x"); got.code != 4 || got.err != here.Error() {
		t.Errorf("a file that is not there: %+v, want code 4 and %q", got, here)
	}
	if got := h.must(t, unread{t}, Here{}, "in", "no/such/folder"); got.code != 6 {
		t.Errorf("a folder that is not there: %+v, want code 6", got)
	}
	left, err := filepath.Glob(".tuckrow-*")
	if _, dropped := os.Stat("dropped"); err != nil || len(left) > 0 || !errors.Is(dropped, fs.ErrNotExist) {
		t.Errorf("left are %q, dropped: %v, %v", left, dropped, err)
	}
}

// A file that was begun when the conversation broke is not left lying about.
func TestAFileThatIsNotKeptIsForgotten(t *testing.T) {
	t.Chdir(t.TempDir())
	h := serve(t, func(_ context.Context, c Call) int {
		f, err := c.Files.Create("half", false)
		if err == nil {
			_, err = f.Write([]byte("half of it"))
		}
		if err != nil {
			return 1
		}
		return 0
	})
	if got := h.must(t, unread{t}, Here{}); got.code != 0 {
		t.Fatal(got)
	}
	left, err := os.ReadDir(".")
	if err != nil || len(left) > 0 {
		t.Errorf("left are %v, %v", left, err)
	}
}

// Writing in place must not put a file where a pipe or a device is, nor take a
// link away.
func TestWhatIsNoPlainFileStaysWhatItIs(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := errors.Join(syscall.Mkfifo("pipe", 0o600), os.WriteFile("file", []byte("before"), 0o600), os.Symlink("file", "link")); err != nil {
		t.Fatal(err)
	}
	write := func(name string) {
		t.Helper()
		f, err := Here{}.Create(name, true)
		if err != nil {
			t.Fatal(err)
		}
		_, err = f.Write([]byte("after"))
		if err := errors.Join(err, f.Keep(), f.Close()); err != nil {
			t.Fatal(err)
		}
	}
	read := make(chan string)
	go func() {
		b, err := os.ReadFile("pipe")
		if err != nil {
			t.Error(err)
		}
		read <- string(b)
	}()
	write("pipe")
	if got := <-read; got != "after" {
		t.Errorf("through the pipe came %q", got)
	}
	write("link")
	for name, want := range map[string]os.FileMode{"pipe": os.ModeNamedPipe, "link": os.ModeSymlink, "file": 0} {
		if st, err := os.Lstat(name); err != nil || st.Mode().Type() != want {
			t.Errorf("%s is %v now: %v", name, st.Mode(), err)
		}
	}
	if b, err := os.ReadFile("file"); err != nil || string(b) != "after" {
		t.Errorf("behind the link is %q: %v", b, err)
	}
}
