package model

import (
	"maps"
	"slices"
	"strconv"

	"example.org/tuckrow/model/words"
)

// editor makes the next revision of a collection and keeps note of what it
// altered.
type editor struct {
	from, c *Collection
	tok     *token
	names   *names // of this revision, grown while it is made
	grown   bool   // names are our own, not shared with from
	keys    map[string]string
	at      Date
	delta   Delta
	seen    map[recordKey]int // where in delta a record stands
}

type recordKey struct {
	kind Kind
	id   uint32
}

func newEditor(from *Collection, at Date) *editor {
	c := &Collection{
		rev: from.rev + 1, counters: from.counters,
		publishers: from.publishers, categories: from.categories, batches: from.batches,
		patterns: from.patterns, copies: from.copies, rows: from.rows, signs: from.signs,
		shelf: from.shelf, walls: from.walls, measures: from.measures, paces: from.paces,
		people: from.people, cloths: from.cloths, wishes: from.wishes,
		makes: from.makes, queue: from.queue, goals: from.goals, worth: from.worth, stock: from.stock,
	}
	return &editor{from: from, c: c, tok: new(token), names: from.byName(), at: at, seen: map[recordKey]int{}}
}

// expect makes room for so many edits at once, where an editor begins with
// many: growing to 120,000 step by step costs as much as the edits.
func (e *editor) expect(edits int) {
	if len(e.delta) == 0 && edits > chunkRows {
		e.seen, e.delta = make(map[recordKey]int, edits), make(Delta, 0, edits)
	}
}

// put writes a record and notes the edit.
func (e *editor) put(r Record) {
	kind, id := r.Key()
	e.note(kind, id, r)
	e.c.table(kind).put(e.tok, id, r)
	e.c.counters.saw(r)
}

// drop removes a record and notes the edit.
func (e *editor) drop(kind Kind, id uint32) {
	e.note(kind, id, nil)
	e.c.table(kind).put(e.tok, id, nil)
}

func (e *editor) note(kind Kind, id uint32, after Record) {
	k := recordKey{kind, id}
	if i, ok := e.seen[k]; ok {
		e.delta[i].After = after
		return
	}
	e.seen[k] = len(e.delta)
	e.delta = append(e.delta, Edit{kind, id, e.c.Record(kind, id), after})
}

// done ends the editing and gives the collection. What was worked out for the
// collection before is taken along where the change left it true, so that one
// entry into 60,000 does not count them all again.
func (e *editor) done() *Collection {
	e.delta = slices.DeleteFunc(e.delta, func(x Edit) bool { return x.Before == nil && x.After == nil })
	sameNames, sameShelf := true, true
	for _, x := range e.delta {
		switch x.Kind {
		case KindPublisher, KindCategory, KindBatch:
			// Names that are new were taken along only if they were entered by
			// name; an undo puts records back as they are.
			sameNames = sameNames && x.Before == nil && e.grown
		case KindShelf:
			sameShelf = false
		}
	}
	if sameNames {
		e.c.names.preset(e.names)
	}
	touched, few := e.touched()
	if !few {
		return e.c
	}
	e.c.standing.preset(e.spots())
	if sameShelf {
		n := e.from.Steps()
		for a := range touched {
			if was := e.from.Copy(a); was != nil {
				n[e.from.StepOf(was)]--
			}
			if is := e.c.Copy(a); is != nil {
				n[e.c.StepOf(is)]++
			}
		}
		e.c.counts.preset(n)
	}
	return e.c
}

// mostFollowed is up to how many copies are followed one by one; to count all
// afresh is no dearer beyond it.
const mostFollowed = 1 << 12

// touched are the copies that changed, and those in rows that did; false when
// they are too many to follow.
func (e *editor) touched() (map[Accession]bool, bool) {
	all := map[Accession]bool{}
	for _, x := range e.delta {
		if x.Kind == KindCopy {
			all[Accession(x.ID)] = true
		}
		for _, r := range []Record{x.Before, x.After} {
			if row, ok := r.(*Row); ok {
				for _, a := range row.Copies {
					all[a] = true
				}
			}
		}
		if len(all) > mostFollowed {
			return nil, false
		}
	}
	return all, true
}

