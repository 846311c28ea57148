package journal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/tuckrow/model"
)

var noon = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)

// change is a change that brings n patterns and takes one out.
func change(rev uint64, n int) *Change {
	c := &Change{Mark: Mark{rev, int(rev) * 10, rev * 0x9e3779b97f4a7c15}, At: noon, Title: fmt.Sprintf("added <%d> & \"more\"", rev),
		Counters: model.Counters{Pattern: model.PatternID(rev)}, Gone: []Key{{model.KindCopy, uint32(rev)}}}
	for i := range n {
		c.Put = append(c.Put, &model.Pattern{ID: model.PatternID(i + 1), Publisher: 1, Name: "Dräpé <wrap> dress"})
	}
	return c
}

func begun(t testing.TB, dir string) *Journal {
	t.Helper()
	first := change(0, 2)
	first.Whole, first.Gone = true, nil
	j, err := Begin(dir, first)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = j.Close() })
	return j
}

func appended(t testing.TB, j *Journal, changes ...*Change) {
	t.Helper()
	for _, c := range changes {
		if err := j.Append(c); err != nil {
			t.Fatal(err)
		}
	}
}

// held is what a journal gives, and what it says is wrong.
func held(t testing.TB, dir string) (changes []*Change, faults []error) {
	t.Helper()
	for c, err := range Read(dir) {
		if err != nil {
			faults = append(faults, err)
		} else {
			changes = append(changes, c)
		}
	}
	return changes, faults
}

func revs(changes []*Change) (list []uint64) {
	for _, c := range changes {
		list = append(list, c.Rev)
	}
	return list
}

func lastFile(t testing.TB, dir string) string {
	t.Helper()
	names, err := files(dir)
	if err != nil || len(names) == 0 {
		t.Fatal("there is no file", err)
	}
	return filepath.Join(dir, names[len(names)-1])
}

