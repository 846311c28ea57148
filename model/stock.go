package model

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"example.org/tuckrow/model/words"
)

// Worth is what copies are worth to an insurer by group, where a copy is not
// valued itself.
type Worth struct {
	Groups []GroupWorth `json:"groups,omitempty" cbor:"1,keyasint,omitempty"`
}

// GroupWorth is what each copy of a group is worth. The group is a tag, a
// category or a publisher by name; the empty name is all others.
type GroupWorth struct {
	Of   string `json:"of,omitempty" cbor:"1,keyasint,omitempty"`
	Each Money  `json:"each" cbor:"2,keyasint"`
}

// Key implements Record. There is one Worth.
func (w *Worth) Key() (Kind, uint32) { return KindWorth, 1 }

// Worth lists what is worth what by group. It is shared: do not alter it.
func (c *Collection) Worth() []GroupWorth {
	if c.worth == nil {
		return nil
	}
	return c.worth.Groups
}

func (w *Worth) fault() error {
	if w == nil {
		return nil
	}
	for i, g := range w.Groups {
		if g.Each <= 0 || g.Each > mostMoney || slices.ContainsFunc(w.Groups[:i], func(x GroupWorth) bool { return nameKey(x.Of) == nameKey(g.Of) }) {
			return fmt.Errorf("the worth of group %q is none, or given twice", g.Of)
		}
	}
	return nil
}

// SetWorth says what each copy of a group is worth; 0 takes the group off.
type SetWorth struct {
	Of   string `json:"of,omitempty"`
	Each Money  `json:"each"`
}

// Title implements Change.
func (ch *SetWorth) Title(*Collection) string {
	of := words.Clean(ch.Of)
	if of == "" {
		of = "all others"
	}
	return "valued " + of + " at " + ch.Each.String() + " each"
}

func (ch *SetWorth) apply(e *editor) error {
	of := words.Clean(ch.Of)
	if ch.Each < 0 || ch.Each > mostMoney {
		return &FieldError{"value", ch.Each.String(), "is not an amount of money", "write it like 12.50"}
	}
	groups := slices.Clone(e.c.Worth())
	at := slices.IndexFunc(groups, func(g GroupWorth) bool { return nameKey(g.Of) == nameKey(of) })
	switch {
	case at < 0 && ch.Each == 0:
		return Inputf("the group %q is not valued", of)
	case ch.Each == 0:
		groups = slices.Delete(groups, at, at+1)
	case at < 0:
		groups = append(groups, GroupWorth{of, ch.Each})
	default:
		groups[at].Each = ch.Each
	}
	if len(groups) == 0 {
		e.drop(KindWorth, 1)
	} else {
		e.put(&Worth{groups})
	}
	return nil
}

// StockItem is a kind of supply.
type StockItem string

// The supplies.
const (
	EnvelopeStock StockItem = "envelopes"
	PocketStock   StockItem = "pockets"
	CardStock     StockItem = "divider cards"
	BoxStock      StockItem = "boxes"
	BinderStock   StockItem = "binders"
	HookStock     StockItem = "hooks"
	OutCardStock  StockItem = "out cards"
)

// StockItems lists the supplies.
func StockItems() []StockItem {
	return []StockItem{EnvelopeStock, PocketStock, CardStock, BoxStock, BinderStock, HookStock, OutCardStock}
}

// ParseStockItem reads a kind of supply.
func ParseStockItem(s string) (StockItem, error) {
	return oneOf("supply", s, spell[StockItem], StockItems()...)
}

// Stock is what supplies lie ready.
type Stock struct {
	Counted []Counted `json:"counted,omitempty" cbor:"1,keyasint,omitempty"`
	PerYear int       `json:"per_year,omitempty" cbor:"2,keyasint,omitempty"` // copies that a year brings, as the owner says; 0: as counted
}

// Counted is how many of a supply there were on a day.
type Counted struct {
	Item StockItem `json:"item" cbor:"1,keyasint"`
	Have int       `json:"have" cbor:"2,keyasint"`
	On   Date      `json:"on,omitempty" cbor:"3,keyasint,omitempty"`
}

