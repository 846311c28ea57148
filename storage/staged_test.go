package storage

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"github.com/dgraph-io/badger/v4"
)

// large is an import as people make it, and some is the least that does not fit
// one transaction by far.
const large, some = 10_000, 6000

func TestALargeChangeIsOneChange(t *testing.T) {
	both(t, func(t *testing.T, s *cupboard) {
		s.do(everyKind()[:9]...)
		before := records(t, s.Collection())
		add := &model.Add{Entries: entries(large), From: "large.csv", Boxes: []model.BoxSpec{{Name: "full", Length: model.MM(1000)}}}
		for i := range add.Entries {
			if i%3 == 0 {
				add.Entries[i].Box = "full"
			}
		}
		want, _, err := s.Collection().Apply(add, day)
		if err != nil {
			t.Fatal(err)
		}
		s.do(add)
		s.reopen()
		s.verified()
		if export(t, s.Collection()) != export(t, want) {
			t.Error("the store does not hold what the change gives")
		}
		if n := len(s.keys(keyStaged)); n != 0 {
			t.Errorf("%d staged pieces are left", n)
		}
		all := make([]model.Accession, large)
		for i := range all {
			all[i] = model.Accession(5 + i)
		}
		s.do(&model.Tick{Copies: all, Step: model.StepSleeve}, &model.Remove{Copies: all})
		if got := s.Collection().Copies().Len(); got != 4 {
			t.Errorf("%d copies are left, want 4", got)
		}
		for _, title := range []string{"removed 10000 copies", "ticked sleeve for 10000 copies", "imported 10000 copies from large.csv"} {
			s.reopen()
			if done, err := s.Undo(context.Background()); err != nil || done.Title != "undid: "+title {
				t.Fatalf("undo says %q (%v), want it to take back %q", done.Title, err, title)
			}
			s.verified()
		}
		if records(t, s.Collection()) != before {
			t.Error("with all undone the store does not hold what it held before")
		}
	})
}

// The longest records there can be: texts, and one row of a whole collection.
func TestLongRecords(t *testing.T) {
	n := 90_000
	if testing.Short() {
		n = 9000
	}
	s := openAt(t, t.TempDir())
	long := entries(40)
	for i := range long {
		long[i].Notes = strings.Repeat("note ", 9000+i) + "end"
	}
	s.do(&model.Add{Entries: long}, &model.Add{Entries: entries(n), Boxes: []model.BoxSpec{{Name: "1", Length: model.MM(100)}}})
	row := make([]model.Accession, n)
	for i := range row {
		row[i] = model.Accession(41 + i)
	}
	s.do(&model.Stand{Rows: []model.NamedRow{{Box: "1", Copies: row}}})
	back := slices.Clone(row)
	slices.Reverse(back)
	s.do(&model.Stand{Rows: []model.NamedRow{{Box: "1", Copies: back}}})
	s.reopen()
	s.verified()
	for _, want := range [][]model.Accession{back, row, nil} {
		if got := s.Collection().Row(1); !slices.Equal(got, want) {
			t.Errorf("the box holds %d copies, not the %d it should", len(got), len(want))
		}
		if _, err := s.Undo(context.Background()); err != nil {
			t.Fatal(err)
		}
	}
}

// stagedWrites is a large change worked out but not written.
func stagedWrites(t *testing.T, s *cupboard) (next *model.Collection, writes []write, m meta) {
	t.Helper()
	next, delta, err := s.Collection().Apply(&model.Add{Entries: entries(some), From: "large.csv"}, day)
	if err != nil {
		t.Fatal(err)
	}
	if writes, err = s.writes(next, delta, entry{Title: "imported"}); err != nil {
		t.Fatal(err)
	}
	return next, writes, meta{Schema: Schema, Rev: next.Rev(), Counters: next.Counters()}
}

