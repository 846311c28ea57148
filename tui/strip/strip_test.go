package strip

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/theme"
)

var update = flag.Bool("update", false, "write the pictures anew")

// builder fills a box from the front.
type builder struct{ ordering.Holding }

func box(mm float64) *builder {
	b := &builder{}
	b.Box = model.Box{ID: 1, Name: "2", Length: model.MM(mm)}
	b.Usable = b.Box.Usable(model.DefaultSettings())
	return b
}

// card puts a divider before what is added next.
func (b *builder) card(kind ordering.CardKind, text string) ordering.Card {
	return ordering.Card{Kind: kind, Text: text, Thickness: model.DefaultSettings().Divider}
}

// add puts an envelope in, of a thickness, with cards before it.
func (b *builder) add(number, title string, mm float64, cards ...ordering.Card) *builder {
	p := ordering.Placed{Item: &ordering.Item{
		Copy: model.Accession(len(b.Items) + 1), Thickness: model.MM(mm), Pattern: &model.Pattern{Number: number, Name: title},
	}, Cards: cards}
	for i := range p.Cards {
		p.Cards[i].Before = p.Copy
		b.Load += p.Cards[i].Thickness
	}
	p.Front = b.Load
	b.Load += p.Thickness
	b.Items = append(b.Items, p)
	return b
}

// run adds n envelopes with rising numbers.
func (b *builder) run(from, n int, mm float64, cards ...ordering.Card) *builder {
	names := []string{"Wrap skirt", "Shift dress", "Boxy coat", "Smock", "Pleated trousers"}
	for i := range n {
		b.add(fmt.Sprint(from+i*7), names[i%len(names)], mm, cards...)
		cards = nil
	}
	return b
}

const (
	section   = ordering.SectionCard
	continued = ordering.ContinuedCard
	publisher = ordering.PublisherCard
	ranged    = ordering.RangeCard
)

// full is a box of 60 envelopes in one section.
func full() *builder {
	b := box(380)
	return b.run(4107, 60, 5, b.card(section, "Harrow & Pell"))
}

// mixed is a box of sections and thicknesses as one finds them.
func mixed() *builder {
	b := box(380)
	b.run(4107, 14, 5, b.card(section, "Harrow & Pell"))
	b.run(4400, 4, 10).run(4500, 3, 20)
	b.run(11, 6, 5, b.card(section, "Quillon"))
	return b.run(101, 4, 10, b.card(section, "Small houses"))
}

// onCopy is a mark on an envelope, inFront one on the gap before it.
func onCopy(b *builder, i int) *Mark {
	return &Mark{At: b.Items[i].Front, Width: b.Items[i].Thickness}
}

func inFront(b *builder, i int) *Mark {
	if i == len(b.Items) {
		return &Mark{At: b.Load}
	}
	return &Mark{At: b.Items[i].Front}
}

func outCopies(list ...model.Accession) func(model.Accession) bool {
	return func(a model.Accession) bool {
		for _, b := range list {
			if a == b {
				return true
			}
		}
		return false
	}
}

// picture is one of the pictures kept in testdata.
type picture struct {
	name  string
	h     *builder
	mark  *Mark
	out   func(model.Accession) bool
	theme *theme.Theme
}