// Key implements Record. There is one Stock.
func (s *Stock) Key() (Kind, uint32) { return KindStock, 1 }

// Stock lists the supplies that were counted. It is shared: do not alter it.
func (c *Collection) Stock() []Counted {
	if c.stock == nil {
		return nil
	}
	return c.stock.Counted
}

// PerYear is how many copies a year brings, as the owner says; 0 where nothing was
// said.
func (c *Collection) PerYear() int {
	if c.stock == nil {
		return 0
	}
	return c.stock.PerYear
}

func (s *Stock) fault() error {
	if s == nil {
		return nil
	}
	if s.PerYear < 0 || s.PerYear > highest {
		return fmt.Errorf("a year cannot bring %d copies", s.PerYear)
	}
	for i, x := range s.Counted {
		if _, err := ParseDate("on", string(x.On)); err != nil {
			return err
		}
		if !slices.Contains(StockItems(), x.Item) || x.Have < 0 || x.Have > highest || slices.ContainsFunc(s.Counted[:i], func(y Counted) bool { return x.Item == y.Item }) {
			return fmt.Errorf("the supply %q is none, or counted twice", x.Item)
		}
	}
	return nil
}

// SetStock notes how many of a supply lie ready.
type SetStock struct {
	Item StockItem `json:"item"`
	Have int       `json:"have"`
}

// ReadStock reads how many of a supply somebody has counted.
func ReadStock(item StockItem, text string) (*SetStock, error) {
	n, err := strconv.Atoi(text)
	if err != nil {
		return nil, Inputf("%q is not a count of %s; give a whole number, like 60", text, item)
	}
	return &SetStock{item, n}, nil
}

// Title implements Change.
func (ch *SetStock) Title(*Collection) string {
	return fmt.Sprintf("counted %d %s", ch.Have, words.Clean(string(ch.Item)))
}

func (ch *SetStock) apply(e *editor) error {
	if err := asKept("supply", ch.Item, ParseStockItem); err != nil {
		return err
	}
	if ch.Item == "" || ch.Have < 0 || ch.Have > highest {
		return Inputf("%d %q cannot be counted; give a number of envelopes, pockets, divider cards, boxes, binders, hooks or out cards", ch.Have, ch.Item)
	}
	list := slices.DeleteFunc(slices.Clone(e.c.Stock()), func(x Counted) bool { return x.Item == ch.Item })
	list = append(list, Counted{ch.Item, ch.Have, e.at})
	slices.SortFunc(list, func(a, b Counted) int {
		return slices.Index(StockItems(), a.Item) - slices.Index(StockItems(), b.Item)
	})
	e.put(&Stock{list, e.c.PerYear()})
	return nil
}

// SetPerYear says how many copies a year brings; with 0 it is counted.
type SetPerYear struct {
	Copies int `json:"copies"`
}

// ReadPerYear reads how many copies a year brings; nothing leaves it to be counted.
func ReadPerYear(text string) (*SetPerYear, error) {
	n, err := strconv.Atoi(cmp.Or(text, "0"))
	if err != nil || n < 0 || n > highest {
		return nil, Inputf("%q is not a number of copies that a year brings; give a whole number, like 40, or 0 to have it counted", text)
	}
	return &SetPerYear{n}, nil
}

// Title implements Change.
func (ch *SetPerYear) Title(*Collection) string {
	if ch.Copies == 0 {
		return "left it to be counted what a year brings"
	}
	return "noted that a year brings " + words.Count(ch.Copies, "copy", "copies")
}

func (ch *SetPerYear) apply(e *editor) error {
	if ch.Copies < 0 || ch.Copies > highest {
		return Inputf("a year cannot bring %d copies; give a whole number, like 40, or 0 to have it counted", ch.Copies)
	}
	s := &Stock{slices.Clone(e.c.Stock()), ch.Copies}
	if ch.Copies == 0 && len(s.Counted) == 0 {
		e.drop(KindStock, 1)
	} else {
		e.put(s)
	}
	return nil
}
