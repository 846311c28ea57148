package filing

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/collate"
	"golang.org/x/text/language"

	"example.org/tuckrow/model"
)

// agreed are numbers on which all rules agree: no zeros in front, no hyphens, no
// prefix beside a number without. Elsewhere ours is the rule of AppendNumber.
func agreed() []string {
	var list []string
	for _, n := range []int{0, 1, 2, 9, 10, 11, 23, 99, 100, 101, 999, 1000, 4107, 6123, 6890, 9999, 10000, 65536, 123456} {
		list = append(list, fmt.Sprint(n), fmt.Sprintf("%da", n), fmt.Sprintf("%db", n))
	}
	for _, n := range []int{1, 2, 5, 10, 49, 100, 1000} {
		list = append(list, fmt.Sprintf("8.%d", n))
	}
	return list
}

func byOurKeys(list []string) []string {
	list = slices.Clone(list)
	slices.SortFunc(list, func(a, b string) int {
		return bytes.Compare(numberKey(a, model.Consecutive), numberKey(b, model.Consecutive))
	})
	return list
}

// other runs another program's sort, or says that it is not there.
func other(t *testing.T, name string, args ...string) *exec.Cmd {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		missing(t, name)
	}
	return exec.Command(path, args...)
}

// missing leaves a comparison out, but not where all must be there.
func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatalf("%s is needed here and is not installed", what)
	}
	t.Skipf("%s is not installed; the comparison with it is left out", what)
}

func TestAgreesWithVersionSort(t *testing.T) {
	list := agreed()
	slices.Reverse(list)
	cmd := other(t, "sort", "-V")
	cmd.Env = append(os.Environ(), "LC_ALL=C")
	cmd.Stdin = strings.NewReader(strings.Join(list, "\n") + "\n")
	out, err := cmd.Output()
	if err != nil {
		missing(t, fmt.Sprintf("a sort with -V (%v)", err))
	}
	if theirs, ours := strings.Fields(string(out)), byOurKeys(list); !slices.Equal(theirs, ours) {
		t.Errorf("sort -V gives %v, we file %v", theirs, ours)
	}
}

func TestAgreesWithICU(t *testing.T) {
	list := agreed()
	slices.Reverse(list)
	cmd := other(t, "node", "-e", `const a=require("fs").readFileSync(0,"utf8").trim().split("\n");
		a.sort(new Intl.Collator("en",{numeric:true}).compare);console.log(a.join("\n"))`)
	cmd.Stdin = strings.NewReader(strings.Join(list, "\n"))
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	if theirs, ours := strings.Fields(string(out)), byOurKeys(list); !slices.Equal(theirs, ours) {
		t.Errorf("ICU gives %v, we file %v", theirs, ours)
	}
}

// The groups of signs are those of ICU: every mark before every symbol before
// every currency before the digits. Inside a group ICU has an order of its own,
// ours is by code point.
func TestGroupsOfSignsAgreeWithICU(t *testing.T) {
	list := strings.Fields("# % & * @ § + < = > | ~ © $ € ¥ 0 a")
	cmd := other(t, "node", "-e", `const l=require("fs").readFileSync(0,"utf8").split(" "),c=new Intl.Collator("en");
		console.log(l.map(a=>l.map(b=>c.compare(a,b)).join(" ")).join("\n"))`)
	cmd.Stdin = strings.NewReader(strings.Join(list, " "))
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(rows) != len(list) {
		t.Fatalf("node gave %d rows for %d signs", len(rows), len(list))
	}
	for i, a := range list {
		for j, theirs := range strings.Fields(rows[i]) {
			b := list[j]
			ga, gb := group([]rune(a)[0]), group([]rune(b)[0])
			if ga == gb {
				continue
			}
			if ours := fmt.Sprint(bytes.Compare(AppendName(nil, a), AppendName(nil, b))); ours != theirs {
				t.Errorf("%s against %s: %s, ICU %s", a, b, ours, theirs)
			}
		}
	}
}

// Whether names could be filed by golang.org/x/text/collate (measured on v0.44.0):
// no. Should one of these change, look again.
func TestCollateIsNotTheRule(t *testing.T) {
	c := collate.New(language.English, collate.Numeric)
	// Its documentation gives this row, and it is right.
	row := []string{"23", "11", "3", "2", "01", "0"}
	c.SortStrings(row)
	if want := []string{"0", "01", "2", "3", "11", "23"}; !slices.Equal(row, want) {
		t.Errorf("collate files %q, its documentation says %q", row, want)
	}
	// It leaves ties between zeros in front, so a rule for those is needed anyway.
	if c.CompareString("007", "7") != 0 {
		t.Error("collate tells 007 from 7 now: look again whether it serves")
	}
	// It goes wrong at zeros (golang/go#25554): 0 behind 1.
	if c.CompareString("file0_1", "file1_1") <= 0 {
		t.Error("collate files file0_1 before file1_1 now: look again whether it serves")
	}
	// And it does not file word by word.
	headings := readBlocks(t, "testdata/names.txt")[0].lines
	wrong := 0
	for i := 1; i < len(headings); i++ {
		if c.CompareString(headings[i-1], headings[i]) >= 0 {
			wrong++
		}
	}
	if wrong == 0 {
		t.Error("collate files the published headings as NISO TR03 does now: look again whether it serves")
	}
	t.Logf("collate files %d of the published headings before the one in front", wrong)
}
