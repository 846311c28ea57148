//go:build unix

package wire

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

// path is where the socket of a store is.
func path(t *testing.T, store string) string {
	t.Helper()
	list, err := places(store)
	if err != nil {
		t.Fatal(err)
	}
	return list[0]
}

func TestNobody(t *testing.T) {
	store := newStore(t)
	for what, dir := range map[string]string{"a store that nobody has open": store, "a store that is not there": filepath.Join(store, "absent")} {
		if _, err := Dial(context.Background(), dir, Command{}); !errors.Is(err, ErrNobody) {
			t.Errorf("%s: %v, want %v", what, err, ErrNobody)
		}
	}
}

// A link, or another way of writing the folder, leads to the same socket.
func TestOneSocketAStore(t *testing.T) {
	h := serve(t, func(context.Context, Call) int { return 5 })
	link := filepath.Join(t.TempDir(), "link")
	if err := os.Symlink(h.store, link); err != nil {
		t.Fatal(err)
	}
	t.Chdir(filepath.Dir(h.store))
	for _, store := range []string{link, filepath.Base(h.store), h.store + "/../" + filepath.Base(h.store)} {
		h.store = store
		if got := h.must(t, unread{t}, noFiles{t}); got.code != 5 {
			t.Errorf("by %q: %+v", store, got)
		}
	}
	if _, err := Dial(context.Background(), t.TempDir(), Command{}); !errors.Is(err, ErrNobody) {
		t.Errorf("another store: %v", err)
	}
}

func TestTheSocketIsForItsOwnerAlone(t *testing.T) {
	h := serve(t, func(context.Context, Call) int { return 0 })
	p := path(t, h.store)
	st, err := os.Stat(p)
	if err != nil || st.Mode().Perm() != 0o600 {
		t.Errorf("mode %v, want 0600: %v", st.Mode(), err)
	}
	h.close()
	if _, err := os.Lstat(p); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("after closing it is still there: %v", err)
	}
}

func TestAStaleSocketIsClearedByWhoOpensTheStore(t *testing.T) {
	store := newStore(t)
	l, err := Listen(store)
	if err != nil {
		t.Fatal(err)
	}
	l.(*net.UnixListener).SetUnlinkOnClose(false) // as a kill leaves it
	_ = l.Close()
	if _, err := Dial(context.Background(), store, Command{}); !errors.Is(err, ErrNobody) {
		t.Errorf("dialling a stale socket: %v", err)
	}
	if _, err := os.Lstat(path(t, store)); err != nil {
		t.Errorf("dialling has cleared it away, which is for who has the store: %v", err)
	}
	if l, err = Listen(store); err != nil {
		t.Fatal(err)
	}
	_ = l.Close()
}

// A runtime folder with a path too long for a socket, or none, is gone round.
func TestWithoutARuntimeFolder(t *testing.T) {
	for _, run := range []string{"", "relative", "/tmp/" + strings.Repeat("long", 30), "/tmp/not-there"} {
		store := newStore(t)
		t.Setenv("XDG_RUNTIME_DIR", run)
		l, err := Listen(store)
		if err != nil {
			t.Fatalf("with %q: %v", run, err)
		}
		if dir := filepath.Dir(l.Addr().String()); dir == run || ours(dir) != nil {
			t.Errorf("with %q it listens in %q", run, dir)
		}
		_ = l.Close()
	}
}

func TestAnotherUsersSocketIsRefused(t *testing.T) {
	asRoot(t)
	for what, spoil := range map[string]func(p string) error{
		"a socket of another user": func(p string) error { return os.Chown(p, 12345, -1) },
		"a folder of another user": func(p string) error { return os.Chown(filepath.Dir(p), 12345, -1) },
		"a socket for all":         func(p string) error { return os.Chmod(p, 0o666) },
		"a folder for all":         func(p string) error { return os.Chmod(filepath.Dir(p), 0o777) },
		"a file": func(p string) error {
			return errors.Join(os.Remove(p), os.WriteFile(p, nil, 0o600))
		},
	} {
		t.Run(what, func(t *testing.T) {
			h := serve(t, func(context.Context, Call) int { return 0 })
			if err := spoil(path(t, h.store)); err != nil {
				t.Fatal(err)
			}
			_, err := Dial(context.Background(), h.store, Command{})
			if !errors.Is(err, ErrNobody) || !strings.Contains(err.Error(), "remove it") && !strings.Contains(err.Error(), "chmod") {
				t.Errorf("the error is %v, want that nobody listens, and why", err)
			}
		})
	}
}

