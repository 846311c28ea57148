// Package supplies says what has to be got to file what is there: what lies
// ready, what is needed, what is short, and how long the rest lasts at the
// owner's pace.
//
// The usual way in is [List] on a layout and a day.
//
// Promised: what is needed is what the plan of refiling, the binders and the
// hooks ask for beyond what is there, and nothing is needed twice. How long
// something lasts goes by the pace at which the collection grows, and is an
// estimate; where that is not known yet, it is not known either.
package supplies

import (
	"fmt"
	"math"
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/growth"
	"example.org/tuckrow/ordering"
)

// Line is one supply.
type Line struct {
	Item    model.StockItem
	Have    int
	On      model.Date // when it was counted; empty: never
	Need    int
	Short   int
	PerYear float64 // how much of it a year takes
	Months  int     // how long what is over lasts; or NoEnd, or NotKnown
}

// What stands for months where nothing is used of something, and where it is not
// known yet what a year takes.
const (
	NoEnd    = -1
	NotKnown = -2
)

// Lasts says how long what is over lasts; nothing where nothing is used of it. Of what
// was never counted nobody can say it.
func (l Line) Lasts() string {
	switch {
	case l.Months == NoEnd:
		return ""
	case l.On == "" && l.Months != NotKnown:
		return "not counted"
	case l.Short > 0:
		return "none left"
	case l.Months == NotKnown:
		return "not known yet"
	case l.Months == 0:
		return "under a month"
	case l.Months == 1:
		return "1 month"
	}
	return fmt.Sprintf("%d months", l.Months)
}

// Yearly writes how many a year takes: of what is used seldom with one digit
// behind the point.
func (l Line) Yearly() string {
	if l.PerYear > 0 && l.PerYear < 9.95 {
		return strconv.FormatFloat(l.PerYear, 'f', 1, 64)
	}
	return strconv.FormatFloat(l.PerYear, 'f', 0, 64)
}

// List lists every supply.
func List(l *ordering.Layout, on model.Date) []Line {
	c := l.Collection()
	have := map[model.StockItem]model.Counted{}
	for _, x := range c.Stock() {
		have[x.Item] = x
	}
	grows := growth.Of(c, on)
	need, pace := needs(l), paces(l, grows)
	var out []Line
	for _, item := range model.StockItems() {
		line := Line{Item: item, Have: have[item].Have, On: have[item].On, Need: need[item], PerYear: pace[item], Months: NoEnd}
		line.Short = max(0, line.Need-line.Have)
		if over := line.Have - line.Need; !grows.Known {
			line.Months = NotKnown
		} else if line.PerYear > 0 {
			line.Months = int(math.Floor(12 * float64(max(0, over)) / line.PerYear))
		}
		out = append(out, line)
	}
	return out
}

func needs(l *ordering.Layout) map[model.StockItem]int {
	c, shelf := l.Collection(), l.Collection().Shelf()
	need := map[model.StockItem]int{model.OutCardStock: len(c.OutList(""))}
	for _, cp := range c.Copies().All() {
		if !cp.Enveloped && !shelf.Hangs(cp) && !shelf.LiesApart(cp) {
			need[model.EnvelopeStock]++
		}
	}
	for _, b := range l.Binders() {
		if b.New {
			need[model.BinderStock]++
		}
		for _, p := range b.Pockets {
			if p.Home == nil && p.In == model.SleeveWaiting {
				need[model.PocketStock]++
			}
		}
	}
	for _, h := range l.Hooks() {
		if h.New {
			need[model.HookStock]++
		}
	}
	plan := l.Target()
	for _, b := range plan.Boxes {
		if b.New && len(b.Items) > 0 {
			need[model.BoxStock]++
		}
	}
	for _, h := range l.Oversize() {
		if h.New {
			need[model.BoxStock]++
		}
	}
	for _, it := range l.Waiting() {
		if shelf.LiesApart(c.Copy(it.Copy)) {
			need[model.CardStock]++ // its dummy
		}
	}
	need[model.CardStock] += l.Outstanding().ToPrint()
	return need
}

// cardsOf counts the cards that stand in boxes.
func cardsOf(boxes []ordering.Holding) int {
	n := 0
	for i := range boxes {
		n += len(boxes[i].Cards())
	}
	return n
}

// paces says how much of each supply a year takes: as many copies as the pace says,
// like those that came last.
func paces(l *ordering.Layout, p growth.Pace) map[model.StockItem]float64 {
	c, shelf := l.Collection(), l.Collection().Shelf()
	pace := map[model.StockItem]float64{}
	if !p.Known || len(p.Like) == 0 {
		return pace
	}
	load, bound := model.Length(0), map[model.PatternID]bool{}
	for _, cp := range p.Like {
		if shelf.Hangs(cp) {
			pace[model.HookStock]++
			continue
		}
		if load += shelf.Takes(cp); shelf.LiesApart(cp) {
			pace[model.CardStock]++
		} else {
			pace[model.EnvelopeStock]++
		}
		if p := c.Pattern(cp.Pattern); p.Category != 0 && !bound[p.ID] {
			bound[p.ID] = true
			pace[model.PocketStock]++
		}
	}
	scale := p.PerYear / float64(len(p.Like))
	for item := range pace {
		pace[item] *= scale
	}
	pace[model.BoxStock] = float64(load) * scale / float64(usable(shelf))
	pace[model.BinderStock] = pace[model.PocketStock] / pockets(shelf)
	pace[model.HookStock] /= each(shelf)
	if n := len(l.Row()); n > 0 {
		pace[model.CardStock] += pace[model.EnvelopeStock] * float64(cardsOf(l.Target().Boxes)) / float64(n)
	}
	return pace
}

// What a new box, binder and hook hold: as much as the last one there is, else
// what is usual (common practice, no source).
const (
	usualBox     = 380 * model.Millimetre
	usualPockets = 75
	usualEach    = 3
)

func usable(s *model.Shelf) model.Length {
	b := model.Box{Length: usualBox}
	if n := len(s.Boxes); n > 0 {
		b = s.Boxes[n-1]
	}
	return max(1, b.Usable(s.Settings))
}

func pockets(s *model.Shelf) float64 {
	if n := len(s.Binders); n > 0 {
		return float64(s.Binders[n-1].Pockets)
	}
	return usualPockets
}

func each(s *model.Shelf) float64 {
	if n := len(s.Hooks); n > 0 {
		return float64(s.Hooks[n-1].Each)
	}
	return usualEach
}
