package exchange

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"pgregory.net/rapid"
)

func shown(t failer, c *model.Collection) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteShelf(&b, c.ShelfSpec()); err != nil {
		t.Fatalf("writing the shelf file: %v", err)
	}
	return b.String()
}

func applied(t failer, c *model.Collection, file string) *model.Collection {
	t.Helper()
	spec, err := ReadShelf(strings.NewReader(file))
	if err != nil {
		t.Fatalf("reading the shelf file: %v, of\n%s", err, file)
	}
	return after(t, c, &model.SetShelf{Spec: spec})
}

// A shelf file says whose seasons count; one from before that could be said means
// the north.
func TestTheHemisphereOfAShelfFile(t *testing.T) {
	for file, want := range map[string]model.Half{"": model.North, "hemisphere = 'north'": model.North, "hemisphere = ' North '": model.North, "hemisphere = 'south'": model.South, "hemisphere = 'SOUTH'": model.South} {
		spec, err := ReadShelf(strings.NewReader(file))
		if err != nil || spec.Settings.Half != want {
			t.Errorf("%q gives %q, %v, want %q", file, spec.Settings.Half, err, want)
		}
	}
	if _, err := ReadShelf(strings.NewReader("hemisphere = 'east'")); err == nil || !model.IsInput(err) || !strings.Contains(err.Error(), `hemisphere "east" is not known; use "north" or "south"`) {
		t.Errorf("an unknown one gives %v", err)
	}
}

func TestAShelfShownAndAppliedIsTheSame(t *testing.T) {
	c := furnished(t)
	file := shown(t, c)
	again := applied(t, c, file)
	if got := shown(t, again); got != file {
		t.Errorf("shown again it is\n%s\nit was\n%s", got, file)
	}
	if jsonlOf(t, again) != jsonlOf(t, c) {
		t.Error("applying what was shown altered the cupboard")
	}
	if got := shown(t, applied(t, model.NewCollection(), file)); got != file {
		t.Errorf("applied to an empty cupboard it is\n%s\nit was\n%s", got, file)
	}
}

func TestAnyShelfShownAndAppliedIsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Custom(func(t *rapid.T) model.Length { return model.Length(rapid.IntRange(1, 100_000_00).Draw(t, "length")) })
		spec := model.ShelfSpec{Settings: model.DefaultSettings()}
		s := &spec.Settings
		s.Envelope, s.Divider = odd.Draw(t, "envelope"), length.Draw(t, "divider")
		s.Working = rapid.SampledFrom([]model.Space{{}, {Percent: 12.5}, {Percent: 0.001}, {Fixed: 6001}}).Draw(t, "working")
		s.Thickness = model.Thickness{Uncut: length.Draw(t, "uncut"), Cut: length.Draw(t, "cut"), Bulky: length.Draw(t, "bulky")}
		for range rapid.IntRange(0, 3).Draw(t, "boxes") {
			spec.Boxes = append(spec.Boxes, model.BoxSpec{Name: named(t, "box"), Length: length.Draw(t, "length"), Place: odd.Draw(t, "place"), Locked: rapid.Bool().Draw(t, "locked")})
		}
		for range rapid.IntRange(0, 2).Draw(t, "label sheets") {
			mm := func(to int, what string) model.Length { return model.Length(rapid.IntRange(1, to).Draw(t, what)) }
			sheet := model.LabelSheet{Name: named(t, "sheet"), Paper: "Letter", Columns: 2, Rows: 3, Width: mm(90_00, "width"), Height: mm(60_00, "height"), Left: mm(900, "left"), Top: mm(900, "top")}
			sheet.PitchX, sheet.PitchY = sheet.Width+mm(500, "gap"), sheet.Height+mm(500, "gap")
			spec.Labels = append(spec.Labels, sheet)
			s.Printing.Labels = sheet.Name
		}
		for range rapid.IntRange(0, 3).Draw(t, "sections") {
			spec.Sections = append(spec.Sections, model.SectionSpec{Title: named(t, "title"), Publishers: []string{named(t, "publisher")}, Tags: rapid.SliceOfN(odd, 0, 2).Draw(t, "tags")})
		}
		for range rapid.IntRange(0, 3).Draw(t, "publishers") {
			spec.Publishers = append(spec.Publishers, model.PublisherSpec{Name: named(t, "publisher"), FilesAs: odd.Draw(t, "files as"), Numbers: rapid.SampledFrom([]model.Scheme{"", model.Consecutive, model.PrefixFirst}).Draw(t, "numbers")})
		}
		c, _, err := model.NewCollection().Apply(&model.SetShelf{Spec: spec}, day)
		if err != nil {
			if !model.IsInput(err) {
				t.Fatal(err)
			}
			t.Skip("such a shelf is refused")
		}
		file := shown(t, c)
		if got := shown(t, applied(t, c, file)); got != file {
			t.Fatalf("shown again it is\n%s\nit was\n%s", got, file)
		}
	})
}

