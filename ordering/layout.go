package ordering

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"runtime"
	"slices"
	"sync"

	"example.org/tuckrow/model"
)

// Item is one copy in the row.
type Item struct {
	Copy      model.Accession
	Pattern   *model.Pattern
	Section   int // index for Layout.Section
	Thickness model.Length
	key       []byte
	publisher model.PublisherID
	first     numbered // what range cards go by
	mark      uint32   // of the first digits of the number: where it differs, so do the numbers
}

// Layout is a collection in filing order: every copy that belongs in a box,
// whether it stands there yet or waits on the pile; what cannot be found is left
// out. It is not altered once
// made, and safe for use by several goroutines.
type Layout struct {
	c     *model.Collection
	keyer *keyer
	row   []*Item
	of    index

	kept
}

// index finds items by accession number. It is in chunks that layouts share, so
// that one more copy does not cost a list of all.
type index [][]*Item

const chunk = 256

func (x index) get(a model.Accession) *Item {
	if c := int(a / chunk); c < len(x) && x[c] != nil {
		return x[c][a%chunk]
	}
	return nil
}

// with is the index after some items have been set, nil to take one out.
func (x index) with(set map[model.Accession]*Item) index {
	next, own := slices.Clone(x), map[int]bool{}
	for a, it := range set {
		c := int(a / chunk)
		for len(next) <= c {
			next = append(next, nil)
		}
		if !own[c] {
			fresh := make([]*Item, chunk)
			copy(fresh, next[c])
			next[c], own[c] = fresh, true
		}
		next[c][a%chunk] = it
	}
	return next
}

// sortable is an item with the first bytes of its key, which decide nearly
// always: section and publisher, then the first digits or letters.
type sortable struct {
	first, second uint64
	item          *Item
}

func (a sortable) compare(b sortable) int {
	switch {
	case a.first != b.first:
		return cmp.Compare(a.first, b.first)
	case a.second != b.second:
		return cmp.Compare(a.second, b.second)
	}
	return bytes.Compare(a.item.key, b.item.key)
}

// sortableOf takes the first bytes of a key. Where it is shorter, zeros stand
// for what comes before anything.
func sortableOf(it *Item) sortable {
	var front [16]byte
	copy(front[:], it.key)
	return sortable{binary.BigEndian.Uint64(front[:8]), binary.BigEndian.Uint64(front[8:]), it}
}

// Arrange files a collection.
func Arrange(c *model.Collection) *Layout {
	l := &Layout{c: c, keyer: newKeyer(c), of: make(index, c.Counters().Copy/chunk+1), kept: nothingKept()}
	// What stands in boxes is mostly in order already, which costs next to nothing
	// to find out.
	standing, waiting := l.keyAll()
	slices.SortFunc(standing, sortable.compare)
	slices.SortFunc(waiting, sortable.compare)
	// The items lie in memory as they stand in the row: whoever goes along it
	// finds the next one near, which at 60,000 is most of the cost.
	filed := make([]Item, len(standing)+len(waiting))
	l.row = make([]*Item, len(filed))
	for i := range filed {
		from := &standing
		if len(standing) == 0 || len(waiting) > 0 && waiting[0].compare(standing[0]) < 0 {
			from = &waiting
		}
		filed[i], *from = *(*from)[0].item, (*from)[1:]
		it := &filed[i]
		l.row[i] = it
		c := it.Copy / chunk
		if l.of[c] == nil {
			l.of[c] = make([]*Item, chunk)
		}
		l.of[c][it.Copy%chunk] = it
	}
	return l
}

// keyAll makes the items of all copies that belong in a box, with their keys:
// of those that stand in one, as they stand, and of those that wait. The copies
// are shared out among the processors: making keys is half the cost of filing,
// and no key depends on another.
func (l *Layout) keyAll() (standing, waiting []sortable) {
	const share = 1 << 12 // fewer are not worth a goroutine
	shelf := l.c.Shelf()
	copies := make([]*model.Copy, 0, l.c.Copies().Len())
	for _, cp := range l.c.Copies().All() {
		if shelf.Boxed(cp) {
			copies = append(copies, cp)
		}
	}
	order := make([]sortable, len(copies))
	var all sync.WaitGroup
	each := max(share, len(copies)/runtime.GOMAXPROCS(0)+1)
	for from := 0; from < len(copies); from += each {
		to := min(len(copies), from+each)
		all.Go(func() { l.keySome(copies[from:to], order[from:to]) })
	}
	all.Wait()
	return l.asTheyStand(order)
}

