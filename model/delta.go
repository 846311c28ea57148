package model

import "slices"

// Kind tells records apart. The numbers are stored and never change.
type Kind byte

// The kinds of record.
const (
	KindPublisher Kind = 1 + iota
	KindCategory
	KindBatch
	KindPattern
	KindCopy
	KindRow
	KindShelf
	KindWalls
	KindMeasure
	KindPace
	KindPerson
	KindCloth
	KindWish
	KindMake
	KindQueue
	KindGoal
	KindWorth
	KindStock
	KindSigns
	kinds
)

var kindNames = [kinds]string{"", "publisher", "category", "batch", "pattern", "copy", "row", "shelf", "walls", "measure", "pace",
	"person", "cloth", "wish", "make", "queue", "goal", "worth", "stock", "signs"}

// String is the kind's name as it stands in exports.
func (k Kind) String() string {
	if k < kinds {
		return kindNames[k]
	}
	return "unknown"
}

// inOrder is the order of an export: a record comes after those it names.
var inOrder = []Kind{
	KindPublisher, KindCategory, KindBatch, KindPattern, KindCopy, KindShelf, KindRow, KindWalls, KindMeasure, KindPace,
	KindPerson, KindCloth, KindWish, KindMake, KindQueue, KindGoal,
	KindWorth, KindStock, KindSigns,
}

// Kinds lists the kinds, in an order in which a record comes after those it
// names.
func Kinds() []Kind { return slices.Clone(inOrder) }

// KindNamed finds a kind by its name.
func KindNamed(name string) (Kind, bool) {
	for _, k := range inOrder {
		if k.String() == name {
			return k, true
		}
	}
	return 0, false
}

// Record is one of the things a store keeps.
type Record interface {
	// Key gives the kind and the number within the kind.
	Key() (Kind, uint32)
}

// New makes an empty record of the kind, to be filled by a decoder.
func (k Kind) New() Record {
	switch k {
	case KindPublisher:
		return new(Publisher)
	case KindCategory:
		return new(Category)
	case KindBatch:
		return new(Batch)
	case KindPattern:
		return new(Pattern)
	case KindCopy:
		return new(Copy)
	case KindRow:
		return new(Row)
	case KindShelf:
		return new(Shelf)
	case KindWalls:
		return new(Walls)
	case KindMeasure:
		return new(Measure)
	case KindPace:
		return new(Pace)
	case KindPerson:
		return new(Person)
	case KindCloth:
		return new(Cloth)
	case KindWish:
		return new(Wish)
	case KindMake:
		return new(Make)
	case KindQueue:
		return new(Queue)
	case KindGoal:
		return new(Goal)
	case KindWorth:
		return new(Worth)
	case KindStock:
		return new(Stock)
	case KindSigns:
		return new(Signs)
	}
	return nil
}

// Key implements Record.
func (r *Publisher) Key() (Kind, uint32) { return KindPublisher, uint32(r.ID) }

// Key implements Record.
func (r *Category) Key() (Kind, uint32) { return KindCategory, uint32(r.ID) }

// Key implements Record.
func (r *Batch) Key() (Kind, uint32) { return KindBatch, uint32(r.ID) }

// Key implements Record.
func (r *Pattern) Key() (Kind, uint32) { return KindPattern, uint32(r.ID) }

// Key implements Record.
func (r *Copy) Key() (Kind, uint32) { return KindCopy, uint32(r.Accession) }

// Key implements Record.
func (r *Row) Key() (Kind, uint32) { return KindRow, uint32(r.Box) }

// Key implements Record. There is one shelf.
func (r *Shelf) Key() (Kind, uint32) { return KindShelf, 1 }

// Key implements Record. There is one set of walls.
func (r *Walls) Key() (Kind, uint32) { return KindWalls, 1 }

// Edit is one record before and after a change; nil where there was or is
// none.
type Edit struct {
	Kind          Kind
	ID            uint32
	Before, After Record
}

// Delta is all that a change altered, each record once.
type Delta []Edit

