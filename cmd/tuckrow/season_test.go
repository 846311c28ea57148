package main

import (
	"os"
	"path/filepath"
	"testing"
)

// What choose says of seasons goes by the shelf file, and by --south against it.
// Four patterns, each for one season, make it independent of the day.
func TestChooseGoesByTheHemisphereOfTheShelf(t *testing.T) {
	dir := t.TempDir()
	store := filepath.Join(dir, "store")
	for _, season := range []string{"spring", "summer", "autumn", "winter"} {
		must(t, store, "add", "publisher=Quillon", "name="+season+" cape", "tags="+season, "cut=uncut")
	}
	north, south := must(t, store, "choose"), must(t, store, "choose", "--south")
	if north == south {
		t.Fatalf("north and south have the same season:\n%s", north)
	}
	file := filepath.Join(dir, "shelf.toml")
	if err := os.WriteFile(file, []byte("hemisphere = 'south'\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	must(t, store, "shelf", "apply", file)
	if got := must(t, store, "choose"); got != south {
		t.Errorf("with the south in the shelf file choose says\n%s\nwant\n%s", got, south)
	}
	if got := must(t, store, "choose", "--south=false"); got != north {
		t.Errorf("against the shelf file choose says\n%s\nwant\n%s", got, north)
	}
}
