package strip

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/theme"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
	"pgregory.net/rapid"
)

func themed(p termenv.Profile, g theme.Glyphs) *theme.Theme {
	r := theme.Renderer(io.Discard, func(string) string { return "" }, true)
	r.SetColorProfile(p)
	t := theme.New(r)
	t.Glyphs = g
	return t
}

// inInches is a theme that shows lengths in inches.
func inInches() *theme.Theme {
	t := *coloured
	t.Units = model.Inches
	return &t
}

var (
	coloured = themed(termenv.TrueColor, theme.UTF8Glyphs)
	bare     = themed(termenv.Ascii, theme.ASCIIGlyphs)
)

// texts are what people and other scripts put on a card or an envelope.
var texts = []string{
	"", "6123", "K 6123 A", "Harrow & Pell", "Harrow & Pell (continued)", "和服の型紙", "سروال واسع", "\u202eabc",
	"👩‍👩‍👧 dress", "🇩🇪", "e\u0301te\u0301", "\u0301", "\u200d", "\ufe0f" + strings.Repeat("wide ", 40), "a\tb\nc", "\x1b[31mred\x1b[m", "\xff\xfe", strings.Repeat("long ", 40),
}

// anyBox draws a box with anything in it, by the builder's own sums.
func anyBox(t *rapid.T) *builder {
	b := box(0)
	b.Box.Length = model.Length(rapid.IntRange(0, 200_000).Draw(t, "length"))
	b.Usable = b.Box.Usable(model.DefaultSettings())
	thickest := rapid.SampledFrom([]float64{2, 5, 20, 200}).Draw(t, "thickest")
	for i := range rapid.IntRange(0, 80).Draw(t, "envelopes") {
		var cards []ordering.Card
		if rapid.IntRange(0, 5).Draw(t, "cards") == 0 {
			for range rapid.IntRange(1, 3).Draw(t, "how many") {
				kind := rapid.SampledFrom([]ordering.CardKind{section, continued, publisher, ranged}).Draw(t, "kind")
				cards = append(cards, b.card(kind, rapid.SampledFrom(texts).Draw(t, "text")))
			}
		}
		number := fmt.Sprint(1000 + i)
		if rapid.IntRange(0, 5).Draw(t, "odd") == 0 {
			number = rapid.SampledFrom(texts).Draw(t, "number")
		}
		b.add(number, rapid.SampledFrom(texts).Draw(t, "title"), rapid.Float64Range(0, thickest).Draw(t, "thickness"), cards...)
	}
	return b
}

// anyMark is a mark where a screen would put it, or anywhere.
func anyMark(t *rapid.T, b *builder) *Mark {
	choice := rapid.IntRange(0, 3).Draw(t, "mark")
	switch {
	case choice == 0:
		return nil
	case choice == 1 || len(b.Items) == 0:
		return &Mark{At: model.Length(rapid.Int64Range(-10_000, 300_000).Draw(t, "at")), Label: rapid.SampledFrom(texts).Draw(t, "label")}
	case choice == 2:
		return inFront(b, rapid.IntRange(0, len(b.Items)).Draw(t, "gap"))
	}
	return onCopy(b, rapid.IntRange(0, len(b.Items)-1).Draw(t, "envelope"))
}

func anyOptions(t *rapid.T, b *builder) Options {
	return Options{
		Width:  rapid.IntRange(-1, 120).Draw(t, "width"),
		Height: rapid.SampledFrom([]int{0, 0, 1, 2, 3, 4, 5, 6, 7}).Draw(t, "height"),
		Mark:   anyMark(t, b),
		Theme:  rapid.SampledFrom([]*theme.Theme{nil, coloured, bare, inInches()}).Draw(t, "theme"),
		Out:    func(a model.Accession) bool { return a%7 == 3 },
	}
}

func TestFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBox(t)
		o := anyOptions(t, b)
		lines := Draw(&b.Holding, o)
		most := 8
		if o.Mark == nil {
			most = 4
		}
		if o.Height > 0 {
			most = min(most, o.Height)
		}
		if len(lines) > most || (len(lines) == 0) != (o.Width <= 0) {
			t.Fatalf("%d lines at width %d, want at most %d", len(lines), o.Width, most)
		}
		for _, line := range append(lines, Title(&b.Holding, rapid.SampledFrom(texts).Draw(t, "label"), o.Width, o.Theme)) {
			if w := cells.Width(line); w > max(0, o.Width) {
				t.Errorf("%d cells, told %d: %q", w, o.Width, line)
			}
			if strings.ContainsAny(ansi.Strip(line), "\n\t\x1b") {
				t.Errorf("control characters in %q", line)
			}
		}
		if o.Theme == bare {
			for _, line := range lines {
				if i := strings.IndexFunc(line, func(r rune) bool { return r > '~' }); i >= 0 {
					t.Errorf("not ASCII at byte %d: %q", i, line)
				}
			}
		}
	})
}

func TestColourSaysNothingAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBox(t)
		o := anyOptions(t, b)
		o.Theme = nil
		want := Draw(&b.Holding, o)
		o.Theme = coloured
		for i, line := range Draw(&b.Holding, o) {
			if got := ansi.Strip(line); got != want[i] {
				t.Errorf("line %d without its colours is %q, want %q", i, got, want[i])
			}
		}
	})
}

func TestEnvelopesAreTrueToScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBox(t)
		o := anyOptions(t, b)
		o.Width = rapid.IntRange(3, 120).Draw(t, "wide enough")
		d := newDrawing(&b.Holding, o)
		taken := 0
		for _, c := range d.body()[1 : 1+d.n] {
			if c.kind == tick || c.kind == card || c.kind == mark {
				taken++
			}
		}
		want := min(1, b.Load.MM()/d.length.MM()) * float64(d.n)
		if math.Abs(float64(taken)-want) > 1 {
			t.Errorf("%d cells of %d for %v of %v, want %.2f", taken, d.n, b.Load, d.length, want)
		}
	})
}

// numbersOf are the numbers of a ruler by the column that they begin in.
func numbersOf(c canvas) map[int]string {
	out := map[int]string{}
	for i, x := range c {
		if x.kind == quiet && strings.ContainsAny(x.text, "0123456789") {
			out[i] = x.text
		}
	}
	return out
}

// Wherever the mark goes, the numbers of the ruler stand where they stand
// without one. Only the number that the mark falls on is not seen.
func TestRulerNumbersStay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBox(t)
		o := anyOptions(t, b)
		o.Width, o.Mark = rapid.IntRange(3, 120).Draw(t, "wide enough"), nil
		want := numbersOf(newDrawing(&b.Holding, o).ruler())
		o.Mark = &Mark{At: model.Length(rapid.Int64Range(-10_000, 300_000).Draw(t, "at"))}
		d := newDrawing(&b.Holding, o)
		got := numbersOf(d.ruler())
		for at, number := range want {
			covered := d.column >= at && d.column < at+cells.Width(number)
			if _, there := got[at]; there == covered {
				t.Errorf("%q in column %d is there: %v, with the mark in column %d", number, at, there, d.column)
			}
		}
		for at, number := range got {
			if want[at] != number {
				t.Errorf("%q stands in column %d with the mark in column %d, and not without", number, at, d.column)
			}
		}
	})
}