func pictures() []picture {
	f, m := full(), mixed()
	b := box(380)
	cont := box(380)
	cont.run(5203, 24, 5, cont.card(continued, "Harrow & Pell (continued)"))
	cont.run(12, 9, 5, cont.card(section, "Quillon"))
	over := box(380)
	over.run(4107, 70, 5, over.card(section, "Harrow & Pell"))
	beyond := box(380)
	beyond.run(4107, 85, 5, beyond.card(section, "Harrow & Pell"))
	wide := box(380)
	wide.run(4107, 10, 5, wide.card(section, "和服の型紙 大人"))
	wide.add("", "あずま袋", 20).add("", "سروال واسع", 10)
	wide.run(31, 8, 10, wide.card(section, "أنماط خياطة"))
	deep := box(1000)
	deep.run(1003, 150, 5, deep.card(section, "Harrow & Pell"))
	ranges := box(380)
	ranges.run(4107, 10, 5, ranges.card(section, "Harrow & Pell"))
	for i := range 4 {
		ranges.run(5000+i*1000, 10, 5, ranges.card(ranged, fmt.Sprint(5000+i*1000)))
	}
	all := box(380)
	all.run(5107, 5, 4, all.card(continued, "Small houses: Ostrimel (continued)"))
	all.run(6003, 5, 4, all.card(ranged, "6000")).run(6503, 6, 4, all.card(ranged, "6500"))
	for i, name := range []string{"Quillon", "Tallowby"} {
		all.run(101, 6, 4, all.card(publisher, name))
		all.run(503, 6, 4, all.card(ranged, "500")).run(1001, 2+4*i, 4, all.card(ranged, "1000"))
	}
	all.run(12, 9, 5, all.card(section, "Inherited"), all.card(publisher, "Zz Umbrow"))
	few := box(380)
	few.run(4107, 3, 5, few.card(section, "Harrow & Pell")).run(13, 2, 10, few.card(section, "Quillon"))
	ascii := theme.New(theme.Renderer(os.Stdout, func(string) string { return "" }, true))
	ascii.Glyphs = theme.ASCIIGlyphs
	return []picture{
		{"empty", b, nil, nil, nil},
		{"empty_gap", b, &Mark{}, nil, nil},
		{"one", box(380).add("6123", "Wrap dress", 5, b.card(section, "Harrow & Pell")), nil, nil, nil},
		{"few", few, nil, nil, nil},
		{"full", f, nil, nil, nil},
		{"mixed", m, nil, nil, nil},
		{"ranges", ranges, nil, nil, nil},
		{"all_cards", all, nil, nil, nil},
		{"continued", cont, inFront(cont, 24), nil, nil},
		{"card_behind", cont, &Mark{At: cont.Items[23].Front + cont.Items[23].Thickness}, nil, nil},
		{"too_full", over, nil, nil, nil},
		{"beyond", beyond, inFront(beyond, 80), nil, nil},
		{"gap_front", m, inFront(m, 0), nil, nil},
		{"gap_middle", m, inFront(m, 15), nil, nil},
		{"gap_end", m, inFront(m, len(m.Items)), nil, nil},
		{"gap_very_end", over, inFront(over, len(over.Items)), nil, nil},
		{"on_thin", m, onCopy(m, 6), nil, nil},
		{"on_thick", m, onCopy(m, 19), nil, nil},
		{"on_first", m, onCopy(m, 0), nil, nil},
		{"on_last", m, onCopy(m, len(m.Items)-1), nil, nil},
		{"out", m, onCopy(m, 9), outCopies(10, 20), nil},
		{"scripts", wide, onCopy(wide, 10), nil, nil},
		{"deep", deep, inFront(deep, 77), outCopies(40), nil},
		{"ascii_gap", m, inFront(m, 15), outCopies(20), ascii},
		{"ascii_on", wide, onCopy(wide, 11), nil, ascii},
	}
}

func TestPictures(t *testing.T) {
	for _, w := range []int{78, 38, 20} {
		var b strings.Builder
		for _, p := range pictures() {
			fmt.Fprintf(&b, "-- %s --\n%s\n", p.name, Title(&p.h.Holding, "Harrow & Pell 4107 to 6890", w, nil))
			o := Options{Width: w, Mark: p.mark, Theme: p.theme, Out: p.out}
			b.WriteString(strings.Join(Draw(&p.h.Holding, o), "\n") + "\n\n")
		}
		file := filepath.Join("testdata", fmt.Sprintf("%d.golden", w))
		if *update {
			if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		got := strings.Split(b.String(), "\n")
		for i, line := range strings.Split(string(want), "\n") {
			if i >= len(got) || got[i] != line {
				t.Errorf("%s, line %d:\n got %q\nwant %q", file, i+1, append(got, "")[min(i, len(got))], line)
				break
			}
		}
	}
}
