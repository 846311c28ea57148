package paper

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/paper/lettering"
	"example.org/tuckrow/storage/paper/sheet"
)

// Whatever the labels and whatever is on them, text and codes lie within them,
// and what does not go in whole is in the report.
func TestTextNeverLeavesItsLabel(t *testing.T) {
	text := rapid.OneOf(rapid.SampledFrom([]string{"", "Harrow & Pell", "6123 H5", "8-14", "שמלת מעטפת ערב", "فستان سهرة طويل", "連衣裙連衣裙", "फ़्रॉक ड्रेस", "ผู้หญิง"}),
		rapid.StringMatching(`[A-Za-z0-9]{1,30}`), rapid.StringMatching(`([A-Za-z-]{1,12} ){0,12}[A-Za-z]{1,12}`))
	rapid.Check(t, func(t *rapid.T) {
		mm := func(from, to int, what string) model.Length {
			return model.Length(rapid.IntRange(from*100, to*100).Draw(t, what))
		}
		labels := model.LabelSheet{Name: "any", Paper: "A4", Columns: rapid.IntRange(1, 2).Draw(t, "columns"), Rows: rapid.IntRange(1, 3).Draw(t, "rows"),
			Width: mm(1, 100, "width"), Height: mm(1, 90, "height"), Left: mm(0, 9, "left"), Top: mm(0, 20, "top")}
		labels.PitchX, labels.PitchY = labels.Width, labels.Height
		e := model.Entry{Publisher: text.Draw(t, "publisher"), Number: text.Draw(t, "number"), Name: text.Draw(t, "name"), SizeRange: text.Draw(t, "sizes"), Category: text.Draw(t, "category")}
		if e.Publisher == "" || e.Number+e.Name == "" {
			t.Skip("such a pattern is refused")
		}
		c, _, err := model.NewCollection().Apply(&model.Add{Entries: []model.Entry{e}}, today)
		if err != nil {
			t.Fatal(err)
		}
		src := sourceOf(c)
		kind := rapid.SampledFrom([]string{model.Code128, model.CodeQR, model.NoCode}).Draw(t, "code")
		w, err := Envelopes(src, src.row(1), EnvelopeOptions{Labels: labels, Code: kind})
		if err != nil {
			t.Fatal(err)
		}
		var r Report
		var s *sheet.Sheet
		for next := range w.Sheets(&r) {
			if len(next.Places) > 0 {
				s = next
			}
		}
		mustStayWithin(t, s)
		if kind != model.NoCode && (len(s.Codes) == 1) == (r.Uncoded == 1) {
			t.Fatalf("%d codes, and the report says that %d are not there", len(s.Codes), r.Uncoded)
		}
		mustSayAll(t, s, r, newEnvelopeLabel(&src, 1))
	})
}

// mustStayWithin looks at what lies on the first label.
func mustStayWithin(t *rapid.T, s *sheet.Sheet) {
	label := s.Places[0].Rect
	in := func(what string, x, y, w, h float64) {
		const hair = 1e-6
		if x < label.X-hair || y < label.Y-hair || x+w > label.X+label.W+hair || y+h > label.Y+label.H+hair {
			t.Fatalf("%s at %.2f, %.2f of %.2f x %.2f leaves the label %+v", what, x, y, w, h, label)
		}
	}
	for _, x := range labelTexts(s) {
		em := x.Size * lettering.Point
		in(x.Line.Text, x.X, x.Y-x.Line.Above()*em, x.Line.Width*em, (x.Line.Above()+x.Line.Below())*em)
	}
	for _, c := range s.Codes {
		in("the code", c.X, c.Y, c.W, c.H)
	}
}

// labelTexts leaves out what is said beside the rule.
func labelTexts(s *sheet.Sheet) []sheet.Text {
	var out []sheet.Text
	for _, x := range s.Texts {
		if x.Size != 6 || x.Line.Text != "50 mm · print at 100 %, not fitted to the page" {
			out = append(out, x)
		}
	}
	return out
}

