package paper

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/storage/paper/lettering"
	"example.org/tuckrow/storage/paper/proof"
	"example.org/tuckrow/storage/paper/sheet"
)

// made gives a work that could be made.
func made(t testing.TB) func(*Work, error) *Work {
	t.Helper()
	return func(w *Work, err error) *Work {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return w
	}
}

func TestASheetThatIsUsedInPartIsBegunWhereLabelsAreLeft(t *testing.T) {
	src := theatre(t)
	labels := model.LabelSheets()[0]
	for start, sheets := range map[int]int{1: 1, 2: 2, 21: 2} {
		pdf, r := pdfOf(t, made(t)(Envelopes(src, src.row(21), EnvelopeOptions{Labels: labels, Start: start, Code: model.NoCode})))
		first := newEnvelopeLabel(&src, src.row(1)[0])
		at := -1
		for _, w := range proof.Words(t, pdf) {
			if w.Page == 0 && w.Text == first.number && at < 0 {
				at = placeOf(labels, w)
			}
		}
		if r.Sheets != sheets || at != start-1 {
			t.Errorf("begun at %d: %d sheets, the first label in place %d", start, r.Sheets, at+1)
		}
	}
	for _, start := range []int{-1, 22} {
		if _, err := Envelopes(src, src.row(1), EnvelopeOptions{Labels: labels, Start: start}); err == nil || !strings.Contains(err.Error(), "labels 1 to 21") {
			t.Errorf("begun at %d: %v", start, err)
		}
	}
}

// A label sheet that leaves no room for the rule begins with a trial sheet that
// has it.
func TestLabelsToTheEdgeBeginWithATrialSheet(t *testing.T) {
	src := theatre(t)
	edge := model.LabelSheet{Name: "edge", Paper: "A4", Columns: 3, Rows: 9, Width: model.MM(70), Height: model.MM(33), PitchX: model.MM(70), PitchY: model.MM(33)}
	pdf, r := pdfOf(t, made(t)(Envelopes(src, src.row(27), EnvelopeOptions{Labels: edge, Code: model.NoCode})))
	if r.Sheets != 2 {
		t.Fatalf("%d sheets, want the trial sheet and one of labels", r.Sheets)
	}
	mustBeRuled(t, 0, proof.Pages(t, pdf, 150)[0], proof.Words(t, pdf))
}

// What is too long is set smaller, then shortened; then the whole of it stands
// in the index, and the report names it. What no font has is named too.
func TestWhatDoesNotGoInStandsInTheIndex(t *testing.T) {
	long := strings.TrimSpace(strings.Repeat("Half-lined swagger coat with a shawl collar and ", 6))
	src := cupboardOf(t, entry("Quillon", "12", long), entry("Quillon", "13", "Cape 🧵"))
	pdf, r := pdfOf(t, made(t)(Envelopes(src, src.row(2), EnvelopeOptions{Labels: model.LabelSheets()[3], Code: model.NoCode})))
	if len(r.Short) != 1 || r.Short[0].Text != long || r.Sheets != 2 || r.Missing != "🧵" {
		t.Errorf("%+v", r)
	}
	label, index := "", ""
	for _, w := range proof.Words(t, pdf) {
		if w.Page == 0 {
			label += w.Text + " "
		} else {
			index += w.Text + " "
		}
	}
	if !strings.Contains(label, "…") || strings.Contains(label, long) || !strings.Contains(strings.ReplaceAll(index, " ", ""), strings.ReplaceAll(long, " ", "")) {
		t.Errorf("the label says %q, the index %q", label, index)
	}
}

// What has no number has its sizes beside the name on a card, and not in bold where
// others have a number.
func TestSizesDoNotStandWhereANumberWould(t *testing.T) {
	for number, want := range map[string]string{"": "Apron  10-16", "6123": "6123  10-16"} {
		p, s := &press{set: lettering.New(), report: &Report{}}, sheet.New(210, 297)
		p.standsFor(s, "a card", &envelopeLabel{publisher: "Quillon", number: number, name: "Apron", sizes: "10-16"}, sheet.Rect{W: 90, H: 60})
		var lines []string
		for _, text := range s.Texts {
			lines = append(lines, text.Line.Text)
		}
		if !slices.ContainsFunc(lines, func(l string) bool { return squeezed(l) == squeezed(want) }) {
			t.Errorf("with the number %q the card says %q, want %q in one line", number, lines, want)
		}
	}
}