func TestNoSocketInAnotherUsersFolder(t *testing.T) {
	asRoot(t)
	store := newStore(t)
	run := os.Getenv("XDG_RUNTIME_DIR")
	if err := os.Chown(run, 12345, -1); err != nil {
		t.Fatal(err)
	}
	l, err := Listen(store)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	if filepath.Dir(l.Addr().String()) == run {
		t.Error("it listens in a folder that is another user's")
	}
}

// asRoot skips where files cannot be given to another user.
func asRoot(t *testing.T) {
	t.Helper()
	if os.Geteuid() != 0 {
		t.Skip("only root can make files of another user; the checks are not tried")
	}
}

// A process of another user that gets at the socket all the same is sent away.
func TestAnotherUsersProcessIsRefused(t *testing.T) {
	asRoot(t)
	dir, err := os.MkdirTemp("/tmp", "wire")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(dir)
	bin, sock := filepath.Join(dir, "test"), filepath.Join(dir, "sock")
	self, err := os.ReadFile("/proc/self/exe")
	if err != nil {
		t.Skip("the test cannot copy itself here; a process of another user is not tried")
	}
	l, lerr := net.Listen("unix", sock)
	if err := errors.Join(lerr, os.WriteFile(bin, self, 0o755), os.Chmod(dir, 0o755), os.Chmod(sock, 0o777)); err != nil {
		t.Fatal(err)
	}
	ran := false
	var logged []string
	s := &Server{Run: func(context.Context, Call) int { ran = true; return 0 }, Rev: func() uint64 { return 0 }, Log: func(text string) { logged = append(logged, text) }}
	go s.Serve(l)
	cmd := exec.Command(bin, sock)
	cmd.Env = append(os.Environ(), sceneVar+"=intrude")
	cmd.Dir = dir
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 12345, Gid: 12345}}
	out, err := cmd.CombinedOutput()
	_ = l.Close()
	if err := errors.Join(err, s.Close(context.Background())); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	if ran || !strings.Contains(string(out), "user 12345") || len(logged) != 1 || !strings.Contains(logged[0], "user 12345") {
		t.Errorf("run: %v; the intruder heard %q; the log says %q", ran, out, logged)
	}
}

// intrude says all that is needed to have a command run, and prints what
// comes back.
func intrude(sock string) {
	c, err := net.Dial("unix", sock)
	if err != nil {
		panic(err)
	}
	hello, _ := helloOf(Command{Args: []string{"find"}})
	k := newConn(c)
	_ = k.write(kindHello, hello)
	_ = k.write(kindGo, nil)
	all, _ := io.ReadAll(c)
	fmt.Printf("%q\n", all)
}

func TestASuspendedProgram(t *testing.T) {
	store := newStore(t)
	cmd := exec.Command(os.Args[0], store)
	cmd.Env = append(os.Environ(), sceneVar+"=serve")
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	}()
	if line, err := bufio.NewReader(out).ReadString('\n'); line != "listening\n" {
		t.Fatal(line, err)
	}
	h := &host{store: store}
	if err := cmd.Process.Signal(syscall.SIGSTOP); err != nil {
		t.Fatal(err)
	}
	var silent *SilentError
	_, err = h.call(context.Background(), unread{t}, noFiles{t})
	if !errors.As(err, &silent) {
		t.Fatalf("a suspended program: %v", err)
	}
	if runtime.GOOS == "linux" && (silent.PID != cmd.Process.Pid || !silent.Suspended) {
		t.Errorf("it is said to be process %d, suspended %v; it is %d, and it is", silent.PID, silent.Suspended, cmd.Process.Pid)
	}
	if err := cmd.Process.Signal(syscall.SIGCONT); err != nil {
		t.Fatal(err)
	}
	if got := h.must(t, unread{t}, noFiles{t}); got.code != 7 {
		t.Errorf("when it goes on: %+v", got)
	}
}