// Inverse is the delta that takes this one back.
func (d Delta) Inverse() Delta {
	inv := make(Delta, len(d))
	for i, e := range d {
		inv[len(d)-1-i] = Edit{e.Kind, e.ID, e.After, e.Before}
	}
	return inv
}

// Counters are the highest numbers ever given. They only grow.
type Counters struct {
	Publisher PublisherID `json:"publisher" cbor:"1,keyasint"`
	Category  CategoryID  `json:"category" cbor:"2,keyasint"`
	Batch     BatchID     `json:"batch" cbor:"3,keyasint"`
	Pattern   PatternID   `json:"pattern" cbor:"4,keyasint"`
	Copy      Accession   `json:"copy" cbor:"5,keyasint"`
	Box       BoxID       `json:"box" cbor:"6,keyasint"`
	Section   SectionID   `json:"section" cbor:"7,keyasint"`
	Binder    BinderID    `json:"binder" cbor:"8,keyasint"`
	HookRow   HookRowID   `json:"hook_row" cbor:"9,keyasint"`
	Measure   MeasureID   `json:"measure,omitempty" cbor:"10,keyasint,omitempty"`
	Pace      PaceID      `json:"pace,omitempty" cbor:"11,keyasint,omitempty"`
	Person    PersonID    `json:"person,omitempty" cbor:"12,keyasint,omitempty"`
	Cloth     ClothID     `json:"cloth,omitempty" cbor:"13,keyasint,omitempty"`
	Wish      WishID      `json:"wish,omitempty" cbor:"14,keyasint,omitempty"`
	Make      MakeID      `json:"make,omitempty" cbor:"15,keyasint,omitempty"`
	Goal      GoalID      `json:"goal,omitempty" cbor:"16,keyasint,omitempty"`
}

// saw raises the counters to cover a record.
func (c *Counters) saw(r Record) {
	switch r := r.(type) {
	case *Publisher:
		c.Publisher = max(c.Publisher, r.ID)
	case *Category:
		c.Category = max(c.Category, r.ID)
	case *Batch:
		c.Batch = max(c.Batch, r.ID)
	case *Pattern:
		c.Pattern = max(c.Pattern, r.ID)
	case *Copy:
		c.Copy = max(c.Copy, r.Accession)
	case *Measure:
		c.Measure = max(c.Measure, r.ID)
	case *Pace:
		c.Pace = max(c.Pace, r.ID)
	case *Person:
		c.Person = max(c.Person, r.ID)
	case *Cloth:
		c.Cloth = max(c.Cloth, r.ID)
	case *Wish:
		c.Wish = max(c.Wish, r.ID)
	case *Make:
		c.Make = max(c.Make, r.ID)
	case *Goal:
		c.Goal = max(c.Goal, r.ID)
	case *Shelf:
		for _, b := range slices.Concat(r.Boxes, r.Oversize) {
			c.Box = max(c.Box, b.ID)
		}
		for _, s := range r.Sections {
			c.Section = max(c.Section, s.ID)
		}
		for _, b := range r.Binders {
			c.Binder = max(c.Binder, b.ID)
		}
		for _, h := range r.Hooks {
			c.HookRow = max(c.HookRow, h.ID)
		}
	}
}

// covering is the larger of two sets of counters, number by number.
func (c Counters) covering(d Counters) Counters {
	return Counters{
		max(c.Publisher, d.Publisher), max(c.Category, d.Category), max(c.Batch, d.Batch),
		max(c.Pattern, d.Pattern), max(c.Copy, d.Copy), max(c.Box, d.Box),
		max(c.Section, d.Section), max(c.Binder, d.Binder), max(c.HookRow, d.HookRow),
		max(c.Measure, d.Measure), max(c.Pace, d.Pace), max(c.Person, d.Person), max(c.Cloth, d.Cloth),
		max(c.Wish, d.Wish), max(c.Make, d.Make), max(c.Goal, d.Goal),
	}
}