// asTheyStand parts what is in the order of arrival into what stands in boxes,
// in the order in which it does, and what waits.
func (l *Layout) asTheyStand(order []sortable) (standing, waiting []sortable) {
	at := l.indices(len(order), func(i int) model.Accession { return order[i].item.Copy })
	standing = make([]sortable, 0, len(order))
	for _, b := range l.c.Shelf().Boxes {
		for _, a := range l.c.Row(b.ID) {
			if i := at[a]; i >= 0 {
				standing = append(standing, order[i])
				order[i].item = nil
			}
		}
	}
	return standing, slices.DeleteFunc(order, func(o sortable) bool { return o.item == nil })
}

// keySome makes the items of some copies. Their keys are cut from slices that
// hold many, since an allocation each would cost more than the key.
func (l *Layout) keySome(copies []*model.Copy, order []sortable) {
	const arenaSize, longKey = 1 << 16, 1 << 8
	items := make([]Item, len(copies))
	shelf := l.c.Shelf()
	var arena []byte
	for i, cp := range copies {
		if cap(arena)-len(arena) < longKey {
			arena = make([]byte, 0, arenaSize)
		}
		p := l.c.Pattern(cp.Pattern)
		from, section := len(arena), l.keyer.section(p)
		var first numbered
		arena, first = l.keyer.keyed(arena, section, p, cp.Accession)
		items[i] = Item{cp.Accession, p, section, shelf.Takes(cp), arena[from:len(arena):len(arena)], p.Publisher, first, first.mark()}
		order[i] = sortableOf(&items[i])
	}
}

// Next is the layout after a change. It gives what Arrange would give of the
// new collection, for little where the change was little.
func (l *Layout) Next(commit model.Commit) *Layout {
	touched, publishers, few := l.touches(commit.Delta)
	k, fits := l.keyer.with(publishers)
	if !few || !fits {
		return Arrange(commit.Collection)
	}
	next := &Layout{c: commit.Collection, keyer: k, row: l.row, of: l.of}
	if len(touched) > 0 {
		next.refileFew(touched)
	}
	next.keep(l, commit.Delta, touched)
	return next
}

// touches lists the copies that a change may file elsewhere and the publishers
// that it adds, and tells whether that is all and little enough for filing
// afresh to be dearer.
func (l *Layout) touches(delta model.Delta) (copies map[model.Accession]bool, publishers []*model.Publisher, few bool) {
	const most = 64
	copies = map[model.Accession]bool{}
	for _, e := range delta {
		switch e.Kind {
		case model.KindShelf:
			before, had := e.Before.(*model.Shelf)
			after, has := e.After.(*model.Shelf)
			if !had || !has || !filesAlike(*before, *after) {
				return nil, nil, false
			}
		case model.KindPublisher:
			p, added := e.After.(*model.Publisher)
			if e.Before != nil || !added {
				return nil, nil, false
			}
			publishers = append(publishers, p)
		case model.KindCopy:
			copies[model.Accession(e.ID)] = true
		case model.KindPattern:
			if e.Before != nil {
				for _, it := range l.row {
					if uint32(it.Pattern.ID) == e.ID {
						copies[it.Copy] = true
					}
				}
			}
		}
		if len(copies)+len(publishers) > most {
			return nil, nil, false
		}
	}
	return copies, publishers, true
}

