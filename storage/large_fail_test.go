package storage

import (
	"context"
	"errors"
	"testing"

	"example.org/tuckrow/model"
	"github.com/dgraph-io/badger/v4"
)

// When Badger reports an error the store takes nothing more, and what is in
// memory is what was there before.
func TestAWriteThatFailedStopsTheStore(t *testing.T) {
	s := openMemory(t)
	s.do(&model.Add{Entries: entries(1)})
	was := export(t, s.Collection())
	if err := s.db.Close(); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		_, err := s.Commit(context.Background(), &model.Add{Entries: entries(1)})
		if err == nil || errors.Is(err, badger.ErrBlockedWrites) || errors.Is(err, badger.ErrDBClosed) {
			t.Errorf("a commit to a broken store gave %v, want an error of our own", err)
		}
	}
	if export(t, s.Collection()) != was {
		t.Error("a commit that failed altered what is in memory")
	}
	if s.failure == nil {
		t.Error("the store would go on after a write failed")
	}
}

// until is a context that ends when it has been looked at so often.
type until struct {
	context.Context
	looks int
}

func (u *until) Err() error {
	if u.looks--; u.looks < 0 {
		return context.Canceled
	}
	return nil
}

// A change that is stopped before it counts has changed nothing, whenever that
// was: the store goes on, and nothing of it is left there.
func TestAChangeCanBeStopped(t *testing.T) {
	both(t, func(t *testing.T, s *cupboard) {
		s.do(everyKind()[:9]...)
		before, add := records(t, s.Collection()), &model.Add{Entries: entries(some)}
		looks := 0
		for ; ; looks++ {
			_, err := s.Commit(&until{context.Background(), looks}, add)
			if err == nil {
				break
			}
			if !errors.Is(err, context.Canceled) {
				t.Fatalf("stopped at look %d: %v, want the context's error", looks, err)
			}
			if records(t, s.Collection()) != before || s.keysBehind() != 0 {
				t.Fatalf("stopped at look %d something was stored", looks)
			}
			if looks == 2 {
				s.reopen()
				s.verified()
			}
		}
		if looks < 3 {
			t.Errorf("the change could be stopped at %d places, want some in between", looks)
		}
		s.reopen()
		s.verified()
		if n := s.Collection().Copies().Len(); n < some {
			t.Errorf("%d copies are listed, want the %d of the change that was not stopped among them", n, some)
		}
	})
}