// spots is where each copy stands now: the table before, with those chunks anew
// that rows which changed reach into.
func (e *editor) spots() spotTable {
	next, own := slices.Clone(e.from.spots()), map[int]bool{}
	set := func(a Accession, s Spot) {
		if a > e.c.counters.Copy {
			return // Check finds rows that name what is not there
		}
		i := int(a / chunkRows)
		for len(next) <= i {
			next = append(next, nil)
		}
		if !own[i] {
			fresh := new([chunkRows]Spot)
			if next[i] != nil {
				*fresh = *next[i]
			}
			next[i], own[i] = fresh, true
		}
		next[i][a%chunkRows] = s
	}
	for _, x := range e.delta {
		if row, ok := x.Before.(*Row); ok {
			for _, a := range row.Copies {
				set(a, Spot{})
			}
		}
	}
	for _, x := range e.delta {
		if row, ok := x.After.(*Row); ok {
			for i, a := range row.Copies {
				set(a, Spot{row.Box, i})
			}
		}
	}
	return next
}

// setRow records what stands in a box.
func (e *editor) setRow(b BoxID, copies []Accession) {
	if len(copies) == 0 {
		if e.c.rows.Get(uint32(b)) != nil {
			e.drop(KindRow, uint32(b))
		}
		return
	}
	r := Row{Box: b, Copies: copies}
	old := e.c.rows.Get(uint32(b))
	if old == nil { // it was emptied on the way here
		old = e.from.rows.Get(uint32(b))
	}
	if old != nil {
		r.Counted = old.Counted
	}
	e.put(&r)
}

// counted notes that somebody went through a box, unless nothing stands in it.
func (e *editor) counted(b BoxID) {
	if old := e.c.rows.Get(uint32(b)); old != nil {
		r := *old
		r.Counted = e.at
		e.put(&r)
	}
}

// unbox takes copies out of the rows they stand in.
func (e *editor) unbox(gone map[Accession]bool) {
	for id, r := range e.c.rows.All() {
		if slices.ContainsFunc(r.Copies, func(a Accession) bool { return gone[a] }) {
			e.setRow(BoxID(id), slices.DeleteFunc(slices.Clone(r.Copies), func(a Accession) bool { return gone[a] }))
		}
	}
}

// publisher finds a publisher by name, or enters it.
func (e *editor) publisher(name string) PublisherID {
	key := e.key(name)
	if id := e.names.publishers[key]; id != 0 && e.c.Publisher(id) != nil {
		return id
	}
	p := &Publisher{ID: e.c.counters.Publisher + 1, Name: name}
	e.put(p)
	e.ownNames().publishers[key] = p.ID
	return p.ID
}

// category finds a category by name, or enters it; nothing is no category.
func (e *editor) category(name string) CategoryID {
	if name == "" {
		return 0
	}
	key := e.key(name)
	if id := e.names.categories[key]; id != 0 && e.c.Category(id) != nil {
		return id
	}
	k := &Category{ID: e.c.counters.Category + 1, Name: name}
	e.put(k)
	e.ownNames().categories[key] = k.ID
	return k.ID
}

// batch finds a batch by name, or begins it; nothing is no batch.
func (e *editor) batch(name string) BatchID {
	if name == "" {
		return 0
	}
	key := e.key(name)
	if id := e.names.batches[key]; id != 0 && e.c.Batch(id) != nil {
		return id
	}
	b := &Batch{ID: e.c.counters.Batch + 1, Name: name, Begun: e.at}
	e.put(b)
	e.ownNames().batches[key] = b.ID
	return b.ID
}

// key is nameKey, of names that come again and again.
func (e *editor) key(name string) string {
	k, ok := e.keys[name]
	if !ok {
		if e.keys == nil {
			e.keys = map[string]string{}
		}
		k = nameKey(name)
		e.keys[name] = k
	}
	return k
}

// ownNames makes the names safe to add to: until a name is new they are shared
// with the collection before.
func (e *editor) ownNames() *names {
	if !e.grown {
		n := e.names
		e.names, e.grown = &names{maps.Clone(n.publishers), maps.Clone(n.categories), maps.Clone(n.batches)}, true
	}
	return e.names
}

// cleanAll cleans every text given, in place.
func cleanAll(texts ...*string) {
	for _, t := range texts {
		*t = words.Clean(*t)
	}
}

// next counts on to the next number of a copy or a pattern. One that was typed as high
// as can be does not end the counting: it goes on behind what is below.
func next[T ~uint32, R any](last T, field string, all *Table[R]) (T, error) {
	if last < MostNumber {
		return last + 1, nil
	}
	above := uint32(MostNumber + 1)
	for n := range all.backward() {
		if n+1 < above {
			return T(n + 1), nil
		}
		above = n
	}
	if above > 1 {
		return 1, nil
	}
	return 0, &FieldError{field, strconv.Itoa(int(last) + 1), "is beyond " + strconv.Itoa(MostNumber) + ", the highest there can be, and none below it is free", "take off the list what is gone, and begin another cupboard"}
}