// Each label of the tape is as long as its letters, added up by another reader
// of the font, and 8 mm more; and never longer than asked for.
func TestTapeLabelsAreAsLongAsTheirText(t *testing.T) {
	src := theatre(t)
	w := made(t)(BoxLabels(src, src.Layout.Target()))
	other, err := sfnt.Parse(lettering.Faces(lettering.Bold)[0].Data())
	if err != nil {
		t.Fatal(err)
	}
	var buf sfnt.Buffer
	for _, high := range []float64{6, 12, 24} {
		var b bytes.Buffer
		if _, err := w.Tape(&b, TapeOptions{Height: high}); err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(strings.TrimRight(b.String(), "\n"), "\n")
		if len(lines) != w.Count {
			t.Errorf("%d lines for %d labels", len(lines), w.Count)
		}
		for _, l := range lines {
			mm, text, _ := strings.Cut(l, " mm\t")
			got, err := strconv.Atoi(mm)
			if err != nil {
				t.Fatalf("%q: %v", l, err)
			}
			want := 8.0
			for _, r := range text {
				g, _ := other.GlyphIndex(&buf, r)
				a, _ := other.GlyphAdvance(&buf, g, fixed.I(1000), font.HintingNone)
				want += float64(a) / 64 / 1000 * high * 0.75 / 1.2
			}
			// Kerning brings some letters nearer: by less than a fiftieth.
			if float64(got) > want+1 || float64(got) < want*0.98 {
				t.Errorf("%v mm high: %q is %d mm long, its letters add up to %.1f", high, text, got, want)
			}
		}
	}
	var b bytes.Buffer
	r, err := w.Tape(&b, TapeOptions{Height: 12, Most: 60})
	if err != nil || len(r.Short) == 0 {
		t.Errorf("nothing was shortened to 60 mm: %v", err)
	}
	for l := range strings.Lines(b.String()) {
		if mm, _, _ := strings.Cut(l, " "); len(mm) > 2 || mm > "60" {
			t.Errorf("%q is longer than 60 mm", l)
		}
	}
	if _, err := made(t)(ShelfList(src)).Tape(&b, TapeOptions{Height: 12}); err == nil {
		t.Error("a shelf list goes on a tape")
	}
}

// Nothing on a box label tells how many there are or how full the box is: filing
// one more between first and last leaves it true to the letter.
func TestNoLabelGoesStaleWhenOneMoreIsFiled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := entries(rapid.IntRange(3, 30).Draw(t, "patterns"))
		between := 100 + rapid.IntRange(1, 10*(len(all)-1)-1).Draw(t, "number")
		labels := func(more ...model.Entry) []string {
			c := model.NewCollection()
			spec := model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: "1", Length: model.MM(900)}}}
			for _, ch := range []model.Change{&model.SetShelf{Spec: spec}, &model.Add{Entries: append(slices.Clone(all), more...)}} {
				next, _, err := c.Apply(ch, today)
				if err != nil {
					t.Fatal(err)
				}
				c = next
			}
			src := Source{Layout: ordering.Arrange(c), Paper: a4, Date: today}
			w, err := BoxLabels(src, src.Layout.Target())
			if err != nil {
				t.Fatal(err)
			}
			return w.text()
		}
		if was, is := labels(), labels(entry("Quillon", fmt.Sprint(between), "Late dress")); !slices.Equal(was, is) {
			t.Fatalf("it was %q, and with one more it is %q", was, is)
		}
	})
}

var position = regexp.MustCompile(`(?i)place|from the front|\bmm\b|envelopes|free`)

func TestNoLabelCarriesAPosition(t *testing.T) {
	for _, k := range kinds(t, a4) {
		if k.work.labels == nil {
			continue
		}
		for _, l := range append(k.work.labels(), k.work.text()...) {
			if position.MatchString(l) && k.name != "index" {
				t.Errorf("%s says %q", k.name, l)
			}
		}
	}
}

func TestOnlyWhatChangedIsPrinted(t *testing.T) {
	src := theatre(t)
	src.OnlyNew = true
	plan := src.Layout.Split(ordering.Fewest)
	redo := src.Layout.Redo(plan)

	boxes := made(t)(BoxLabels(src, plan))
	if len(redo.Labels) == 0 || boxes.Count != len(redo.Labels) || len(boxes.Remove) != 3 {
		t.Errorf("%d box labels for %d that change; take off %q", boxes.Count, len(redo.Labels), boxes.Remove)
	}
	for _, l := range redo.Labels {
		if !strings.Contains(textOf(t, boxes), l.Is) {
			t.Errorf("the label %q is not printed", l.Is)
		}
	}
	cards := made(t)(Dividers(src, plan, CardOptions{Envelope: model.Envelopes()[0]}))
	printed := 0
	for _, c := range redo.Cards {
		if c.From == "" {
			printed++
		}
	}
	if cards.Count != printed || len(cards.Move) != len(redo.Cards)-printed || printed == len(redo.Cards) || len(cards.Remove) != len(redo.Spare) || cards.Count == 0 {
		t.Errorf("%d cards printed and %d moved of %d; %d taken away of %d", cards.Count, len(cards.Move), len(redo.Cards), len(cards.Remove), len(redo.Spare))
	}
	envelopes := made(t)(Envelopes(src, src.row(1000), EnvelopeOptions{Labels: model.LabelSheets()[0], Code: model.NoCode}))
	waiting := 0
	for _, it := range src.Layout.Row() {
		if !src.collection().Copy(it.Copy).Enveloped {
			waiting++
		}
	}
	if envelopes.Count != waiting || waiting == 0 {
		t.Errorf("%d envelope labels for %d copies without an envelope", envelopes.Count, waiting)
	}
}

