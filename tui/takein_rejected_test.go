package tui_test

import (
	"os"
	"strings"
	"testing"
)

// Rows that were rejected earlier may be half mended by hand: that file stays.
func TestTakingInAgainLeavesWhatIsBeingMended(t *testing.T) {
	p := readMessy(t)
	if err := os.WriteFile("messy.csv.rejected.csv", []byte("half mended"), 0o600); err != nil {
		t.Fatal(err)
	}
	p.keys("down", "down", "'na", "enter", "enter")
	p.mustShow("would go with the reasons into", "messy.csv.rejected2.csv:")
	p.keys("enter")
	p.mustShow("rejected, with the reasons in messy.csv.rejected2.csv")
	if b, err := os.ReadFile("messy.csv.rejected.csv"); err != nil || string(b) != "half mended" {
		t.Errorf("what was half mended is %q now: %v", b, err)
	}
	if b, err := os.ReadFile("messy.csv.rejected2.csv"); err != nil || !strings.Contains(string(b), "nobody knows") {
		t.Errorf("the rows rejected now are %q: %v", b, err)
	}
}
