//go:build unix

package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
)

var killRounds = flag.Int("killrounds", 5, "how often the interface is killed while two terminals enter patterns")

// Two terminals enter through the interface until that is killed. Each entry
// that has been confirmed is there, as it was given, and no number was given
// twice; who was not confirmed is told that it may have been done or not.
func TestKilledWhileOthersEnter(t *testing.T) {
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 0))
	store := newStore(t)
	confirmed := map[model.Accession]string{}
	var cut, unconfirmed int
	for round := range *killRounds {
		pid, ended := startInterface(t, store)
		var mu sync.Mutex
		var typing sync.WaitGroup
		for terminal := range 2 {
			typing.Go(func() {
				for n := 0; ; n++ {
					number := fmt.Sprintf("%d-%d-%d", round, terminal, n)
					var out, errs bytes.Buffer
					err := run(context.Background(), []string{"--store", store, "add", "publisher=Quillon", "number=" + number, "name=Cape"}, streams{strings.NewReader(""), &out, &errs})
					code := report(&errs, err)
					given, bad := strconv.Atoi(strings.TrimSpace(out.String()))
					mu.Lock()
					switch {
					case bad == nil:
						if was := confirmed[model.Accession(given)]; was != "" {
							t.Errorf("%d was given to %s and to %s", given, was, number)
						}
						confirmed[model.Accession(given)] = number
					case code == exitInUse:
						cut++
					default:
						t.Errorf("exit code %d, %q %q", code, &out, &errs)
					}
					mu.Unlock()
					if code != exitDone || syscall.Kill(pid, 0) != nil {
						return
					}
				}
			})
		}
		time.Sleep(time.Duration(random.IntN(300)) * time.Millisecond)
		if err := syscall.Kill(pid, syscall.SIGKILL); err != nil {
			t.Fatal(err)
		}
		ended()
		typing.Wait()
		unconfirmed = lost(t, store, confirmed)
	}
	t.Logf("%d rounds, %d entries confirmed, %d cut off, %d of those made", *killRounds, len(confirmed), cut, unconfirmed)
	if len(confirmed) == 0 {
		t.Error("nothing was confirmed in any round: this has tried nothing")
	}
}

// lost looks for what was confirmed, and gives how many more there are.
func lost(t *testing.T, store string, confirmed map[model.Accession]string) (more int) {
	t.Helper()
	s, err := storage.Open(store, storage.Options{})
	if err != nil {
		t.Fatal(err)
	}
	_, err = s.Verify()
	if err = errors.Join(err, s.Close()); err != nil {
		t.Error(err)
	}
	c := s.Collection()
	for a, number := range confirmed {
		if c.Copy(a) == nil || c.PatternOf(a).Number != number {
			t.Errorf("lost: %d, which was %s", a, number)
		}
	}
	return c.Copies().Len() - 1 - len(confirmed) // one was there before
}
