package paper

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/paper/proof"
)

// Each page of each kind, on both papers: the rule is 50 mm long, as pdftoppm
// draws it; all text lies on the page; there are as many sheets as there must
// be; a second printing gives the same bytes.
func TestEverySheet(t *testing.T) {
	if testing.Short() {
		t.Skip("draws two hundred pages")
	}
	for _, paper := range []model.Paper{a4, letter} {
		again := kinds(t, paper)
		for i, k := range kinds(t, paper) {
			t.Run(paper.Name+"/"+k.name, func(t *testing.T) {
				pdf, r := pdfOf(t, k.work)
				pages := proof.Pages(t, pdf, 150)
				want := k.sheets
				if len(r.Short) > 0 {
					want++ // the index
				}
				if k.sheets > 0 && len(pages) != want || len(pages) != r.Sheets {
					t.Errorf("%d pages, the report says %d, want %d", len(pages), r.Sheets, want)
				}
				words := proof.Words(t, pdf)
				for n, p := range pages {
					mustBeRuled(t, n, p, words)
				}
				for _, w := range words {
					p := pages[w.Page]
					if all := (proof.Box{W: float64(p.Rect.Dx()) / p.PerMM, H: float64(p.Rect.Dy()) / p.PerMM}); !w.Box.Within(all, 0) {
						t.Errorf("page %d: %q lies at %+v, beyond the page", w.Page, w.Text, w.Box)
					}
				}
				if other, _ := pdfOf(t, again[i].work); !bytes.Equal(pdf, other) {
					t.Error("printed again, the bytes are others")
				}
			})
		}
	}
}

// mustBeRuled finds the rule beside its words and measures it.
func mustBeRuled(t *testing.T, n int, p proof.Page, words []proof.Word) {
	t.Helper()
	const fifty = 50.0
	for i, w := range words {
		if w.Page != n || w.Text != "50" || i+3 >= len(words) || words[i+1].Text != "mm" || words[i+3].Text != "print" {
			continue
		}
		ink, _ := p.Ink(proof.Box{X: w.X - 3 - fifty - 2, Y: w.Y - 1, W: fifty + 4, H: w.H + 2})
		// Only the marks at its ends reach so far up.
		ends, _ := p.Ink(proof.Box{X: ink.X - 2, Y: ink.Y + 0.2, W: ink.W + 4, H: 0.3})
		if !near(ink.W, fifty, 0.3) || !near(ends.W, fifty, 0.3) {
			t.Errorf("page %d: the rule measures %.2f mm, and %.2f between its ends", n, ink.W, ends.W)
		}
		return
	}
	t.Errorf("page %d has no rule", n)
}

// Labels lie where their sheet says, measured on the page in millimetres: the
// edge that is drawn is looked for where the measures of the grid put it.
func TestLabelsLieOnTheirGrid(t *testing.T) {
	own := model.LabelSheet{Name: "own", Paper: "Letter", Columns: 2, Rows: 5, Width: model.MM(88.5), Height: model.MM(47.2), Left: model.MM(13.3), Top: model.MM(17.7), PitchX: model.MM(95.1), PitchY: model.MM(49.9)}
	src := theatre(t)
	for _, labels := range append(model.LabelSheets(), own) {
		w, err := Envelopes(src, src.row(labels.Count()), EnvelopeOptions{Labels: labels, Code: model.NoCode, Outline: true})
		if err != nil {
			t.Fatal(err)
		}
		pdf, r := pdfOf(t, w)
		page := proof.Pages(t, pdf, 300)[0]
		if r.Sheets != 1 {
			t.Errorf("%s: a full sheet takes %d", labels.Name, r.Sheets)
		}
		for i := range labels.Count() {
			left, top := labels.Place(i)
			x, y, w, h := left.MM(), top.MM(), labels.Width.MM(), labels.Height.MM()
			for _, edge := range []struct {
				what string
				at   float64
				in   proof.Box
				got  func(proof.Box) float64
			}{
				{"left", x, proof.Box{X: x - 0.8, Y: y + 0.6*h, W: 1.6, H: 0.2}, middleX},
				{"right", x + w, proof.Box{X: x + w - 0.8, Y: y + 0.6*h, W: 1.6, H: 0.2}, middleX},
				{"top", y, proof.Box{X: x + 0.5*w, Y: y - 0.8, W: 0.2, H: 1.6}, middleY},
				{"bottom", y + h, proof.Box{X: x + 0.5*w, Y: y + h - 0.8, W: 0.2, H: 1.6}, middleY},
			} {
				if ink, ok := page.Ink(edge.in); !ok || !near(edge.got(ink), edge.at, 0.3) {
					t.Errorf("%s: label %d has its %s edge at %.2f mm, want %.2f", labels.Name, i, edge.what, edge.got(ink), edge.at)
				}
			}
		}
	}
}

