package model

import (
	"cmp"
	"fmt"
	"slices"
	"sync"

	"example.org/tuckrow/model/words"
)

// Collection is the whole cupboard at one revision. It is safe for use by
// several goroutines and must not be copied.
type Collection struct {
	rev      uint64
	counters Counters

	publishers Table[Publisher]
	categories Table[Category]
	batches    Table[Batch]
	patterns   Table[Pattern]
	copies     Table[Copy]
	rows       Table[Row]
	signs      Table[Signs]
	measures   Table[Measure]
	paces      Table[Pace]
	people     Table[Person]
	cloths     Table[Cloth]
	wishes     Table[Wish]
	makes      Table[Make]
	queue      *Queue // nil: nothing is in it
	goals      Table[Goal]
	worth      *Worth // nil: nothing is valued
	stock      *Stock // nil: nothing is counted
	shelf      *Shelf
	walls      *Walls

	standing lazy[spotTable]
	names    lazy[*names]
	counts   lazy[StepCounts]
}

// Spot is where a copy stands as recorded: a box, and the index in its row
// from the front, 0 first.
type Spot struct {
	Box   BoxID
	Index int
}

// StepCounts is how many copies are at each step; index it by Step.
type StepCounts [steps]int

// lazy is a value worked out from the collection when first asked for.
type lazy[T any] struct {
	once sync.Once
	v    T
}

func (l *lazy[T]) preset(v T) { l.once.Do(func() { l.v = v }) }

func (l *lazy[T]) get(work func() T) T {
	l.once.Do(func() { l.v = work() })
	return l.v
}

// NewCollection is an empty cupboard with the default settings.
func NewCollection() *Collection {
	return &Collection{shelf: &Shelf{Settings: DefaultSettings()}, walls: &Walls{}}
}

// Build makes a collection of stored records. The counters may be lower than
// what the records use; they are raised.
func Build(rev uint64, counters Counters, records func(yield func(Record) bool)) (*Collection, error) {
	c := NewCollection()
	e := newEditor(c, "")
	if n := highestOf(counters); n > highest {
		return nil, broken("%d is given as the highest number so far, and %d is the most there can be", n, highest)
	}
	for r := range records {
		kind, id := r.Key()
		if id < 1 || id > highest {
			return nil, broken("there is a %s with number %d; numbers go from 1 to %d", kind, id, highest)
		}
		if kind != KindShelf && kind != KindWalls && e.c.Record(kind, id) != nil {
			return nil, fmt.Errorf("%w: %s %d is there twice", ErrDamaged, kind, id)
		}
		e.c.table(kind).put(e.tok, id, r)
		e.c.counters.saw(r)
	}
	built := e.c
	built.rev = rev
	built.counters = built.counters.covering(counters)
	if err := built.Check(); err != nil {
		return built, err
	}
	return built, built.checkFurniture()
}

// checkFurniture tells whether boxes and rows of hooks have numbers of their
// own, and whether what hangs on a hook hangs on one that is there.
func (c *Collection) checkFurniture() error {
	if n := highestOf(c.counters); n > highest {
		return broken("the shelf has something with number %d, and %d is the most there can be", n, highest)
	}
	boxes, rows := map[BoxID]bool{0: true}, map[HookRowID]int{}
	for _, b := range slices.Concat(c.shelf.Boxes, c.shelf.Oversize) {
		if boxes[b.ID] {
			return broken("box %q has number %d, which is not its own", b.Name, b.ID)
		}
		boxes[b.ID] = true
	}
	for _, h := range c.shelf.Hooks {
		if h.ID == 0 || rows[h.ID] != 0 {
			return broken("the row of hooks %q has number %d, which is not its own", h.Name, h.ID)
		}
		rows[h.ID] = h.Hooks
	}
	for _, cp := range c.copies.All() {
		if h := cp.Hook; h != (Hook{}) && (h.N < 1 || h.N > rows[h.Row]) {
			return broken("copy %d hangs on hook %d of row %d, which is not there", cp.Accession, h.N, h.Row)
		}
	}
	return nil
}

