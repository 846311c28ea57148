package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"
)

// The JSON of what is done in the rest of the year: a sample of each is kept, so
// that no field goes or changes its meaning unseen.
func TestYearJSON(t *testing.T) {
	store := filepath.Join(t.TempDir(), "store")
	must(t, store, "import", filepath.Join(shared, "drawer.csv"))
	must(t, store, "shelf", "apply", filepath.Join(shared, "shelf.toml"))
	sample := func(name string, args ...string) {
		t.Helper()
		golden(t, filepath.Join(shared, "json", name), must(t, store, append(args, "--json")...))
	}
	must(t, store, "person", "Ada", "bust=92 cm", "waist=29 in", "hip=98 cm", "on=2026-03-01")
	must(t, store, "cloth", "blue wool", "width=140 cm", "length=2.5 m", "one_way=yes")
	must(t, store, "change", "harrow", "4107", "size_chart=14 | 36 in | 28 in | 38 in; 16 | 38 in | 30 in | 40 in",
		"cloth_needed=A | 14-16 | 45 in | 3 3/8 yd; B | | 60 in | 1 1/4 yd; B | | 45 in | 1 yd | lining")
	sample("person.json", "person")
	sample("fits.json", "fits", "--who", "Ada", "harrow")
	sample("cloth.json", "cloth")
	sample("enough.json", "enough", "harrow", "--cloth", "blue wool")

	must(t, store, "refile", "--done")
	must(t, store, "want", "publisher=Quillon", "number=K451", "name=Duffel coat", "since=2026-03-01")
	must(t, store, "arriving", "publisher=harrow & pell", "number=6204", "since=2026-03-01", "ordered=2026-03-02", "expected=2999-01-01", "from=a jumble sale")
	sample("want.json", "want")
	sample("arriving.json", "arriving")
	must(t, store, "add", "pattern=1", "publisher=Harrow & Pell", "number=4107", "cut=cut")
	sample("surplus.json", "surplus")

	must(t, store, "change", "--copy", "2", "added=2025-01-01", "category=Skirts", "tags=summer")
	must(t, store, "change", "--copy", "1", "added=2024-01-01")
	must(t, store, "next", "shift dress", "for=Ada", "by=2999-12-01", "since=2026-03-01")
	sample("next.json", "next")
	must(t, store, "sewn", "tea gown", "on=2026-03-01", "for=Ada", "view=B", "size=14", "cloth=blue wool", "changed=20 mm longer", "better=line it")
	must(t, store, "goal", "spring", "of=tea gown; Skirts", "since=2026-01-01")
	sample("sewn.json", "sewn")
	sample("goal.json", "goal")
	sample("stats.json", "stats")
	must(t, store, "add", "--new-publisher", "publisher=Harow & Pell", "number=4107")
	must(t, store, "add", "--new-pattern", "publisher=Harrow & Pell", "number=6131")
	must(t, store, "link", "1", "2", "--reissue")
	sample("publishers.json", "publishers")
	sample("merge.json", "merge")
	sample("merge-look.json", "merge", "1", "2", "--look", "--take", "year")
	sample("choose.json", "choose", "--category", "dresses", "--who", "Ada", "--cloth", "blue wool", "--most", "1", "tea")
}

