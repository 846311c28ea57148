package exchange

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/sample"
)

// furnished is a cupboard with something of every kind in it.
func furnished(t failer) *model.Collection {
	t.Helper()
	spec := model.ShelfSpec{
		Settings:   model.DefaultSettings(),
		Sections:   []model.SectionSpec{{Title: "Quillon", Publishers: []string{"Quillon"}}, {Title: "Old", Tags: []string{"old"}}, {Title: "Rest", Publishers: []string{"*"}, NewBox: true}},
		Boxes:      []model.BoxSpec{{Name: "1", Length: model.MM(380.25), Place: "top", Locked: true}, {Name: "2", Length: model.MM(300)}},
		Publishers: []model.PublisherSpec{{Name: "Quillon", FilesAs: "Qillon", Numbers: model.PrefixFirst}},
		Binders:    []model.BinderSpec{{Category: "Dresses", Pockets: 75}, {Category: "Dresses", Pockets: 60}},
		Hooks:      []model.HookSpec{{Name: "door", Hooks: 12, Each: 3}},
	}
	spec.Settings.Half = model.South
	return after(t, model.NewCollection(), &model.SetShelf{Spec: spec}, &model.Add{Entries: []model.Entry{
		{Publisher: "Quillon", Number: "K12", Name: "Cape <b> & \"so\" \u2013 é", Box: "1", Category: "Dresses", Also: []string{"Coats", "Hats"}, Copied: []string{"Hats"}, Batch: "hall", Tags: []string{"old", "torn"}, Thickness: 1234},
		{Publisher: "Harrow & Pell", Number: "6123", Name: "Wrap dress", Hook: "door 3", Out: &model.Out{Since: "2026-01-02", To: "the neighbour"}},
		{Publisher: "Harrow & Pell", Number: "6124", Box: "2"},
	}}, &model.Decide{Firsts: []model.NamedWall{{Box: "1", First: 1}}}, &model.Remove{Copies: []model.Accession{3}})
}

// sealed gives lines their last line, so that what is wrong with them is not
// just the checksum.
func sealed(lines ...string) string {
	all := strings.Join(lines, "\n") + "\n"
	sum := sha256.Sum256([]byte(all))
	return all + fmt.Sprintf("{\"kind\":\"end\",\"count\":%d,\"sha256\":\"%s\"}\n", len(lines), hex.EncodeToString(sum[:]))
}

func unsealed(file string) []string {
	lines := strings.Split(strings.TrimSuffix(file, "\n"), "\n")
	return lines[:len(lines)-1]
}

func TestSealedIsWhatIsWritten(t *testing.T) {
	file := jsonlOf(t, furnished(t))
	if got := sealed(unsealed(file)...); got != file {
		t.Errorf("sealed anew the export is\n%s\nit was\n%s", got, file)
	}
}

// noExport fails the test unless the file is refused and nothing comes of it.
func noExport(t *testing.T, what, file string, want ...string) {
	t.Helper()
	c, err := ReadJSONL(strings.NewReader(file))
	if err == nil || c != nil {
		t.Errorf("%s: it was taken for whole", what)
		return
	}
	if ours := strings.HasPrefix(file, begins); ours != errors.Is(err, model.ErrDamaged) || ours == model.IsInput(err) {
		t.Errorf("%s: got %v, want damage of an export, and of any other file that it is none", what, err)
	}
	for _, w := range want {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("%s: the error is %q, want it to say %q", what, err, w)
		}
	}
}

func TestAnExportCutShortAnywhereIsRefused(t *testing.T) {
	file := jsonlOf(t, furnished(t))
	for n := range len(file) {
		noExport(t, fmt.Sprintf("cut after %d bytes", n), file[:n])
	}
}

func TestAByteChangedAnywhereIsFound(t *testing.T) {
	file := []byte(jsonlOf(t, furnished(t)))
	for n := range file {
		for _, bits := range []byte{0x01, 0x20, 0x80} { // 0x20 makes small letters capital
			altered := bytes.Clone(file)
			altered[n] ^= bits
			if _, err := ReadJSONL(bytes.NewReader(altered)); err == nil {
				t.Errorf("byte %d, %q changed to %q, was not found", n, file[n], altered[n])
			}
		}
	}
}

func TestLinesTooManyOrTooFewAreFound(t *testing.T) {
	file := jsonlOf(t, furnished(t))
	lines := strings.SplitAfter(file, "\n")
	for i := range lines {
		noExport(t, fmt.Sprintf("line %d is gone", i+1), strings.Join(append(append([]string(nil), lines[:i]...), lines[i+1:]...), "")+map[bool]string{true: "x", false: ""}[i == len(lines)-1])
		noExport(t, fmt.Sprintf("line %d is there twice", i+1), strings.Join(lines[:i], "")+lines[i]+strings.Join(lines[i:], "")+map[bool]string{true: "x", false: ""}[i == len(lines)-1])
	}
	noExport(t, "an empty line behind", file+"\n", "more behind the last line")
	noExport(t, "two exports", file+file, "more behind the last line")
}

