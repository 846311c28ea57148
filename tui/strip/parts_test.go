package strip

import (
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/theme"
)

func TestTitle(t *testing.T) {
	b := full()
	over := box(100).run(4107, 20, 5)
	fresh := box(380)
	fresh.New = true
	for _, c := range []struct {
		h     *builder
		label string
		width int
		want  string
	}{
		{b, "Harrow & Pell 4107 to 4520", 80, "box 2 · Harrow & Pell 4107 to 4520 · 60 envelopes · 23 mm free"},
		{b, "Harrow & Pell 4107 to 4520", 60, "box 2 · Harrow & Pell 4107 to 4… · 60 envelopes · 23 mm free"},
		{b, "Harrow & Pell 4107 to 4520", 40, "box 2 · 60 envelopes · 23 mm free"},
		{b, "Harrow & Pell 4107 to 4520", 20, "box 2 · 23 mm free"},
		{b, "", 80, "box 2 · 60 envelopes · 23 mm free"},
		{b, "", 10, "box 2 · 2…"},
		{b, "x", 0, ""},
		{over, "4107 to 4240", 80, "box 2 · 4107 to 4240 · 20 envelopes · 15 mm too full"},
		{over, "4107 to 4240", 18, "box 2 · 15 mm over"},
		{box(380).run(1, 1, 5), "1", 80, "box 2 · 1 · 1 envelope · 318 mm free"},
		{fresh, "empty", 80, "new box 2 · empty · 323 mm free"},
	} {
		if got := Title(&c.h.Holding, c.label, c.width, nil); got != c.want {
			t.Errorf("Title(%q, %d) = %q, want %q", c.label, c.width, got, c.want)
		}
	}
	if got := Title(nil, "x", 80, nil); got != "" {
		t.Errorf("no holding gives %q", got)
	}
}

func TestLocate(t *testing.T) {
	// Envelopes at 0.5 to 5.5, 5.5 to 10.5 and, behind a card, 11 to 31 mm.
	b := box(380)
	b.run(1, 2, 5, b.card(section, "Quillon")).add("9", "Coat", 20, b.card(section, "Harrow & Pell"))
	for _, c := range []struct {
		at, width float64
		on, next  int
	}{
		{0, 0, -1, 0},
		{0.5, 0, -1, 0},
		{5.5, 0, -1, 1},
		{5, 0, -1, 1}, // within the first, nearer its back
		{2, 0, -1, 0}, // nearer its front
		{10.5, 0, -1, 2},
		{11, 0, -1, 2},
		{31, 0, -1, 3},
		{500, 0, -1, 3},
		{0.5, 5, 0, 0},
		{5.5, 5, 1, 1},
		{11, 20, 2, 2},
		{40, 5, -1, 3}, // there is none
	} {
		m := &Mark{At: model.MM(c.at), Width: model.MM(c.width)}
		if got := locate(&b.Holding, m); got != (spot{c.on, c.next}) {
			t.Errorf("at %v mm, %v thick: %+v, want {%d %d}", c.at, c.width, got, c.on, c.next)
		}
	}
}

func TestWhatGoesFirst(t *testing.T) {
	m := mixed()
	o := Options{Width: 38, Mark: inFront(m, 15)}
	all := Draw(&m.Holding, o)
	// Cards, envelopes, ruler, enlarged part, place, behind, before.
	if len(all) != 7 {
		t.Fatalf("%d lines, want 7:\n%s", len(all), strings.Join(all, "\n"))
	}
	for height, keep := range [][]int{
		1: {4}, 2: {1, 4}, 3: {1, 4, 5}, 4: {1, 4, 5, 6}, 5: {1, 2, 4, 5, 6}, 6: {0, 1, 2, 4, 5, 6}, 7: {0, 1, 2, 3, 4, 5, 6},
	} {
		if height == 0 {
			continue
		}
		var want []string
		for _, i := range keep {
			want = append(want, all[i])
		}
		o.Height = height
		if got := Draw(&m.Holding, o); strings.Join(got, "\n") != strings.Join(want, "\n") {
			t.Errorf("height %d:\n%s\nwant\n%s", height, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}

func TestNothingThereAtAll(t *testing.T) {
	if got := Draw(nil, Options{Width: 80}); got != nil {
		t.Errorf("no holding gives %q", got)
	}
	// A box that is in no shelf, and items without a pattern, come from a
	// cupboard that is being mended.
	h := &ordering.Holding{Items: []ordering.Placed{{Item: &ordering.Item{Copy: 7, Thickness: 500}}}, Load: 500}
	for w := range 100 {
		for _, m := range []*Mark{nil, {}, {At: 400, Width: 1}} {
			Draw(&ordering.Holding{}, Options{Width: w, Mark: m})
			if got := strings.Join(Draw(h, Options{Width: w, Mark: m}), "\n"); m != nil && w > 60 && !strings.Contains(got, "copy 7") {
				t.Errorf("width %d: no name for it in\n%s", w, got)
			}
		}
	}
}

func TestLegendSaysAllSigns(t *testing.T) {
	for _, g := range []theme.Glyphs{theme.UTF8Glyphs, theme.ASCIIGlyphs} {
		th := themed(0, g)
		means := map[string]string{}
		for _, s := range Legend(th) {
			if means[s.Sign] != "" {
				t.Errorf("%q means two things: %s; %s", s.Sign, means[s.Sign], s.Means)
			}
			means[s.Sign] = s.Means
		}
		seen := 0
		for _, p := range pictures() {
			for _, w := range []int{78, 38, 20} {
				d := newDrawing(&p.h.Holding, Options{Width: w, Mark: p.mark, Out: p.out, Theme: th})
				for _, c := range d.body()[:d.n+1] {
					if c.text == "" || c.kind == blank || c.text == sparing {
						continue
					}
					if seen++; means[c.text] == "" {
						t.Errorf("%s at %d: nothing says what %q means", p.name, w, c.text)
					}
				}
			}
		}
		if seen == 0 {
			t.Error("no signs seen")
		}
	}
}

func TestSignsAreOneCell(t *testing.T) {
	for _, g := range []glyphs{glyphsOf(nil), glyphsOf(bare)} {
		for _, s := range []string{
			g.wall, g.backWall, g.side, g.zoomedSide, g.corner, g.backCorner, g.step, g.zoomedStep, g.limit, g.card, g.cardAndMore,
			g.one, g.two, g.many, g.body, g.out, g.spare, g.pointer, g.marked, g.openLeft, g.openRight, g.in, g.more, g.dot,
		} {
			if cells.Width(s) != 1 || g.ascii && cells.ASCII(s) != s {
				t.Errorf("%q: %d cells, want 1, ASCII only: %v", s, cells.Width(s), g.ascii)
			}
		}
	}
}

func BenchmarkDraw(b *testing.B) {
	crowded := box(1200)
	for i := range 10 {
		crowded.run(1000+i*500, 20, 5, crowded.card(section, "Harrow & Pell"))
	}
	for _, c := range []struct {
		name string
		o    Options
	}{
		{"plain", Options{Width: 78}},
		{"mark", Options{Width: 78, Mark: inFront(crowded, 99)}},
		{"coloured", Options{Width: 78, Mark: onCopy(crowded, 99), Theme: coloured, Out: outCopies(7, 50)}},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Draw(&crowded.Holding, c.o)
			}
		})
	}
}