// When a refiling is done its labels and cards are new until they are noted as
// made. Against the cupboard of before they are then still, and are the same that
// were new before.
func TestWhatChangedSinceAnExport(t *testing.T) {
	before := theatre(t)
	before.OnlyNew = true
	moves := before.Layout.Refile()
	wanted := made(t)(BoxLabels(before, moves.Plan))

	c, _, err := before.collection().Apply(moves.Done(), today)
	if err != nil {
		t.Fatal(err)
	}
	after := Source{Layout: ordering.Arrange(c), Paper: a4, Date: today, OnlyNew: true}
	if w := made(t)(BoxLabels(after, after.Layout.Target())); textOf(t, w) != textOf(t, wanted) || !slices.Equal(w.Remove, wanted.Remove) {
		t.Errorf("when the refiling is done %s\nand %q, want %s\nand %q", textOf(t, w), w.Remove, textOf(t, wanted), wanted.Remove)
	}
	if c, _, err = c.Apply(after.Layout.SignsMade(), today); err != nil {
		t.Fatal(err)
	}
	after.Layout = ordering.Arrange(c)
	if w, err := BoxLabels(after, after.Layout.Target()); err == nil {
		t.Errorf("when they are made %d box labels are new", w.Count)
	}
	if w, err := Dividers(after, after.Layout.Target(), CardOptions{Envelope: model.Envelopes()[0]}); err == nil && w.Count > 0 {
		t.Errorf("when they are made %d cards are new", w.Count)
	}
	if _, err := Dummies(after, CardOptions{Envelope: model.Envelopes()[0]}); err == nil || !strings.Contains(err.Error(), "each stands in its place already") {
		t.Errorf("of dummies that all stand it is said %v", err)
	}
	after.Before = before.Layout
	got := made(t)(BoxLabels(after, after.Layout.Target()))
	if textOf(t, got) != textOf(t, wanted) || !slices.Equal(got.Remove, wanted.Remove) {
		t.Errorf("since the export %s\nand %q, want %s\nand %q", textOf(t, got), got.Remove, textOf(t, wanted), wanted.Remove)
	}
	if w, err := Envelopes(after, after.row(1000), EnvelopeOptions{Labels: model.LabelSheets()[0], Code: model.NoCode}); err == nil {
		t.Errorf("%d envelope labels are new, and none was altered", w.Count)
	}
}

func TestDividersSayWhatTheyPart(t *testing.T) {
	src := theatre(t)
	w := made(t)(Dividers(src, src.Layout.Target(), CardOptions{Envelope: model.Envelopes()[0]}))
	text := textOf(t, w)
	for _, want := range []string{"Harrow & Pell\n", "Harrow & Pell  4700\n", "continued  ", "Small houses  Hask & Daughter\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is on no card of\n%s", want, text)
		}
	}
	if strings.Contains(text, "(continued)") {
		t.Error("a card says continued twice")
	}
}

// The tab stands above the envelopes, and of cards one behind the other none
// hides another.
func TestTabsAreStaggered(t *testing.T) {
	cards := make([]divider, 12)
	for i := range cards {
		cards[i].kind = ordering.RangeCard
	}
	cards[0].kind, cards[5].kind = ordering.SectionCard, ordering.ContinuedCard
	stagger(cards)
	for i := 1; i < len(cards); i++ {
		if !cards[i].heads() && (cards[i].slot < head || cards[i].slot >= slots || !cards[i-1].heads() && cards[i].slot == cards[i-1].slot) {
			t.Errorf("card %d has its tab at %d, the one before at %d", i, cards[i].slot, cards[i-1].slot)
		}
	}
	for _, e := range model.Envelopes() {
		if _, h := (CardOptions{Envelope: e}).size(); h-e.Width.MM() < 15 {
			t.Errorf("a card for %s stands %v mm above it", e.Name, h-e.Width.MM())
		}
	}
}

func TestWhatCannotBePrintedSaysWhatCan(t *testing.T) {
	src, empty := theatre(t), cupboardOf(t, entry("Quillon", "1", "Cape"))
	c4, c5 := model.Envelopes()[2], model.Envelopes()[0]
	for _, x := range []struct {
		says string
		make func() (*Work, error)
	}{
		{"does not go on A4; use --paper A3", func() (*Work, error) { return Dividers(src, src.Layout.Target(), CardOptions{Envelope: c4}) }},
		{"nothing is noted as out", func() (*Work, error) { return OutCards(empty, CardOptions{Envelope: c5}) }},
		{"a spine of 5 mm", func() (*Work, error) { return Binders(src, BinderOptions{Spine: 5}) }},
		{`"lids" is no part of a binder`, func() (*Work, error) { return Binders(src, BinderOptions{Spine: 50, Parts: []string{"lids"}}) }},
		{"no sleeve is noted as in a binder", func() (*Work, error) { return Binders(empty, BinderOptions{Spine: 50}) }},
		{"none was chosen", func() (*Work, error) { return Envelopes(src, nil, EnvelopeOptions{Labels: model.LabelSheets()[0]}) }},
	} {
		if _, err := x.make(); err == nil || !strings.Contains(err.Error(), x.says) || !model.IsInput(err) {
			t.Errorf("%v, want %q", err, x.says)
		}
	}
}
