package backup

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
)

// child backs up or restores in a process of its own, which kills itself at the
// moment that it is told of the n-th step. What it does is "file 7", "restore 7",
// "return 7" or "rebuild 7"; with 0 it is for the parent to kill it, and so is "daily 0".
func child(do, dir string) error {
	what, count, _ := strings.Cut(do, " ")
	left, err := strconv.Atoi(count)
	if err != nil {
		return err
	}
	step := func(string, int64, int64) {
		if left--; left == 0 {
			if err := syscall.Kill(os.Getpid(), syscall.SIGKILL); err != nil {
				panic(err)
			}
			select {} // until it comes
		}
	}
	switch what {
	case "daily":
		s, err := storage.Open(dir, storage.Options{})
		if err != nil {
			return err
		}
		// A restore that was killed behind the switch leaves a store that is behind
		// its newest backup, which is said and kept, and is no failure.
		err = Daily(ctx, s, noon("2026-11-25"), EachChange, NoProgress)
		if doubt := (*DoubtError)(nil); err != nil && !errors.As(err, &doubt) {
			return err
		}
		return s.Close()
	case "work":
		return work(dir, step)
	case "file":
		s, err := storage.Open(dir, storage.Options{})
		if err != nil {
			return err
		}
		if _, err := Write(ctx, dir+".jsonl", s, noon("2026-11-25"), step); err != nil {
			return err
		}
		return s.Close()
	case "restore":
		w, err := Read(ctx, dir+".jsonl", step)
		if err != nil {
			return err
		}
		_, err = Restore(ctx, dir, w, "restored the cupboard", noon("2026-11-25"), step)
		return err
	case "rebuild":
		_, err := Rebuild(ctx, dir, noon("2026-11-27"), step)
		return err
	case "return":
		_, err := Return(ctx, dir, noon("2026-11-26"), step)
		return err
	}
	return fmt.Errorf("there is nothing called %q to do", do)
}

// work makes one commit after another until a step kills it, the store open.
func work(dir string, step Progress) error {
	s, err := storage.Open(dir, storage.Options{})
	if err != nil {
		return err
	}
	for {
		if _, err := s.Commit(ctx, adding(1)); err != nil {
			return err
		}
		step("", 0, 0)
	}
}

// killed runs a child that is killed at a step; false when it was through
// before.
func killed(t *testing.T, do string, step int, dir string) bool {
	t.Helper()
	return ended(t, started(t, do, step, dir))
}

// started starts a child.
func started(t *testing.T, do string, step int, dir string) *exec.Cmd {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), fmt.Sprintf("%s=%s %d", childDo, do, step), childDo+"_STORE="+dir)
	cmd.Stderr = os.Stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return cmd
}

// ended waits for a child and tells whether it was killed.
func ended(t *testing.T, cmd *exec.Cmd) bool {
	t.Helper()
	err := cmd.Wait()
	if err != nil && !strings.Contains(err.Error(), "killed") {
		t.Fatalf("the child ended with %v, want it killed or done", err)
	}
	return err != nil
}

// Killed at any step of backing up to a file, the file is the old one or the
// new one, and the next run clears away what is left.
func TestKilledWhileBackingUp(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "store")
	file := dir + ".jsonl"
	s := opened(t, dir)
	do(t, s, adding(300))
	backup(t, s, file)
	old := exported(t, s.Collection())
	do(t, s, adding(300))
	now := exported(t, s.Collection())
	shut(t, s)
	rounds := 0
	for step := 1; killed(t, "file", step, dir); step++ {
		rounds++
		w, err := Read(ctx, file, NoProgress)
		if err != nil {
			t.Fatalf("killed at step %d: %v", step, err)
		}
		if text := exported(t, w.Collection); text != old && text != now {
			t.Fatalf("killed at step %d the backup is neither the old nor the new one", step)
		}
		for _, name := range in(t, parent) {
			if name != "store" && name != "store.jsonl" && !strings.HasSuffix(name, ".unfinished") {
				t.Errorf("killed at step %d, %s is left", step, name)
			}
		}
		if got := holds(t, dir); got != now {
			t.Fatalf("killed at step %d the store has changed", step)
		}
	}
	if rounds < 5 {
		t.Errorf("there were only %d steps to be killed at", rounds)
	}
	listed(t, parent, "store", "store.jsonl")
	if w, err := Read(ctx, file, NoProgress); err != nil || exported(t, w.Collection) != now {
		t.Errorf("the backup is not the new one (%v)", err)
	}
	t.Logf("killed in %d rounds", rounds)
}

