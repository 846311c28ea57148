package exchange

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/sample"
	"pgregory.net/rapid"
)

func stamped(t failer, c *model.Collection, made time.Time) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteStamped(&b, c, StampOf(c, made)); err != nil {
		t.Fatalf("writing JSON Lines: %v", err)
	}
	return b.String()
}

// A stamp is in the first line and nowhere else, and is read as it was written.
func TestStampsGoRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCupboard.Draw(t, "cupboard")
		zone := time.FixedZone("", 60*rapid.IntRange(-14*60, 14*60).Draw(t, "minutes"))
		made := time.Unix(rapid.Int64Range(0, 4e9).Draw(t, "made"), rapid.Int64Range(0, 999_999_999).Draw(t, "nanoseconds")).In(zone)
		file := stamped(t, c, made)
		back, s, err := ReadStamped(strings.NewReader(file))
		if err != nil {
			t.Fatalf("%v, of\n%s", err, file)
		}
		if !s.Made.Equal(made.Truncate(time.Second)) || s.Revision != c.Rev() || s.Copies != c.Copies().Len() {
			t.Fatalf("the stamp came back as %+v; it was made at %v, at revision %d", s, made, c.Rev())
		}
		if jsonlOf(t, back) != jsonlOf(t, c) {
			t.Fatalf("came back as\n%s\nit was\n%s", jsonlOf(t, back), jsonlOf(t, c))
		}
		if g, err := Glance(strings.NewReader(file)); err != nil || !g.Made.Equal(s.Made) || g.Revision != s.Revision || g.Copies != s.Copies {
			t.Fatalf("at a glance it is %+v (%v), read whole it is %+v", g, err, s)
		}
		plain, with := strings.SplitAfterN(jsonlOf(t, c), "\n", 2)[1], strings.SplitAfterN(file, "\n", 2)[1]
		if plain[:strings.LastIndex(plain, "\n{")+1] != with[:strings.LastIndex(with, "\n{")+1] {
			t.Fatalf("the stamp changed more than the first and the last line:\n%s\n%s", jsonlOf(t, c), file)
		}
	})
}

func TestGlanceSeesWhatIsCutShort(t *testing.T) {
	file := stamped(t, furnished(t), time.Unix(0, 0))
	if _, err := Glance(strings.NewReader(file)); err != nil {
		t.Fatal(err)
	}
	for n := range len(file) {
		_, err := Glance(strings.NewReader(file[:n]))
		if n == len(file)-1 { // but for the last line end, it is whole to the eye
			continue
		}
		if n < len(begins) && !model.IsInput(err) || n >= len(begins) && n < strings.LastIndex(file, "\n{")+1 && !errors.Is(err, model.ErrDamaged) {
			t.Errorf("cut after %d bytes: got %v", n, err)
		}
	}
}

func TestAStampThatLies(t *testing.T) {
	lines := unsealed(stamped(t, furnished(t), time.Unix(0, 0)))
	lines[0] = strings.Replace(lines[0], `"copies":2`, `"copies":3`, 1)
	noExport(t, "a wrong count of copies", sealed(lines...), "3 copies")
}

// TestALineWithoutEnd is refused before it fills the memory.
func TestALineWithoutEnd(t *testing.T) {
	noExport(t, "a long first line", begins+strings.Repeat("x", mostLine+1<<17), "longer than")
}

// BenchmarkJSONL writes and reads a whole cupboard in memory.
func BenchmarkJSONL(b *testing.B) {
	for _, n := range []int{500, 5000, 60_000} {
		c := sample.Cupboard(n)
		file := []byte(jsonlOf(b, c))
		perCopy := func(b *testing.B) {
			b.ReportAllocs()
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/copy")
		}
		b.Run(fmt.Sprint("write/", n), func(b *testing.B) {
			for b.Loop() {
				jsonlOf(b, c)
			}
			perCopy(b)
		})
		b.Run(fmt.Sprint("read/", n), func(b *testing.B) {
			for b.Loop() {
				if _, err := ReadJSONL(bytes.NewReader(file)); err != nil {
					b.Fatal(err)
				}
			}
			perCopy(b)
		})
	}
}