func TestWhatAShelfFileDoesNotSetKeepsItsDefault(t *testing.T) {
	for _, file := range []string{"", "# nothing\n", "\ufeffunits = \"mm\"\r\n"} {
		spec, err := ReadShelf(strings.NewReader(file))
		if err != nil || !reflect.DeepEqual(spec.Settings, model.DefaultSettings()) || len(spec.Sections)+len(spec.Boxes)+len(spec.Hooks) != 0 {
			t.Errorf("%q gives %+v (%v)", file, spec, err)
		}
	}
	spec, err := ReadShelf(strings.NewReader("range_card_every = 0\n[thickness]\ncut = 8\n[[box]]\nname = \"1\"\nlength = 380\n"))
	if err != nil {
		t.Fatal(err)
	}
	want := model.DefaultSettings()
	want.RangeCardEvery, want.Thickness.Cut = 0, model.MM(8)
	if !reflect.DeepEqual(spec.Settings, want) || !reflect.DeepEqual(spec.Boxes, []model.BoxSpec{{Name: "1", Length: model.MM(380)}}) {
		t.Errorf("got %+v", spec)
	}
}

func TestAShelfFileThatCannotBeUsedSaysWhere(t *testing.T) {
	const box = "[[box]]\nname = \"1\"\nlength = 380\n"
	for _, x := range []struct {
		file string
		says []string
	}{
		{"units = \"mm\"\n\nunit = \"mm\"\n", []string{"line 3", `"unit"`, "shelf show"}},
		{box + "colour = \"red\"\n", []string{"line 4", "colour"}},
		{"units = 7\n", []string{"line 1", "integer", "shelf show"}},
		{"\n[[box]]\nname = 1\n", []string{"line 3"}},
		{box + "[[box]]\nname = \"2\"\nlength = \"wide\"\n", []string{"line 6"}},
		{"[[hooks]]\nname = \"door\"\nhooks = 1.5\n", []string{"line 3"}},
		{"[[box]\nname = 1\n", []string{"line 1"}},
		{"units = \"mm\"\nunits = \"in\"\n", []string{"line 2"}},
		{"units = \"m\xffm\"\n", []string{"line 1"}},
		{strings.Replace(box, "380", "-380", 1), []string{`box "1"`, "-380", "between 0"}},
		{strings.Replace(box, "380", "nan", 1), []string{`box "1"`}},
		{strings.Replace(box, "380", "1e9", 1), []string{`box "1"`}},
		{"divider_thickness = -0.5\n", []string{"divider_thickness", "-0.5"}},
		{"[thickness]\nbulky = -1\n", []string{"thickness.bulky"}},
		{"working_space = \"120%\"\n", []string{"working_space", "120%"}},
	} {
		_, err := ReadShelf(strings.NewReader(x.file))
		if err == nil {
			t.Errorf("%q was read", x.file)
			continue
		}
		says(t, err, x.says...)
	}
	for file, want := range map[string]string{
		box + box:                              "twice",
		box + strings.Replace(box, "1", "", 1): "no name",
		"[[box]]\nname = \"ς\"\nlength = 1\n[[box]]\nname = \"Σ\"\nlength = 1\n": "twice",
		"[[box]]\nname = \"1\"\n":                                "no length",
		"units = \"ell\"\n":                                      "ell",
		"range_card_every = -1\n":                                "range_card_every",
		"[thickness]\ncut = 0\n":                                 "thickness",
		"[[section]]\ntitle = \"x\"\n":                           "holds nothing",
		"[[publisher]]\nname = \"Quillon\"\nnumbers = \"odd\"\n": "odd",
		"[[binder]]\ncategory = \"Coats\"\npockets = 0\n":        "pocket",
		"[[hooks]]\nname = \"door\"\nhooks = 1\neach = 0\n":      "hooks",
	} {
		spec, err := ReadShelf(strings.NewReader(file))
		if err == nil {
			_, _, err = model.NewCollection().Apply(&model.SetShelf{Spec: spec}, day)
		}
		if err == nil {
			t.Errorf("%q was applied", file)
			continue
		}
		says(t, err, want)
	}
}

