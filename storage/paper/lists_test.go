package paper

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/moving"
	"example.org/tuckrow/storage/paper/proof"
)

// Whatever is owned, no line of the carry list is wider than 32 cells, and every
// number and name is there.
func TestTheCarryListIsNeverWiderThanAPhone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.OneOf(rapid.StringMatching(`[A-Za-z]{1,12}( [A-Za-z-]{1,14}){0,6}`), rapid.StringMatching(`[a-z]{30,80}`),
			rapid.SampledFrom([]string{"שמלת מעטפת ערב ארוכה עם חגורה", "連衣裙連衣裙連衣裙連衣裙連衣裙連衣裙", "Выкройка платья с поясом и воротником"}))
		var all []model.Entry
		for range rapid.IntRange(1, 6).Draw(t, "entries") {
			all = append(all, model.Entry{Publisher: name.Draw(t, "publisher"), Number: rapid.StringMatching(`[1-9][0-9]{0,4}( H5)?`).Draw(t, "number"), Name: name.Draw(t, "name"), SizeRange: "8-14"})
		}
		c, _, err := model.NewCollection().Apply(&model.Add{Entries: all}, today)
		if err != nil {
			t.Skip("such entries are refused")
		}
		src := Source{Layout: ordering.Arrange(c), Paper: a4, Date: today}
		w, err := Carry(src)
		if err != nil {
			t.Fatal(err)
		}
		squeezed := ""
		for _, l := range w.text() {
			if ansi.StringWidth(l) > CarryColumns {
				t.Fatalf("%q is %d cells wide", l, ansi.StringWidth(l))
			}
			squeezed += strings.ReplaceAll(l, " ", "")
		}
		for _, e := range all {
			if want := strings.ReplaceAll(e.Number+e.Name+e.SizeRange, " ", ""); !strings.Contains(squeezed, want) {
				t.Fatalf("%q is not on the list", want)
			}
		}
	})
}