func TestForeignFilesAreRefused(t *testing.T) {
	for what, file := range map[string]string{
		"nothing": "", "a spreadsheet": "publisher,number\nQuillon,1\n", "JSON": "{\"kind\":\"recipe\"}\n", "one array": "[]\n",
		"a picture": "\x89PNG\r\n\x1a\n", "one long line": strings.Repeat("x", 1<<20),
	} {
		noExport(t, what, file, "no export of tuckrow", `{"kind":"tuckrow",`)
	}
}

func TestANewerFormatIsRefused(t *testing.T) {
	lines := unsealed(jsonlOf(t, furnished(t)))
	lines[0] = strings.Replace(lines[0], `"format":1`, `"format":2,"more":{}`, 1)
	if _, err := ReadJSONL(strings.NewReader(sealed(lines...))); !errors.Is(err, model.ErrNewer) || !strings.Contains(err.Error(), "format 2") {
		t.Errorf("got %v, want that it is newer", err)
	}
	for _, bad := range []string{`"format":0`, `"format":-1`, `"format":"1"`, `"version":1`, `"format":1,"more":1`} {
		lines[0] = strings.Replace(unsealed(jsonlOf(t, furnished(t)))[0], `"format":1`, bad, 1)
		noExport(t, bad, sealed(lines...), "line 1")
	}
}

// Exports that were altered and sealed anew.
func TestWhatDoesNotHoldTogetherIsRefused(t *testing.T) {
	file := jsonlOf(t, furnished(t))
	for _, x := range []struct{ what, old, new, says string }{
		{"an unknown field", `"number":"K12"`, `"number":"K12","colour":"red"`, "colour"},
		{"an unknown kind", `{"kind":"batch"`, `{"kind":"basket"`, `"basket"`},
		{"a line break in a name", `"Wrap dress"`, `"Wrap\ndress"`, "line breaks"},
		{"an escape in a name", `"Wrap dress"`, `"Wrap\u001b[31m dress"`, "control characters"},
		{"an escape in a tag", `"torn"`, `"torn\u009b"`, "control characters"},
		{"an escape in who has it", `"the neighbour"`, `"the\u0007"`, "control characters"},
		{"an override of direction", `"top"`, `"\u202etop"`, "control characters"},
		{"an escape in a medium", `"added":"2026-03-01"`, `"added":"2026-03-01","medium":"\u001b"`, "control characters"},
		{"no letter", `"Wrap dress"`, `"Wrap dress\ud800"`, "control characters"},
		{"a number that is text", `"accession":2`, `"accession":"2"`, "accession"},
		{"a pattern that is not there", `"accession":2,"pattern":2`, `"accession":2,"pattern":9`, "pattern 9"},
		{"a copy of number 0", `"accession":2`, `"accession":0`, "number 0"},
		{"a number without end", `"accession":2`, `"accession":4294967295`, "4294967295"},
		{"a highest number without end", `"copy":3`, `"copy":4294967295`, "4294967295"},
		{"a copy in two boxes", `"copies":[1]`, `"copies":[1,1]`, "copy 1"},
		{"a hook that is not there", `"n":3`, `"n":13`, "hook 13"},
		{"two boxes of one name", `"name":"2","length_mm":300`, `"name":"1","length_mm":300`, `"1"`},
		{"two boxes of one number", `{"id":2,"name":"2"`, `{"id":1,"name":"2"`, "not its own"},
		{"a box without length", `"length_mm":300`, `"length_mm":0`, "no length"},
		{"a length below nothing", `"length_mm":300`, `"length_mm":-1`, "out of range"},
		{"a record with a tail", `"name":"Dresses"}`, `"name":"Dresses"} {}`, "more behind the record"},
		{"a record that is nothing", `{"kind":"category","id":1,"name":"Dresses"}`, `null`, "kind"},
	} {
		altered := strings.Replace(file, x.old, x.new, 1)
		if altered == file {
			t.Errorf("%s: there is no %s in\n%s", x.what, x.old, file)
			continue
		}
		noExport(t, x.what, sealed(unsealed(altered)...), x.says)
	}
	lines := unsealed(file)
	noExport(t, "a copy that is there twice", sealed(append(lines, lines[5])...), "twice")
	altered := append([]string(nil), lines...)
	altered[5] = strings.Replace(altered[5], `"`, `"x`, 1)
	noExport(t, "a line that says where", sealed(altered...), "line 6")
}

// In a long file, of which many lines are read at a time, the line is the right
// one, and the first that is wrong.
func TestTheLineIsNamedInALongFile(t *testing.T) {
	lines := unsealed(jsonlOf(t, sample.Cupboard(2000)))
	for _, n := range []int{2, 257, 258, 1000, len(lines)} {
		altered := slices.Clone(lines)
		for _, i := range []int{n, min(n+300, len(lines))} {
			altered[i-1] = strings.Replace(altered[i-1], `"kind":"`, `"kind":"un`, 1)
		}
		noExport(t, fmt.Sprintf("line %d", n), sealed(altered...), fmt.Sprintf("line %d of the export", n))
		again := slices.Insert(slices.Clone(lines), n, lines[n-1])
		noExport(t, fmt.Sprintf("line %d again", n), sealed(again...), "twice")
	}
	noExport(t, "cut", strings.Join(lines, "\n")+"\n", fmt.Sprintf("line %d of the export", len(lines)+1), "cut short")
}
