package model

import (
	"strings"
	"testing"
)

// What a publisher whom nobody knows has issued lies in the unidentified bin, by
// whatever way it came to be that publisher's; what turns out to be somebody's does
// not.
func TestTheUnidentifiedBin(t *testing.T) {
	tagged := entry("Quillon", "2", "")
	tagged.Tags = []string{"inherited"}
	begin := do(t, NewCollection(), &Add{Entries: []Entry{entry("Not known", "1", ""), tagged, entry("Brack & Daughter", "3", "")}})
	for _, x := range []struct {
		what    string
		changes []Change
		want    [3]string // tags of each
	}{
		{"entered", nil, [3]string{"unidentified", "inherited", ""}},
		{"renamed to nobody", []Change{&Rename{NamedPublisher, "Not known", "Harrow & Pell"}, &Rename{NamedPublisher, "Quillon", "not known"}}, [3]string{"", "inherited; unidentified", ""}},
		{"renamed by the shelf", []Change{&SetShelf{Spec: ShelfSpec{Settings: DefaultSettings()}, Renames: []Rename{{NamedPublisher, "Not known", "Quillon"}, {NamedPublisher, "Quillon", "Not known"}}}}, [3]string{"", "inherited; unidentified", ""}},
		{"merged into nobody", []Change{&MergePublishers{Keep: 1, Gone: 3}}, [3]string{"unidentified", "inherited", "unidentified"}},
		{"spelled like one merged into nobody", []Change{&MergePublishers{Keep: 1, Gone: 3}, &Revise{Entry{Accession: 2, Publisher: "Brack & Daughter", Number: "2"}}}, [3]string{"unidentified", "unidentified", "unidentified"}},
		{"nobody merged into one", []Change{&MergePublishers{Keep: 2, Gone: 1}}, [3]string{"", "inherited", ""}},
		{"taken apart as nobody's", []Change{&Rename{NamedPublisher, "Not known", "Harrow & Pell"}, &Merge{Keep: 2, Gone: 3}, &Rename{NamedPublisher, "Brack & Daughter", "NOT KNOWN."}, &Unmerge{2}},
			[3]string{"", "inherited", "unidentified"}},
	} {
		c := do(t, begin, x.changes...)
		for i, want := range x.want {
			if got := strings.Join(c.PatternOf(Accession(i+1)).Tags, "; "); got != want {
				t.Errorf("%s: copy %d bears %q, want %q", x.what, i+1, got, want)
			}
		}
	}
	odd := entry("Not known", "4", "")
	odd.Batch, odd.Tags = "hall drawer", []string{"Unidentified"}
	if n := do(t, begin, &Add{Entries: []Entry{odd}}).BatchCounts()[1]; n.Unidentified != 1 {
		t.Errorf("a tag in another case counts %d", n.Unidentified)
	}
}