// mustSayAll finds every text of the label either on it or in the report.
func mustSayAll(t *rapid.T, s *sheet.Sheet, r Report, l envelopeLabel) {
	said := ""
	for _, x := range labelTexts(s) {
		said += squeezed(x.Line.Text)
	}
	for _, short := range r.Short {
		said += squeezed(short.Text)
	}
	for _, want := range []string{l.publisher, l.number, l.sizes, l.name, l.category, l.accession} {
		if !strings.Contains(said, squeezed(want)) {
			t.Fatalf("%q is neither on the label nor in the report: %q", want, said)
		}
	}
}

// Whatever the names: on every sheet of every kind each text lies on the paper,
// and where there are cards or labels, on one of them.
func TestTextNeverLeavesItsCard(t *testing.T) {
	text := rapid.OneOf(rapid.SampledFrom([]string{"Harrow & Pell", "6123 H5", "8", "שמלת מעטפת ערב", "فستان سهرة طويل", "連衣裙連衣裙", "फ़्रॉक ड्रेस", "ผู้หญิง"}),
		rapid.StringMatching(`[A-Za-z0-9]{1,40}`), rapid.StringMatching(`([A-Za-z-]{1,12} ){0,20}[A-Za-z]{1,12}`))
	rapid.Check(t, func(t *rapid.T) {
		var all []model.Entry
		for range rapid.IntRange(1, 8).Draw(t, "entries") {
			e := model.Entry{Publisher: text.Draw(t, "publisher"), Number: text.Draw(t, "number"), Name: text.Draw(t, "name"), SizeRange: text.Draw(t, "sizes"), Category: text.Draw(t, "category"),
				Sleeve: rapid.SampledFrom([]model.Sleeve{model.SleeveInBinder, model.SleeveMissing}).Draw(t, "sleeve"), Out: &model.Out{Since: today, To: text.Draw(t, "to"), For: text.Draw(t, "for")}}
			all = append(all, e)
		}
		spec := model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: text.Draw(t, "box"), Length: model.MM(90)}}}
		spec.Settings.PublisherCardFrom, spec.Settings.RangeCardEvery = 1, 1
		c := model.NewCollection()
		for _, ch := range []model.Change{&model.SetShelf{Spec: spec}, &model.Add{Entries: all}} {
			next, _, err := c.Apply(ch, today)
			if err != nil {
				t.Skip("such a cupboard is refused")
			}
			c = next
		}
		src := sourceOf(c)
		plan, c5 := src.Layout.Target(), model.Envelopes()[0]
		for _, make := range []func() (*Work, error){
			func() (*Work, error) { return BoxLabels(src, plan) },
			func() (*Work, error) { return Dividers(src, plan, CardOptions{Envelope: c5}) },
			func() (*Work, error) { return OutCards(src, CardOptions{Envelope: c5}) },
			func() (*Work, error) {
				return Binders(src, BinderOptions{Spine: rapid.Float64Range(12, 100).Draw(t, "spine")})
			},
			func() (*Work, error) { return Carry(src) },
			func() (*Work, error) { return ShelfList(src) },
			func() (*Work, error) { return Insurance(src) },
			func() (*Work, error) { return Walk(src) },
		} {
			w, err := make()
			if err != nil {
				t.Fatal(err)
			}
			var r Report
			for s := range w.Sheets(&r) {
				mustLieOnOne(t, w.Title, s)
			}
		}
	})
}

func mustLieOnOne(t *rapid.T, title string, s *sheet.Sheet) {
	places := s.Places
	if len(places) == 0 {
		places = []sheet.Place{{Rect: sheet.Rect{W: s.W, H: s.H}}}
	}
	for _, x := range labelTexts(s) {
		em := x.Size * lettering.Point
		r := sheet.Rect{X: x.X, Y: x.Y - x.Line.Above()*em, W: x.Line.Width * em, H: (x.Line.Above() + x.Line.Below()) * em}
		if x.Down {
			r = sheet.Rect{X: x.X - x.Line.Below()*em, Y: x.Y, W: (x.Line.Above() + x.Line.Below()) * em, H: x.Line.Width * em}
		}
		in := func(p sheet.Place) bool {
			const hair = 1e-6
			return r.X > p.X-hair && r.Y > p.Y-hair && r.X+r.W < p.X+p.W+hair && r.Y+r.H < p.Y+p.H+hair
		}
		if !slices.ContainsFunc(places, in) {
			t.Fatalf("%s: %q at %+v lies on none of %+v", title, x.Line.Text, r, places)
		}
	}
}
