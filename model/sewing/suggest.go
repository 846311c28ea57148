package sewing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/tuckrow/model"
)

// Pick is a pattern that could be sewn next, and why.
type Pick struct {
	Pattern model.PatternID
	Reasons []string
	waiting model.Date // since when; empty: not known
}

// Season is a season as patterns are tagged with it.
type Season string

// The seasons, in order.
const (
	Spring Season = "spring"
	Summer Season = "summer"
	Autumn Season = "autumn"
	Winter Season = "winter"
)

var seasons = []Season{Spring, Summer, Autumn, Winter}

// ahead is how long before a season its clothes are begun. Our choice, no
// source.
const ahead = 30 * 24 * time.Hour

// SeasonFor gives the season that is worth sewing for on a day: the one it will
// be in a month. Seasons are whole months, spring from March in the north and
// from September in the south (meteorological seasons, from memory).
func SeasonFor(on model.Date, south bool) Season {
	day, err := time.Parse(time.DateOnly, string(on))
	if err != nil {
		return ""
	}
	month := int(day.Add(ahead).Month()) // 3 to 5: spring
	if south {
		month += 6
	}
	return seasons[(month+9)%12/3]
}

// Asked narrows what is suggested.
type Asked struct {
	On    model.Date // today
	South bool       // seasons of the south
	Among func(*model.Pattern) bool
}

// Suggest lists the patterns that are not in the queue, those for which most
// speaks first, and of those the one that has waited longest: never made, for
// the season to come (by its tags), asked for by a goal. Patterns of which every
// copy is out or missing are left out.
func Suggest(c *model.Collection, q Asked) []Pick {
	made, open := madeOf(c), openGoals(c)
	season := SeasonFor(q.On, q.South)
	queued := map[model.PatternID]bool{}
	for _, item := range c.Queue() {
		queued[item.Pattern] = true
	}
	since := waiting(c)
	var out []Pick
	for _, p := range c.Patterns().All() {
		arrived, here := since[p.ID]
		if queued[p.ID] || !here || q.Among != nil && !q.Among(p) {
			continue
		}
		pick := Pick{Pattern: p.ID, waiting: arrived}
		if list := made[p.ID]; len(list) > 0 {
			pick.waiting = list[len(list)-1].On
		} else {
			pick.Reasons = append(pick.Reasons, "never made")
		}
		if season != "" && tagged(p, season) {
			pick.Reasons = append(pick.Reasons, "for "+string(season))
		}
		for _, g := range open {
			if isOf(c, p.ID, c.Called(p.ID), g.of) {
				pick.Reasons = append(pick.Reasons, fmt.Sprintf("the goal %q lacks %s", g.name, g.of))
				break
			}
		}
		out = append(out, pick)
	}
	slices.SortStableFunc(out, func(a, b Pick) int {
		return cmp.Or(len(b.Reasons)-len(a.Reasons), longest(a.waiting, b.waiting))
	})
	for i := range out {
		if w := out[i].waiting; w != "" && len(made[out[i].Pattern]) > 0 {
			out[i].Reasons = append(out[i].Reasons, "last made "+string(w))
		} else if w != "" {
			out[i].Reasons = append(out[i].Reasons, "here since "+string(w))
		}
	}
	return out
}

// longest puts what has waited longer first, and what nobody knows of last.
func longest(a, b model.Date) int {
	if (a == "") != (b == "") {
		return strings.Compare(string(b), string(a))
	}
	return strings.Compare(string(a), string(b))
}

// waiting gives for each pattern of which a copy is at hand the day on which the
// first came.
func waiting(c *model.Collection) map[model.PatternID]model.Date {
	out := map[model.PatternID]model.Date{}
	for _, cp := range c.Copies().All() {
		if was, there := out[cp.Pattern]; cp.AtHand() && (!there || longest(cp.Added, was) < 0) {
			out[cp.Pattern] = cp.Added
		}
	}
	return out
}

func tagged(p *model.Pattern, s Season) bool {
	return slices.ContainsFunc(p.Tags, func(t string) bool {
		return strings.EqualFold(t, string(s)) || s == Autumn && strings.EqualFold(t, "fall")
	})
}

// lacking is something that a goal still asks for.
type lacking struct{ name, of string }

func openGoals(c *model.Collection) []lacking {
	var out []lacking
	for _, g := range c.Goals().All() {
		for _, s := range Progress(c, g) {
			if s.Made == nil {
				out = append(out, lacking{g.Name, s.Of})
			}
		}
	}
	return out
}
