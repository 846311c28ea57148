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