func middleX(b proof.Box) float64 { return b.X + b.W/2 }
func middleY(b proof.Box) float64 { return b.Y + b.H/2 }

// Every word of a label lies in its place and in no other, whatever the label
// sheet; read there it is what the label is to say.
func TestTextLiesInItsLabel(t *testing.T) {
	src := theatre(t)
	for _, labels := range model.LabelSheets() {
		for _, code := range []string{model.Code128, model.CodeQR, model.NoCode} {
			copies := src.row(2 * labels.Count())[labels.Count():]
			w, err := Envelopes(src, copies, EnvelopeOptions{Labels: labels, Code: code})
			if err != nil {
				t.Fatal(err)
			}
			pdf, r := pdfOf(t, w)
			if len(r.Short) > 0 || r.Uncoded > 0 || r.Missing != "" {
				t.Errorf("%s: %+v", labels.Name, r)
			}
			got := make([][]string, labels.Count())
			for _, word := range proof.Words(t, pdf) {
				in := placeOf(labels, word)
				if in >= 0 {
					got[in] = append(got[in], word.Text)
				} else if !strings.Contains("50 mm · print at 100 %, not fitted to the page", word.Text) {
					t.Errorf("%s: %q lies in no label: %+v", labels.Name, word.Text, word.Box)
				}
			}
			for i, a := range copies {
				l := newEnvelopeLabel(&src, a)
				want := sortedWords(joined(" ", l.lines()...))
				if have := sortedWords(strings.ReplaceAll(strings.Join(got[i], " "), "·", "")); have != want {
					t.Errorf("%s: label %d says %q, want %q", labels.Name, i, have, want)
				}
			}
		}
	}
}

// placeOf is the label in which a word lies wholly; -1 for none.
func placeOf(labels model.LabelSheet, w proof.Word) int {
	for i := range labels.Count() {
		left, top := labels.Place(i)
		if w.Box.Within(proof.Box{X: left.MM(), Y: top.MM(), W: labels.Width.MM(), H: labels.Height.MM()}, 0) {
			return i
		}
	}
	return -1
}

// sortedWords are the words of a text, sorted: pdftotext goes by columns.
func sortedWords(text string) string {
	f := strings.Fields(text)
	slices.Sort(f)
	return strings.Join(f, " ")
}

// Codes are what zbarimg reads off each label: its accession number, once.
func TestCodesSayTheAccessionNumber(t *testing.T) {
	src := theatre(t)
	for _, labels := range model.LabelSheets() {
		for kind, says := range map[string]string{model.Code128: "CODE-128:", model.CodeQR: "QR-Code:"} {
			copies := src.row(labels.Count())
			w, err := Envelopes(src, copies, EnvelopeOptions{Labels: labels, Code: kind})
			if err != nil {
				t.Fatal(err)
			}
			pdf, _ := pdfOf(t, w)
			boxes := make([]proof.Box, len(copies))
			for i := range boxes {
				left, top := labels.Place(i)
				boxes[i] = proof.Box{X: left.MM(), Y: top.MM(), W: labels.Width.MM(), H: labels.Height.MM()}
			}
			for i, got := range proof.Codes(t, proof.PageAt(t, pdf, 0, 300), boxes) {
				if want := says + newEnvelopeLabel(&src, copies[i]).accession; got != want {
					t.Errorf("%s: label %d reads %q, want %q", labels.Name, i, got, want)
				}
			}
		}
	}
}

// A picture of each kind, small enough to look at; README shows them.
func TestPictures(t *testing.T) {
	for _, k := range kinds(t, a4) {
		pdf, _ := pdfOf(t, k.work)
		n, dpi := 0, 60
		switch k.name {
		case "dividers":
			n = 1 // a range card shows more than the first
		case "carry":
			dpi = 45 // it is dense, and would weigh too much
		}
		name := filepath.Join("testdata", k.name+".png")
		if *update {
			if err := os.MkdirAll("testdata", 0o755); err != nil {
				t.Fatal(err)
			}
		}
		proof.Golden(t, name, proof.PageAt(t, pdf, n, dpi), *update)
	}
}