// highest is what any record's number, and any count, stays below: low enough that
// tables by number stay small. It is above MostNumber, to which the numbers of copies
// and patterns are held when they are given, so that a store in which they were
// counted on further by an earlier tuckrow is read.
const highest = 99_999_999

func highestOf(c Counters) uint32 {
	return max(uint32(c.Publisher), uint32(c.Category), uint32(c.Batch), uint32(c.Pattern), uint32(c.Copy),
		uint32(c.Box), uint32(c.Section), uint32(c.Binder), uint32(c.HookRow),
		uint32(c.Measure), uint32(c.Pace), uint32(c.Person), uint32(c.Cloth), uint32(c.Wish),
		uint32(c.Make), uint32(c.Goal))
}

// Rev is the revision: how many changes made the collection what it is.
func (c *Collection) Rev() uint64 { return c.rev }

// Counters are the highest numbers given so far.
func (c *Collection) Counters() Counters { return c.counters }

// Publisher gives a publisher, or nil.
func (c *Collection) Publisher(id PublisherID) *Publisher { return c.publishers.Get(uint32(id)) }

// Category gives a category, or nil.
func (c *Collection) Category(id CategoryID) *Category { return c.categories.Get(uint32(id)) }

// Batch gives a batch, or nil.
func (c *Collection) Batch(id BatchID) *Batch { return c.batches.Get(uint32(id)) }

// Pattern gives a pattern, or nil.
func (c *Collection) Pattern(id PatternID) *Pattern { return c.patterns.Get(uint32(id)) }

// Copy gives a copy, or nil.
func (c *Collection) Copy(a Accession) *Copy { return c.copies.Get(uint32(a)) }

// PatternOf gives the pattern that a copy is of.
func (c *Collection) PatternOf(a Accession) *Pattern {
	if cp := c.Copy(a); cp != nil {
		return c.Pattern(cp.Pattern)
	}
	return nil
}

// Publishers, Categories, Batches, Patterns and Copies give the tables, to be
// gone through in the order of their numbers.
func (c *Collection) Publishers() *Table[Publisher] { return &c.publishers }

// Categories: see Publishers.
func (c *Collection) Categories() *Table[Category] { return &c.categories }

// Batches: see Publishers.
func (c *Collection) Batches() *Table[Batch] { return &c.batches }

// Patterns: see Publishers.
func (c *Collection) Patterns() *Table[Pattern] { return &c.patterns }

// Copies: see Publishers.
func (c *Collection) Copies() *Table[Copy] { return &c.copies }

// Shelf gives the furniture. It is shared: do not alter it.
func (c *Collection) Shelf() *Shelf { return c.shelf }

// Walls gives the split decided on and not yet carried out. It is shared: do
// not alter it.
func (c *Collection) Walls() *Walls { return c.walls }

// Row is what stands in a box, front to back. It is shared: do not alter it.
func (c *Collection) Row(b BoxID) []Accession {
	if r := c.rows.Get(uint32(b)); r != nil {
		return r.Copies
	}
	return nil
}

// Standing says where a copy stands as recorded; false when in no box.
func (c *Collection) Standing(a Accession) (Spot, bool) {
	chunks := c.spots()
	if i := int(a / chunkRows); i < len(chunks) && chunks[i] != nil {
		s := chunks[i][a%chunkRows]
		return s, s.Box != 0
	}
	return Spot{}, false
}

// spotTable is where each copy stands, by accession number, in chunks: one high
// number costs no more than its chunk.
type spotTable []*[chunkRows]Spot

func (c *Collection) spots() spotTable {
	return c.standing.get(func() spotTable {
		chunks := make(spotTable, c.counters.Copy/chunkRows+1)
		for id, r := range c.rows.All() {
			for i, a := range r.Copies {
				if a > c.counters.Copy {
					continue // Check finds rows that name what is not there
				}
				ch := &chunks[a/chunkRows]
				if *ch == nil {
					*ch = new([chunkRows]Spot)
				}
				(*ch)[a%chunkRows] = Spot{BoxID(id), i}
			}
		}
		return chunks
	})
}

