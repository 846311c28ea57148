package lookup_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/ordering/sample"
	"pgregory.net/rapid"
)

// odd are titles whose words are found in ways that a glance could miss.
func odd(t *testing.T) *model.Collection {
	t.Helper()
	var list []model.Entry
	for i, number := range []string{"K-0123 H5", "12a/0034", "No. 007", "5 H", "0", "2024/3 12", "Ⅷ 12", "a-1-b", "6123", ""} {
		list = append(list, model.Entry{Publisher: "Œuvre & O'Hara–Nüß", Number: number, Name: fmt.Sprintf("Robe d'été n° %d \"ﬁne\" %s", i, number), Category: "Kleider/Röcke",
			SizeRange: "XS-XL", Tags: []string{"Größe", "U.S.A."}})
	}
	list = append(list,
		model.Entry{Publisher: "Quillon", Number: "9", Name: "Cape", Barcode: "042100005264"},
		model.Entry{Publisher: "Quillon", Name: "Cape of good hope", Barcode: "04252614"})
	c, _, err := sample.Cupboard(300).Apply(&model.Add{Entries: list}, "2026-03-01")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Asking once gives what an index gives, whatever is asked.
func TestFindOnceAgainstTheIndex(t *testing.T) {
	c := odd(t)
	x := lookup.New(c)
	var texts []string
	for _, p := range c.Patterns().All() {
		texts = append(texts, p.Number, p.Name, c.Publisher(p.Publisher).Name, p.SizeRange, p.Barcode, strings.Join(p.Tags, " "))
		if p.Category != 0 {
			texts = append(texts, c.Category(p.Category).Name)
		}
	}
	texts = append(texts, "k123", "K 123", "123h5", "h5", "34", "12a34", "7", "usa", "ohara", "oeuvre", "fine", "nuss", "n", "0", "viii", "0042100005264", "425261", "wrpa drses", "&", "")
	found := 0
	rapid.Check(t, func(rt *rapid.T) {
		text := []rune(rapid.SampledFrom(texts).Draw(rt, "text"))
		from := rapid.IntRange(0, len(text)).Draw(rt, "from")
		to := rapid.IntRange(from, len(text)).Draw(rt, "to")
		query := string(text[from:to])
		if rapid.Bool().Draw(rt, "two") {
			query += " " + rapid.SampledFrom(texts).Draw(rt, "more")
		}
		if rapid.Bool().Draw(rt, "loud") {
			query = strings.ToUpper(query)
		}
		limit := rapid.SampledFrom([]int{1, 5, 1000}).Draw(rt, "limit")
		want := x.Find(query, limit)
		got, copies := lookup.Find(c, query, limit)
		if !reflect.DeepEqual(got, want) {
			rt.Fatalf("Find(%q) = %+v, and the index says %+v", query, got, want)
		}
		for _, p := range got.Patterns {
			if !reflect.DeepEqual(copies[p], x.Copies(p)) {
				rt.Fatalf("of pattern %d it finds the copies %v, and the index %v", p, copies[p], x.Copies(p))
			}
		}
		found += len(got.Patterns)
	})
	if found == 0 {
		t.Error("nothing was ever found")
	}
}

func BenchmarkFindOnce(b *testing.B) {
	c := sample.Cupboard(60_000)
	for _, q := range []string{"6123", "wrap dress", "w"} {
		b.Run(q, func(b *testing.B) {
			for b.Loop() {
				lookup.Find(c, q, 50)
			}
		})
	}
}
