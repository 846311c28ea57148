package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// On a disk that is nearly full a command runs under a supervisor. Who has read
// enough of what it prints is told of no fault, as elsewhere.
func TestAPipeThatIsClosedOnATightDisk(t *testing.T) {
	store := filepath.Join(smallDisk(t, "200m"), "store")
	must(t, store, "import", filepath.Join(shared, "drawer.csv"))
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := r.Close(); err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	var said bytes.Buffer
	cmd := exec.Command(built(t), "--store", store, "shelflist")
	cmd.Stdout, cmd.Stderr = w, &said
	err = cmd.Run()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != 128+int(syscall.SIGPIPE) || said.Len() > 0 {
		t.Errorf("it ended with %v and said %q", err, said.String())
	}
}

// On a full disk one can still look up where a pattern lies.
func TestCommandsOnAFullDisk(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	disk := smallDisk(t, "160m")
	store := filepath.Join(disk, "store")
	must(t, store, "import", filepath.Join(shared, "drawer.csv"))
	filler := filepath.Join(disk, "filler")
	_ = exec.Command("sh", "-c", `cat /dev/zero >"$1"`, "sh", filler).Run() // ends when the disk is full
	for _, args := range [][]string{{"find", "6123"}, {"backup", filepath.Join(os.TempDir(), "cupboard.jsonl")}} {
		out, code := do(t, store, args...)
		if code != exitDone || !strings.Contains(out, "opened for reading only") || !strings.Contains(out, "make room") {
			t.Errorf("%q: exit code %d\n%s", args, code, out)
		}
	}
	out, code := do(t, store, "add", "publisher=Quillon", "number=1")
	if code != exitNoRoom || !strings.Contains(out, "make room on its disk") {
		t.Errorf("add: exit code %d\n%s", code, out)
	}
	if err := os.Remove(filler); err != nil {
		t.Fatal(err)
	}
	must(t, store, "add", "publisher=Quillon", "number=1")
}