// A box keeps what stands in it as long as its name stays, however written.
func TestBoxesRenamedAndDropped(t *testing.T) {
	c := furnished(t)
	file := shown(t, c)
	kept := applied(t, c, strings.Replace(file, "name = '2'", "name = '2 '", 1))
	if jsonlOf(t, kept) != jsonlOf(t, c) {
		t.Errorf("a space behind a name altered the cupboard:\n%s", file)
	}
	renamed := applied(t, c, strings.Replace(file, "name = '1'", "name = 'one'", 1))
	if _, stands := renamed.Standing(1); stands || renamed.Copies().Len() != 2 {
		t.Error("what stood in a box of another name stands there still, or is gone")
	}
	if b, err := renamed.Shelf().BoxNamed("one"); err != nil || b.ID <= 2 || len(renamed.Row(b.ID)) > 0 {
		t.Errorf("the renamed box is %+v (%v), want a new one", b, err)
	}
	bare := applied(t, c, "")
	if _, stands := bare.Standing(1); stands || bare.Copy(2).Hook.Row != 0 || bare.Copies().Len() != 2 {
		t.Error("without boxes and hooks, copies stand or hang still, or are gone")
	}
	if err := bare.Check(); err != nil {
		t.Error(err)
	}
}

func TestALabelSheetOfOnesOwn(t *testing.T) {
	c := applied(t, model.NewCollection(), `
[print]
paper = "Letter"
label_sheet = "from the drawer"
code = "qr"
[[label_sheet]]
name = "from the drawer"
paper = "A4"
columns = 2
rows = 5
width = 90
height = 50.5
left = 10
top = 15
pitch_x = 95
`)
	want := model.LabelSheet{Name: "from the drawer", Paper: "A4", Columns: 2, Rows: 5, Width: model.MM(90), Height: model.MM(50.5),
		Left: model.MM(10), Top: model.MM(15), PitchX: model.MM(95), PitchY: model.MM(50.5)}
	if got, err := c.Shelf().LabelSheetNamed("From the drawer"); err != nil || got != want {
		t.Errorf("%+v, %v; want %+v", got, err, want)
	}
	if got, want := c.Shelf().Settings.Printing, (model.Printing{Paper: "Letter", Labels: "from the drawer", Code: "qr"}); got != want {
		t.Errorf("what is preset for printing is %+v, want %+v", got, want)
	}
	for file, says := range map[string]string{
		"[print]\ncode = \"dots\"":                                   `code "dots" is not known; use one of: code128, qr, none`,
		"[print]\nlabel_sheet = \"A4 9x9\"":                          `label sheet "A4 9x9" is not known`,
		"[[label_sheet]]\nname = \"x\"\npaper = \"A4\"\nwidth = nan": "width of label sheet \"x\" is NaN",
	} {
		spec, err := ReadShelf(strings.NewReader(file))
		if err == nil {
			_, _, err = model.NewCollection().Apply(&model.SetShelf{Spec: spec}, day)
		}
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %q", file, err, says)
		}
	}
}
