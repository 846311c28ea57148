package storage

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/journal"
	"github.com/dgraph-io/badger/v4"
)

// pulled is a copy of a store's folder while the store is open, as a power cut
// would leave it: Badger has its newest changes in its log only. It holds what
// want says.
func pulled(t *testing.T) (dir, want string, rev uint64) {
	t.Helper()
	s := openAt(t, t.TempDir())
	s.do(everyKind()[:7]...)
	s.reopen() // those lie in a table now
	s.do(everyKind()[7:]...)
	return copyStore(t, s.dir), export(t, s.Collection()), s.Collection().Rev()
}

func only(t *testing.T, dir, pattern string) string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(dir, pattern))
	if err != nil || len(names) != 1 {
		t.Fatalf("there are the files %q (%v), want one", names, err)
	}
	return names[0]
}

// flipIn flips a bit of a file at a share of what is written in it.
func flipIn(t *testing.T, path string, share float64) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text[int(float64(writtenIn(text))*share)] ^= 0x10
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
}

// writtenIn is how much of a file is written; a log is longer than that.
func writtenIn(text []byte) int {
	n := len(text)
	for n > 0 && text[n-1] == 0 {
		n--
	}
	return n
}

func cutIn(t *testing.T, path string, share float64) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(path, int64(float64(writtenIn(text))*share)); err != nil {
		t.Fatal(err)
	}
}

// holds opens a store and fails the test unless it holds what is wanted, and
// says so of itself.
func holds(t *testing.T, dir, want string, says ...string) *cupboard {
	t.Helper()
	s := openAt(t, dir)
	if got := export(t, s.Collection()); got != want {
		t.Fatalf("the store holds\n%s\nwant\n%s", got, want)
	}
	s.verified()
	notes := strings.Join(s.Notes(), "\n")
	for _, text := range says {
		if !strings.Contains(notes, text) {
			t.Errorf("it says %q, want %q in it", notes, text)
		}
	}
	if len(says) == 0 && notes != "" {
		t.Errorf("it says %q, want nothing", notes)
	}
	return s
}

// What Badger loses of its log without a word is brought back from the journal.
func TestBadgersLogHarmed(t *testing.T) {
	for name, harm := range map[string]func(t *testing.T, log string){
		"nothing is lost":          func(*testing.T, string) {},
		"a bit flipped":            func(t *testing.T, log string) { flipIn(t, log, 0.5) },
		"a bit flipped near start": func(t *testing.T, log string) { flipIn(t, log, 0.1) },
		"cut in the middle":        func(t *testing.T, log string) { cutIn(t, log, 0.5) },
		"deleted": func(t *testing.T, log string) {
			if err := os.Remove(log); err != nil {
				t.Fatal(err)
			}
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir, want, rev := pulled(t)
			harm(t, only(t, dir, "badger/*.mem"))
			says := []string{"behind its journal", "brought up"}
			if name == "nothing is lost" {
				says = nil
			}
			s := holds(t, dir, want, says...)
			if s.Collection().Rev() != rev {
				t.Errorf("it is at revision %d, want %d", s.Collection().Rev(), rev)
			}
			s.reopen()
			if len(s.Notes()) > 0 {
				t.Errorf("opened once more it says %q", s.Notes())
			}
			undone(t, s, int(rev))
		})
	}
}

