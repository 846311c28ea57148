package journal

import (
	"bytes"
	"errors"
	"os"
	"testing"

	"example.org/tuckrow/model"
)

// FuzzRead puts a piece of anything in the place of a piece of a journal.
// Reading it never panics; what stands before the piece is given, all of it;
// every line that is not given is spoken of; and opening leaves what can be
// read.
func FuzzRead(f *testing.F) {
	dir := f.TempDir()
	j := begun(f, dir)
	var ends []int
	for rev := range uint64(3) {
		appended(f, j, change(rev+1, int(rev)))
		ends = append(ends, int(j.size))
	}
	text := read(f, lastFile(f, dir))
	f.Add(0, 0, []byte{})
	f.Add(10, 40, []byte("{}\n"))
	f.Add(ends[0], 0, []byte("\n"))
	f.Add(ends[1], len(text), []byte{})
	f.Add(ends[2], 0, []byte(`{"rev":4,"part":true,"put":[],"sum":"`))
	f.Add(0, len(text), []byte("{\"kind\":\"tuckrow-journal\",\"format\":1}\n{\"put\":[{\"kind\":\"copy\"}]}\n"))
	f.Fuzz(func(t *testing.T, at, n int, piece []byte) {
		at = min(max(at, 0), len(text))
		n = min(max(n, 0), len(text)-at)
		altered := append(append(append([]byte{}, text[:at]...), piece...), text[at+n:]...)
		dir := t.TempDir()
		path := dir + "/" + nameOf(0)
		put(t, path, altered)
		changes, faults := held(t, dir)
		given := map[uint64]bool{}
		for _, c := range changes {
			given[c.Rev] = true
		}
		for i, end := range ends {
			if end <= at && !given[uint64(i+1)] {
				t.Fatalf("change %d ends at byte %d, before what was altered at %d, and is not given", i+1, end, at)
			}
		}
		if !bytes.Equal(altered, text) && len(faults) == 0 && !bytes.HasPrefix(text, altered) {
			t.Fatalf("it was altered at byte %d, and nothing is said", at)
		}
		for _, err := range faults {
			if !errors.Is(err, model.ErrDamaged) && !errors.Is(err, model.ErrNewer) {
				t.Fatalf("it says %v, want damage", err)
			}
		}
		j, err := Open(dir)
		if err != nil {
			if now, err := os.ReadFile(path); err != nil || !bytes.Equal(now, altered) {
				t.Fatalf("it was not opened, and altered all the same (%v)", err)
			}
			return
		}
		defer j.Close()
		after, faults := held(t, dir)
		if len(faults) > 0 && j.Cut() > 0 {
			t.Fatalf("cut off, it still says %v", faults)
		}
		if len(after) < len(changes) {
			t.Fatalf("opening it has lost changes: %v, and before %v", revs(after), revs(changes))
		}
	})
}
