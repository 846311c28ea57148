package storage

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/whole"
)

// brim has another process take all that is free, between the look at what is
// free and the writing that comes after it.
func brim(dir string) {
	free = func(path string) (uint64, bool) {
		n, known := whole.Free(path)
		filler := filepath.Join(filepath.Dir(dir), "filler")
		_ = exec.Command("sh", "-c", `cat /dev/zero >"$1"`, "sh", filler).Run() // ends when the disk is full
		free = whole.Free
		return n, known
	}
}

// inOne commits so many copies as one change and prints the highest number.
func inOne(s *Store, n int) error {
	done, err := s.Commit(context.Background(), &model.Add{Entries: entries(n)})
	if err == nil {
		added := done.Added()
		fmt.Println(added[len(added)-1])
	}
	return err
}

// wordy commits what soon fills a log.
func wordy(s *Store) error {
	all := entries(300)
	for i := range all {
		all[i].Notes = strings.Repeat("to be looked at; ", 50)
	}
	_, err := s.Commit(context.Background(), &model.Add{Entries: all})
	if err == nil {
		fmt.Println(s.Collection().Copies().Len())
	}
	return err
}

var halfTyped = []byte(strings.Repeat("half a na", 1000))

// brimmed are the moments at which the disk becomes full, and what the child
// does there. It has opened the store; the two openings are brimmed before.
var brimmed = map[string]func(s *Store) error{
	"a commit": func(s *Store) error {
		brim(s.dir)
		return inOne(s, 1)
	},
	"a commit that begins another log": func(s *Store) error {
		for s.kept.logged <= nearlyFull {
			if err := wordy(s); err != nil {
				return err
			}
		}
		for log := s.kept.log; ; { // the count is on the safe side
			brim(s.dir)
			err := wordy(s)
			if logs := s.logs(); err != nil || logs[len(logs)-1] != log {
				return err
			}
			if err := os.Remove(filepath.Join(filepath.Dir(s.dir), "filler")); err != nil {
				return err
			}
		}
	},
	"a commit in pieces": func(s *Store) error {
		brim(s.dir)
		return inOne(s, 3000)
	},
	"what is being typed": func(s *Store) error {
		brim(s.dir)
		s.mu.Lock()
		err := s.room() // which is when it becomes full
		s.mu.Unlock()
		return errors.Join(err, s.SaveDraft("draft", halfTyped))
	},
	"closing": func(s *Store) error {
		brim(s.dir)
		return nil
	},
	"opening":              func(*Store) error { return nil },
	"opening after a kill": func(*Store) error { return nil },
}

func init() {
	for when, what := range brimmed {
		guarded["full in "+when] = func(s *Store) error {
			err := inOne(s, 3)
			if strings.HasPrefix(when, "opening") {
				err = nil // no room is left for them
			}
			return errors.Join(err, what(s), s.Close())
		}
	}
	guarded["leave a log"] = func(s *Store) error {
		if err := inOne(s, 1500); err != nil {
			return err
		}
		os.Exit(0)
		return nil
	}
}

// Whenever another process fills the disk to the brim behind the look at what is
// free, the program is not ended by a signal: what it was doing comes to its end,
// or is refused, and nothing that was said to be stored is lost.
func TestADiskFilledToTheBrim(t *testing.T) {
	for _, kind := range []string{"tmpfs", "ext4"} {
		t.Run(kind, func(t *testing.T) {
			disk := mounted(t, kind, 160)
			for when := range brimmed {
				t.Run(when, func(t *testing.T) {
					dir := filepath.Join(disk, strings.ReplaceAll(when, " ", "-"))
					s := openAt(t, dir)
					s.do(&model.Add{Entries: entries(3)})
					s.shut()
					last := 3
					if when == "opening after a kill" {
						last += 1500
						if said, err := ran(t, "leave a log", dir, 0); err != nil {
							t.Fatal(said, err)
						}
					}
					cmd, out, in := spawn(t, "full in "+when, dir)
					defer in.Close()
					said, err := io.ReadAll(out)
					if err != nil {
						t.Fatal(err)
					}
					for line := range strings.Lines(string(said)) {
						_, _ = fmt.Sscan(line, &last) // but for that it is open
					}
					if err := cmd.Wait(); err != nil && !strings.Contains(err.Error(), "exit status 1") {
						t.Errorf("the child ended with %v", err)
					}
					t.Logf("%d copies; the child ended with %v", last, err)
					if when == "a commit" && last != 7 {
						t.Errorf("the highest number is %d, want 7: the log has its room beforehand", last)
					}
					if n, _ := whole.Free(disk); n > spare {
						t.Errorf("%d MiB are free: the disk was never full", n>>20)
					}
					if err := os.Remove(filepath.Join(disk, "filler")); err != nil {
						t.Fatal(err)
					}
					s = openAt(t, dir)
					s.verified()
					if n := s.Collection().Copies().Len(); n < last || n > last+3000 {
						t.Errorf("%d copies are there, want the %d that were confirmed", n, last)
					}
					if kept, err := s.LoadDraft("draft"); when == "what is being typed" && !bytes.Equal(kept, halfTyped) {
						t.Errorf("of what was being typed %d bytes are kept, want %d (%v)", len(kept), len(halfTyped), err)
					}
					s.shut()
					if err := os.RemoveAll(dir); err != nil {
						t.Fatal(err)
					}
				})
			}
		})
	}
}

