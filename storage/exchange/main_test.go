package exchange

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"pgregory.net/rapid"
)

const day model.Date = "2026-03-01"

type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

func csvOf(t failer, c *model.Collection) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteCSV(&b, c); err != nil {
		t.Fatalf("writing CSV: %v", err)
	}
	return b.String()
}

func jsonlOf(t failer, c *model.Collection) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteJSONL(&b, c); err != nil {
		t.Fatalf("writing JSON Lines: %v", err)
	}
	return b.String()
}

func after(t failer, c *model.Collection, changes ...model.Change) *model.Collection {
	t.Helper()
	for _, ch := range changes {
		next, _, err := c.Apply(ch, day)
		if err != nil {
			t.Fatalf("%T: %v", ch, err)
		}
		c = next
	}
	return c
}

// taken reads a spreadsheet into a cupboard and gives what came of it.
func taken(t failer, c *model.Collection, file string, told string) (*model.Collection, *Import, Planned) {
	t.Helper()
	columns, err := ParseColumns(told)
	if err != nil {
		t.Fatalf("columns: %v", err)
	}
	im, err := ReadCSV(strings.NewReader(file), columns)
	if err != nil {
		t.Fatalf("reading CSV: %v", err)
	}
	p := im.Plan(c, "", "file.csv")
	return after(t, c, p.Change), im, p
}

// odd is text with all in it that a file format can stumble over.
var odd = rapid.Custom(func(t *rapid.T) string {
	part := rapid.OneOf(rapid.SampledFrom([]string{"=", "+", "-", "@", "'", "\"", ",", ";", "\t", "\r\n", "\n", " ", "  ", "x", "Wrap", "é", "e\u0301", "\u00a0", "\u200b", "\u202e", "\x1b[31m", "\x00", "ﬁ", "ß", "ς", "日本", "👗", "\u200d", "\ufeff", "sep=;", "yes", "0", "007", "＝", "\xff"}),
		rapid.String())
	return strings.Join(rapid.SliceOfN(part, 0, 5).Draw(t, "text"), "")
})

// named is a name that is more than nothing once it is cleaned.
func named(t *rapid.T, label string) string {
	return odd.Draw(t, label) + rapid.SampledFrom([]string{"Quillon", "Harrow & Pell", "!", "=1", "ς", "Σ"}).Draw(t, label)
}

// anyCategory is often one of a few that are much alike.
var anyCategory = rapid.OneOf(odd, rapid.SampledFrom([]string{"Coats", "Coats,", "coats; hats", "Coats, hats", "\"Coats\"", "36\" wide", "Hats"}))

var anyLength = rapid.Custom(func(t *rapid.T) model.Length { return model.Length(rapid.IntRange(0, 999_999).Draw(t, "length")) })

var anyEntry = rapid.Custom(func(t *rapid.T) model.Entry {
	en := model.Entry{
		Publisher: named(t, "publisher"), Number: odd.Draw(t, "number"), Name: named(t, "name"), FilesAs: odd.Draw(t, "files as"),
		Category: anyCategory.Draw(t, "category"), SizeRange: odd.Draw(t, "size"), Year: rapid.IntRange(0, 2999).Draw(t, "year"), DatedBy: odd.Draw(t, "dated by"),
		Medium: rapid.SampledFrom([]model.Medium{"", model.Printed, model.Traced, model.Magazine}).Draw(t, "medium"),
		Cut:    rapid.SampledFrom([]model.Cut{"", model.Uncut, model.PartlyCut, model.FullyCut}).Draw(t, "cut"), Complete: odd.Draw(t, "complete"),
		Bulky: rapid.Bool().Draw(t, "bulky"), Thickness: model.Length(rapid.IntRange(0, 9999).Draw(t, "thickness")),
		Home:      rapid.SampledFrom([]model.Home{"", model.HomeBox, model.HomeHook, model.HomeOversize}).Draw(t, "home"),
		Sleeve:    rapid.SampledFrom([]model.Sleeve{"", model.SleeveInBinder, model.SleeveWithTissue, model.SleeveMissing}).Draw(t, "sleeve"),
		Enveloped: rapid.Bool().Draw(t, "envelope"), Grouped: rapid.Bool().Draw(t, "grouped"), Batch: odd.Draw(t, "batch"),
		Added: rapid.SampledFrom([]model.Date{"", "2024-02-29", "1999-12-31"}).Draw(t, "added"), Barcode: odd.Draw(t, "barcode"),
		Tags: rapid.SliceOfN(odd, 0, 3).Draw(t, "tags"), Also: rapid.SliceOfN(anyCategory, 0, 2).Draw(t, "also"), Notes: odd.Draw(t, "notes"), Left: odd.Draw(t, "left"),
	}
	if len(en.Also) > 0 && rapid.Bool().Draw(t, "photocopied") {
		en.Copied = en.Also[:1]
	}
	if rapid.Bool().Draw(t, "printed") {
		en.Print = model.Print{Pages: rapid.IntRange(0, 99).Draw(t, "pages"), Paper: odd.Draw(t, "paper"), Square: anyLength.Draw(t, "square"),
			Assembled: rapid.Bool().Draw(t, "assembled"), Version: odd.Draw(t, "version")}
		en.Value = model.Money(rapid.IntRange(0, 99_999).Draw(t, "value"))
		en.Pieces = []string{"front" + odd.Draw(t, "piece"), "back"}
		en.Found = &model.Pieces{Found: []model.Piece{{Name: "1" + odd.Draw(t, "found"), State: rapid.SampledFrom([]model.PieceState{"", model.PieceTorn, model.PieceMissing}).Draw(t, "state")}}}
	}
	for range rapid.IntRange(0, 2).Draw(t, "charted") {
		en.Sizes = append(en.Sizes, model.Size{Name: "10" + odd.Draw(t, "size"), Bust: anyLength.Draw(t, "bust"), Hip: anyLength.Draw(t, "hip")})
		en.Needs = append(en.Needs, model.Need{View: odd.Draw(t, "view"), Size: odd.Draw(t, "sizes"), Width: 1 + anyLength.Draw(t, "width"), Length: 1 + anyLength.Draw(t, "length"), For: odd.Draw(t, "for")})
	}
	switch rapid.IntRange(0, 3).Draw(t, "where") {
	case 0:
		en.Box, en.Position = rapid.SampledFrom([]string{"1", "2", "10", "attic σ"}).Draw(t, "box"), rapid.IntRange(0, 4).Draw(t, "position")
	case 1:
		en.Hook = rapid.SampledFrom([]string{"door 1", "door 7", "wall a 2"}).Draw(t, "hook")
	}
	if rapid.Bool().Draw(t, "out") {
		en.Out = &model.Out{Since: "2026-01-02", To: odd.Draw(t, "to"), For: odd.Draw(t, "for"), Due: rapid.SampledFrom([]model.Date{"", "2026-02-02"}).Draw(t, "due")}
	}
	return en
})

