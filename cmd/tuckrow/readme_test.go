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
