//go:build unix

package supervisor

import (
	"bytes"
	"fmt"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"testing"

	"golang.org/x/sys/unix"
)

// TestMain plays the child where it is one.
func TestMain(m *testing.M) {
	child := Inside()
	if child == nil {
		os.Exit(m.Run())
	}
	switch role := os.Args[1]; role {
	case "orderly":
		fmt.Fprint(os.Stderr, "a last word")
		child.Done()
		os.Exit(3)
	case "panics":
		go func() { panic("torn tissue") }()
		select {}
	case "no room": // as where a page of a mapped file gets none on its disk
		f, err := os.CreateTemp("", "tuckrow")
		if err == nil {
			err = os.Remove(f.Name())
		}
		if err != nil {
			panic(err)
		}
		page, err := unix.Mmap(int(f.Fd()), 0, os.Getpagesize(), unix.PROT_READ|unix.PROT_WRITE, unix.MAP_SHARED)
		if err != nil {
			panic(err)
		}
		page[0] = 1
	case "exits":
		os.Exit(0)
	case "folder":
		child.Folder("/a/folder with blanks")
		_ = syscall.Kill(os.Getpid(), syscall.SIGKILL)
		select {}
	case "talks":
		for range 100 {
			fmt.Fprint(os.Stderr, strings.Repeat("x", 10_000))
		}
		fmt.Fprint(os.Stderr, "the end")
		child.Done()
	default: // waits for a signal
		heard := make(chan os.Signal, 1)
		signal.Notify(heard, syscall.SIGTERM, syscall.SIGINT, syscall.SIGHUP, syscall.SIGQUIT)
		child.Folder("ready")
		fmt.Print("ready")
		fmt.Fprintf(os.Stderr, "%v", <-heard)
		child.Done()
	}
	os.Exit(0)
}

// watched runs a child, and has while do what it likes once there is one that
// waits.
func watched(t *testing.T, role string, while func()) (e Ended, given int) {
	t.Helper()
	null, err := os.Open(os.DevNull)
	if err != nil {
		t.Fatal(err)
	}
	defer null.Close()
	says, out, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer says.Close()
	defer out.Close()
	if while != nil {
		go func() {
			_, _ = says.Read(make([]byte, 10))
			while()
		}()
	}
	e, err = Run(Options{Args: []string{role}, In: null, Out: out, GiveBack: func() { given++ }})
	if err != nil {
		t.Fatal(err)
	}
	return e, given
}

func TestHowAChildEnds(t *testing.T) {
	for role, want := range map[string]struct {
		code    int
		orderly bool
		signal  syscall.Signal
		says    string
	}{
		"orderly": {3, true, 0, "a last word"},
		"panics":  {2, false, 0, "panic: torn tissue"},
		"no room": {2, false, 0, "unexpected fault address"},
		"exits":   {0, false, 0, ""},
		"folder":  {137, false, syscall.SIGKILL, ""},
	} {
		e, given := watched(t, role, nil)
		if e.Code != want.code || e.Orderly != want.orderly || e.Signal != want.signal || !bytes.HasPrefix(e.Said, []byte(want.says)) {
			t.Errorf("%s: %+v, want %+v\n%s", role, e, want, e.Said)
		}
		if (given == 1) == want.orderly {
			t.Errorf("%s: the terminal was given back %d times", role, given)
		}
		if e.NoRoom() != (role == "no room") {
			t.Errorf("%s: ended for want of room: %v", role, e.NoRoom())
		}
		if role == "folder" && (len(e.Folders) != 1 || e.Folders[0] != "/a/folder with blanks") {
			t.Errorf("folders: %q", e.Folders)
		}
	}
}

func TestOnlyTheLastThatAChildSaysIsKept(t *testing.T) {
	e, _ := watched(t, "talks", nil)
	if len(e.Said) != mostSaid || !bytes.HasSuffix(e.Said, []byte("xthe end")) {
		t.Errorf("%d bytes are kept, want %d; they end in %q", len(e.Said), mostSaid, e.Said[max(0, len(e.Said)-20):])
	}
}

func TestSignalsArePassedOn(t *testing.T) {
	for _, s := range []syscall.Signal{syscall.SIGTERM, syscall.SIGINT, syscall.SIGHUP, syscall.SIGQUIT} {
		e, given := watched(t, "waits", func() { _ = syscall.Kill(os.Getpid(), s) })
		if string(e.Said) != s.String() || !e.Orderly || given != 0 {
			t.Errorf("%v: %+v %q, given back %d times", s, e, e.Said, given)
		}
	}
}

// Who is started from within the child has no supervisor, though the variable
// is handed down.
func TestAGrandchildHasNone(t *testing.T) {
	t.Setenv(variable, fmt.Sprint(os.Getppid()+1)) // another's
	if inside() != nil {
		t.Error("a process takes another's supervisor for its own")
	}
	t.Setenv(variable, "")
	if inside() != nil {
		t.Error("a process without a supervisor has one")
	}
}