// In a shop one has to know, besides what is owned, what is wanted and what is on
// the way, and which number is owned in which sizes.
func TestTheCarryListMarksWishesAndSizes(t *testing.T) {
	sized := func(number, name, sizes string) model.Entry {
		return model.Entry{Publisher: "Quillon", Number: number, Name: name, SizeRange: sizes}
	}
	c := model.NewCollection()
	for _, ch := range []model.Change{
		&model.Add{Entries: []model.Entry{sized("6123 H5", "Wrap dress", "6-14"), sized("6123 M5", "Wrap dress", "16-24"), sized("77", "Smock", "8-14"), sized("77", "Smock", "16-20"), sized("78", "Cape", "8"), sized("78", "Tabard", "10")}},
		&model.Want{Wish: model.Wish{Publisher: "quillon", Number: "K700", Name: "Swing coat"}},
		&model.Want{Wish: model.Wish{Publisher: "Quillon", Number: "77", SizeRange: "22-24", Ordered: "2026-01-02"}},
		&model.Want{Wish: model.Wish{Publisher: "Quillon", Number: "77"}}, // owned: not wanted any more
		&model.Want{Wish: model.Wish{Publisher: "Averlock", Name: "Nightshirt"}},
		&model.Want{Wish: model.Wish{Name: "Muff"}},
	} {
		next, _, err := c.Apply(ch, today)
		if err != nil {
			t.Fatal(err)
		}
		c = next
	}
	w := made(t)(Carry(sourceOf(c)))
	want := "Owned: 6 patterns, " + string(today) + "\n? wanted, > on the way, + in\nboth sizes\n\npublisher not known\n? Muff\n\nAverlock\n? Nightshirt\n\n" +
		"Quillon\n77 Smock 8-14+16-20\n> 77 22-24\n78 Cape 8\n78 Tabard 10\n? K700 Swing coat\n6123 H5+M5 Wrap dress 6-14+16-24\n"
	if got := textOf(t, w); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// A full file box of 380 mm, 15 % of it free, weighs 8 to 14 kg (common
// practice, no source); and the first thing said is to ask for advice.
func TestThePackingListWarnsFirst(t *testing.T) {
	low, high := moving.Weight(model.MM(380 * 0.85))
	if !near(low, 8, 0.01) || !near(high, 14, 0.01) {
		t.Errorf("a full box is said to weigh %.2f to %.2f kg", low, high)
	}
	text := textOf(t, made(t)(Packing(theatre(t))))
	if !strings.HasPrefix(text, "Packing list\nLocal rules and qualified advice on lifting come first.") || !strings.Contains(text, "none above head height") || !strings.Contains(text, "more than one should lift alone") {
		t.Errorf("it begins %q", text[:200])
	}
}

// Of each load one line says how much it is, and has two squares to tick: packed,
// and there. pdftotext reads the lines.
func TestThePackingListIsReadInLines(t *testing.T) {
	src := theatre(t)
	w := made(t)(Packing(src))
	pdf, _ := pdfOf(t, w)
	lines := regexp.MustCompile(`(?m)^ *binder .* \d+ pockets?$`).FindAllString(proof.Text(t, pdf), -1)
	want := 0
	for _, l := range moving.List(src.Layout).Loads {
		if l.Kind == moving.Binder {
			want++
		}
	}
	if len(lines) != want || want == 0 {
		t.Errorf("%d lines tell of the pockets of %d binders: %q", len(lines), want, lines)
	}
	text := textOf(t, w)
	if n := len(regexp.MustCompile(`(?m)^\[ \] +\[ \] +\S`).FindAllString(text, -1)); n != w.Count || !regexp.MustCompile(`(?m)^packed +there +box +from`).MatchString(text) {
		t.Errorf("%d of %d loads can be ticked:\n%s", n, w.Count, text)
	}
	page := proof.PageAt(t, pdf, 0, 150)
	for _, word := range proof.Words(t, pdf) {
		if word.Text == "binder" && word.Page == 0 { // left of it lie both squares, empty
			for _, x := range []float64{margin, margin + 12} {
				in := proof.Box{X: x - 1, Y: word.Y - 1, W: tickSide + 4, H: tickSide + 3}
				ink, ok := page.Ink(in)
				if !ok || ink.W < tickSide-0.5 || ink.H < tickSide-0.5 || page.Black(ink.X+ink.W/2, ink.Y+ink.H/2) {
					t.Errorf("at %v the ink is %v", in, ink)
				}
			}
			break
		}
	}
}

// One copy by its own value, the others by a group: the column and the sum say
// the same, added up here by hand.
func TestTheInsuranceListAddsUp(t *testing.T) {
	all := entries(4)
	all[2].Value = 30_00
	src := cupboardOf(t, all...)
	text := textOf(t, made(t)(Insurance(src)))
	if !strings.Contains(text, "In all 30.00") || !strings.Contains(text, "3 copies without a value") || strings.Count(text, "  30.00\n") != 1 {
		t.Errorf("one of four is worth 30.00; the list says\n%s", text)
	}
	c, _, err := src.collection().Apply(&model.SetWorth{Of: "Quillon", Each: 12_50}, today)
	if err != nil {
		t.Fatal(err)
	}
	text = textOf(t, made(t)(Insurance(sourceOf(c))))
	if !strings.Contains(text, "In all 67.50") || strings.Contains(text, "without a value") || strings.Count(text, "  12.50\n") != 3 {
		t.Errorf("three more are worth 12.50 each; the list says\n%s", text)
	}
}

// As text, a list goes into a terminal of 80 columns, and nothing on it is lost.
func TestListsAsTextGoIntoATerminal(t *testing.T) {
	squeezed := func(s string) string { return strings.Join(strings.Fields(s), "") }
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[a-zA-Z0-9é連ш-]{1,14}`)
		list := &table{title: "A list", tick: rapid.Bool().Draw(t, "tick")}
		for i := range rapid.IntRange(1, 7).Draw(t, "columns") {
			list.columns = append(list.columns, column{fmt.Sprint("head ", i), 1, rapid.Bool().Draw(t, "right")})
		}
		for range rapid.IntRange(1, 4).Draw(t, "rows") {
			var r row
			for range list.columns {
				r.cells = append(r.cells, strings.Join(rapid.SliceOfN(word, 0, 12).Draw(t, "cell"), " "))
			}
			list.rows = []row{{heading: strings.Join(rapid.SliceOfN(word, 1, 12).Draw(t, "heading"), " ")}, r}
			lines := list.text()
			for _, l := range lines {
				if ansi.StringWidth(l) > terminal {
					t.Fatalf("%q is %d cells wide", l, ansi.StringWidth(l))
				}
			}
			// Column by column, the pieces below each other are the cell.
			wide := list.widths(append([]row{{cells: heads(list)}}, r))
			got := make([]string, len(r.cells))
			for _, l := range list.lines(r, "[ ] ", wide) {
				at := 0
				if list.tick {
					at = 4
				}
				for i, w := range wide {
					got[i] += squeezed(ansi.Cut(l, at, at+w))
					at += w + textGutter
				}
			}
			for i, cell := range r.cells {
				if got[i] != squeezed(cell) {
					t.Fatalf("column %d says %q, want %q\n%s", i, got[i], cell, strings.Join(lines, "\n"))
				}
			}
		}
	})
}

func heads(t *table) (out []string) {
	for _, c := range t.columns {
		out = append(out, c.head)
	}
	return out
}

// What stands in a box though it belongs on a hook is where it stands, and hangs
// nowhere; what waits to be hung does not hang yet.
func TestTheShelfListSaysWhatHangs(t *testing.T) {
	src := theatre(t)
	w, err := ShelfList(src)
	if err != nil {
		t.Fatal(err)
	}
	c, under, heading := src.Layout.Collection(), map[model.Accession]string{}, ""
	headings := regexp.MustCompile(`^(Box |On the to-file pile|What hangs on hooks|To be hung on hooks)`)
	for line := range strings.Lines(textOf(t, w)) {
		if h := headings.FindString(line); h != "" {
			heading = h
		}
		m := regexp.MustCompile(`#(\d+)\s*$`).FindStringSubmatch(line)
		if m == nil {
			continue
		}
		n, _ := strconv.Atoi(m[1])
		a := model.Accession(n)
		if was := under[a]; was != "" {
			t.Errorf("#%d is listed twice: %q and %q", a, was, heading)
		}
		under[a] = heading
		_, stands := c.Standing(a)
		hangs := c.Copy(a).Hook.Row != 0
		if stands != (heading == "Box ") || hangs != (heading == "What hangs on hooks") {
			t.Errorf("#%d (in a box: %v, on a hook: %v) is listed as %q", a, stands, hangs, heading)
		}
	}
	if len(under) != c.Copies().Len() || w.Count != len(under) {
		t.Errorf("%d copies are listed and said to be %d, of %d", len(under), w.Count, c.Copies().Len())
	}
}