// Killed at any step of a restore, or of its undoing, the next opening has the
// store as it was or as it is to be; and what was kept aside is whole.
func TestKilledWhileRestoring(t *testing.T) {
	rounds, through := 0, false
	for step := 1; !through; step++ {
		dir := filepath.Join(t.TempDir(), "store")
		s := opened(t, dir)
		do(t, s, adding(40))
		backup(t, s, dir+".jsonl")
		older := exported(t, s.Collection())
		do(t, s, adding(20), &model.Remove{Copies: []model.Accession{1}})
		newer := exported(t, s.Collection())
		shut(t, s)

		through = !killed(t, "restore", step, dir)
		got := holds(t, dir)
		if got != older && got != newer {
			t.Fatalf("killed at step %d the store is neither the old nor the new one", step)
		}
		if through && got != older {
			t.Fatal("the restore went through and changed nothing")
		}
		kept := keptAside(t, dir)
		switch {
		case got == older && (kept == "" || holds(t, kept) != newer):
			t.Fatalf("killed at step %d the store as it was is not kept aside", step)
		case got == newer && kept != "":
			t.Fatalf("killed at step %d there is %s, and the store is the old one", step, kept)
		}
		tidy(t, dir, step)
		rounds++
		if got == older {
			rounds += killedWhileReturning(t, dir, step%4+1, older, newer)
		}
	}
	t.Logf("%d rounds", rounds)
}

// killedWhileReturning undoes a restore and is killed at a few steps of that,
// each time from where the last kill left it.
func killedWhileReturning(t *testing.T, dir string, every int, older, newer string) (rounds int) {
	want := []string{older, newer}
	for step := every; killed(t, "return", step, dir); step += every {
		rounds++
		if got := holds(t, dir); !slices.Contains(want, got) {
			t.Fatalf("killed at step %d of undoing, the store is neither the one nor the other", step)
		}
		if kept := keptAside(t, dir); kept == "" || !slices.Contains(want, holds(t, kept)) || holds(t, kept) == holds(t, dir) {
			t.Fatalf("killed at step %d of undoing, what is kept aside is not the other one", step)
		}
		tidy(t, dir, step)
	}
	return rounds
}

// Killed at whatever moment, between the steps as well.
func TestKilledAtAnyMoment(t *testing.T) {
	seed := rand.Uint64()
	r := rand.New(rand.NewPCG(seed, 0))
	t.Logf("seed %d", seed)
	dir := filepath.Join(t.TempDir(), "store")
	s := opened(t, dir)
	do(t, s, adding(1000))
	backup(t, s, dir+".jsonl")
	saved := text(t, dir+".jsonl")
	older := exported(t, s.Collection())
	do(t, s, adding(1000))
	newer := exported(t, s.Collection())
	shut(t, s)
	rounds, kills := 16, 0
	if testing.Short() {
		rounds = 4
	}
	for round := range rounds {
		what := []string{"daily", "restore", "file", "return"}[round%4]
		if _, err := lastAside(dir); what == "return" && err != nil {
			what = "restore" // the one before was killed too soon
		}
		cmd := started(t, what, 0, dir)
		timer := time.AfterFunc(time.Duration(r.Int64N(int64(400*time.Millisecond))), func() { _ = cmd.Process.Kill() })
		if ended(t, cmd) {
			kills++
		}
		timer.Stop()
		if got := holds(t, dir); got != older && got != newer {
			t.Fatalf("round %d, killed during %s: the store is neither the old nor the new one", round, what)
		}
		tidy(t, dir, round)
		if w, err := Read(ctx, dir+".jsonl", NoProgress); err != nil || exported(t, w.Collection) != older && exported(t, w.Collection) != newer {
			t.Fatalf("round %d, killed during %s: the backup is neither the old nor the new one (%v)", round, what, err)
		}
		put(t, dir+".jsonl", saved) // for the next restore
		all, err := List(Folder(dir))
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range all {
			if w, err := Read(ctx, b.Path, NoProgress); err != nil || exported(t, w.Collection) != older && exported(t, w.Collection) != newer {
				t.Fatalf("round %d, killed during %s: the backup of %s is neither the one nor the other (%v)", round, what, b.Day, err)
			}
		}
	}
	t.Logf("%d of %d rounds were kills", kills, rounds)
}

func keptAside(t *testing.T, dir string) (path string) {
	t.Helper()
	for _, name := range in(t, dir) {
		if strings.HasPrefix(name, aside) {
			if path != "" {
				t.Fatalf("there are %s and %s", path, name)
			}
			path = filepath.Join(dir, name)
		}
	}
	return path
}

// tidy fails the test if the opening after a kill has left anything lying about.
func tidy(t *testing.T, dir string, step int) {
	t.Helper()
	for _, name := range in(t, dir) {
		if strings.Contains(name, "unfinished") || strings.Contains(name, "switch") {
			t.Errorf("killed at step %d, %s is left after the next opening", step, name)
		}
	}
}
