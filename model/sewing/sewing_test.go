package sewing

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
)

type failer interface {
	Helper()
	Fatal(...any)
}

// after applies changes, each on its day.
func after(t failer, c *model.Collection, on model.Date, changes ...model.Change) *model.Collection {
	t.Helper()
	for _, ch := range changes {
		next, _, err := c.Apply(ch, on)
		if err != nil {
			t.Fatal(err)
		}
		c = next
	}
	return c
}

func listed(number, name, category string, added model.Date, tags ...string) model.Entry {
	return model.Entry{Publisher: "Quillon", Number: number, Name: name, Category: category, Added: added, Tags: tags}
}

func cupboard(t failer) *model.Collection {
	return after(t, model.NewCollection(), "2026-01-01", &model.Add{Entries: []model.Entry{
		listed("1", "Wrap dress", "Dresses", "2020-01-01", "Summer"), listed("2", "Tea gown", "Dresses", "2021-01-01"),
		listed("3", "Swagger coat", "Coats", "2019-01-01", "winter"), listed("4", "Apron", "", "2024-01-01"),
		listed("5", "Wrap skirt", "Skirts", "2018-01-01"),
	}}, &model.Sewn{Make: model.Make{Pattern: 1, On: "2022-05-05"}}, &model.Sewn{Make: model.Make{Pattern: 1, On: "2023-05-05"}},
		&model.Sewn{Make: model.Make{Pattern: 5, On: "2026-02-02"}})
}

