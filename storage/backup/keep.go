package backup

import (
	"slices"
	"time"

	"example.org/tuckrow/model"
)

// How many generations are kept.
const (
	keptDays   = 7
	keptWeeks  = 4
	keptMonths = 12
)

// Keep tells which of the days that have a backup keep it, earliest first: the
// newest 7; of the newest 4 weeks that have one the newest, weeks being those
// of ISO 8601; and of the newest 12 months. Weeks and months without a backup
// do not count, so a pause makes nothing older than it is. When a day lies
// after today, the clock was or is wrong, and all are kept.
func Keep(days []model.Date, today model.Date) []model.Date {
	all := slices.Compact(slices.Sorted(slices.Values(days)))
	if len(all) > 0 && all[len(all)-1] > today {
		return all
	}
	var kept []model.Date
	weeks, months := map[[2]int]bool{}, map[string]bool{}
	for i, day := range slices.Backward(all) {
		week, month := weekOf(day), string(day[:len("2006-01")])
		keep := len(all)-i <= keptDays
		if !weeks[week] && len(weeks) < keptWeeks {
			weeks[week], keep = true, true
		}
		if !months[month] && len(months) < keptMonths {
			months[month], keep = true, true
		}
		if keep {
			kept = append(kept, day)
		}
	}
	slices.Reverse(kept)
	return kept
}

func weekOf(day model.Date) [2]int {
	t, _ := time.Parse(time.DateOnly, string(day)) // a day that has a backup is one
	year, week := t.ISOWeek()
	return [2]int{year, week}
}
