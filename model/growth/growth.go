// Package growth says at what pace a collection grows.
//
// The usual way in is [Of] with a collection and a day.
//
// Promised: what was there when the list was begun is no growth, however quickly
// it was typed in. Where too short a time is known, no pace is made up: it is not
// known yet. What the owner says goes before what was counted.
package growth

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"example.org/tuckrow/model"
)

// The first listing of what is there takes days and is interrupted for weeks. It
// is over when nothing came for so long a time, or after a year at the latest; a
// pace is counted from half a year on after that. Our choice, no source.
const (
	day        = 24 * time.Hour
	year       = 365 * day
	pause      = 90 * day
	longEnough = year / 2
)

// Pace is how many copies a year brings.
type Pace struct {
	Known   bool
	Given   bool // by the owner
	PerYear float64
	Since   model.Date    // from when it was counted; where it is not known, from when it can be
	Like    []*model.Copy // what comes is like these, the last first: what was counted, else all there is
}

// Of is the pace by what is listed on a day.
func Of(c *model.Collection, on model.Date) Pace {
	p := Pace{Like: lastFirst(c, on)}
	today, err := time.Parse(time.DateOnly, string(on))
	if err == nil && len(p.Like) > 0 {
		p.count(today)
	}
	if given := c.PerYear(); given > 0 {
		p.Known, p.Given, p.PerYear = true, true, float64(given)
	}
	return p
}

// lastFirst lists the copies that had come by a day, the last to come first.
func lastFirst(c *model.Collection, on model.Date) []*model.Copy {
	var all []*model.Copy
	for _, cp := range c.Copies().All() {
		if cp.Added != "" && cp.Added <= on {
			all = append(all, cp)
		}
	}
	slices.SortFunc(all, func(a, b *model.Copy) int {
		return cmp.Or(cmp.Compare(b.Added, a.Added), cmp.Compare(b.Accession, a.Accession))
	})
	return all
}

func (p *Pace) count(today time.Time) {
	listed := firstListing(p.Like, today)
	if today.Sub(listed) < longEnough {
		p.Since = date(listed.Add(longEnough))
		return
	}
	since := listed
	if last := today.Add(-year); last.After(since) {
		since = last
	}
	p.Known, p.Since = true, date(since)
	n := slices.IndexFunc(p.Like, func(cp *model.Copy) bool { return cp.Added <= p.Since })
	if n < 0 {
		n = len(p.Like)
	}
	if p.PerYear = float64(n) * float64(year) / float64(today.Sub(since)); n > 0 {
		p.Like = p.Like[:n]
	}
}

// firstListing is the day on which the first listing was over: of its last copy, or
// a year after its first.
func firstListing(lastFirst []*model.Copy, today time.Time) time.Time {
	first := came(lastFirst[len(lastFirst)-1])
	end := first
	for _, cp := range slices.Backward(lastFirst) {
		next := came(cp)
		if next.Sub(end) >= pause {
			return end
		}
		end = next
		if end.Sub(first) > year {
			return first.Add(year)
		}
	}
	return end
}

func came(cp *model.Copy) time.Time {
	d, err := time.Parse(time.DateOnly, string(cp.Added))
	if err != nil {
		return time.Time{} // no day: from before anything else
	}
	return d
}

func date(t time.Time) model.Date { return model.Date(t.Format(time.DateOnly)) }

// Text says the pace and what it goes by.
func (p Pace) Text() string {
	switch {
	case p.Given:
		return fmt.Sprintf("%.0f copies a year, as you have said", p.PerYear)
	case p.Known:
		return fmt.Sprintf("%.0f copies a year, by what came since %s: an estimate", p.PerYear, p.Since)
	case p.Since != "":
		return fmt.Sprintf("not known yet: the first listing is no growth, and half a year must have passed since; counted from %s on at the earliest", p.Since)
	}
	return "not known yet: nothing is listed"
}
