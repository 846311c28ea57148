//go:build unix

package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"example.org/tuckrow/cmd/tuckrow/wire"
	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/tui/desk"
	"github.com/creack/pty"
)

// built is the program as it is built, once for all tests.
func built(t testing.TB) string {
	t.Helper()
	bin, err := buildOnce()
	if err != nil {
		t.Fatal(err)
	}
	return bin
}

var buildOnce = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "tuckrow-built-")
	if err != nil {
		return "", err
	}
	built := filepath.Join(dir, "tuckrow")
	if out, err := exec.Command("go", "build", "-o", built, ".").CombinedOutput(); err != nil {
		return "", fmt.Errorf("building: %v\n%s", err, out)
	}
	return built, nil
})

// startInterface opens the interface of a store in a process of its own, and
// gives that, and what waits for the end of it.
func startInterface(t testing.TB, store string) (pid int, ended func()) {
	t.Helper()
	cmd := exec.Command(built(t), "--store", store)
	cmd.Env = append(os.Environ(), "TERM=vt100")
	terminal, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		lacking(t, "pseudo-terminal", err)
	}
	s := &shown{t: t}
	go func() { _, _ = io.Copy(s, terminal) }()
	t.Cleanup(func() {
		_ = cmd.Process.Signal(syscall.SIGTERM) // which the supervisor passes on
		_ = cmd.Wait()
		_ = terminal.Close()
	})
	s.wait("tuckrow:")
	holder, err := os.ReadFile(filepath.Join(store, "holder"))
	if err == nil {
		_, err = fmt.Sscanf(string(holder), "process %d", &pid)
	}
	if err != nil {
		t.Fatal(err)
	}
	return pid, func() { _ = cmd.Wait() }
}

func newStore(t *testing.T) string {
	t.Helper()
	runtime := t.TempDir() // what is left over there is this test's
	if err := os.Chmod(runtime, 0o700); err != nil {
		t.Fatal(err)
	}
	t.Setenv("XDG_RUNTIME_DIR", runtime)
	store := filepath.Join(t.TempDir(), "store")
	must(t, store, "add", "publisher=Quillon", "number=1", "name=Cape")
	return store
}

// socketOf is the socket of the one store of a test.
func socketOf(t *testing.T) string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(os.Getenv("XDG_RUNTIME_DIR"), "tuckrow-*.sock"))
	if err != nil || len(found) != 1 {
		t.Fatalf("sockets: %q, %v", found, err)
	}
	return found[0]
}