// StepOf is the first step not yet done for a copy.
func (c *Collection) StepOf(cp *Copy) Step {
	switch {
	case cp.Missing != "":
		return NotFound
	case cp.Sleeve == SleeveWaiting:
		return StepSleeve
	}
	if cp.Hook.Row != 0 {
		return Filed
	}
	_, stands := c.Standing(cp.Accession)
	switch apart := c.shelf.LiesApart(cp); {
	case stands && apart:
		return Filed // its dummy does
	case apart:
		return StepBox
	case !stands && c.shelf.Hangs(cp):
		return StepBox // there is no envelope to label: it goes straight to its hook
	case !cp.Enveloped:
		return StepEnvelope
	case stands:
		return Filed
	case !cp.Grouped:
		return StepGroup
	}
	return StepBox
}

// Steps counts the copies at each step.
func (c *Collection) Steps() StepCounts {
	return c.counts.get(func() StepCounts {
		var n StepCounts
		for _, cp := range c.copies.All() {
			n[c.StepOf(cp)]++
		}
		return n
	})
}

// names finds publishers, categories and batches however they are written.
type names struct {
	publishers map[string]PublisherID
	categories map[string]CategoryID
	batches    map[string]BatchID
}

func (c *Collection) byName() *names { return c.names.get(c.collectNames) }

func (c *Collection) collectNames() *names {
	n := &names{map[string]PublisherID{}, map[string]CategoryID{}, map[string]BatchID{}}
	for _, p := range c.publishers.All() {
		for _, spelling := range p.Spellings {
			n.publishers[nameKey(spelling)] = p.ID
		}
	}
	for _, p := range c.publishers.All() { // one may have been renamed to what was a spelling of another
		n.publishers[nameKey(p.Name)] = p.ID
	}
	for _, k := range c.categories.All() {
		n.categories[nameKey(k.Name)] = k.ID
	}
	for _, b := range c.batches.All() {
		n.batches[nameKey(b.Name)] = b.ID
	}
	return n
}

// nameKey is what two spellings of one name share. A name of nothing but signs
// keeps them.
func nameKey(name string) string {
	if k := words.Fold(name); k != "" {
		return k
	}
	return name
}

// PublisherNamed finds a publisher by name, however it is written, or gives
// nil.
func (c *Collection) PublisherNamed(name string) *Publisher {
	return c.Publisher(c.byName().publishers[nameKey(words.Clean(name))])
}

// CategoryNamed finds a category by name, however it is written, or gives nil.
func (c *Collection) CategoryNamed(name string) *Category {
	return c.Category(c.byName().categories[nameKey(words.Clean(name))])
}

// BatchNamed finds a batch by name, however it is written, or gives nil.
func (c *Collection) BatchNamed(name string) *Batch {
	return c.Batch(c.byName().batches[nameKey(words.Clean(name))])
}

// MissingList lists the copies that were looked for and not found, the longest
// missing first.
func (c *Collection) MissingList() []*Copy {
	var missing []*Copy
	for _, cp := range c.copies.All() {
		if cp.Missing != "" {
			missing = append(missing, cp)
		}
	}
	slices.SortStableFunc(missing, func(a, b *Copy) int { return cmp.Compare(a.Missing, b.Missing) })
	return missing
}

// OutList lists the copies that are out: first those overdue on that day, the
// longest due first, then the longest out. Without a day none is overdue.
func (c *Collection) OutList(on Date) []*Copy {
	var out []*Copy
	for _, cp := range c.copies.All() {
		if cp.Out != nil {
			out = append(out, cp)
		}
	}
	slices.SortStableFunc(out, func(a, b *Copy) int {
		late, later := a.Out.Overdue(on), b.Out.Overdue(on)
		switch {
		case late && later:
			return cmp.Compare(a.Out.Due, b.Out.Due)
		case late:
			return -1
		case later:
			return 1
		}
		return cmp.Compare(a.Out.Since, b.Out.Since)
	})
	return out
}