// refileFew takes the copies named out of a row that is still shared with the
// layout before, and files those that still belong there anew.
func (l *Layout) refileFew(touched map[model.Accession]bool) {
	type edit struct {
		at   int   // index in the row before
		item *Item // to go in before it; nil to take out what is there
	}
	var edits []edit
	set := make(map[model.Accession]*Item, len(touched))
	shelf := l.c.Shelf()
	for a := range touched {
		if old := l.Item(a); old != nil {
			edits = append(edits, edit{find(l.row, old.key), nil})
		}
		set[a] = nil
		if cp := l.c.Copy(a); cp != nil && shelf.Boxed(cp) {
			it := l.item(cp)
			set[a] = it
			edits = append(edits, edit{find(l.row, it.key), it})
		}
	}
	slices.SortFunc(edits, func(a, b edit) int {
		switch {
		case a.at != b.at:
			return cmp.Compare(a.at, b.at)
		case a.item == nil || b.item == nil: // what goes in stands before what is taken out
			return cmp.Compare(b2i(a.item == nil), b2i(b.item == nil))
		}
		return bytes.Compare(a.item.key, b.item.key)
	})
	row, from := make([]*Item, 0, len(l.row)+len(touched)), 0
	for _, e := range edits {
		row = append(row, l.row[from:e.at]...)
		from = e.at
		if e.item != nil {
			row = append(row, e.item)
		} else {
			from++
		}
	}
	l.row, l.of = append(row, l.row[from:]...), l.of.with(set)
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// item makes the item of a copy.
func (l *Layout) item(cp *model.Copy) *Item {
	p := l.c.Pattern(cp.Pattern)
	s := l.keyer.section(p)
	key, first := l.keyer.keyed(nil, s, p, cp.Accession)
	return &Item{cp.Accession, p, s, l.c.Shelf().Takes(cp), key, p.Publisher, first, first.mark()}
}

// find is where in the row a key belongs.
func find(row []*Item, key []byte) int {
	i, _ := slices.BinarySearchFunc(row, key, func(it *Item, key []byte) int { return bytes.Compare(it.key, key) })
	return i
}

// Collection is what was filed.
func (l *Layout) Collection() *model.Collection { return l.c }

// Row is every copy that belongs in a box, in filing order. It is shared: do
// not alter it.
func (l *Layout) Row() []*Item { return l.row }

// Item finds a copy in the row; nil when it does not belong in a box.
func (l *Layout) Item(a model.Accession) *Item { return l.of.get(a) }

// Section gives a section by the index that items carry.
func (l *Layout) Section(i int) Section { return l.keyer.sections[i] }

// Sections lists the sections in order; the last may be what no section names.
func (l *Layout) Sections() []Section { return l.keyer.sections }

// Rank is a copy's index in the row, -1 when it does not belong in a box.
func (l *Layout) Rank(a model.Accession) int {
	it := l.Item(a)
	if it == nil {
		return -1
	}
	return find(l.row, it.key)
}

// Due is the index in the row before which a copy would come in that is not in
// it, being missing; of one that is there its rank. -1 for what does not belong
// in a box.
func (l *Layout) Due(a model.Accession) int {
	cp := l.c.Copy(a)
	if cp == nil || l.c.Shelf().Hangs(cp) {
		return -1
	}
	if it := l.Item(a); it != nil {
		return find(l.row, it.key)
	}
	return find(l.row, l.item(cp).key)
}

// ranks gives all indices in the row by accession number, -1 for what does not
// belong in a box. They are shared: do not alter them.
func (l *Layout) ranks() []int32 {
	return l.kept.ranks.get(func() []int32 {
		return l.indices(len(l.row), func(i int) model.Accession { return l.row[i].Copy })
	})
}

// indices gives, by accession number, which of n copies it is, or -1.
func (l *Layout) indices(n int, of func(int) model.Accession) []int32 {
	at := make([]int32, l.c.Counters().Copy+1)
	for i := range at {
		at[i] = -1
	}
	for i := range n {
		at[of(i)] = int32(i)
	}
	return at
}

// Waiting lists, in filing order, what belongs in a box and stands in none.
func (l *Layout) Waiting() []*Item {
	var w []*Item
	for _, it := range l.row {
		if _, stands := l.c.Standing(it.Copy); !stands {
			w = append(w, it)
		}
	}
	return w
}