// The JSON of what is done for the collection as a whole.
func TestWholeLifeJSON(t *testing.T) {
	store := filepath.Join(t.TempDir(), "store")
	must(t, store, "import", filepath.Join(shared, "drawer.csv"))
	must(t, store, "shelf", "apply", filepath.Join(shared, "cupboard.toml"))
	sample := func(name string, args ...string) {
		t.Helper()
		out := must(t, store, append(args, "--json")...)
		golden(t, filepath.Join(shared, "json", name), strings.ReplaceAll(out, `"`+string(today())+`"`, `"2026-03-01"`))
	}
	must(t, store, "change", "--copy", "1", "category=Dresses", "also_in=Coats", "sleeve=photocopy", "tags=evening dresses", "value=20", "added=2024-01-01")
	must(t, store, "change", "--copy", "2", "home=oversize")
	must(t, store, "add", "publisher=Sorrelade", "name=Boxy smock", "medium=printed", "pages=32", "paper=A4", "test_square_mm=96.5", "square_side_mm=100", "version=2", "hook=door 3")
	must(t, store, "refile", "--done")
	must(t, store, "worth", "Quillon=6.50", "others=4")
	sample("binders.json", "binders", "dresses")
	sample("hooks.json", "hooks")
	walk := filepath.Join(t.TempDir(), "walk.txt")
	if err := os.WriteFile(walk, []byte("box 1:\n4107\nno such\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	sample("stocktake.json", "stocktake", walk)
	sample("worth.json", "worth")
	sample("packing.json", "packing")
	must(t, store, "add", "publisher=not known", "name=Long gown", "tags=unidentified", "size_chart=12 | 30 in")
	sample("identify.json", "identify")
	must(t, store, "change", "--copy", "6", "barcode=6291041500213")
	sample("codes.json", "codes")
	sample("whatif.json", "whatif", "--box-length", "60 mm", "--years", "2", "--per-year", "5")
	must(t, store, "supplies", "envelopes=60", "a year=20")
	must(t, store, "batches", "hall drawer", "source=the hall", "notes=dry", "about=40")
	must(t, store, "change", "--copy", "1", "batch=hall drawer")
	sample("batches.json", "batches")
	sample("supplies.json", "supplies")
	must(t, store, "measure", "--box", "1", "--mm", "42")
	sample("measure.json", "measure")
	if err := os.WriteFile(walk, []byte("4107\n-\nno such\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	sample("shelfread.json", "shelfread", "--box", "1", walk)
	must(t, store, "out", "tea gown", "--to", "the neighbour", "--due", "2999-12-01")
	sample("out.json", "out")
}

// Every command that reads has a sample of its JSON, but for the list of backups,
// which is of clocks and sizes of files.
func TestEveryReadingCommandHasASample(t *testing.T) {
	var look func(*cobra.Command)
	look = func(c *cobra.Command) {
		for _, sub := range c.Commands() {
			look(sub)
		}
		if c.Flags().Lookup("json") == nil || c.Name() == "backup" {
			return
		}
		if b, err := os.ReadFile(filepath.Join(shared, "json", c.Name()+".json")); err != nil || !json.Valid(b) {
			t.Errorf("tuckrow %s takes --json and has no sample of it: %v", c.Name(), err)
		}
	}
	look(newRoot(&app{}))
}

// What is said in words is read on a terminal of 80 columns without a break in
// mid-word: tables alone may be wider.
func TestCautionsFitTheTerminal(t *testing.T) {
	store := filepath.Join(t.TempDir(), "store")
	must(t, store, "import", filepath.Join(shared, "drawer.csv"))
	must(t, store, "shelf", "apply", filepath.Join(shared, "cupboard.toml"))
	must(t, store, "add", "publisher=not known", "name=Long gown", "tags=unidentified", "size_chart=12 | 30 in")
	for _, x := range []struct{ line, first string }{
		{"split", "Local rules and qualified advice on lifting come first"}, {"refile", "Local rules and qualified advice on lifting come first"},
		{"whatif --years 1 --per-year 5", "Local rules and qualified advice on lifting come first"}, {"refile --done", ""},
		{"packing", "Local rules and qualified advice on lifting come first"}, {"identify", "Local rules and qualified advice come first"}, {"identify long gown", "Local rules and qualified advice come first"},
	} {
		out := must(t, store, strings.Fields(x.line)...)
		if !strings.Contains(out, x.first) {
			t.Errorf("tuckrow %s says nothing of advice:\n%s", x.line, out)
		}
		for line := range strings.SplitSeq(out, "\n") {
			if table := strings.Contains(strings.TrimSpace(line), "  "); !table && ansi.StringWidth(line) > 80 {
				t.Errorf("tuckrow %s prints a line of %d cells: %q", x.line, ansi.StringWidth(line), line)
			}
		}
	}
}