func TestOwnedAgainstMade(t *testing.T) {
	c := after(t, cupboard(t), "2026-02-02", &model.Remove{Copies: []model.Accession{5}})
	want := "[{Dresses 2 1 2} {Coats 1 0 0} { 1 0 0}]"
	if got := fmt.Sprint(Shares(c)); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func progress(c *model.Collection, g *model.Goal) string {
	var out []string
	for _, s := range Progress(c, g) {
		text := s.Of + " -"
		if s.Made != nil {
			text = s.Of + " " + string(s.Made.On)
		}
		out = append(out, text)
	}
	return strings.Join(out, ", ")
}

func TestAGoalShowsItsProgress(t *testing.T) {
	c := cupboard(t)
	for _, x := range []struct {
		since model.Date
		of    []string
		want  string
	}{
		{"2020-01-01", []string{"dresses", "Coats", "wrap", "tea gown"}, "dresses 2022-05-05, Coats -, wrap 2022-05-05, tea gown -"},
		{"2023-01-01", []string{"Dresses", "wrap skirt"}, "Dresses 2023-05-05, wrap skirt 2026-02-02"},
		{"2026-03-01", []string{"Dresses", "?"}, "Dresses -, ? -"},
	} {
		if got := progress(c, &model.Goal{Name: "g", Since: x.since, Of: x.of}); got != x.want {
			t.Errorf("since %s: %s, want %s", x.since, got, x.want)
		}
	}
	// What was made counts also when the pattern has gone: by its title.
	gone := after(t, c, "2026-02-02", &model.Remove{Copies: []model.Accession{5}})
	if got := progress(gone, &model.Goal{Of: []string{"wrap skirt", "Skirts"}}); got != "wrap skirt 2026-02-02, Skirts -" {
		t.Errorf("with the pattern gone: %s", got)
	}
}

// Each day of a year has the season of the month that is thirty days ahead, and
// the south has the other half of the year.
func TestTheSeasonToSewFor(t *testing.T) {
	for on, want := range map[model.Date]Season{
		"2026-01-29": Winter, "2026-01-30": Spring, "2026-03-01": Spring, "2026-05-01": Spring, "2026-05-02": Summer, "2026-08-02": Autumn,
		"2026-11-01": Winter, "2026-12-31": Winter,
	} {
		if got := SeasonFor(on, false); got != want {
			t.Errorf("on %s: %s, want %s", on, got, want)
		}
		if got, other := SeasonFor(on, true), map[Season]Season{Winter: Summer, Spring: Autumn, Summer: Winter, Autumn: Spring}[want]; got != other {
			t.Errorf("on %s in the south: %s, want %s", on, got, other)
		}
	}
	if got := SeasonFor("", false); got != "" {
		t.Errorf("no day has the season %q", got)
	}
}

func picks(c *model.Collection, q Asked) string {
	var out []string
	for _, p := range Suggest(c, q) {
		out = append(out, fmt.Sprintf("%d (%s)", p.Pattern, strings.Join(p.Reasons, ", ")))
	}
	return strings.Join(out, "; ")
}

func TestWhatToSewNext(t *testing.T) {
	c := cupboard(t)
	// Of those with one reason the one that has waited longest comes first, whether
	// for its first time or for the next.
	want := "3 (never made, here since 2019-01-01); 2 (never made, here since 2021-01-01); 1 (for summer, last made 2023-05-05); 4 (never made, here since 2024-01-01); 5 (last made 2026-02-02)"
	if got := picks(c, Asked{On: "2026-06-01"}); got != want {
		t.Errorf("in June:\n got %s\nwant %s", got, want)
	}
	if got := picks(c, Asked{On: "2026-06-01", South: true}); !strings.HasPrefix(got, "3 (never made, for winter, here") {
		t.Errorf("in June in the south: %s", got)
	}
	c = after(t, c, "2026-06-01", &model.SetGoal{Goal: model.Goal{Name: "home", Of: []string{"apron", "dresses"}}}, &model.Enqueue{Item: model.Queued{Pattern: 3}}, &model.TakeOut{Copy: 5})
	want = `2 (never made, the goal "home" lacks dresses, here since 2021-01-01); 1 (for summer, the goal "home" lacks dresses, last made 2023-05-05); 4 (never made, the goal "home" lacks apron, here since 2024-01-01)`
	if got := picks(c, Asked{On: "2026-06-01"}); got != want {
		t.Errorf("with a goal, one queued and one out:\n got %s\nwant %s", got, want)
	}
	gone := after(t, c, "2026-06-01", &model.Stand{Missing: []model.Accession{2}})
	if got := picks(gone, Asked{On: "2026-06-01"}); !strings.HasPrefix(got, "1 (") || strings.Contains(got, "; 2 (") {
		t.Errorf("with one that is missing: %s", got)
	}
	if got := picks(c, Asked{On: "2026-06-01", Among: func(p *model.Pattern) bool { return p.Category == 0 }}); !strings.HasPrefix(got, "4 (") || strings.Contains(got, ";") {
		t.Errorf("among those without a category: %s", got)
	}
}

// Everything at hand that is not queued is suggested once, in the order of the
// reasons and of the waiting.
func TestSuggestionsAreInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := model.NewCollection()
		var entries []model.Entry
		day := rapid.Custom(func(t *rapid.T) model.Date {
			return model.Date(fmt.Sprintf("20%02d-%02d-15", rapid.IntRange(10, 25).Draw(t, "year"), rapid.IntRange(1, 12).Draw(t, "month")))
		})
		n := rapid.IntRange(1, 8).Draw(t, "patterns")
		for i := range n {
			entries = append(entries, listed(fmt.Sprint(i+1), "x", rapid.SampledFrom([]string{"", "Dresses"}).Draw(t, "category"), day.Draw(t, "added"),
				rapid.SliceOfN(rapid.SampledFrom([]string{"summer", "fall", "old"}), 0, 2).Draw(t, "tags")...))
		}
		c = after(t, c, "2026-01-01", &model.Add{Entries: entries}, &model.SetGoal{Goal: model.Goal{Name: "g", Of: []string{"Dresses"}}})
		for range rapid.IntRange(0, 4).Draw(t, "makes") {
			c = after(t, c, day.Draw(t, "on"), &model.Sewn{Make: model.Make{Pattern: model.PatternID(rapid.IntRange(1, n).Draw(t, "of"))}})
		}
		if rapid.Bool().Draw(t, "queued") {
			c = after(t, c, "2026-01-01", &model.Enqueue{Item: model.Queued{Pattern: 1}})
		}
		got := Suggest(c, Asked{On: "2026-06-01"})
		if len(got) != n-len(c.Queue()) {
			t.Fatalf("%d of %d are suggested with %d in the queue", len(got), n, len(c.Queue()))
		}
		for i := 1; i < len(got); i++ {
			a, b := got[i-1], got[i]
			if len(a.Reasons) < len(b.Reasons) || len(a.Reasons) == len(b.Reasons) && a.waiting > b.waiting {
				t.Fatalf("%+v comes before %+v", a, b)
			}
		}
	})
}
