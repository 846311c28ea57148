package paper

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/sample"
)

var update = flag.Bool("update", false, "rewrite the pictures that are kept")

const today = model.Date("2026-01-10")

var a4, letter = model.Papers()[0], model.Papers()[1]

// theatre is the demo cupboard.
func theatre(t testing.TB) Source {
	t.Helper()
	c, err := sample.Demo().Collection()
	if err != nil {
		t.Fatal(err)
	}
	return sourceOf(c)
}

// cupboardOf is a cupboard with these entries, in one box 400 mm long if they
// say so.
func cupboardOf(t testing.TB, entries ...model.Entry) Source {
	t.Helper()
	c := model.NewCollection()
	spec := model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: "1", Length: model.MM(400)}}}
	for _, ch := range []model.Change{&model.SetShelf{Spec: spec}, &model.Add{Entries: entries}} {
		next, _, err := c.Apply(ch, today)
		if err != nil {
			t.Fatal(err)
		}
		c = next
	}
	return sourceOf(c)
}

func (s *Source) row(n int) []model.Accession {
	var out []model.Accession
	for _, it := range s.Layout.Row() {
		if len(out) < n {
			out = append(out, it.Copy)
		}
	}
	return out
}

func pdfOf(t testing.TB, w *Work) ([]byte, Report) {
	t.Helper()
	var b bytes.Buffer
	r, err := w.PDF(&b)
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), r
}

func textOf(t testing.TB, w *Work) string {
	t.Helper()
	var b bytes.Buffer
	if err := w.Text(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func near(a, b, by float64) bool { return math.Abs(a-b) <= by }

// kind is one thing that can be printed, of the demo cupboard.
type kind struct {
	name string
	work *Work
	// sheets is how many there must be.
	sheets int
}

// kinds makes each of them on a paper.
func kinds(t testing.TB, paper model.Paper) []kind {
	t.Helper()
	src := theatre(t)
	src.Paper = paper
	plan := src.Layout.Target()
	c5, c6 := model.Envelopes()[0], model.Envelopes()[1]
	labels := model.LabelSheets()[0]
	if paper == letter {
		labels = model.LabelSheets()[3]
	}
	var out []kind
	add := func(name string, sheets int, w *Work, err error) {
		t.Helper()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		out = append(out, kind{name, w, sheets})
	}
	each := func(n, per int) int { return (n + per - 1) / per }
	some := ordering.Plan{Boxes: plan.Boxes[:1]} // the cards of all boxes would take a minute to draw
	cards := len(some.Boxes[0].Cards())
	w, err := Envelopes(src, src.row(50), EnvelopeOptions{Labels: labels, Start: 3, Code: model.Code128, Outline: true})
	add("envelopes", each(50+2, labels.Count()), w, err)
	w, err = Envelopes(src, src.row(3), EnvelopeOptions{Labels: labels, On: &c5, Code: model.CodeQR})
	add("envelopes_c5", 3, w, err)
	w, err = Dividers(src, some, CardOptions{Envelope: c5})
	add("dividers", cards, w, err)
	w, err = Dividers(src, some, CardOptions{Envelope: c6})
	add("dividers_c6", each(cards, 2), w, err)
	w, err = Dividers(src, some, CardOptions{Envelope: c5, Alone: true, Upright: true})
	add("dividers_alone", cards, w, err)
	w, err = BoxLabels(src, plan)
	add("boxes", each(4, 3), w, err)
	w, err = Binders(src, BinderOptions{Spine: 54, Parts: []string{Spines}})
	add("spines", each(9, 3), w, err)
	w, err = Binders(src, BinderOptions{Spine: 54, Parts: []string{Index}})
	add("index", 0, w, err)
	w, err = Binders(src, BinderOptions{Spine: 54, Parts: []string{Tabs}})
	add("tabs", 0, w, err)
	w, err = Binders(src, BinderOptions{Spine: 54, Parts: []string{Missing}})
	add("missing", len(missingSleeves(&src)), w, err)
	w, err = OutCards(src, CardOptions{Envelope: c5})
	add("outcards", 2, w, err)
	w, err = Dummies(src, CardOptions{Envelope: c5})
	add("dummies", each(len(dummies(&src)), 2), w, err)
	w, err = Carry(src)
	add("carry", 0, w, err)
	w, err = ShelfList(src)
	add("shelflist", 0, w, err)
	w, err = Packing(src)
	add("packing", 1, w, err)
	w, err = Insurance(src)
	add("insurance", 0, w, err)
	w, err = Walk(src)
	add("walk", 0, w, err)
	return out
}

func entry(publisher, number, name string) model.Entry {
	return model.Entry{Publisher: publisher, Number: number, Name: name}
}

func entries(n int) []model.Entry {
	out := make([]model.Entry, n)
	for i := range out {
		out[i] = entry("Quillon", fmt.Sprint(100+10*i), fmt.Sprintf("Dress %c", 'A'+i%26))
	}
	return out
}

func sourceOf(c *model.Collection) Source {
	return Source{Layout: ordering.Arrange(c), Paper: a4, Date: today}
}

func squeezed(s string) string { return strings.ReplaceAll(s, " ", "") }
