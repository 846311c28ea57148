package storage

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"github.com/dgraph-io/badger/v4"
)

// inUse is a store on disk with something of every kind in it, and Badger
// opened on it directly.
func inUse(t *testing.T) (dir string, alter func(change func(txn *badger.Txn) error)) {
	t.Helper()
	s := openAt(t, t.TempDir())
	s.do(everyKind()[:9]...)
	s.shut()
	return s.dir, func(change func(txn *badger.Txn) error) {
		t.Helper()
		db, err := badger.Open((&Store{dir: s.dir}).badgerOptions(false))
		if err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(db.Update(change), db.Close()); err != nil {
			t.Fatal(err)
		}
	}
}

// refused tries to open a store and fails the test unless it is refused so.
func refused(t *testing.T, dir string, want error, says ...string) {
	t.Helper()
	s, err := Open(dir, Options{})
	if err == nil {
		_ = s.Close()
	}
	if !errors.Is(err, want) {
		t.Fatalf("opening gave %v, want %v", err, want)
	}
	for _, text := range says {
		if !strings.Contains(err.Error(), text) {
			t.Errorf("the error is %q, want it to say %q", err, text)
		}
	}
	if errors.Is(err, badger.ErrKeyNotFound) {
		t.Errorf("an error of Badger's came out: %v", err)
	}
}

func flip(t *testing.T, alter func(func(*badger.Txn) error), key []byte, bit int) {
	t.Helper()
	alter(func(txn *badger.Txn) error {
		item, err := txn.Get(key)
		if err != nil {
			return err
		}
		v, err := item.ValueCopy(nil)
		if err != nil {
			return err
		}
		bit %= 8 * len(v)
		v[bit/8] ^= 1 << (bit % 8)
		return txn.Set(key, v)
	})
}

func TestABitFlippedInARecordIsFound(t *testing.T) {
	for name, key := range map[string][]byte{
		"copy 1": recordKey(model.KindCopy, 1), "pattern 2": recordKey(model.KindPattern, 2),
		"row 1": recordKey(model.KindRow, 1), "shelf 1": recordKey(model.KindShelf, 1), "checksum": {keyMeta},
	} {
		t.Run(name, func(t *testing.T) {
			for _, bit := range []int{3, 32, 77, 100} {
				dir, alter := inUse(t)
				flip(t, alter, key, bit)
				refused(t, dir, model.ErrDamaged, name, dir, "tuckrow verify --rebuild")
			}
		})
	}
}

// What only undoing needs does not keep the store from opening; verify and undo
// tell.
func TestABitFlippedInTheJournalIsFound(t *testing.T) {
	for name, key := range map[string][]byte{"line": historyKey(9), "before": beforeKey(9, 0)} {
		t.Run(name, func(t *testing.T) {
			dir, alter := inUse(t)
			flip(t, alter, key, 40)
			s := openAt(t, dir)
			want := export(t, s.Collection())
			if _, err := s.Verify(); !errors.Is(err, model.ErrDamaged) || !strings.Contains(err.Error(), "revision 9") {
				t.Errorf("verify gave %v", err)
			}
			if _, err := s.Undo(t.Context()); !errors.Is(err, model.ErrDamaged) || !strings.Contains(err.Error(), "revision 9") {
				t.Errorf("undo gave %v", err)
			}
			if export(t, s.Collection()) != want {
				t.Error("an undo that failed altered the cupboard")
			}
			s.do(&model.Add{Entries: entries(1)})
		})
	}
}

func TestRecordsThatAreGoneAreFound(t *testing.T) {
	for name, key := range map[string][]byte{
		"what revision they are of": {keyMeta}, "pattern 2": recordKey(model.KindPattern, 2),
		"publisher 1": recordKey(model.KindPublisher, 1), "box 1 holds copy 2": recordKey(model.KindCopy, 2),
		"box 1, which is not there": recordKey(model.KindShelf, 1),
	} {
		t.Run(name, func(t *testing.T) {
			dir, alter := inUse(t)
			alter(func(txn *badger.Txn) error { return txn.Delete(key) })
			refused(t, dir, model.ErrDamaged, name)
		})
	}
	t.Run("journal alone", func(t *testing.T) {
		s := openAt(t, t.TempDir())
		s.do(&model.Remove{})
		s.shut()
		db, err := badger.Open(s.badgerOptions(false))
		if err != nil {
			t.Fatal(err)
		}
		gone := db.Update(func(txn *badger.Txn) error { return txn.Delete([]byte{keyMeta}) })
		if err := errors.Join(gone, db.Close()); err != nil {
			t.Fatal(err)
		}
		refused(t, s.dir, model.ErrDamaged)
	})
}

