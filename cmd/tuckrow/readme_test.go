package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The screens and outputs in README come from golden files, so that they cannot
// go stale: behind a line <!-- golden: FILE --> stands the file in a block.
func TestReadmeShowsWhatIsTrue(t *testing.T) {
	const name = "../../README.md"
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	block := regexp.MustCompile("(?s)<!-- golden: (\\S+) -->\n```\n.*?```\n")
	n := 0
	now := block.ReplaceAllStringFunc(string(b), func(old string) string {
		n++
		path := block.FindStringSubmatch(old)[1]
		text, err := os.ReadFile(filepath.Join("../..", path))
		if err != nil {
			t.Fatal(err)
		}
		return "<!-- golden: " + path + " -->\n```\n" + strings.TrimRight(string(text), "\n") + "\n```\n"
	})
	if n < 4 {
		t.Errorf("README shows %d golden files, it used to show 4", n)
	}
	if now == string(b) {
		return
	}
	if !*update {
		t.Fatal("README.md does not show what the golden files say; look at it and run: go test ./cmd/tuckrow -update")
	}
	if err := os.WriteFile(name, []byte(now), 0o644); err != nil {
		t.Fatal(err)
	}
}

// README shows a picture of each kind of print, and no other.
func TestReadmeShowsEachKindOfPrint(t *testing.T) {
	b, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	shown := map[string]bool{}
	for _, m := range regexp.MustCompile(`!\[[^\]]+\]\((storage/paper/testdata/[^)]+)\)`).FindAllStringSubmatch(string(b), -1) {
		shown[m[1]] = true
	}
	kept, err := filepath.Glob("../../storage/paper/testdata/*.png")
	if err != nil || len(kept) == 0 {
		t.Fatalf("no pictures are kept: %v", err)
	}
	for _, name := range kept {
		name = strings.TrimPrefix(filepath.ToSlash(name), "../../")
		if !shown[name] && !strings.HasSuffix(name, ".got.png") {
			t.Errorf("%s is not shown", name)
		}
		delete(shown, name)
	}
	for name := range shown {
		t.Errorf("%s is shown and not there", name)
	}
}