// mounted is a small file system of its own, of a kind and so many MiB.
func mounted(t *testing.T, kind string, size int) string {
	t.Helper()
	if runtime.GOOS != "linux" || os.Getuid() != 0 {
		t.Skip("only root on Linux can mount a small file system: run this test so")
	}
	dir := t.TempDir()
	args := []string{"-t", "tmpfs", "-o", fmt.Sprintf("size=%dm", size), "tmpfs", dir}
	if kind != "tmpfs" {
		image := filepath.Join(t.TempDir(), "disk")
		err := os.WriteFile(image, nil, 0o600)
		if err = errors.Join(err, os.Truncate(image, int64(size)<<20)); err != nil {
			t.Fatal(err)
		}
		if out, err := exec.Command("mkfs."+kind, "-q", "-m", "0", image).CombinedOutput(); err != nil {
			t.Skipf("there is no %s to be had here: %v: %s", kind, err, out)
		}
		args = []string{"-t", kind, "-o", "loop", image, dir}
	}
	if out, err := exec.Command("mount", args...).CombinedOutput(); err != nil {
		t.Skipf("a small file system cannot be mounted here: %v: %s", err, out)
	}
	t.Cleanup(func() {
		if out, err := exec.Command("umount", "-l", dir).CombinedOutput(); err != nil {
			t.Errorf("unmounting %s: %v: %s", dir, err, out)
		}
	})
	return dir
}

// On a disk that is really full, filled from before or while work goes on,
// nothing that was said to be stored is lost.
func TestAFullDisk(t *testing.T) {
	disk := mounted(t, "tmpfs", 128)
	dir, ballast := filepath.Join(disk, "store"), filepath.Join(disk, "ballast")
	r, there, killed := random(t), 0, 0
	n := 12
	if testing.Short() {
		n = 4
	}
	for round := range n {
		free, _ := whole.Free(disk)
		leave := int64(spare) + r.Int64N(1<<20)
		if round%2 == 1 {
			leave = int64(spare) + 4<<20 // and the rest is taken while it works
		}
		if err := fill(ballast, int64(free)-leave); err != nil {
			t.Fatal(err)
		}
		cmd, out, in := startChild(t, "fill", dir)
		if round%2 == 1 {
			time.Sleep(time.Duration(r.Int64N(int64(30 * time.Millisecond))))
			_ = fill(ballast, 1<<30) // which ends when the disk is full
		}
		last := there
		for {
			line, err := out.ReadString('\n')
			if err != nil {
				break
			}
			if _, err := fmt.Sscan(line, &last); err != nil {
				t.Fatalf("the child says %q: %v", line, err)
			}
		}
		_ = in.Close()
		if err := cmd.Wait(); err == nil {
			t.Fatal("the child ended well on a full disk")
		} else if !strings.Contains(err.Error(), "exit status 1") {
			killed++
		}
		if err := os.Remove(ballast); err != nil {
			t.Fatal(err)
		}
		s := openAt(t, dir)
		s.verified()
		if there = s.Collection().Copies().Len(); there < last || there > last+1 {
			t.Fatalf("round %d: number %d was printed and %d copies are there", round, last, there)
		}
		s.shut()
	}
	t.Logf("%d rounds, %d commits, none lost; the child ended otherwise than by a refusal in %d", n, there, killed)
}

// fill makes a file longer by so many bytes, or until the disk is full.
func fill(path string, n int64) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	block := make([]byte, 64<<10)
	for ; n > 0 && err == nil; n -= int64(len(block)) {
		_, err = f.Write(block[:min(n, int64(len(block)))])
	}
	return errors.Join(err, f.Close())
}
