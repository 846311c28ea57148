package growth_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/growth"
)

// came is a list to which so many copies came on each day.
func came(t interface{ Fatal(...any) }, days ...any) *model.Collection {
	c := model.NewCollection()
	n := 0
	for i := 0; i < len(days); i += 2 {
		add := &model.Add{}
		for range days[i+1].(int) {
			n++
			add.Entries = append(add.Entries, model.Entry{Publisher: "Quillon", Number: fmt.Sprint(n)})
		}
		c = after(t, c, model.Date(days[i].(string)), add)
	}
	return c
}

func after(t interface{ Fatal(...any) }, c *model.Collection, on model.Date, ch model.Change) *model.Collection {
	next, _, err := c.Apply(ch, on)
	if err != nil {
		t.Fatal(err)
	}
	return next
}

// By hand: what was typed in one winter is no growth, whenever one asks; after it
// the pace is what came since, and once a year has passed, what came in the last.
func TestAListTypedInOneWinterIsNoGrowth(t *testing.T) {
	winter := []any{"2024-11-02", 120, "2024-12-07", 60, "2025-02-01", 200}
	for _, x := range []struct {
		what    string
		on      model.Date
		days    []any
		known   bool
		perYear float64
		since   model.Date
		like    int
	}{
		{"nothing is listed", "2026-01-01", nil, false, 0, "", 0},
		{"all on one day, and seen on that day", "2024-11-02", []any{"2024-11-02", 380}, false, 0, "2025-05-03", 380},
		{"in the middle of it", "2024-12-10", winter, false, 0, "2025-06-07", 180},
		{"when it is just over", "2025-03-01", winter, false, 0, "2025-08-02", 380},
		{"half a year on, and nothing came", "2025-08-03", winter, true, 0, "2025-02-01", 380},
		{"ten came in 200 days", "2025-08-20", append(winter, "2025-07-01", 10), true, 10. * 365 / 200, "2025-02-01", 10},
		{"what comes within weeks belongs to it", "2025-08-20", append(winter, "2025-04-01", 10), false, 0, "2025-09-30", 390},
		{"after a year it is what the last one brought", "2026-08-20", append(winter, "2025-07-01", 10, "2026-01-05", 3), true, 3, "2025-08-20", 3},
		{"who never pauses has listed after a year", "2026-08-01", []any{"2025-01-01", 300, "2025-03-01", 5, "2025-05-01", 5, "2025-07-01", 5, "2025-09-01", 5, "2025-11-01", 5, "2026-01-15", 5, "2026-03-15", 5, "2026-05-15", 5},
			true, 15. * 365 / 212, "2026-01-01", 15},
		{"what is dated later does not count yet", "2025-08-20", append(winter, "2025-07-01", 10, "2025-09-01", 40), true, 10. * 365 / 200, "2025-02-01", 10},
	} {
		p := growth.Of(came(t, x.days...), x.on)
		if p.Known != x.known || p.Given || p.PerYear != x.perYear || p.Since != x.since || len(p.Like) != x.like {
			t.Errorf("%s: %+v, %d like it; want %v %v since %q, %d", x.what, p, len(p.Like), x.known, x.perYear, x.since, x.like)
		}
		if said := strings.HasPrefix(p.Text(), "not known yet"); said == x.known {
			t.Errorf("%s: it says %q", x.what, p.Text())
		}
	}
}

// What the owner says goes before what was counted, until it is taken back.
func TestThePaceThatIsGiven(t *testing.T) {
	c := after(t, came(t, "2026-01-10", 300), "2026-01-11", &model.SetPerYear{Copies: 40})
	if p := growth.Of(c, "2026-01-12"); !p.Known || !p.Given || p.PerYear != 40 || len(p.Like) != 300 || p.Text() != "40 copies a year, as you have said" {
		t.Errorf("%+v: %s", p, p.Text())
	}
	c = after(t, c, "2026-01-13", &model.SetStock{Item: model.BoxStock, Have: 1})
	if c.PerYear() != 40 {
		t.Error("counting boxes forgets the pace")
	}
	c = after(t, c, "2026-01-13", &model.SetPerYear{})
	if p := growth.Of(c, "2026-01-14"); p.Known || len(c.Stock()) != 1 {
		t.Errorf("taken back: %+v", p)
	}
	for _, bad := range []string{"-1", "many", "1e9"} {
		if _, err := model.ReadPerYear(bad); !model.IsInput(err) {
			t.Errorf("%q gives %v", bad, err)
		}
	}
}

// However a list is typed in within a winter, and whenever one asks in the half
// year after, nobody makes up a pace; and what is known is never more than what has
// come since the first day.
func TestNoPaceIsMadeUp(t *testing.T) {
	first := time.Date(2024, 11, 1, 0, 0, 0, 0, time.UTC)
	on := func(days int) string { return first.AddDate(0, 0, days).Format(time.DateOnly) }
	rapid.Check(t, func(t *rapid.T) {
		at, days, all := 0, []any{on(0), 1 + rapid.IntRange(0, 40).Draw(t, "begun")}, 0
		for range rapid.IntRange(0, 6).Draw(t, "sittings") {
			at += rapid.IntRange(1, 20).Draw(t, "weeks off")
			days = append(days, on(at), rapid.IntRange(1, 40).Draw(t, "typed"))
		}
		c := came(t, days...)
		all = c.Copies().Len()
		if p := growth.Of(c, model.Date(on(rapid.IntRange(0, at+181).Draw(t, "asked")))); p.Known {
			t.Fatalf("%v: %+v", days, p)
		}
		much := rapid.IntRange(0, 50).Draw(t, "bought")
		if much > 0 {
			c = came(t, append(days, on(at+100), much)...)
		}
		if p := growth.Of(c, model.Date(on(at+300))); p.Known != true || p.PerYear > float64(much)*365/300+1e-9 || p.PerYear < float64(much)*365/300-1e-9 {
			t.Fatalf("%d listed, %d bought in 300 days: %+v", all, much, p)
		}
	})
}