// anyCupboard is one of a few copies, some removed again, on a shelf.
var anyCupboard = rapid.Custom(func(t *rapid.T) *model.Collection {
	c := after(t, model.NewCollection(), &model.SetShelf{Spec: model.ShelfSpec{
		Settings: model.DefaultSettings(),
		Boxes:    []model.BoxSpec{{Name: "1", Length: model.MM(380)}, {Name: "2", Length: model.MM(380)}, {Name: "10", Length: model.MM(380)}, {Name: "attic σ", Length: model.MM(380)}},
		Hooks:    []model.HookSpec{{Name: "door", Hooks: 7, Each: 3}, {Name: "wall a", Hooks: 2, Each: 3}},
	}})
	for range rapid.IntRange(0, 5).Draw(t, "batches") {
		list := rapid.SliceOfN(anyEntry, 1, 3).Draw(t, "entries")
		for i := range list {
			if n := int(c.Counters().Pattern); n > 0 && rapid.IntRange(0, 2).Draw(t, "second") == 0 {
				list[i].Pattern = model.PatternID(rapid.IntRange(1, n).Draw(t, "pattern"))
			}
		}
		c = after(t, c, &model.Add{Entries: list})
		if rapid.IntRange(0, 3).Draw(t, "remove") == 0 {
			if a := model.Accession(rapid.IntRange(1, int(c.Counters().Copy)).Draw(t, "which")); c.Copy(a) != nil {
				c = after(t, c, &model.Remove{Copies: []model.Accession{a}})
			}
		}
	}
	return c
})

func TestRoundTripsAreByteForByte(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCupboard.Draw(t, "cupboard")
		file := csvOf(t, c)
		back, im, p := taken(t, model.NewCollection(), file, "")
		if len(im.Rejected) > 0 || len(im.Unused()) > 0 {
			t.Fatalf("of an export, rows are rejected %+v and columns not used %q", im.Rejected, im.Unused())
		}
		if got := csvOf(t, back); got != file {
			t.Fatalf("CSV came back as\n%s\nit was\n%s\nplan %+v", got, file, p)
		}
		lines := jsonlOf(t, c)
		whole, err := ReadJSONL(strings.NewReader(lines))
		if err != nil {
			t.Fatalf("%v, of\n%s", err, lines)
		}
		if got := jsonlOf(t, whole); got != lines {
			t.Fatalf("JSON Lines came back as\n%s\nit was\n%s", got, lines)
		}
	})
}

func rows(lines ...string) string { return strings.Join(lines, "\r\n") + "\r\n" }

func says(t *testing.T, err error, want ...string) {
	t.Helper()
	if !model.IsInput(err) {
		t.Fatalf("got error %v, want one for the user", err)
	}
	for _, w := range want {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("the error is %q, want it to say %q", err, w)
		}
	}
}

func rejected(im *Import) string {
	var b strings.Builder
	for _, r := range im.Rejected {
		fmt.Fprintf(&b, "%d: %s\n", r.Line, r.Reason)
	}
	return b.String()
}