// Wherever in what is written of Badger's log the harm is done, nothing is lost.
func TestBadgersLogHarmedAnywhere(t *testing.T) {
	dir, want, _ := pulled(t)
	text, err := os.ReadFile(only(t, dir, "badger/*.mem"))
	if err != nil {
		t.Fatal(err)
	}
	written, step := writtenIn(text), 97
	if testing.Short() {
		step = 511
	}
	flips, cuts, healed, headers := 0, 0, 0, 0
	check := func(harm func(log string) error) {
		t.Helper()
		again := copyStore(t, dir)
		if err := harm(only(t, again, "badger/*.mem")); err != nil {
			t.Fatal(err)
		}
		s, err := Open(again, Options{Now: noon})
		if errors.Is(err, model.ErrDamaged) { // to be rebuilt, for which storage/backup has tests
			headers++
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if got := export(t, s.Collection()); got != want {
			t.Fatalf("after %d flips and %d cuts the store holds\n%s", flips, cuts, got)
		}
		if _, err := s.Verify(); err != nil {
			t.Fatal(err)
		}
		if len(s.Notes()) > 0 {
			healed++
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	for at := 0; at < written; at += step {
		check(func(log string) error {
			altered := slices.Clone(text)
			altered[at] ^= 1 << (at % 8)
			return os.WriteFile(log, altered, 0o600)
		})
		flips++
		check(func(log string) error { return os.Truncate(log, int64(at)) })
		cuts++
	}
	const header = 20 // bytes that Badger's logs begin with
	if healed < flips || headers > 2*(header/step+1) {
		t.Errorf("of %d harmed logs %d were spoken of and %d refused", flips+cuts, healed, headers)
	}
	t.Logf("%d bits flipped and %d cuts, none lost; %d brought up from the journal, %d refused", flips, cuts, healed, headers)
}

// undone takes all changes of everyKind back and expects their names.
func undone(t *testing.T, s *cupboard, n int) {
	t.Helper()
	titles := make([]string, 0, n)
	c := model.NewCollection()
	for _, ch := range everyKind() {
		titles = append(titles, ch.Title(c))
		var err error
		if c, _, err = c.Apply(ch, day); err != nil {
			t.Fatal(err)
		}
	}
	for _, title := range slices.Backward(titles) {
		if done, err := s.Undo(context.Background()); err != nil || done.Title != "undid: "+title {
			t.Fatalf("undo says %q (%v), want it to take back %q", done.Title, err, title)
		}
	}
	if got := records(t, s.Collection()); got != records(t, model.NewCollection()) {
		t.Errorf("with all undone there is\n%s", got)
	}
}

// A kill between the journal and Badger leaves the journal ahead.
func TestKilledBetweenJournalAndStore(t *testing.T) {
	for name, ch := range map[string]model.Change{"small": &model.Add{Entries: entries(2)}, "staged": &model.Add{Entries: entries(some), From: "large.csv"}} {
		t.Run(name, func(t *testing.T) {
			s := openAt(t, t.TempDir())
			s.do(everyKind()[:9]...)
			next, delta, err := s.Collection().Apply(ch, day)
			if err != nil {
				t.Fatal(err)
			}
			e := entry{Title: "added", At: noon().Unix()}
			writes, err := s.writes(next, delta, e)
			if err != nil {
				t.Fatal(err)
			}
			st, err := s.stateAfter(delta, writes)
			if err != nil {
				t.Fatal(err)
			}
			staged(t, s, writes) // of which the kill leaves what it may
			if err := s.journal.Append(changeOf(next, delta, e, noon(), st)); err != nil {
				t.Fatal(err)
			}
			s.shut()
			s = holds(t, s.dir, export(t, next), "1 change was brought up", `"added" of 1 March 2026`)
			if done, err := s.Undo(context.Background()); err != nil || done.Title != "undid: added" {
				t.Errorf("undo says %q (%v)", done.Title, err)
			}
		})
	}
}

// The store is whole without its journal: a harmed one is put right, or aside.
func TestTheJournalHarmed(t *testing.T) {
	for name, harm := range map[string]struct {
		do   func(t *testing.T, file string)
		says string
	}{
		"deleted": {func(t *testing.T, file string) {
			if err := os.RemoveAll(filepath.Dir(file)); err != nil {
				t.Fatal(err)
			}
		}, "one was begun"},
		"its end cut": {func(t *testing.T, file string) { cutIn(t, file, 0.99) }, "was cut off"},
		"half of it":  {func(t *testing.T, file string) { cutIn(t, file, 0.5) }, "the journal was brought up"},
		"a bit flipped": {func(t *testing.T, file string) {
			flipIn(t, file, 0.5)
		}, ""}, // which only verify reads
		"a bit flipped and its end cut": {func(t *testing.T, file string) {
			flipIn(t, file, 0.5)
			cutIn(t, file, 0.99)
		}, "kept aside"},
		"its first line": {func(t *testing.T, file string) { flipIn(t, file, 0.001) }, ""},
		"emptied":        {func(t *testing.T, file string) { cutIn(t, file, 0) }, "kept aside"},
	} {
		t.Run(name, func(t *testing.T) {
			dir, want, _ := pulled(t)
			harm.do(t, only(t, dir, "journal/*.jsonl"))
			if harm.says == "" {
				s := openAt(t, dir)
				if _, err := s.Verify(); !errors.Is(err, model.ErrDamaged) || !strings.Contains(err.Error(), "journal") {
					t.Fatalf("verify says %v, want that the journal is damaged", err)
				}
				return
			}
			s := holds(t, dir, want, harm.says)
			s.do(&model.Add{Entries: entries(2)})
			s.reopen()
			s.verified()
			if len(s.Notes()) > 0 {
				t.Errorf("opened once more it says %q", s.Notes())
			}
		})
	}
}

func TestAllOfBadgersFilesLost(t *testing.T) {
	dir, want, _ := pulled(t)
	if err := os.RemoveAll(filepath.Join(dir, "badger")); err != nil {
		t.Fatal(err)
	}
	holds(t, dir, want, "20 changes were brought up")
}

// Where store and journal cannot both be right, nothing is done.
func TestStoreAndJournalThatDoNotFit(t *testing.T) {
	t.Run("both are harmed", func(t *testing.T) {
		dir, _, _ := pulled(t)
		if err := os.Remove(only(t, dir, "badger/*.mem")); err != nil {
			t.Fatal(err)
		}
		flipIn(t, only(t, dir, "journal/*.jsonl"), 0.8)
		refused(t, dir, model.ErrDamaged, "cannot be brought up", "tuckrow verify --rebuild")
	})
	t.Run("the journal is of another store", func(t *testing.T) {
		dir, _, _ := pulled(t)
		other := openAt(t, t.TempDir())
		for range 30 {
			other.do(&model.Add{Entries: entries(1)})
		}
		if err := errors.Join(os.RemoveAll(JournalFolder(dir)), os.CopyFS(JournalFolder(dir), os.DirFS(JournalFolder(other.dir)))); err != nil {
			t.Fatal(err)
		}
		refused(t, dir, model.ErrDamaged, "other", "tuckrow verify --rebuild")
	})
	t.Run("a record is an older one", func(t *testing.T) {
		dir, alter := written(t)
		alter(func(txn *badger.Txn) error {
			return put(txn, recordKey(model.KindCopy, 1), &model.Copy{Accession: 1, Pattern: 1})
		})
		refused(t, dir, model.ErrDamaged, "not the", "that the journal knows", "tuckrow verify --rebuild")
	})
	t.Run("the journal is of a newer tuckrow", func(t *testing.T) {
		dir, _, _ := pulled(t)
		file := only(t, dir, "journal/*.jsonl")
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		text = []byte(strings.Replace(string(text), `"format":1`, `"format":2`, 1))
		if err := os.WriteFile(file, text, 0o600); err != nil {
			t.Fatal(err)
		}
		refused(t, dir, model.ErrNewer, "format 2")
	})
}

// A store from before there was a journal gets one.
func TestAStoreWithoutAJournal(t *testing.T) {
	s := openAt(t, t.TempDir())
	s.do(everyKind()...)
	s.do(&model.Add{Entries: entries(some)})
	want := export(t, s.Collection())
	s.shut()
	if err := os.RemoveAll(JournalFolder(s.dir)); err != nil {
		t.Fatal(err)
	}
	s = holds(t, s.dir, want, "one was begun")
	s.shut()
	if err := os.RemoveAll(filepath.Join(s.dir, "badger")); err != nil {
		t.Fatal(err)
	}
	s = holds(t, s.dir, want, "1 change was brought up") // the journal alone has it all
	if _, err := s.Undo(context.Background()); !errors.Is(err, model.ErrNothingToUndo) {
		t.Errorf("undo says %v, want that nothing is left", err)
	}
	s.do(&model.Add{Entries: entries(1)})
	if _, err := s.Undo(context.Background()); err != nil {
		t.Error(err)
	}
}

// A commit that Badger refuses leaves no line in the journal.
func TestARefusedCommitIsNotInTheJournal(t *testing.T) {
	s := openAt(t, t.TempDir())
	s.do(everyKind()[:9]...)
	want, last := export(t, s.Collection()), s.journal.Last()
	next, delta, err := s.Collection().Apply(&model.Add{Entries: entries(1)}, day)
	if err != nil {
		t.Fatal(err)
	}
	writes, err := s.writes(next, delta, entry{Title: "added"})
	if err != nil {
		t.Fatal(err)
	}
	writes[0].Key = nil // which Badger refuses
	st, err := s.stateAfter(delta, append([]write{{}}, writes[1:]...))
	if err != nil {
		t.Fatal(err)
	}
	err = s.write(context.Background(), writes, s.meta(next), func() error { return s.journal.Append(changeOf(next, delta, entry{}, noon(), st)) })
	if err == nil || s.failure == nil {
		t.Fatalf("writing gave %v, want an error that stops the store", err)
	}
	if s.journal.Last() != last {
		t.Errorf("the journal is at %+v, want %+v", s.journal.Last(), last)
	}
	s.shut()
	holds(t, s.dir, want)
}

func TestTheJournalHasALineForEachChange(t *testing.T) {
	s := openAt(t, t.TempDir())
	s.do(everyKind()...)
	s.do(&model.Add{Entries: entries(some), From: "large.csv"})
	if _, err := s.Undo(context.Background()); err != nil {
		t.Fatal(err)
	}
	var titles []string
	for c, err := range journal.Read(JournalFolder(s.dir)) {
		if err != nil {
			t.Fatal(err)
		}
		if c.Title != "" {
			titles = append(titles, c.Title)
		}
	}
	if n := len(everyKind()); len(titles) != n+3 || titles[0] != "begun" || titles[n+1] != "imported 6000 copies from large.csv" || titles[n+2] != "undid: "+titles[n+1] {
		t.Errorf("the journal says %q", titles)
	}
}
