package storage

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"example.org/tuckrow/model"
)

// pack is how many copies an import of the child brings.
const pack = 5000

// child is what the test binary does when it is a tuckrow of its own.
func child(do, dir string) error {
	if do == "sessions" {
		return keepOpening(dir)
	}
	if strings.HasPrefix(do, "full in opening") {
		brim(dir)
	}
	s, err := Open(dir, Options{})
	if err != nil {
		return err
	}
	fmt.Println("open")
	switch do {
	case "hold":
		_, err := io.Copy(io.Discard, os.Stdin) // until the parent lets go
		if err != nil {
			return err
		}
		return s.Close()
	case "add":
		return keepCommitting(s, func() []model.Entry { return entries(1) })
	case "import":
		return keepCommitting(s, func() []model.Entry { return entries(pack) })
	}
	if do, ok := guarded[do]; ok {
		return do(s)
	}
	return fmt.Errorf("there is nothing called %q to do", do)
}

// keepCommitting prints the last accession number of each commit, once Commit
// has returned, until it is killed.
func keepCommitting(s *Store, next func() []model.Entry) error {
	for {
		done, err := s.Commit(context.Background(), &model.Add{Entries: next()})
		if err != nil {
			return err
		}
		added := done.Added()
		fmt.Println(added[len(added)-1])
	}
}

// keepOpening opens a store, makes one commit and closes it again, until it is
// killed.
func keepOpening(dir string) error {
	for {
		s, err := Open(dir, Options{})
		if err != nil {
			return err
		}
		done, err := s.Commit(context.Background(), &model.Add{Entries: entries(1)})
		if err != nil {
			return err
		}
		fmt.Println(done.Added()[0])
		if err := s.Close(); err != nil {
			return err
		}
	}
}

// startChild starts the test binary as a tuckrow of its own and waits until it
// has the store open.
func startChild(t *testing.T, do, dir string) (*exec.Cmd, *bufio.Reader, io.WriteCloser) {
	t.Helper()
	cmd, out, in := spawn(t, do, dir)
	if line, err := out.ReadString('\n'); err != nil || line != "open\n" {
		t.Fatalf("the child says %q (%v), want that it has the store open", line, err)
	}
	return cmd, out, in
}

func spawn(t *testing.T, do, dir string) (*exec.Cmd, *bufio.Reader, io.WriteCloser) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childDo+"="+do, childDo+"_STORE="+dir)
	cmd.Stderr = os.Stderr
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return cmd, bufio.NewReader(pipe), in
}

// killed lets a child work for a random time, kills it and gives the last
// number it printed.
func killed(t *testing.T, do, dir string, within time.Duration, r *rand.Rand) (last int) {
	t.Helper()
	start := startChild
	if do == "sessions" {
		start = spawn // to be killed while it opens, too
	}
	cmd, out, in := start(t, do, dir)
	defer in.Close()
	timer := time.AfterFunc(time.Duration(r.Int64N(int64(within))), func() { _ = cmd.Process.Kill() })
	defer timer.Stop()
	for {
		line, err := out.ReadString('\n')
		if err != nil {
			break // a line cut short was not yet said
		}
		if _, err := fmt.Sscan(line, &last); err != nil {
			t.Fatalf("the child says %q: %v", line, err)
		}
	}
	if err := cmd.Wait(); err == nil || !strings.Contains(err.Error(), "killed") {
		t.Fatalf("the child ended with %v, want it killed", err)
	}
	return last
}

func rounds() int {
	if testing.Short() {
		return 3
	}
	return 15
}

func random(t *testing.T) *rand.Rand {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	return rand.New(rand.NewPCG(seed, 0))
}

// commits is how many rounds of single commits are killed.
func commits() int {
	if testing.Short() {
		return 20
	}
	return 200
}

// The promise of Commit, with real kills: what was said to be stored is there,
// and at most the one commit more that was on its way. In every other round the
// store is opened and closed for each commit, so that the kill can come there,
// too.
func TestKilledWhileCommitting(t *testing.T) {
	r, all, more := random(t), 0, 0
	var dir string
	there := 0
	for round := range commits() {
		if round%25 == 0 { // reading it all again takes longer and longer
			dir, there = t.TempDir(), 0
		}
		do, within := "add", 40*time.Millisecond
		if round%2 == 1 {
			do, within = "sessions", 150*time.Millisecond
		}
		last := max(there, killed(t, do, dir, within, r))
		s := openAt(t, dir)
		s.verified()
		n := s.Collection().Copies().Len()
		if n < last || n > last+1 {
			t.Fatalf("round %d: number %d was printed and %d copies are there", round, last, n)
		}
		for a := 1; a <= n; a++ {
			if s.Collection().Copy(model.Accession(a)) == nil {
				t.Fatalf("round %d: copy %d of %d is lost", round, a, n)
			}
		}
		all, more = all+n-there, more+n-last
		there = n
		s.shut()
	}
	t.Logf("%d commits in %d rounds, none lost; in %d the kill came after the commit and before it was said", all, commits(), more)
}

// A large import is there whole or not at all, whenever the kill comes.
func TestKilledWhileImporting(t *testing.T) {
	r, between := random(t), 0
	for round := range rounds() {
		dir := t.TempDir()
		last := killed(t, "import", dir, time.Second, r)
		s := openAt(t, dir)
		s.verified()
		n := s.Collection().Copies().Len()
		if n%pack != 0 || n < last || n > last+pack {
			t.Fatalf("round %d: number %d was printed and %d copies are there, which is not whole packs of %d", round, last, n, pack)
		}
		s.tidy()
		if n > last {
			between++
		}
		s.do(&model.Add{Entries: entries(pack)})
		if _, err := s.Undo(context.Background()); err != nil {
			t.Fatal(err)
		}
		if got := s.Collection().Copies().Len(); got != n {
			t.Fatalf("round %d: undoing a large import leaves %d copies, want %d", round, got, n)
		}
		s.shut()
	}
	t.Logf("%d of %d kills came after the change counted and before it was said", between, rounds())
}