// A ruler in inches counts inches: the number n stands right behind the cell
// that n times 25.4 mm falls in (NBS, from 1 July 1959).
func TestRulerInInches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := box(rapid.Float64Range(100, 2000).Draw(t, "length"))
		o := Options{Width: rapid.IntRange(40, 120).Draw(t, "width"), Theme: inInches()}
		d := newDrawing(&b.Holding, o)
		seen := 0
		for at, text := range numbersOf(d.ruler()) {
			var n int
			if _, err := fmt.Sscanf(text, "%d", &n); err != nil || strings.Contains(text, `"`) && n > 0 {
				continue // the length of the box
			}
			seen++
			mm := float64(n) * 25.4 * float64(d.n) / d.length.MM()
			if tick := float64(at - 2); math.Abs(tick-mm) > 1 && math.Abs(tick+1+float64(len(text))-mm) > 1 {
				t.Errorf("%s stands in column %d, its inch in cell %.1f of %d", text, at, mm, d.n)
			}
		}
		if seen < 2 {
			t.Errorf("%d numbers on a ruler of %v in %d cells", seen, d.length, d.n)
		}
		if end, title := `"`, Title(&b.Holding, "", o.Width, o.Theme); !strings.Contains(title, end+" free") {
			t.Errorf("the title is %q, want the room in inches", title)
		}
	})
}

// find is where a sign stands in a line, or -1.
func find(c canvas, sign string) int {
	return slices.IndexFunc(c, func(x cell) bool { return x.text == sign })
}

func TestMarkStandsWhereItIs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBox(t)
		o := anyOptions(t, b)
		o.Width = rapid.IntRange(3, 120).Draw(t, "wide enough")
		if o.Mark == nil {
			o.Mark = &Mark{}
		}
		d := newDrawing(&b.Holding, o)
		at := find(d.ruler(), d.g.pointer)
		share := min(max(0, o.Mark.At.MM()/d.length.MM()), 1) * float64(d.n)
		if math.Abs(float64(at-1)-share) > 1 {
			t.Errorf("the mark is in column %d, want %.2f", at, share+1)
		}
		if !d.zoomed || d.spot.on >= 0 {
			return
		}
		// Enlarged, it may be off by a little, or so far that a neighbour is
		// seen between it and a wall.
		below := find(d.closeUp(), d.g.in)
		if off := below - at; off > max(slack, leastSide-at) || -off > max(slack, leastSide-(o.Width-1-at)) {
			t.Errorf("the mark is in column %d, enlarged in %d, of %d", at, below, o.Width)
		}
	})
}

func TestEnlargedPartKeepsTheOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := box(rapid.Float64Range(150, 2000).Draw(t, "length"))
		n := rapid.IntRange(2, 60).Draw(t, "envelopes")
		for i := range n {
			b.add(fmt.Sprint(1000+i), "Cape", rapid.SampledFrom([]float64{4, 5, 7, 10, 20}).Draw(t, "thickness"))
		}
		at := rapid.IntRange(1, n-1).Draw(t, "between")
		o := Options{Width: rapid.IntRange(40, 120).Draw(t, "width"), Mark: inFront(b, at)}
		d := newDrawing(&b.Holding, o)
		// The wall may stand before the number of an envelope that sticks out.
		hidden := 0
		if b.Load > b.Box.Length {
			hidden = 1
		}
		line, last, seen := d.closeUp(), -1, 0
		for _, c := range line {
			if c.text == d.g.in && last >= 0 {
				if last >= at || last < at-1-hidden {
					t.Fatalf("%d stands before the gap, want %d: %s", 1000+last, 1000+at-1, line.text(nil))
				}
			}
			var number int
			if _, err := fmt.Sscan(c.text, &number); err != nil || number < 1000 {
				continue
			}
			if number -= 1000; last >= 0 && (number <= last || number > last+1+hidden) {
				t.Fatalf("%d stands behind %d: %s", 1000+number, 1000+last, line.text(nil))
			}
			last = number
			seen++
		}
		if d.zoomed && seen == 0 {
			t.Fatalf("no numbers at all: %s", line.text(nil))
		}
		said := strings.Join(Draw(&b.Holding, o), "\n")
		for _, want := range []string{
			fmt.Sprintf("behind %d Cape", 1000+at-1), fmt.Sprintf("before %d Cape", 1000+at), o.Mark.At.Whole() + " from the front",
		} {
			if !strings.Contains(said, want) {
				t.Errorf("%q is not said:\n%s", want, said)
			}
		}
	})
}
