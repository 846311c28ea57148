package tui_test

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/tui/collection"
)

// BenchmarkTakingIn takes in 60,000 rows, a third of which could be mended, and
// takes that back again: the longest that a key had to wait, by what was going on.
// What is done aside is not in it.
func BenchmarkTakingIn(b *testing.B) {
	path := filepath.Join(b.TempDir(), "all.csv")
	f, err := os.Create(path)
	if err != nil {
		b.Fatal(err)
	}
	fmt.Fprintln(f, "publisher,number,name,size_range,notes")
	for i := range 60_000 {
		switch {
		case i%6 == 0:
			fmt.Fprintf(f, "House %c %d,,Coat %d,10-16,\n", 'A'+i%20, 1000+i, i)
		case i%6 == 1:
			fmt.Fprintf(f, "House %c,%d (cut),Coat %d size 14,,\n", 'A'+i%20, 1000+i, i)
		case i%60 == 2:
			fmt.Fprintf(f, ",,,,nobody knows\n")
		default:
			fmt.Fprintf(f, "House %c,%d,Coat %d,10-16,\n", 'A'+i%20, 1000+i, i)
		}
	}
	if err := f.Close(); err != nil {
		b.Fatal(err)
	}
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	for b.Loop() {
		p := onSample(b, collection.ID, sample.Cupboard(500))
		*p.theme = *guises[0].theme()
		p.size(120, 40)
		worst := func(what string, keys ...string) {
			var longest, hardest time.Duration
			for _, k := range messages(b, keys...) {
				took, worked := p.timed(b, k)
				longest, hardest = max(longest, took), max(hardest, worked)
			}
			b.ReportMetric(float64(longest)/float64(time.Millisecond), what+"-ms")
			b.ReportMetric(float64(hardest)/float64(time.Millisecond), what+"-cpu-ms")
		}
		p.keys("'i", "'"+path)
		worst("read", "enter")
		worst("propose", "enter")
		worst("clean", "space", "down", "pgdown", "tab", "space", "'a", "'a", "'a", "end", "home")
		worst("judge", "enter")
		worst("scroll", "down", "pgdown", "end")
		worst("store", "enter")
		worst("undo", "ctrl+z")
	}
}