func read(t testing.TB, path string) []byte {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func put(t testing.TB, path string, text []byte) {
	t.Helper()
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestWhatIsAppendedIsRead(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "journal")
	j := begun(t, dir)
	want := []*Change{change(1, 1), change(2, 0), change(3, 9000), change(4, 1)}
	want[1].Undoes, want[1].Gone = 1, nil
	for _, c := range want {
		appended(t, j, c)
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
		var err error
		if j, err = Open(dir); err != nil {
			t.Fatal(err)
		}
		if j.Last() != c.Mark || j.Cut() != 0 {
			t.Fatalf("opened again it is at %+v with %d bytes cut off, want %+v", j.Last(), j.Cut(), c.Mark)
		}
	}
	got, faults := held(t, dir)
	if faults != nil {
		t.Fatal(faults)
	}
	if got[0].Mark != got[1].Mark || got[0].Put != nil || !got[1].Whole {
		t.Errorf("it begins with %+v and %+v, want a mark and a whole change", got[0], got[1])
	}
	if !reflect.DeepEqual(got[2:], want) {
		t.Errorf("read back there are %d changes that differ", len(got))
	}
	for line := range bytes.Lines(read(t, lastFile(t, dir))) {
		if len(line) > mostLine+1<<10 {
			t.Errorf("a line has %d bytes, want at most some %d", len(line), mostLine)
		}
	}
	for path, want := range map[string]fs.FileMode{dir: fs.ModeDir | 0o700, lastFile(t, dir): 0o600} {
		if info, err := os.Stat(path); err != nil || info.Mode() != want {
			t.Errorf("%s has mode %v (%v), want %v", path, info.Mode(), err, want)
		}
	}
}

// The sums can be checked without tuckrow, as the package comment tells.
func TestSumsAsDocumented(t *testing.T) {
	dir := t.TempDir()
	appended(t, begun(t, dir), change(1, 1), change(2, 1))
	before := ""
	for line := range strings.Lines(string(read(t, lastFile(t, dir)))) {
		body, rest, _ := strings.Cut(line, `,"sum":"`)
		sum := sha256.Sum256([]byte(before + body))
		if before = hex.EncodeToString(sum[:]); rest != before+"\"}\n" {
			t.Errorf("the line %q should end with %s", line, before)
		}
	}
}

// filled is a journal of several files, with changes 1 to the last.
func filled(t testing.TB) (dir string, last uint64) {
	t.Helper()
	dir = t.TempDir()
	j := begun(t, dir)
	for names := 0; names < 4; last++ {
		appended(t, j, change(last+1, 2000))
		all, err := files(dir)
		if err != nil {
			t.Fatal(err)
		}
		names = len(all)
	}
	return dir, last
}

func TestFilesFollowEachOther(t *testing.T) {
	dir, last := filled(t)
	changes, faults := held(t, dir)
	if faults != nil || len(changes) != int(last)+2 {
		t.Fatalf("of %d changes there are %v (%v)", last, revs(changes), faults)
	}
	names, err := files(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Run("one is gone", func(t *testing.T) {
		dir := copied(t, dir)
		if err := os.Remove(filepath.Join(dir, names[1])); err != nil {
			t.Fatal(err)
		}
		_, faults := held(t, dir)
		if len(faults) != 1 || !errors.Is(faults[0], model.ErrDamaged) || !strings.Contains(faults[0].Error(), names[2]) {
			t.Errorf("it says %v, want that %s follows nothing", faults, names[2])
		}
	})
	t.Run("the first are forgotten", func(t *testing.T) {
		dir := copied(t, dir)
		from, _ := begins(names[2])
		j, err := Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		defer j.Close()
		if err := j.Forget(from); err != nil {
			t.Fatal(err)
		}
		changes, faults := held(t, dir)
		if faults != nil || changes[0].Rev != from || changes[1].Rev != from+1 || changes[len(changes)-1].Rev != last {
			t.Errorf("there are %v (%v), want those after %d", revs(changes), faults, from)
		}
		if err := j.Forget(last + 100); err != nil {
			t.Fatal(err)
		}
		if left, err := files(dir); err != nil || len(left) != 1 {
			t.Errorf("%v are left (%v), want the last", left, err)
		}
		appended(t, j, change(last+1, 1))
	})
}

func copied(t testing.TB, dir string) string {
	t.Helper()
	to := t.TempDir()
	if err := os.CopyFS(to, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	return to
}

// Cut anywhere, a journal gives the changes before the cut, and can be gone on
// with.
func TestCutAnywhere(t *testing.T) {
	dir := t.TempDir()
	j := begun(t, dir)
	ends := []int64{j.size}
	for rev := range uint64(2) {
		appended(t, j, change(rev+1, 1))
		ends = append(ends, j.size)
	}
	path := lastFile(t, dir)
	text := read(t, path)
	for n := int(ends[0]); n < len(text); n++ {
		put(t, path, text[:n])
		whole := uint64(0)
		for whole < 2 && int64(n) >= ends[whole+1] {
			whole++
		}
		j, err := Open(dir)
		if err != nil {
			t.Fatalf("cut at %d: %v", n, err)
		}
		if j.Last().Rev != whole || j.Cut() != int64(n)-ends[whole] {
			t.Fatalf("cut at %d it is at %d with %d bytes cut off, want %d with %d", n, j.Last().Rev, j.Cut(), whole, int64(n)-ends[whole])
		}
		appended(t, j, change(whole+1, 1))
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
		if changes, faults := held(t, dir); faults != nil || len(changes) != int(whole)+3 {
			t.Fatalf("cut at %d there are %v after going on (%v)", n, revs(changes), faults)
		}
	}
}

// Whatever byte is altered, no change is given that was not written, and what
// is missing is said.
func TestABitFlippedAnywhere(t *testing.T) {
	dir := t.TempDir()
	j := begun(t, dir)
	want := []*Change{change(1, 2), change(2, 1), change(3, 0)}
	appended(t, j, want...)
	path := lastFile(t, dir)
	text := read(t, path)
	for at := range text {
		altered := slices.Clone(text)
		altered[at] ^= 1 << (at % 8)
		put(t, path, altered)
		changes, faults := held(t, dir)
		if len(faults) == 0 {
			t.Fatalf("byte %d: nothing is said", at)
		}
		for _, c := range changes {
			if c.Rev > 0 && !reflect.DeepEqual(c, want[c.Rev-1]) {
				t.Fatalf("byte %d: it gives %+v", at, c)
			}
		}
		j, err := Open(dir)
		switch {
		case err == nil:
			// An end of line that is no longer one makes the last two lines one.
			if j.Last().Rev < 3 && !bytes.Equal(altered, append(read(t, path), read(t, path+aside)...)) {
				t.Fatalf("byte %d: opened it is at %d, and what was cut off is not kept", at, j.Last().Rev)
			}
			if err := j.Close(); err != nil {
				t.Fatal(err)
			}
		case !errors.Is(err, model.ErrDamaged) && !errors.Is(err, model.ErrNewer):
			t.Fatalf("byte %d: opening gave %v", at, err)
		}
	}
}

func TestRetract(t *testing.T) {
	dir := t.TempDir()
	j := begun(t, dir)
	appended(t, j, change(1, 1))
	text := read(t, lastFile(t, dir))
	appended(t, j, change(2, 5))
	if err := j.Retract(); err != nil {
		t.Fatal(err)
	}
	if got := read(t, lastFile(t, dir)); !bytes.Equal(got, text) || j.Last().Rev != 1 {
		t.Errorf("retracted it is at %d with %d bytes, want 1 with %d", j.Last().Rev, len(got), len(text))
	}
	appended(t, j, change(2, 1))
	if changes, faults := held(t, dir); faults != nil || len(changes) != 4 {
		t.Errorf("there are %v (%v)", revs(changes), faults)
	}
}

// A next file that a kill left without its first line whole is no loss.
func TestAFileThatWasBeingBegun(t *testing.T) {
	dir := t.TempDir()
	appended(t, begun(t, dir), change(1, 1))
	put(t, filepath.Join(dir, nameOf(1)), []byte(`{"kind":"tuckrow-jour`))
	j, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	appended(t, j, change(2, 1))
	if changes, faults := held(t, dir); faults != nil || len(changes) != 4 {
		t.Errorf("there are %v (%v)", revs(changes), faults)
	}
}

func TestNoJournalAndANewerOne(t *testing.T) {
	dir := t.TempDir()
	if _, err := Open(filepath.Join(dir, "none")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("opening what is not there gave %v", err)
	}
	if changes, faults := held(t, filepath.Join(dir, "none")); changes != nil || faults != nil {
		t.Errorf("reading what is not there gave %v, %v", changes, faults)
	}
	for _, more := range []string{"", "{\"rev\":1}\n"} {
		text, _ := seal([]byte(`{"kind":"tuckrow-journal","format":2,"rev":0}`), "")
		put(t, filepath.Join(dir, nameOf(0)), append(text, more...))
		if _, err := Open(dir); !errors.Is(err, model.ErrNewer) {
			t.Errorf("opening a newer one gave %v", err)
		}
		if _, faults := held(t, dir); len(faults) != 1 || !errors.Is(faults[0], model.ErrNewer) {
			t.Errorf("reading a newer one gave %v", faults)
		}
	}
}
