package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/spf13/cobra"
)

// tried is a command of everyCommand.
type tried struct {
	line  string // words with blanks between; what is in quotes is one
	code  int
	input string
	apart bool // what it prints is not the same in both: of clocks or backups
}

// everyCommand has each command there is, in an order in which each has
// something to do. A new command goes in here: it has to do the same on a store
// that is closed and through the interface of one that is open.
var everyCommand = []tried{
	{line: "import drawer.csv --dry-run"},
	{line: "import drawer.csv --batch 'hall drawer'"},
	{line: "import part.csv", code: exitPart},
	{line: "import part.csv --clean"}, {line: "import part.csv --take all --dry-run"},
	{line: "import none.csv", code: exitInput},
	{line: "shelf apply shelf.toml"},
	{line: "shelf show"},
	{line: "shelf rename publisher Quillon Quilloway"},
	{line: "shelf", code: exitInput},
	{line: "add publisher=Quilloway number=300 name=Smock category=Dresses cut=uncut year=1971"},
	{line: "add publisher=Quilloway number=300 name=Smock category=Dresses cut=uncut"},
	{line: "add publisher=Quilloway", code: exitInput},
	{line: "change 300 --copy 11 year=1975"},
	{line: "find 6123"}, {line: "find wrap --json"}, {line: "find nothing"},
	{line: "have harrow 6123 H5"}, {line: "have quilloway 999", code: exitNo},
	{line: "shelflist"}, {line: "shelflist --json"},
	{line: "split"}, {line: "split --answer all"}, {line: "split --goal even --apply"},
	{line: "labels"}, {line: "labels --json"}, {line: "labels --done 1"}, {line: "labels 1"}, {line: "labels --done 99", code: exitInput},
	{line: "refile"}, {line: "refile --json"}, {line: "print walk --as text"}, {line: "refile --done --minutes 12"},
	{line: "shelfread --box 1 -", input: "4107\n6118\n-\n"},
	{line: "shelfread --box 1 walk.txt --json"},
	{line: "measure --box 1 --mm 42"}, {line: "measure"},
	{line: "out cape --to 'the neighbour'"}, {line: "out"}, {line: "print outcards --as text"}, {line: "print dummies --as text", code: exitInput}, {line: "back cape"},
	{line: "print envelopes --as text"}, {line: "print dividers --as text"}, {line: "print boxes --as text"},
	{line: "print binders --as text"}, {line: "print carry --as text --out carry.txt --replace"},
	{line: "print shelflist --as text"}, {line: "print packing --as text"}, {line: "print insurance --as text"},
	{line: "print boxes --out boxes.pdf --replace"}, {line: "print boxes --only-new --since cupboard.jsonl --as text", code: exitInput},
	{line: "print"},
	{line: "person Ada 'bust=92 cm' 'waist=74 cm'"}, {line: "person"},
	{line: "cloth 'blue wool' 'width=140 cm' 'length=2 m'"}, {line: "cloth"},
	{line: "fits 6131 --who Ada"}, {line: "enough 6131 --cloth 'blue wool'"},
	{line: "want publisher=Quilloway number=451 name='Duffel coat'"}, {line: "want"},
	{line: "arriving 1 expected=2999-01-01"}, {line: "arriving"}, {line: "arrived 1 cut=uncut"},
	{line: "surplus"}, {line: "choose"},
	{line: "next 220 for=Ada"}, {line: "next"}, {line: "sewn 220 for=Ada on=2026-01-02"}, {line: "sewn --json"},
	{line: "goal winter of=Coats"}, {line: "goal"}, {line: "stats"},
	{line: "merge"}, {line: "merge 3 4 --look --take name"}, {line: "merge 3 4"}, {line: "unmerge 3"}, {line: "part 12", code: exitInput}, {line: "part 12 year=1971 --made 1", code: exitInput}, {line: "link 1 2"},
	{line: "publishers"}, {line: "publishers merge Quilloway 'The Lirrel Loom'"},
	{line: "stocktake -", input: "box 1:\n4107\n"}, {line: "stocktake --json -", input: "box 1:\n999\n"}, {line: "stocktake walk.txt", code: exitInput},
	{line: "whatif"}, {line: "whatif shelf.toml --years 5 --per-year 10 --json"}, {line: "codes"}, {line: "codes 6291041500213"}, {line: "codes 12", code: exitInput},
	{line: "identify"}, {line: "identify 6131 --json"},
	{line: "binders"}, {line: "binders dresses --json"}, {line: "hooks"}, {line: "packing"}, {line: "worth Quilloway=6.50 others=4"}, {line: "worth"},
	{line: "supplies envelopes=60"}, {line: "supplies --json"}, {line: "batches 'hall drawer' source='the hall'"}, {line: "batches"},
	{line: "identify 6131 publisher=", code: exitInput}, {line: "identify 6131 year=1972"}, {line: "supplies 'a year=30'"}, {line: "batches 'hall drawer' --drop"}, {line: "undo"},
	{line: "undo"}, {line: "verify"},
	{line: "export --as csv"}, {line: "export --as jsonl --out all.jsonl --replace"}, {line: "export --as jsonl --out none/all.jsonl", code: exitInput, apart: true},
	{line: "import all.jsonl", code: exitInput},
	{line: "handover", apart: true}, {line: "handover --dropped-since 3"},
	{line: "backup kept.jsonl"}, {line: "backup --list", apart: true}, {line: "verify kept.jsonl", apart: true},
}

