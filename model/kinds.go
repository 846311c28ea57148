package model

// tabled deals with the records of one kind, whatever kind that is.
type tabled interface {
	record(id uint32) Record
	put(tok *token, id uint32, r Record) // nil removes
	each(yield func(Record) bool) bool
}

// recordOf is a *T that is a record.
type recordOf[T any] interface {
	*T
	Record
}

// many is a kind with a table of records.
type many[T any, P recordOf[T]] struct{ t *Table[T] }

func (m many[T, P]) record(id uint32) Record {
	if r := m.t.Get(id); r != nil {
		return P(r)
	}
	return nil // and not a Record of a nil pointer
}

func (m many[T, P]) put(tok *token, id uint32, r Record) {
	p, _ := r.(P)
	m.t.set(tok, id, p)
}

func (m many[T, P]) each(yield func(Record) bool) bool {
	for _, r := range m.t.All() {
		if !yield(P(r)) {
			return false
		}
	}
	return true
}

// one is a kind of which there is one record at the most.
type one[T any, P recordOf[T]] struct{ at **T }

func (o one[T, P]) record(uint32) Record {
	if *o.at == nil {
		return nil
	}
	return P(*o.at)
}

func (o one[T, P]) put(_ *token, _ uint32, r Record) {
	p, _ := r.(P)
	*o.at = p
}

func (o one[T, P]) each(yield func(Record) bool) bool { return *o.at == nil || yield(P(*o.at)) }

// always is a kind of which there is one record, always.
type always[T any, P recordOf[T]] struct{ one[T, P] }

func (o always[T, P]) put(tok *token, id uint32, r Record) {
	if r != nil {
		o.one.put(tok, id, r)
	}
}

// table gives access to the records of a kind, or nil where there is no such
// kind.
func (c *Collection) table(k Kind) tabled {
	switch k {
	case KindPublisher:
		return many[Publisher, *Publisher]{&c.publishers}
	case KindCategory:
		return many[Category, *Category]{&c.categories}
	case KindBatch:
		return many[Batch, *Batch]{&c.batches}
	case KindPattern:
		return many[Pattern, *Pattern]{&c.patterns}
	case KindCopy:
		return many[Copy, *Copy]{&c.copies}
	case KindRow:
		return many[Row, *Row]{&c.rows}
	case KindShelf:
		return always[Shelf, *Shelf]{one[Shelf, *Shelf]{&c.shelf}}
	case KindWalls:
		return always[Walls, *Walls]{one[Walls, *Walls]{&c.walls}}
	case KindMeasure:
		return many[Measure, *Measure]{&c.measures}
	case KindPace:
		return many[Pace, *Pace]{&c.paces}
	case KindPerson:
		return many[Person, *Person]{&c.people}
	case KindCloth:
		return many[Cloth, *Cloth]{&c.cloths}
	case KindWish:
		return many[Wish, *Wish]{&c.wishes}
	case KindMake:
		return many[Make, *Make]{&c.makes}
	case KindQueue:
		return one[Queue, *Queue]{&c.queue}
	case KindGoal:
		return many[Goal, *Goal]{&c.goals}
	case KindWorth:
		return one[Worth, *Worth]{&c.worth}
	case KindStock:
		return one[Stock, *Stock]{&c.stock}
	case KindSigns:
		return many[Signs, *Signs]{&c.signs}
	}
	return nil
}

// Record gives the record with that key, or nil.
func (c *Collection) Record(k Kind, id uint32) Record {
	if t := c.table(k); t != nil {
		return t.record(id)
	}
	return nil
}

// Records gives every record, in the order of Kinds.
func (c *Collection) Records() func(yield func(Record) bool) {
	return func(yield func(Record) bool) {
		for _, k := range inOrder {
			if !c.table(k).each(yield) {
				return
			}
		}
	}
}