func TestARecordInTheWrongPlaceIsFound(t *testing.T) {
	for name, key := range map[string][]byte{
		"kept under the number": recordKey(model.KindCopy, 99), "no known kind": recordKey(200, 1), "of no known kind": {keyRecord, 1},
	} {
		t.Run(name, func(t *testing.T) {
			dir, alter := inUse(t)
			alter(func(txn *badger.Txn) error { return put(txn, key, &model.Copy{Accession: 1, Pattern: 1}) })
			refused(t, dir, model.ErrDamaged, name)
		})
	}
}

func TestANewerStoreIsRefused(t *testing.T) {
	dir, alter := inUse(t)
	alter(func(txn *badger.Txn) error { return put(txn, []byte{keyMeta}, meta{Schema: Schema + 1, Rev: 9}) })
	refused(t, dir, model.ErrNewer, "schema 2", "up to 1", "use the newer tuckrow")
	if _, err := os.Stat(filepath.Join(dir, "holder")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a store that was not opened is still said to be held: %v", err)
	}
}

// Badger's own files, altered at many places: the store is refused as damaged,
// or opens whole.
func TestBytesFlippedInBadgersFiles(t *testing.T) {
	dir, _ := inUse(t)
	s := openAt(t, dir)
	want := export(t, s.Collection())
	s.shut()
	for _, pattern := range []string{"*.sst", "MANIFEST"} {
		names, err := filepath.Glob(filepath.Join(dir, "badger", pattern))
		if err != nil || len(names) == 0 {
			t.Fatalf("there is no file %s (%v)", pattern, err)
		}
		name := names[0]
		whole, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for at := 0; at < len(whole); at += 1 + len(whole)/40 {
			copied := copyStore(t, dir)
			altered := append([]byte(nil), whole...)
			altered[at] ^= 0x10
			if err := os.WriteFile(filepath.Join(copied, "badger", filepath.Base(name)), altered, 0o600); err != nil {
				t.Fatal(err)
			}
			s, err := Open(copied, Options{})
			switch {
			case err == nil:
				if got := export(t, s.Collection()); got != want {
					t.Errorf("%s, byte %d: the store opened with\n%s", pattern, at, got)
				}
				if err := s.Close(); err != nil {
					t.Error(err)
				}
			case errors.Is(err, model.ErrDamaged):
				found++
			default:
				t.Errorf("%s, byte %d: opening gave %v, want it to be refused as damaged", pattern, at, err)
			}
		}
		if found == 0 {
			t.Errorf("%s: not one byte of those altered was found", pattern)
		}
		t.Logf("%s: %d refused", pattern, found)
	}
}

// Without its list of tables Badger would open empty and delete them.
func TestAListOfTablesThatIsGoneIsFound(t *testing.T) {
	for name, spoil := range map[string]func(list string) error{
		"gone":  os.Remove,
		"empty": func(list string) error { return os.Truncate(list, 0) },
		"cut short": func(list string) error {
			info, err := os.Stat(list)
			return errors.Join(err, os.Truncate(list, info.Size()-3))
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir, _ := inUse(t)
			list := filepath.Join(dir, "badger", badger.ManifestFilename)
			kept, err := os.ReadFile(list)
			if err != nil {
				t.Fatal(err)
			}
			if err := spoil(list); err != nil {
				t.Fatal(err)
			}
			refused(t, dir, model.ErrDamaged, "the list of its tables")
			if err := os.WriteFile(list, kept, 0o600); err != nil {
				t.Fatal(err)
			}
			s := openAt(t, dir) // being refused has deleted nothing
			s.verified()
			if s.Collection().Copies().Len() != 4 {
				t.Errorf("there are %d copies, want 4", s.Collection().Copies().Len())
			}
		})
	}
	t.Run("a table is gone", func(t *testing.T) {
		dir, _ := inUse(t)
		tables, err := filepath.Glob(filepath.Join(dir, "badger", "*.sst"))
		if err != nil || len(tables) == 0 {
			t.Fatal("there is no table", err)
		}
		if err := os.Remove(tables[0]); err != nil {
			t.Fatal(err)
		}
		refused(t, dir, model.ErrDamaged)
	})
}

func copyStore(t *testing.T, dir string) string {
	t.Helper()
	to := t.TempDir()
	if err := os.CopyFS(to, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	return to
}
