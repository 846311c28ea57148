package backup

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"pgregory.net/rapid"
)

func dateOf(n int) model.Date {
	return model.Date(time.Date(2019, 12, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, n).Format(time.DateOnly))
}

// anyDays are days on which there was a backup, with pauses of days or months.
var anyDays = rapid.Custom(func(t *rapid.T) []model.Date {
	day, days := 0, []model.Date(nil)
	for range rapid.IntRange(0, 400).Draw(t, "backups") {
		step := rapid.SampledFrom([]int{1, 1, 1, 1, 1, 2, 3, 7, 30, 100}).Draw(t, "step")
		day += step
		days = append(days, dateOf(day))
	}
	return days
})

// newestOf gives the newest day of each of the newest n groups, worked out in
// another way than Keep does.
func newestOf(days []model.Date, n int, group func(model.Date) string) []model.Date {
	newest := map[string]model.Date{}
	for _, d := range days {
		newest[group(d)] = max(newest[group(d)], d)
	}
	var all []model.Date
	for _, d := range newest {
		all = append(all, d)
	}
	slices.Sort(all)
	return all[max(0, len(all)-n):]
}

func wanted(days []model.Date) []model.Date {
	day := func(d model.Date) string { return string(d) }
	month := func(d model.Date) string { return string(d[:7]) }
	// The week of ISO 8601 that a day is in is told by its Thursday.
	week := func(d model.Date) string {
		t, err := time.Parse(time.DateOnly, string(d))
		if err != nil {
			panic(err)
		}
		return t.AddDate(0, 0, 3-(int(t.Weekday())+6)%7).Format(time.DateOnly)
	}
	all := slices.Concat(newestOf(days, 7, day), newestOf(days, 4, week), newestOf(days, 12, month))
	slices.Sort(all)
	return slices.Compact(all)
}

func TestKeepKeepsTheGenerations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := anyDays.Draw(t, "days")
		shuffled := rapid.Permutation(days).Draw(t, "shuffled")
		today := dateOf(60_000)
		got := Keep(append(shuffled, days...), today) // twice, in any order
		if want := wanted(days); !slices.Equal(got, want) {
			t.Fatalf("of %v are kept %v, want %v", days, got, want)
		}
	})
}

// Clearing away day after day leaves what clearing away once would leave: what
// was removed is never missed later.
func TestKeepDayByDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := anyDays.Draw(t, "days")
		var left []model.Date
		for i, d := range days {
			left = Keep(append(left, d), d)
			if want := wanted(days[:i+1]); !slices.Equal(left, want) {
				t.Fatalf("on %s there are %v, want %v", d, left, want)
			}
		}
	})
}

func TestAWrongClockRemovesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := anyDays.Draw(t, "days")
		if len(days) == 0 {
			return
		}
		back := days[rapid.IntRange(0, len(days)-1).Draw(t, "back to")]
		today := model.Date("2019-06-01")
		if rapid.Bool().Draw(t, "in between") {
			today = back
		}
		got := Keep(days, today)
		if today < days[len(days)-1] && !slices.Equal(got, days) {
			t.Fatalf("on %s of %v are kept %v", today, days, got)
		}
	})
}

// A year of daily work, counted by hand: 2026-11-25 is a Wednesday.
func TestKeepAYear(t *testing.T) {
	var days []model.Date
	for d := time.Date(2025, 6, 1, 0, 0, 0, 0, time.UTC); d.Format(time.DateOnly) <= "2026-11-25"; d = d.AddDate(0, 0, 1) {
		days = append(days, model.Date(d.Format(time.DateOnly)))
	}
	want := "[2025-12-31 2026-01-31 2026-02-28 2026-03-31 2026-04-30 2026-05-31 2026-06-30 2026-07-31 2026-08-31 2026-09-30 2026-10-31" +
		" 2026-11-08 2026-11-15 2026-11-19 2026-11-20 2026-11-21 2026-11-22 2026-11-23 2026-11-24 2026-11-25]"
	if got := fmt.Sprint(Keep(days, "2026-11-25")); got != want {
		t.Errorf("kept are %s, want %s", got, want)
	}
}
