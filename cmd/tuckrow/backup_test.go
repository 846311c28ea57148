package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"example.org/tuckrow/storage"
)

// The exit codes of backing up and restoring, and that what fails changes
// nothing.
func TestExitCodesOfBackups(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	must(t, in("store"), "add", "publisher=Quillon", "number=220", "name=Cape")
	must(t, in("store"), "backup", in("good"))
	good, err := os.ReadFile(in("good"))
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"cut": string(good[:len(good)-20]), "altered": strings.Replace(string(good), "Cape", "Coat", 1),
		"foreign": "publisher,number\n", "empty": "", "newer": "{\"kind\":\"tuckrow\",\"format\":9}\n",
	} {
		if err := os.WriteFile(in(name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	before := must(t, in("store"), "export", "--as", "jsonl")
	for name, want := range map[string]int{
		"good": exitDone, "cut": exitDamaged, "altered": exitDamaged, "foreign": exitInput, "empty": exitInput, "newer": exitInput,
		"store": exitInput, "nowhere": exitInput,
	} {
		for _, args := range [][]string{{"verify", in(name)}, {"restore", in(name), "--dry-run"}, {"restore", in(name)}} {
			out, code := do(t, in("store"), args...)
			if code != want {
				t.Errorf("tuckrow %s: exit code %d, want %d\n%s", strings.Join(args, " "), code, want, out)
			}
			if code != exitDone && args[0] == "restore" && !strings.Contains(out, "nothing was changed") {
				t.Errorf("tuckrow %s does not say that nothing was changed:\n%s", strings.Join(args, " "), out)
			}
		}
		if after := must(t, in("store"), "export", "--as", "jsonl"); after != before {
			t.Fatalf("with %s the cupboard became\n%s", name, after)
		}
	}

	s, err := storage.Open(in("store"), storage.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"restore", in("good")}, {"restore", "--undo"}} {
		if out, code := do(t, in("store"), args...); code != exitInUse || !strings.Contains(out, "close it there") {
			t.Errorf("tuckrow %s in use: exit code %d\n%s", strings.Join(args, " "), code, out)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// Where there is none yet, it is told when the first comes: the interface does not
// make one with each change.
func TestWhenTheFirstBackupComesIsTold(t *testing.T) {
	store := filepath.Join(t.TempDir(), "store")
	if out := must(t, store, "backup", "--list"); !strings.Contains(out, "within ten minutes, and when it is closed") {
		t.Errorf("it says:\n%s", out)
	}
	must(t, store, "add", "publisher=Quillon", "number=220")
	if out := must(t, store, "backup", "--list"); !strings.Contains(out, "1 copy") {
		t.Errorf("after a command that changed something it says:\n%s", out)
	}
}

// Stopped with ctrl+c, they change nothing either.
func TestBackupsThatAreStopped(t *testing.T) {
	dir := t.TempDir()
	store, file := filepath.Join(dir, "store"), filepath.Join(dir, "cupboard.jsonl")
	must(t, store, "add", "publisher=Quillon", "number=220", "name=Cape")
	must(t, store, "backup", file)
	must(t, store, "add", "publisher=Quillon", "number=221", "name=Coat")
	before, had := must(t, store, "export", "--as", "jsonl"), must(t, store, "verify", file)
	stopped, stop := context.WithCancel(context.Background())
	stop()
	for _, args := range [][]string{{"backup", file}, {"restore", file}, {"verify", file}} {
		var out bytes.Buffer
		err := run(stopped, append([]string{"--store", store}, args...), streams{strings.NewReader(""), &out, &out})
		if code := report(&out, err); code != exitStopped || !strings.Contains(out.String(), "stopped, and nothing") {
			t.Errorf("tuckrow %s: exit code %d\n%s", strings.Join(args, " "), code, out.String())
		}
	}
	if must(t, store, "export", "--as", "jsonl") != before || must(t, store, "verify", file) != had {
		t.Error("something was changed")
	}
	left, err := filepath.Glob(filepath.Join(dir, "*unfinished"))
	if err != nil || len(left) > 0 {
		t.Errorf("%q is left (%v)", left, err)
	}
}

// smallDisk is a file system with little room.
func smallDisk(t *testing.T, size string) string {
	t.Helper()
	dir := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size="+size, "tmpfs", dir).CombinedOutput(); err != nil {
		t.Skipf("a small file system cannot be mounted here: %v %s", err, out)
	}
	t.Cleanup(func() {
		if out, err := exec.Command("umount", dir).CombinedOutput(); err != nil {
			t.Errorf("%v %s", err, out)
		}
	})
	return dir
}

func TestBackupsOnAFullDisk(t *testing.T) {
	dir := smallDisk(t, "64k")
	store := filepath.Join(t.TempDir(), "store")
	must(t, store, "import", filepath.Join(shared, "drawer.csv"))
	file := filepath.Join(dir, "cupboard.jsonl")
	must(t, store, "backup", file)
	before, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "full"), make([]byte, 60<<10-len(before)), 0o600); err != nil {
		t.Fatal(err)
	}
	must(t, store, "add", "publisher=Quillon", "number=1000", "name=Coat", "notes="+strings.Repeat("long ", 2000))
	if out, code := do(t, store, "backup", file); code != exitNoRoom || !strings.Contains(out, "make room") {
		t.Errorf("backup: exit code %d\n%s", code, out)
	}
	if after, err := os.ReadFile(file); err != nil || string(after) != string(before) {
		t.Errorf("the backup that was there is not as it was (%v)", err)
	}
	good := filepath.Join(t.TempDir(), "good")
	must(t, store, "backup", good)
	if out, code := do(t, filepath.Join(dir, "store"), "restore", good); code != exitNoRoom || !strings.Contains(out, "nothing was changed") {
		t.Errorf("restore: exit code %d\n%s", code, out)
	}
	left, err := os.ReadDir(filepath.Join(dir, "store"))
	if err == nil && len(left) > 0 {
		t.Errorf("%q is left in the new store", left[0].Name())
	}
}