// elsewhereTried are commands that need the store for themselves or do not touch
// it, and the test that has them.
var elsewhereTried = map[string]string{
	"tuckrow":                       "TestTmux",
	"tuckrow demo":                  "TestDemo...",
	"tuckrow restore":               "TestWhatNeedsTheStoreForItself",
	"tuckrow completion":            "TestCompletionIsThere",
	"tuckrow completion bash":       "TestCompletionIsThere",
	"tuckrow completion zsh":        "TestCompletionIsThere",
	"tuckrow completion fish":       "TestCompletionIsThere",
	"tuckrow completion powershell": "TestCompletionIsThere",
	"tuckrow help":                  "TestNothingSteersTheTerminal",
}

var word = regexp.MustCompile(`(?:[^\s']|'[^']*')+`)

func (x tried) args() (args []string) {
	for _, w := range word.FindAllString(x.line, -1) {
		args = append(args, strings.ReplaceAll(w, "'", ""))
	}
	return args
}

// Each command does the same on a closed store and through the interface.
func TestEveryCommandBothWays(t *testing.T) {
	closed, open := place(t), place(t)
	if err := os.Mkdir(filepath.Join(closed, "store"), 0o700); err != nil { // as the interface's is there
		t.Fatal(err)
	}
	showing := openInterface(t, filepath.Join(open, "store"))
	for _, x := range everyCommand {
		alone, code := x.run(t, closed)
		shared, sharedCode := x.run(t, open)
		if code != x.code || sharedCode != x.code {
			t.Errorf("tuckrow %s: exit code %d alone and %d through the interface, want %d\n%s\n%s", x.line, code, sharedCode, x.code, alone, shared)
		}
		if alone != shared && !x.apart {
			t.Errorf("tuckrow %s: alone\n%s\nand through the interface\n%s", x.line, alone, shared)
		}
	}
	for _, name := range []string{"all.jsonl", "carry.txt", "part.csv.rejected.csv"} {
		a, err := os.ReadFile(filepath.Join(closed, name))
		if err != nil {
			t.Fatal(err)
		}
		if b, err := os.ReadFile(filepath.Join(open, name)); err != nil || !bytes.Equal(a, b) {
			t.Errorf("%s: alone\n%s\nand through the interface %v\n%s", name, a, err, b)
		}
	}
	showing.quit()
	if out, code := do(t, filepath.Join(open, "store"), "verify"); code != exitDone {
		t.Errorf("afterwards: exit code %d\n%s", code, out)
	}
}