// A kill may come between any two of Badger's transactions. Each subtest stops
// where one could and opens the store again.
func TestAKillAtEachStageLeavesAllOrNothing(t *testing.T) {
	for name, first := range map[string][]model.Change{"in a new store": nil, "in a store in use": everyKind()[:9]} {
		t.Run(name, func(t *testing.T) {
			for stage, kill := range stages {
				t.Run(stage, func(t *testing.T) {
					s := openAt(t, t.TempDir())
					s.do(first...)
					old := s.Collection()
					next, writes, m := stagedWrites(t, s)
					want := old
					if kill(t, s, writes, m) {
						want = next
					}
					s.reopen()
					s.verified()
					if n := len(s.keys(keyStaged)); n != 0 {
						t.Errorf("%d staged pieces are left", n)
					}
					if got := s.Collection(); got.Rev() != want.Rev() || export(t, got) != export(t, want) {
						t.Errorf("it is at revision %d with %d copies, want revision %d and what belongs to it", got.Rev(), got.Copies().Len(), want.Rev())
					}
					s.do(&model.Add{Entries: entries(some)}) // it can be used on
					s.reopen()
					s.verified()
				})
			}
		})
	}
}

// stages are the ways to leave a store as a kill would, by the moment it comes;
// true when the change counts by then.
var stages = map[string]func(t *testing.T, s *cupboard, writes []write, m meta) bool{
	"at the first piece": func(t *testing.T, s *cupboard, writes []write, _ meta) bool {
		staged(t, s, writes[:1])
		return false
	},
	"with a piece missing": func(t *testing.T, s *cupboard, writes []write, _ meta) bool {
		if staged(t, s, writes) < 2 {
			t.Fatal("one piece was staged, want several")
		}
		remove(t, s, stagedKey(0))
		return false
	},
	"before it counts": func(t *testing.T, s *cupboard, writes []write, _ meta) bool {
		staged(t, s, writes)
		return false
	},
	"when it counts": func(t *testing.T, s *cupboard, writes []write, m meta) bool {
		counts(t, s, writes, m)
		return true
	},
	"while writing out": func(t *testing.T, s *cupboard, writes []write, m meta) bool {
		counts(t, s, writes, m)
		setAll(t, s, writes[:some])
		return true
	},
	"before the pieces go": func(t *testing.T, s *cupboard, writes []write, m meta) bool {
		counts(t, s, writes, m)
		setAll(t, s, writes)
		return true
	},
	"when all is done": func(t *testing.T, s *cupboard, writes []write, m meta) bool {
		pieces := counts(t, s, writes, m)
		if err := s.writeOut(writes, m, pieces); err != nil {
			t.Fatal(err)
		}
		return true
	},
}

func staged(t *testing.T, s *cupboard, writes []write) (pieces int) {
	t.Helper()
	pieces, err := s.stage(context.Background(), writes)
	if err != nil {
		t.Fatal(err)
	}
	return pieces
}

// counts stages a change and makes it count, without writing it out.
func counts(t *testing.T, s *cupboard, writes []write, m meta) (pieces int) {
	t.Helper()
	pieces = staged(t, s, writes)
	m.Staged = pieces
	if err := s.db.Update(func(txn *badger.Txn) error { return put(txn, []byte{keyMeta}, m) }); err != nil {
		t.Fatal(err)
	}
	return pieces
}

func setAll(t *testing.T, s *cupboard, writes []write) {
	t.Helper()
	for group := range slices.Chunk(writes, 1000) {
		err := s.db.Update(func(txn *badger.Txn) error {
			for _, w := range group {
				if err := w.to(txn); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

func remove(t *testing.T, s *cupboard, key []byte) {
	t.Helper()
	if err := s.db.Update(func(txn *badger.Txn) error { return txn.Delete(key) }); err != nil {
		t.Fatal(err)
	}
}

func TestAStagedPieceThatIsGoneIsFound(t *testing.T) {
	s := openAt(t, t.TempDir())
	_, writes, m := stagedWrites(t, s)
	counts(t, s, writes, m)
	remove(t, s, stagedKey(1))
	s.shut()
	refused(t, s.dir, model.ErrDamaged, "piece 2 of")
}

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
			if records(t, s.Collection()) != before || len(s.keys(keyStaged)) != 0 {
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