// Several terminals at once, and the interface with them: each change is made
// once, and those of one terminal in their order.
func TestSeveralTerminalsAtOnce(t *testing.T) {
	store := newStore(t)
	showing := openInterface(t, store)
	const terminals, each = 6, 5
	var all sync.WaitGroup
	given := make([][]int, terminals)
	for i := range terminals {
		all.Go(func() {
			for n := range each {
				out, code := do(t, store, "add", "publisher=Quillon", fmt.Sprintf("number=%d", 100*(i+1)+n))
				got, err := strconv.Atoi(strings.TrimSpace(out))
				if code != exitDone || err != nil {
					t.Errorf("exit code %d, %q", code, out)
				}
				given[i] = append(given[i], got)
			}
		})
	}
	for n := range each {
		showing.press(fmt.Sprintf("\x0e%d\rBy hand\r", 9000+n))
	}
	all.Wait()
	showing.wait("5 entered")
	var every []int
	for i, numbers := range given {
		if !slices.IsSorted(numbers) {
			t.Errorf("terminal %d: accession numbers %v", i, numbers)
		}
		every = append(every, numbers...)
	}
	slices.Sort(every)
	if n := len(slices.Compact(every)); n != terminals*each {
		t.Errorf("%d accession numbers were given, want %d: %v", n, terminals*each, every)
	}
	showing.quit()
	s, err := storage.Open(store, storage.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if n := s.Collection().Copies().Len(); n != 1+terminals*each+each {
		t.Errorf("%d copies are stored, want %d", n, 1+terminals*each+each)
	}
	if _, err := s.Verify(); err != nil {
		t.Error(err)
	}
}

// meddler makes changes of its own before the first so many.
type meddler struct {
	t     *testing.T
	store *storage.Store
	left  int
}

func (m *meddler) Do(ctx context.Context, change func() (model.Commit, error)) (model.Commit, error) {
	if m.left > 0 {
		m.left--
		c := m.store.Collection()
		en := c.EntryOf(c.Copy(1))
		en.Notes += "x"
		if _, err := m.store.Commit(ctx, &model.Revise{Entry: en}); err != nil {
			m.t.Error(err)
		}
	}
	return change()
}

// A command that is overtaken by a change is begun anew, so that nothing of
// that change is lost; and when that happens again and again, it says so.
func TestACommandThatIsOvertaken(t *testing.T) {
	for _, c := range []struct{ times, code int }{{0, exitDone}, {1, exitDone}, {tries - 1, exitDone}, {tries, exitInUse}} {
		t.Run(strconv.Itoa(c.times), func(t *testing.T) {
			s, err := storage.Open("", storage.Options{InMemory: true})
			if err != nil {
				t.Fatal(err)
			}
			defer s.Close()
			if _, err := s.Commit(t.Context(), &model.Add{Entries: []model.Entry{{Publisher: "Quillon", Number: "1"}}}); err != nil {
				t.Fatal(err)
			}
			h := newHost(s)
			h.outside, h.desk = &meddler{t, s, c.times}, desk.New(s.Collection())
			var out, errs bytes.Buffer
			code := h.run(t.Context(), wire.Call{Command: wire.Command{Args: []string{"change", "--copy", "1", "year=1974"}}, Out: &out, Err: &errs})
			en := s.Collection().EntryOf(s.Collection().Copy(1))
			if code != c.code || en.Notes != strings.Repeat("x", c.times) || (en.Year == 1974) != (code == exitDone) || strings.Count(out.String(), "\n") != max(0, 1-code) {
				t.Errorf("exit code %d, want %d; the copy says %+v\n%s%s", code, c.code, en, &out, &errs)
			}
		})
	}
}

func TestWhatNeedsTheStoreForItself(t *testing.T) {
	store := newStore(t)
	file := filepath.Join(t.TempDir(), "cupboard.jsonl")
	must(t, store, "export", "--as", "jsonl", "--out", file)
	showing := openInterface(t, store)
	ours, theirs, err := pty.Open()
	if err != nil {
		t.Fatal(err)
	}
	defer ours.Close()
	defer theirs.Close()
	for _, args := range [][]string{{"restore", file}, {"restore", "--undo"}, {}} {
		var errs bytes.Buffer
		code := report(&errs, run(t.Context(), append([]string{"--store", store}, args...), streams{theirs, theirs, &errs}))
		if who := fmt.Sprintf("in use by process %d", os.Getpid()); code != exitInUse || !strings.Contains(errs.String(), who) {
			t.Errorf("tuckrow %q: exit code %d, %q; want %d and %q", args, code, &errs, exitInUse, who)
		}
	}
	must(t, store, "restore", file, "--dry-run")
	showing.quit()
	must(t, store, "restore", file)
}

// A socket that nobody listens on is in nobody's way.
func TestAStaleSocket(t *testing.T) {
	store := newStore(t)
	pid, ended := startInterface(t, store)
	socket := socketOf(t)
	if st, err := os.Stat(socket); err != nil || st.Mode().Perm() != 0o600 {
		t.Errorf("the socket: %v, %v", st, err)
	}
	if err := syscall.Kill(pid, syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	ended()
	if _, err := os.Stat(socket); err != nil {
		t.Fatal("nothing is left over: ", err)
	}
	must(t, store, "add", "publisher=Quillon", "number=2")
	showing := openInterface(t, store)
	must(t, store, "add", "publisher=Quillon", "number=3")
	showing.wait("from another terminal: added 3")
	showing.quit()
	if _, err := os.Stat(socket); err == nil {
		t.Error("the socket is still there when the interface has been closed")
	}
}

// While the program with the store is suspended, what reads answers from the
// newest backup and says how old that is; what writes says who has the store.
func TestASuspendedInterface(t *testing.T) {
	store := newStore(t)
	pid, _ := startInterface(t, store)
	must(t, store, "add", "publisher=Quillon", "number=2", "name=Smock") // not in the backup
	suspend(t, pid)
	out := must(t, store, "find", "cape")
	for _, want := range []string{"Cape", fmt.Sprintf("(process %d) is suspended; this is from the backup of ", pid), " old\n"} {
		if !strings.Contains(out, want) {
			t.Errorf("find prints %q, without %q", out, want)
		}
	}
	file := filepath.Join(t.TempDir(), "kept.jsonl")
	for _, args := range [][]string{{"add", "publisher=Quillon", "number=3"}, {"undo"}, {"change", "1", "year=1974"}, {"verify"}, {"backup", file}} {
		out, code := do(t, store, args...)
		if code != exitInUse || !strings.Contains(out, fmt.Sprintf("(process %d) is suspended", pid)) {
			t.Errorf("tuckrow %q: exit code %d, %q", args, code, out)
		}
	}
	if err := syscall.Kill(pid, syscall.SIGCONT); err != nil {
		t.Fatal(err)
	}
	if out := must(t, store, "find", "smock"); !strings.Contains(out, "Smock") || strings.Contains(out, "suspended") {
		t.Errorf("when it goes on, find prints %q", out)
	}
	must(t, store, "backup", file)
}

// suspend stops a process and waits until it has stopped.
func suspend(t *testing.T, pid int) {
	t.Helper()
	if err := syscall.Kill(pid, syscall.SIGSTOP); err != nil {
		t.Fatal(err)
	}
	for range 3000 {
		stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
		if err != nil {
			lacking(t, "/proc of the process", err)
		}
		if strings.Contains(string(stat), ") T ") {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatal("the process does not stop")
}

// A command that the program is suspended in the middle of does not wait for
// ever, and does not say that nothing was done.
func TestSuspendedInTheMiddle(t *testing.T) {
	store := newStore(t)
	must(t, store, "shelf", "apply", filepath.Join(shared, "shelf.toml"))
	pid, _ := startInterface(t, store)
	typed, typing := io.Pipe()
	ended := make(chan string, 1)
	go func() {
		var out bytes.Buffer
		code := report(&out, run(t.Context(), []string{"--store", store, "shelfread", "--box", "1"}, streams{typed, &out, &out}))
		ended <- fmt.Sprintf("%d %s", code, &out)
	}()
	if _, err := io.WriteString(typing, "1\n"); err != nil { // it has been read
		t.Fatal(err)
	}
	suspend(t, pid)
	// Where the interface was quick enough to ask for more, the command waits for
	// that, and for an answer only then.
	go func() { _, _ = io.WriteString(typing, "2\n") }()
	t.Cleanup(func() { _ = typed.Close() })
	if got := <-ended; !strings.HasPrefix(got, strconv.Itoa(exitInUse)) || !strings.Contains(got, "may still do it") {
		t.Errorf("it ends with %q", got)
	}
	if err := syscall.Kill(pid, syscall.SIGCONT); err != nil {
		t.Fatal(err)
	}
	must(t, store, "find", "cape")
}

// A command that waits for what is typed keeps nobody else waiting, and ctrl+c
// ends it.
func TestCtrlCInACommandThatWaits(t *testing.T) {
	store := newStore(t)
	must(t, store, "shelf", "apply", filepath.Join(shared, "shelf.toml"))
	for _, open := range []bool{false, true} {
		var showing *shown
		if open {
			showing = openInterface(t, store)
		}
		typed, typing := io.Pipe()
		ctx, interrupt := context.WithCancel(t.Context())
		ended := make(chan string, 1)
		go func() {
			var out bytes.Buffer
			code := report(&out, run(ctx, []string{"--store", store, "shelfread", "--box", "1"}, streams{typed, &out, &out}))
			ended <- fmt.Sprintf("%d %s", code, &out)
		}()
		if _, err := io.WriteString(typing, "1\n"); err != nil { // it has been read
			t.Fatal(err)
		}
		if open {
			must(t, store, "add", "publisher=Quillon", "number=5")
		}
		interrupt()
		if got := <-ended; !strings.HasPrefix(got, strconv.Itoa(exitStopped)) {
			t.Errorf("with the interface open: %v: %s", open, got)
		}
		if open {
			showing.quit()
		}
	}
}