// place is a folder with what the commands read.
func place(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	put := func(name string, b []byte) {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"drawer.csv", "shelf.toml"} {
		b, err := os.ReadFile(filepath.Join(shared, name))
		if err != nil {
			t.Fatal(err)
		}
		put(name, b)
	}
	put("part.csv", []byte("publisher,number,cut\nQuillon,901,uncut\nQuillon,902,perhaps\n"))
	put("walk.txt", []byte("6118\n4107\n999\n"))
	return dir
}

// run runs a command with its files in a folder, and the folder's name is left
// out of what it prints.
func (x tried) run(t *testing.T, dir string) (string, int) {
	t.Helper()
	t.Chdir(dir)
	var out, errs bytes.Buffer
	err := run(context.Background(), append([]string{"--store", filepath.Join(dir, "store")}, x.args()...), streams{strings.NewReader(x.input), &out, &errs})
	code := report(&errs, err)
	return strings.ReplaceAll(out.String()+errs.String(), dir, "DIR"), code
}

// A new command has to be in the table.
func TestEveryCommandIsTriedBothWays(t *testing.T) {
	root := newRoot(&app{})
	in := map[string]bool{}
	for _, x := range everyCommand {
		cmd, _, err := root.Find(x.args())
		if err != nil {
			t.Fatal(err)
		}
		in[cmd.CommandPath()] = true
	}
	var visit func(cmd *cobra.Command)
	visit = func(cmd *cobra.Command) {
		if cmd.Runnable() && !in[cmd.CommandPath()] && elsewhereTried[cmd.CommandPath()] == "" {
			t.Errorf("%s is not in everyCommand: nothing tries it while the interface is open", cmd.CommandPath())
		}
		for _, c := range cmd.Commands() {
			visit(c)
		}
	}
	visit(root)
}

// shown is the interface of a store, open in this process.
type shown struct {
	t     testing.TB
	keys  *os.File
	mu    sync.Mutex
	seen  bytes.Buffer
	said  bytes.Buffer // on the error stream; to be read when it has ended
	ended chan error
}

// openInterface opens the interface of a store on a pseudo-terminal.
func openInterface(t *testing.T, store string) *shown {
	t.Helper()
	s := begin(t, store)
	s.wait("tuckrow:")
	return s
}

// begin is openInterface that waits for nothing.
func begin(t *testing.T, store string) *shown {
	t.Helper()
	ours, theirs, err := pty.Open()
	if err != nil {
		lacking(t, "pseudo-terminal", err)
	}
	t.Cleanup(func() {
		_ = theirs.Close()
		_ = ours.Close()
	})
	if err := pty.Setsize(ours, &pty.Winsize{Rows: 24, Cols: 80}); err != nil {
		t.Fatal(err)
	}
	t.Setenv("TERM", "vt100") // no colours between words
	s := &shown{t: t, keys: ours, ended: make(chan error, 1)}
	go func() { _, _ = io.Copy(s, ours) }()
	go func() {
		s.ended <- run(context.Background(), []string{"--store", store}, streams{theirs, theirs, &s.said})
	}()
	return s
}

func (s *shown) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.seen.Write(b)
}

// wait waits until a text has been drawn; the limit is for a test that fails.
func (s *shown) wait(text string) {
	s.t.Helper()
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		s.mu.Lock()
		found := strings.Contains(s.seen.String(), text)
		s.mu.Unlock()
		if found {
			return
		}
	}
	s.t.Fatalf("the interface never showed %q:\n%q", text, s.seen.String())
}

// press sends keys, as a terminal does.
func (s *shown) press(keys string) {
	s.t.Helper()
	if _, err := s.keys.WriteString(keys); err != nil {
		s.t.Fatal(err)
	}
}

// quit leaves the interface.
func (s *shown) quit() {
	s.t.Helper()
	s.press("\x11")
	if err := <-s.ended; err != nil {
		s.t.Errorf("the interface ended with %v", err)
	}
}
